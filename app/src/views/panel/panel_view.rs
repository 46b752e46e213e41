//! Panel: can it be believed, as a whole and one by one, down to the very marks.

use super::form_faults::MarksDifferently;
use super::people::People;
use super::raw_scores::{Close, PLACE_ID, ScoresBehind};
use crate::browser::page;
use crate::parts::disclosure::HelpOn;
use crate::parts::figure::{Drawing, FigureView, Form, RegionPicked};
use crate::parts::folded::Folded;
use crate::parts::next_step::NextStep;
use crate::parts::numerals::readable;
use crate::parts::table::TableView;
use crate::state::{AppContext, Shared, View, actions};
use crate::views::findings::OtherFindings;
use crate::words;
use crate::words::panel as say;
use leptos::ev;
use leptos::prelude::*;
use likeness_core::catalogue::r#match::LeaveOneOut;
use likeness_core::catalogue::panel::{FormFaults, Performance};
use likeness_core::catalogue::{Statistic, Topic};
use likeness_core::figures::{HitRegion, PanelGridOptions, panel_grid};
use likeness_core::stats::Analysis;
use likeness_core::stats::panel::people::Standing;
use likeness_core::stats::panel::performance::PanelPerformance;
use likeness_core::table::Table;
use likeness_core::tables;
use std::sync::Arc;
use wasm_bindgen::JsCast;
use web_sys::Element;

#[component]
pub fn Panel() -> impl IntoView {
    let context: AppContext = expect_context();
    let close = Close::new(context);
    provide_context(close);
    provide_context(RegionPicked(Callback::new(move |region: HitRegion| {
        let assessor = context.derived.panel.with_untracked(|panel| {
            panel.as_ref().and_then(|panel| panel.assessors.get(region.column).map(|one| one.assessor.clone()))
        });
        // Regions of other figures of this view name a sample; those of the grid don't.
        if let (None, Some(attribute), Some(assessor)) = (region.sample, region.attribute, assessor) {
            close.look(Some(&assessor), Some(&attribute));
        }
    })));
    view! {
        <div class="panel">
            <h1 class="heard">{words::PANEL}</h1>
            <Answer/>
            <section data-entry=Performance::ABOUT.id>
                <People/>
                <HelpOn help=&words::help::PANEL/>
            </section>
            <ScoresBehind/>
            <MarksDifferently/>
            <OtherFindings topic=Topic::Panel shown=&[Performance::ABOUT.id, FormFaults::ABOUT.id]/>
            <Folded summary=say::GRID_FOLDED hook="grid" class="fold">
                <p class="lead">{say::BELIEVED_INTRO}</p>
                <FigureView name="panel-grid" drawing=grid_drawing(context, close) chosen=Callback::new(|_| ())/>
            </Folded>
            <Folded summary=say::TABLES_FOLDED hook="panel-tables" class="fold">
                <Tables/>
            </Folded>
        </div>
    }
}

/// Whether the panel can be believed and whom to look at, with the next step.
#[component]
fn Answer() -> impl IntoView {
    let context: AppContext = expect_context();
    let close: Close = expect_context();
    let answer = move || {
        let (analysis, panel) = (context.derived.analysis.get()?, context.derived.panel.get()?);
        let influence = context.findings.found::<LeaveOneOut>();
        Some(readable(tables::panel::people::answer(&analysis, &panel, influence.as_deref())))
    };
    let first = Memo::new(move |_| {
        context.derived.panel.with(|panel| {
            let mut people = panel.as_ref()?.people.iter();
            people.find(|one| one.standing == Standing::UnlikeTheOthers).map(|one| one.assessor.clone())
        })
    });
    let label = Signal::derive(move || {
        first.get().map_or_else(|| words::TO_VERDICT.to_owned(), |name| say::see_marks_of(&name))
    });
    let press = move |()| match first.get_untracked() {
        Some(name) => {
            close.look(Some(&name), None);
            page::bring(PLACE_ID);
        }
        None => actions::look_at(context.app, View::Match),
    };
    view! {
        <section class="answer">
            <h2 class="headline" data-test="answer">{answer}</h2>
            <NextStep label press/>
        </section>
    }
}

/// All the figures behind the answer, as tables.
#[component]
fn Tables() -> impl IntoView {
    let context: AppContext = expect_context();
    let close: Close = expect_context();
    let from = move |make: fn(&Analysis, &PanelPerformance) -> Table| {
        Signal::derive(move || {
            let analysis: Shared<Analysis> = context.derived.analysis.get()?;
            let panel: Shared<PanelPerformance> = context.derived.panel.get()?;
            Some(make(&analysis, &panel))
        })
    };
    view! {
        <div class="panel-tables" on:click=move |event| picked_in_table(&event, close)>
            <TableView table=from(tables::panel::people) is_pressed=true/>
            <TableView table=from(tables::panel::assessors) is_pressed=true/>
            <TableView table=from(tables::panel::attributes) is_pressed=true/>
            <TableView table=from(tables::panel::grid) is_pressed=true/>
        </div>
    }
}

/// Assessors across, attributes down: who tells apart, repeats and agrees.
fn grid_drawing(context: AppContext, close: Close) -> Drawing {
    Arc::new(move |form: Form| {
        let panel = context.derived.panel.get()?;
        let options = PanelGridOptions {
            width_px: form.width_px,
            theme: form.theme,
            heading: form.heading,
            unit: context.derived.analysis.get()?.unit.clone(),
            highlight_assessor: close.assessor.get(),
            highlight_attribute: close.attribute.get(),
        };
        Some(panel_grid(&panel, &options))
    })
}

/// A number of a table leads to the marks of its row and column.
fn picked_in_table(event: &ev::MouseEvent, close: Close) {
    let target = event.target().and_then(|target| target.dyn_into::<Element>().ok());
    let cell = target.and_then(|target| target.closest("[data-test=number]").ok().flatten());
    let Some(cell) = cell else { return };
    let names = [cell.get_attribute("data-attribute"), cell.get_attribute("data-sample")];
    let known = |is_known: &dyn Fn(&str) -> bool| names.iter().flatten().find(|name| is_known(name)).cloned();
    let attribute = known(&|name| close.attributes.with_untracked(|all| all.iter().any(|one| one == name)));
    let assessor = known(&|name| close.assessors.with_untracked(|all| all.iter().any(|one| one == name)));
    close.look(assessor.as_deref(), attribute.as_deref());
    page::bring(PLACE_ID);
}
