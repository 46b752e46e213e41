//! What words for the whole rest on: associations with single characters, never causes.

use crate::parts::disclosure::HelpOn;
use crate::parts::folded::Folded;
use crate::parts::table::TableView;
use crate::state::AppContext;
use crate::state::long_run::Progress;
use crate::words;
use crate::words::matching as say;
use leptos::prelude::*;
use likeness_core::catalogue::r#match::IntegratedWords;
use likeness_core::catalogue::{Entry, Need, Statistic};
use likeness_core::stats::r#match::integrated_attributes::IntegratedExplained;
use likeness_core::tables;
use likeness_core::tables::r#match::words::goes_with;

/// Steady associations that are said in words; the table holds the rest.
const SAID_AT_MOST: usize = 4;

#[component]
pub fn RestsOn() -> impl IntoView {
    let context: AppContext = expect_context();
    let has_any = Memo::new(move |_| {
        let has_any =
            |study: &Option<_>| study.as_ref().is_some_and(|study| Need::IntegratedAttribute.met_by(study).is_ok());
        context.app.study.with(has_any)
    });
    let run = Entry::named(IntegratedWords::ABOUT.id).map(|entry| context.findings.run_of(entry));
    Effect::new(move |_| {
        if let Some(entry) = Entry::named(IntegratedWords::ABOUT.id).filter(|_| has_any.get()) {
            context.findings.start_unasked(entry);
        }
    });
    let found = move || match run.map(|run| run.progress()) {
        Some(Progress::NotDefined(reason)) => view! { <p class="quiet">{reason.to_string()}</p> }.into_any(),
        _ => {
            let all = context.findings.found::<IntegratedWords>();
            let all = all.iter().flat_map(|all| all.iter().cloned());
            view! {
                <section class="integrated" data-test="integrated">
                    {all.map(|one| view! { <Explained one/> }).collect_view()}
                    <HelpOn help=&words::help::INTEGRATED/>
                </section>
            }
            .into_any()
        }
    };
    let names = Signal::derive(move || {
        let all = context.findings.found::<IntegratedWords>()?;
        Some(words::listed(&all.iter().map(|one| one.attribute.clone()).collect::<Vec<_>>()))
    });
    view! {
        <div data-entry=IntegratedWords::ABOUT.id>
            <Folded summary=say::INTEGRATED_FOLDED hook="integrated" conclusion=names>
                {move || if has_any.get() { found() } else { view! { <p class="quiet">{say::NONE_INTEGRATED}</p> }.into_any() }}
            </Folded>
        </div>
    }
}

#[component]
fn Explained(one: IntegratedExplained) -> impl IntoView {
    let sentences: Vec<String> = one
        .associations
        .iter()
        .filter(|association| association.is_steady)
        .take(SAID_AT_MOST)
        .map(|association| association.sentence.clone())
        .collect();
    let none = sentences.is_empty();
    let heading = goes_with(&one.attribute);
    let table = Signal::derive(move || Some(tables::r#match::integrated(&one)));
    view! {
        <h2>{heading}</h2>
        <ul class="said-list">{sentences.into_iter().map(|sentence| view! { <li>{sentence}</li> }).collect_view()}</ul>
        {none.then(|| view! { <p class="quiet">{say::NONE_STEADY}</p> })}
        <Folded summary=say::ATTRIBUTE_BY_ATTRIBUTE>
            <TableView table/>
        </Folded>
    }
}
