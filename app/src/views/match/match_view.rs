//! Match: what is decided first, then the verdict, the figures beside it, the numbers below.

use super::candidates::{Candidates, Headline, StandsOn};
use super::chances::Chances;
use super::closeness::Closeness;
use super::flavourist_brief::Brief;
use super::integrated_attributes::RestsOn;
use super::power::Power;
use super::settings::{LateChanges, SettledLine};
use super::settle::DecideFirst;
use crate::parts::disclosure::HelpOn;
use crate::parts::figure::{Drawing, FigureView, Form};
use crate::parts::folded::Folded;
use crate::parts::next_step::NextStep;
use crate::parts::table::TableView;
use crate::state::AppContext;
use crate::state::{Shared, View, actions};
use crate::views::findings::OtherFindings;
use crate::views::scores::record::RecordForPrint;
use crate::words;
use crate::words::matching as say;
use leptos::prelude::*;
use likeness_core::catalogue::{self as entries, Statistic, Topic};
use likeness_core::figures::{DifferencesOptions, SpiderOptions, differences, spider};
use likeness_core::stats::Analysis;
use likeness_core::tables;
use std::sync::Arc;

/// Entries of the catalogue that this view shows in a way of its own.
const SHOWN: &[&str] = &[
    entries::verdicts::Verdicts::ABOUT.id,
    entries::verdicts::Differences::ABOUT.id,
    entries::r#match::Closeness::ABOUT.id,
    entries::r#match::Power::ABOUT.id,
    entries::chances::ChancesOfVerdicts::ABOUT.id,
];
/// With fewer spokes a spider has no shape.
const SPOKES_AT_LEAST: usize = 3;

#[component]
pub fn Matching() -> impl IntoView {
    let context: AppContext = expect_context();
    let has_target = Memo::new(move |_| context.derived.candidate.with(Option::is_some));
    view! {
        <div class="matching">
            <h1 class="heard">{words::views::MATCH.name}</h1>
            {move || match (context.derived.is_settled.get(), has_target.get()) {
                (false, _) => view! { <DecideFirst/> }.into_any(),
                (true, true) => view! { <Judged/> }.into_any(),
                (true, false) => view! { <p class="lead">{words::NAME_THE_TARGET}</p><SettledLine/><LateChanges/> }.into_any(),
            }}
            <RecordForPrint/>
        </div>
    }
}

#[component]
fn Judged() -> impl IntoView {
    let context: AppContext = expect_context();
    let table = Signal::derive(move || {
        let sample = context.derived.candidate.get()?;
        context
            .derived
            .analysis
            .with(|analysis| analysis.as_ref().map(|analysis| tables::r#match::differences(analysis, &sample)))
    });
    let has_shape = Memo::new(move |_| {
        context
            .derived
            .analysis
            .with(|analysis| analysis.as_ref().is_some_and(|a| a.attributes.len() >= SPOKES_AT_LEAST))
    });
    let chosen = Callback::new(move |sample: String| actions::choose_candidate(context.app, &sample));
    let pointed = Callback::new(move |attribute: Option<String>| actions::point_at(context.app, attribute));
    view! {
        <div class="first-seen">
            <Headline/>
            <StandsOn/>
            <LateChanges/>
            <SettledLine/>
        </div>
        <div class="judged">
            <div>
                <div data-entry=entries::verdicts::Verdicts::ABOUT.id>
                    <Candidates/>
                </div>
                <Brief/>
                <NextStep label=say::TO_REPORT press=move |()| actions::look_at(context.app, View::Report)/>
            </div>
            <div>
                <FigureView name="differences" drawing=differences_drawing(context) chosen/>
            </div>
        </div>
        <Chances/>
        <div data-entry=entries::verdicts::Differences::ABOUT.id>
            <Folded summary=say::DIFFERENCES_FOLDED hook="differences" class="fold">
                <TableView table pointed/>
                <HelpOn help=&words::help::DIFFERENCES/>
            </Folded>
        </div>
        {move || has_shape.get().then(|| view! {
            <Folded summary=say::SHAPE_FOLDED hook="spider" class="fold">
                <FigureView name="spider" drawing=spider_drawing(context) chosen/>
                <HelpOn help=&words::help::SPIDER/>
            </Folded>
        })}
        <Closeness/>
        <Power/>
        <RestsOn/>
        <OtherFindings topic=Topic::Match shown=SHOWN/>
    }
}

/// The differences of the candidate that is looked at.
fn differences_drawing(context: AppContext) -> Drawing {
    Arc::new(move |form: Form| {
        let analysis = context.derived.analysis.get()?;
        let candidate = context.derived.candidate.get()?;
        let options = DifferencesOptions {
            width_px: form.width_px,
            theme: form.theme,
            heading: form.heading,
            candidates: Some(vec![candidate]),
            highlight_attribute: context.derived.selected_attribute.get(),
            ..DifferencesOptions::default()
        };
        Some(differences(&analysis, &options))
    })
}

/// The target and the candidate that is looked at.
fn spider_drawing(context: AppContext) -> Drawing {
    Arc::new(move |form: Form| {
        let analysis: Shared<Analysis> = context.derived.analysis.get()?;
        let options = SpiderOptions {
            width_px: form.width_px,
            theme: form.theme,
            heading: form.heading,
            candidates: Some(vec![context.derived.candidate.get()?]),
            highlight_attribute: context.derived.selected_attribute.get(),
            ..SpiderOptions::default()
        };
        Some(spider(&analysis, &options))
    })
}
