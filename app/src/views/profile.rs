//! Profile: what each sample is like, and whether the samples differ at all.

use super::Desk;
use super::matching_decide::NotSettledYet;
use crate::parts::disclosure::HelpOn;
use crate::parts::figure::{Drawing, FigureView, Form};
use crate::parts::table::TableView;
use crate::state::actions;
use crate::tables;
use crate::words;
use leptos::prelude::*;
use likeness_core::figures::{DifferenceOrder, DifferencesOptions, SpiderOptions, differences, spider};
use std::sync::Arc;

#[component]
pub fn Profile() -> impl IntoView {
    let desk: Desk = expect_context();
    let means = Signal::derive(move || {
        let shown = desk.ground.shown_samples.get();
        desk.derived.analysis.with(|analysis| analysis.as_ref().map(|analysis| tables::means::means(analysis, &shown)))
    });
    let means_in_full = Signal::derive(move || {
        desk.derived
            .analysis
            .with(|analysis| analysis.as_ref().map(|analysis| tables::means::means_for_programs(analysis)))
    });
    let anova = Signal::derive(move || {
        desk.derived.analysis.with(|analysis| analysis.as_ref().map(|analysis| tables::anova::anova(analysis)))
    });
    let has_target = Memo::new(move |_| desk.derived.candidate.with(Option::is_some));
    let chosen = Callback::new(move |sample: String| actions::choose_candidate(desk.ground, &sample));
    view! {
        <div class="profile">
            <h1 class="heard">{words::PROFILE}</h1>
            <NotSettledYet/>
            <ShownSamples/>
            <div class="figures">
                <div>
                    <FigureView name="profile" drawing=drawing(desk) chosen/>
                    <HelpOn help=&words::help::SPIDER/>
                </div>
                {move || has_target.get().then(|| view! {
                    <div><FigureView name="all-differences" drawing=differences_drawing(desk) chosen/></div>
                })}
            </div>
            <TableView table=means for_saving=means_in_full/>
            <HelpOn help=&words::help::MEANS/>
            <TableView table=anova/>
            <HelpOn help=&words::help::ANOVA/>
        </div>
    }
}

/// Which samples the profile shows.
#[component]
fn ShownSamples() -> impl IntoView {
    let desk: Desk = expect_context();
    let all = Memo::new(move |_| {
        desk.derived.analysis.with(|analysis| analysis.as_ref().map(|a| a.samples.clone())).unwrap_or_default()
    });
    let check = move |name: String| {
        let (own, asked) = (name.clone(), name.clone());
        let is_shown = move || desk.ground.shown_samples.with(|shown| shown.is_empty() || shown.contains(&own));
        let changed = move |event| {
            actions::show_sample(desk.ground, &asked, event_target_checked(&event), &all.get_untracked());
        };
        view! {
            <label class="check">
                <input type="checkbox" prop:checked=is_shown on:change=changed/>
                <span>{name}</span>
            </label>
        }
    };
    view! {
        <fieldset class="shown-samples">
            <legend>{words::SAMPLES_SHOWN}</legend>
            {move || all.get().into_iter().map(check).collect_view()}
        </fieldset>
    }
}

fn drawing(desk: Desk) -> Drawing {
    Arc::new(move |form: Form| {
        let analysis = desk.derived.analysis.get()?;
        let shown = desk.ground.shown_samples.get();
        let options = SpiderOptions {
            width_px: form.width_px,
            theme: form.theme,
            heading: form.heading,
            candidates: (!shown.is_empty()).then_some(shown),
            ..SpiderOptions::default()
        };
        Some(spider(&analysis, &options))
    })
}

/// All candidates that are shown, side by side, attributes in the order of the ballot as on the spider.
fn differences_drawing(desk: Desk) -> Drawing {
    Arc::new(move |form: Form| {
        let analysis = desk.derived.analysis.get()?;
        let shown = desk.ground.shown_samples.get();
        let options = DifferencesOptions {
            width_px: form.width_px,
            theme: form.theme,
            heading: form.heading,
            candidates: (!shown.is_empty()).then_some(shown),
            order: DifferenceOrder::Ballot,
            ..DifferencesOptions::default()
        };
        Some(differences(&analysis, &options))
    })
}
