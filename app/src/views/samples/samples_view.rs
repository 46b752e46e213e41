//! Profile: what each sample is like, and whether the samples differ at all.

use super::comparisons::Comparisons;
use crate::parts::disclosure::HelpOn;
use crate::parts::figure::{Drawing, FigureView, Form};
use crate::parts::folded::Folded;
use crate::parts::numerals::readable;
use crate::parts::table::TableView;
use crate::state::AppContext;
use crate::state::actions;
use crate::views::findings::OtherFindings;
use crate::views::r#match::settle::NotSettledYet;
use crate::words;
use crate::words::profile as say;
use leptos::prelude::*;
use likeness_core::catalogue::r#match::IntegratedWords;
use likeness_core::catalogue::samples::{Comparisons as ComparisonsEntry, Means, SampleEffect};
use likeness_core::catalogue::{Statistic, Topic};
use likeness_core::figures::{
    DifferenceGridOptions, DifferenceOrder, DifferencesOptions, MeansOptions, Scene, SpiderOptions, difference_grid,
    differences, means, spider,
};
use likeness_core::stats::Analysis;
use likeness_core::tables;
use std::sync::Arc;

/// Entries of the catalogue that this view shows in a way of its own; words for the whole stand in Match.
const SHOWN: &[&str] =
    &[Means::ABOUT.id, SampleEffect::ABOUT.id, ComparisonsEntry::ABOUT.id, IntegratedWords::ABOUT.id];

#[component]
pub fn Profile() -> impl IntoView {
    let context: AppContext = expect_context();
    let anova = Signal::derive(move || {
        context.derived.analysis.with(|analysis| analysis.as_ref().map(|analysis| tables::samples::anova(analysis)))
    });
    let has_target = Memo::new(move |_| context.derived.candidate.with(Option::is_some));
    let chosen = Callback::new(move |sample: String| actions::choose_candidate(context.app, &sample));
    let pointed = Callback::new(move |attribute: Option<String>| actions::point_at(context.app, attribute));
    let answer =
        move || context.derived.analysis.with(|found| Some(readable(tables::samples::answer(found.as_ref()?))));
    let differ = Signal::derive(move || {
        context.derived.analysis.with(|found| Some(tables::samples::samples_differ(found.as_ref()?)))
    });
    view! {
        <div class="profile">
            <h1 class="heard">{words::PROFILE}</h1>
            <section class="answer">
                <h2 class="headline" data-test="answer">{answer}</h2>
            </section>
            <NotSettledYet/>
            <ShownSamples/>
            <h2>{say::DIFFERENT_HEADING}</h2>
            <div class="figures">
                <div>
                    <FigureView name="difference-grid" drawing=grid_drawing(context) chosen/>
                    <HelpOn help=&words::help::GRID/>
                </div>
                {move || has_target.get().then(|| view! {
                    <div>
                        <FigureView name="all-differences" drawing=differences_drawing(context) chosen/>
                        <HelpOn help=&words::help::DIFFERENCES/>
                    </div>
                })}
            </div>
            <MeansSeen chosen pointed/>
            <Folded summary=say::SHAPE_HEADING hook="profile" class="fold">
                <FigureView name="profile" drawing=drawing(context) chosen/>
                <HelpOn help=&words::help::SPIDER/>
            </Folded>
            <div data-entry=SampleEffect::ABOUT.id>
                <Folded summary=say::SURE_HEADING hook="sample-effect" conclusion=differ>
                    <TableView table=anova pointed/>
                    <HelpOn help=&words::help::ANOVA/>
                </Folded>
            </div>
            <Comparisons/>
            <OtherFindings topic=Topic::Samples shown=SHOWN/>
        </div>
    }
}

/// Means by attribute, as a figure and as a table; all their digits are saved.
#[component]
fn MeansSeen(chosen: Callback<String>, pointed: Callback<Option<String>>) -> impl IntoView {
    let context: AppContext = expect_context();
    let means = Signal::derive(move || {
        let shown = context.app.shown_samples.get();
        context
            .derived
            .analysis
            .with(|analysis| analysis.as_ref().map(|analysis| tables::samples::means(analysis, &shown)))
    });
    let means_in_full = Signal::derive(move || {
        context
            .derived
            .analysis
            .with(|analysis| analysis.as_ref().map(|analysis| tables::samples::means_long(analysis)))
    });
    view! {
        <div data-entry=Means::ABOUT.id>
            <Folded summary=say::MEANS_HEADING hook="means" class="fold">
                <FigureView name="means" drawing=means_drawing(context) chosen/>
                <TableView table=means for_saving=means_in_full pointed/>
                <HelpOn help=&words::help::MEANS/>
            </Folded>
        </div>
    }
}

/// Which samples the profile shows.
#[component]
fn ShownSamples() -> impl IntoView {
    let context: AppContext = expect_context();
    let all = Memo::new(move |_| {
        context.derived.analysis.with(|analysis| analysis.as_ref().map(|a| a.samples.clone())).unwrap_or_default()
    });
    let check = move |name: String| {
        let (own, asked) = (name.clone(), name.clone());
        let is_shown = move || context.app.shown_samples.with(|shown| shown.is_empty() || shown.contains(&own));
        let changed = move |event| {
            actions::show_sample(context.app, &asked, event_target_checked(&event), &all.get_untracked());
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

/// What every figure of this view follows: its form, the samples that are shown (`None` for all), what is marked.
struct Wanted {
    form: Form,
    samples: Option<Vec<String>>,
    selected_sample: Option<String>,
    selected_attribute: Option<String>,
}

/// A figure that is drawn anew when anything that it follows changes.
fn followed(context: AppContext, draw: impl Fn(&Analysis, Wanted) -> Scene + Send + Sync + 'static) -> Drawing {
    Arc::new(move |form: Form| {
        let analysis = context.derived.analysis.get()?;
        let samples = context.app.shown_samples.get();
        let wanted = Wanted {
            form,
            samples: (!samples.is_empty()).then_some(samples),
            selected_sample: context.derived.selected_sample.get(),
            selected_attribute: context.derived.selected_attribute.get(),
        };
        Some(draw(&analysis, wanted))
    })
}

fn drawing(context: AppContext) -> Drawing {
    followed(context, |analysis, wanted| {
        let options = SpiderOptions {
            width_px: wanted.form.width_px,
            theme: wanted.form.theme,
            heading: wanted.form.heading,
            candidates: wanted.samples,
            highlight_sample: wanted.selected_sample,
            highlight_attribute: wanted.selected_attribute,
            ..SpiderOptions::default()
        };
        spider(analysis, &options)
    })
}

/// Shades of all samples that are shown, the largest difference on top.
fn grid_drawing(context: AppContext) -> Drawing {
    followed(context, |analysis, wanted| {
        let options = DifferenceGridOptions {
            width_px: wanted.form.width_px,
            theme: wanted.form.theme,
            heading: wanted.form.heading,
            samples: wanted.samples,
            highlight_sample: wanted.selected_sample,
            highlight_attribute: wanted.selected_attribute,
        };
        difference_grid(analysis, &options)
    })
}

/// Points with intervals, one small axis an attribute, the widest apart first.
fn means_drawing(context: AppContext) -> Drawing {
    followed(context, |analysis, wanted| {
        let options = MeansOptions {
            width_px: wanted.form.width_px,
            theme: wanted.form.theme,
            heading: wanted.form.heading,
            candidates: wanted.samples,
            highlight_sample: wanted.selected_sample,
            highlight_attribute: wanted.selected_attribute,
            ..MeansOptions::default()
        };
        means(analysis, &options)
    })
}

/// All candidates that are shown, side by side, attributes in the order of the ballot as on the spider.
fn differences_drawing(context: AppContext) -> Drawing {
    followed(context, |analysis, wanted| {
        let options = DifferencesOptions {
            width_px: wanted.form.width_px,
            theme: wanted.form.theme,
            heading: wanted.form.heading,
            candidates: wanted.samples,
            order: DifferenceOrder::Ballot,
            highlight_sample: wanted.selected_sample,
            highlight_attribute: wanted.selected_attribute,
            ..DifferencesOptions::default()
        };
        differences(analysis, &options)
    })
}
