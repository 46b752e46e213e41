//! Panel: can it be believed, as a whole and one by one.

use super::Desk;
use crate::parts::disclosure::HelpOn;
use crate::parts::figure::{Drawing, FigureView, Form};
use crate::parts::table::TableView;
use crate::state::Shared;
use crate::tables::{self, Table};
use crate::words;
use leptos::prelude::*;
use likeness_core::figures::{PanelGridOptions, panel_grid};
use likeness_core::stats::Analysis;
use likeness_core::stats::panel::PanelPerformance;
use std::sync::Arc;

#[component]
pub fn Panel() -> impl IntoView {
    let desk: Desk = expect_context();
    let from = move |make: fn(&Analysis, &PanelPerformance) -> Table| {
        Signal::derive(move || {
            let analysis: Shared<Analysis> = desk.derived.analysis.get()?;
            let panel: Shared<PanelPerformance> = desk.derived.panel.get()?;
            Some(make(&analysis, &panel))
        })
    };
    view! {
        <div class="panel">
            <h1 class="heard">{words::PANEL}</h1>
            <div class="figures is-single">
                <FigureView name="panel-grid" drawing=grid_drawing(desk) chosen=Callback::new(|_| ())/>
            </div>
            <TableView table=from(tables::panel::assessors)/>
            <HelpOn help=&words::help::PANEL/>
            <TableView table=from(tables::panel::attributes)/>
            <TableView table=from(tables::panel::grid)/>
        </div>
    }
}

/// Assessors across, attributes down: who tells apart, repeats and agrees.
fn grid_drawing(desk: Desk) -> Drawing {
    Arc::new(move |form: Form| {
        let panel = desk.derived.panel.get()?;
        let options = PanelGridOptions {
            width_px: form.width_px,
            theme: form.theme,
            heading: form.heading,
            unit: desk.derived.analysis.get()?.unit.clone(),
            ..PanelGridOptions::default()
        };
        Some(panel_grid(&panel, &options))
    })
}
