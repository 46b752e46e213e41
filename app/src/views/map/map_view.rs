//! Map: samples and attributes together on two axes, with ellipses from resampled assessors.

use crate::parts::disclosure::HelpOn;
use crate::parts::figure::{Drawing, FigureView, Form};
use crate::parts::folded::Folded;
use crate::parts::numerals::readable;
use crate::parts::table::TableView;
use crate::state::AppContext;
use crate::state::long_run::LongRun;
use crate::state::{Shared, actions};
use crate::views::findings::OtherFindings;
use crate::words;
use leptos::prelude::*;
use likeness_core::catalogue::given::DRAWS;
use likeness_core::catalogue::map::Map as Method;
use likeness_core::catalogue::{Statistic, Topic};
use likeness_core::figures::{SampleMapOptions, sample_map};
use likeness_core::stats::Defined;
use likeness_core::stats::map::ellipses::{EllipseRun, MapEllipses};
use likeness_core::stats::map::product_map::{MapBasis, MapOptions, ProductMap, product_map};
use likeness_core::tables;
use std::sync::Arc;

/// What is chosen in this view alone.
#[derive(Clone, Copy)]
struct Choices {
    basis: RwSignal<MapBasis>,
    x_axis: RwSignal<usize>,
    y_axis: RwSignal<usize>,
    with_assessors: RwSignal<bool>,
}

type FoundMap = Memo<Option<Shared<Defined<ProductMap>>>>;

#[component]
pub fn Map() -> impl IntoView {
    let context: AppContext = expect_context();
    let choices = Choices {
        basis: RwSignal::new(MapBasis::default()),
        x_axis: RwSignal::new(0),
        y_axis: RwSignal::new(1),
        with_assessors: RwSignal::new(false),
    };
    let map: FoundMap = Memo::new(move |_| {
        let options = MapOptions { basis: choices.basis.get(), ..MapOptions::default() };
        context.app.study.with(|study| study.as_ref().map(|study| Shared::new(product_map(study, options))))
    });
    let ellipses = LongRun::new(context.findings.in_slices());
    resample(context, map, ellipses);
    let found = move || map.with(|map| map.as_ref().filter(|map| map.is_ok()).cloned());
    let axes = Signal::derive(move || {
        let drawn = ellipses.found();
        found().as_deref().and_then(|map| map.as_ref().ok().map(|map| tables::map::axes(map, drawn.as_deref())))
    });
    let attributes = Signal::derive(move || {
        let (x_axis, y_axis) = (choices.x_axis.get(), choices.y_axis.get());
        found().as_deref().and_then(|map| map.as_ref().ok().map(|map| tables::map::attributes(map, x_axis, y_axis)))
    });
    let pointed = Callback::new(move |attribute: Option<String>| actions::point_at(context.app, attribute));
    let chosen = Callback::new(move |sample: String| actions::choose_candidate(context.app, &sample));
    let answer = move || {
        let (map, analysis, drawn) = (found()?, context.derived.analysis.get()?, ellipses.found());
        Some(readable(tables::map::answer(&analysis, map.as_ref().as_ref().ok()?, drawn.as_deref())))
    };
    view! {
        <div class="map" data-entry=Method::ABOUT.id>
            <h1 class="heard">{words::MAP}</h1>
            <h2 class="headline" data-test="answer">{answer}</h2>
            <AxisChoice choices map/>
            {move || match map.get().as_deref() {
                Some(Ok(found)) => {
                    let cautions = found.cautions.clone();
                    view! {
                        {(!cautions.is_empty()).then(|| view! {
                            <ul class="cautions">{cautions.into_iter().map(|caution| view! { <li>{caution}</li> }).collect_view()}</ul>
                        })}
                        <div class="map-and-numbers">
                            <div>
                                <FigureView name="map" drawing=drawing(context, choices, map, ellipses) chosen/>
                                <HelpOn help=&words::help::MAP/>
                            </div>
                            <div>
                                <TableView table=axes/>
                                <Folded summary=words::MAP_ATTRIBUTES hook="map-attributes" class="fold">
                                    <TableView table=attributes pointed/>
                                </Folded>
                            </div>
                        </div>
                    }
                    .into_any()
                }
                Some(Err(reason)) => {
                    view! { <p class="quiet">{words::map_not_defined(&reason.because)}</p><HelpOn help=&words::help::MAP/> }.into_any()
                }
                None => ().into_any(),
            }}
        </div>
        <OtherFindings topic=Topic::Map shown=&[Method::ABOUT.id]/>
    }
}

#[component]
fn AxisChoice(choices: Choices, map: FoundMap) -> impl IntoView {
    let axes = Memo::new(move |_| {
        map.with(|map| map.as_deref().and_then(|map| map.as_ref().ok()).map_or(0, |map| map.axes.len()))
    });
    let axis = move |label: &'static str, axis: RwSignal<usize>, other: RwSignal<usize>| {
        // The axis that the other direction shows is taken in exchange: one axis twice is a line, not a map.
        let pick = move |event| {
            let (wanted, before) = (event_target_value(&event).parse().unwrap_or(0), axis.get_untracked());
            if wanted == other.get_untracked() {
                other.set(before);
            }
            axis.set(wanted);
        };
        let option = move |one: usize| {
            view! { <option value=one.to_string() prop:selected=move || axis.get() == one>{(one + 1).to_string()}</option> }
        };
        view! {
            <label class="field">
                <span>{label}</span>
                <select on:change=pick>{move || (0..axes.get()).map(option).collect_view()}</select>
            </label>
        }
    };
    let by_correlation = move |event| {
        choices.basis.set(if event_target_checked(&event) { MapBasis::Correlation } else { MapBasis::Covariance });
    };
    view! {
        <div class="fields">
            {axis(words::AXIS_ACROSS, choices.x_axis, choices.y_axis)}
            {axis(words::AXIS_UP, choices.y_axis, choices.x_axis)}
            <label class="check">
                <input type="checkbox" prop:checked=move || choices.basis.get() == MapBasis::Correlation on:change=by_correlation/>
                <span>{words::BY_CORRELATION}</span>
            </label>
            <label class="check">
                <input
                    type="checkbox"
                    prop:checked=choices.with_assessors
                    on:change=move |event| choices.with_assessors.set(event_target_checked(&event))
                />
                <span>{words::WITH_ASSESSORS}</span>
            </label>
        </div>
    }
}

fn drawing(context: AppContext, choices: Choices, map: FoundMap, ellipses: LongRun<MapEllipses>) -> Drawing {
    Arc::new(move |form: Form| {
        let analysis = context.derived.analysis.get()?;
        let map = map.get()?;
        let ellipses = ellipses.found();
        let options = SampleMapOptions {
            width_px: form.width_px,
            theme: form.theme,
            heading: form.heading,
            x_axis: choices.x_axis.get(),
            y_axis: choices.y_axis.get(),
            assessors: choices.with_assessors.get(),
            highlight_sample: context.derived.selected_sample.get(),
            highlight_attribute: context.derived.selected_attribute.get(),
            ..SampleMapOptions::default()
        };
        Some(sample_map(&analysis, map.as_ref().ok()?, ellipses.as_deref(), &options))
    })
}

/// Draws panels in slices; what is newer takes over.
fn resample(context: AppContext, map: FoundMap, ellipses: LongRun<MapEllipses>) {
    Effect::new(move |_| {
        ellipses.drop_result();
        let Some(map) = map.get() else { return };
        let Ok(map) = map.as_ref() else { return };
        let started = context.app.study.with_untracked(|study| {
            let study = study.as_ref()?;
            Some(EllipseRun::start(study, map, DRAWS, study.settings.seed))
        });
        if let Some(work) = started {
            ellipses.start(work);
        }
    });
}
