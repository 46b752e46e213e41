//! Who marks differently: suspected form faults with their evidence, each with a way to its marks and a way to leave it out.

use super::leave_out::LeaveOutForm;
use super::raw_scores::{Close, PLACE_ID};
use crate::browser::page;
use crate::parts::disclosure::HelpOn;
use crate::parts::folded::Folded;
use crate::state::AppContext;
use crate::state::study::exclusions::suspected;
use crate::state::study::scores_shown::{ScoreColumn, ScoreFilter, ScorePlace, look_at_marks};
use crate::views::findings::{EntryProgress, conclusion_of};
use crate::words::panel as say;
use leptos::prelude::*;
use likeness_core::catalogue::panel::FormFaults;
use likeness_core::catalogue::{Entry, Statistic};
use likeness_core::stats::panel::form_faults::{FormFaultReport, Suspicion};
use likeness_core::tables::panel::words::{FORCED, no_slips, slip};
use std::sync::Arc;

/// More suspicions than this are counted, not shown: then the file has another fault.
const SHOWN_AT_MOST: usize = 30;

#[component]
pub fn MarksDifferently() -> impl IntoView {
    let Some(entry) = Entry::named(FormFaults::ABOUT.id) else { return ().into_any() };
    let context: AppContext = expect_context();
    let open = RwSignal::new(false);
    // What is suspected is seen without being asked for.
    Effect::new(move |_| {
        if context.findings.found::<FormFaults>().is_some_and(|found| !found.suspicions.is_empty()) {
            open.set(true);
        }
    });
    view! {
        <section data-test="slips" data-entry=FormFaults::ABOUT.id>
            <Folded summary=say::DIFFERENT hook="slips" conclusion=conclusion_of(entry) open>
                <p class="lead">{say::DIFFERENT_INTRO}</p>
                <EntryProgress entry name="slips"/>
                {move || context.findings.found::<FormFaults>().map(|found| report(&found))}
                <HelpOn help=&crate::words::help::FORM_FAULTS/>
            </Folded>
        </section>
    }
    .into_any()
}

fn report(found: &FormFaultReport) -> impl IntoView + use<> {
    let off = found.off.iter().map(|why| view! { <p class="quiet">{why.clone()}</p> }).collect_view();
    let shown = found.suspicions.iter().take(SHOWN_AT_MOST).cloned();
    let lines = shown.map(|suspicion| view! { <Suspected suspicion/> }).collect_view();
    let more = found.suspicions.len().saturating_sub(SHOWN_AT_MOST);
    view! {
        {off}
        {if found.suspicions.is_empty() {
            (found.n_pages > 0).then(|| view! { <p data-test="no-slips">{no_slips(found.n_pages)}</p> }).into_any()
        } else {
            view! {
                <ul class="suspicions" data-test="suspicions">{lines}</ul>
                {(more > 0).then(|| view! { <p class="quiet">{crate::words::and_more(more)}</p> })}
                <p class="note">{FORCED}</p>
            }
            .into_any()
        }}
    }
}

#[component]
fn Suspected(suspicion: Suspicion) -> impl IntoView {
    let context: AppContext = expect_context();
    let evidence = context.app.study.with_untracked(|study| {
        study.as_ref().map(|study| say::evidence(&suspicion.evidence, study.scale.maximum, &study.scale.unit))
    });
    let (kind, sentence) = (slip(suspicion.kind), suspicion.sentence.clone());
    let (reason, left_out) = (say::slip_reason(&suspicion), suspicion.clone());
    let scopes = Arc::new(move |study: &likeness_core::study::Study| suspected(study, &left_out));
    view! {
        <li class="suspicion">
            <p><strong>{kind}</strong>": "{sentence}</p>
            <p class="quiet">{evidence}</p>
            <LeaveOutForm reason scopes lead=view! { <SeeMarks suspicion/> }.into_any()/>
        </li>
    }
}

/// A page is seen in Scores; a scale beside the others' marks, here.
#[component]
fn SeeMarks(suspicion: Suspicion) -> impl IntoView {
    let context: AppContext = expect_context();
    let close: Close = expect_context();
    let see = move |_| {
        let Some(serving) = suspicion.servings.first().map(|serving| *serving as usize) else {
            close.look(Some(&suspicion.assessor), suspicion.attribute.as_deref());
            return page::bring(PLACE_ID);
        };
        let place = context.app.study.with_untracked(|study| {
            let study = study.as_ref()?;
            let page = study.servings.get(serving)?;
            let filter = ScoreFilter {
                assessor: Some(page.assessor as usize),
                replicate: Some(page.replicate),
                ..ScoreFilter::default()
            };
            let line = suspicion.attribute.as_ref().and_then(|name| study.attribute_index(name)).unwrap_or(0);
            Some((filter, ScorePlace::Cell(serving, ScoreColumn::Attribute(line))))
        });
        if let Some((filter, place)) = place {
            look_at_marks(context.app, filter, Some(place));
        }
    };
    view! { <button type="button" class="button" data-test="slip-see" on:click=see>{say::SEE_THE_MARKS}</button> }
}
