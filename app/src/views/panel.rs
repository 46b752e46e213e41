//! Panel: can it be believed, as a whole and one by one.

use super::Desk;
use crate::parts::disclosure::HelpOn;
use crate::parts::table::TableView;
use crate::state::Shared;
use crate::tables::{self, Table};
use crate::words;
use leptos::prelude::*;
use likeness_core::stats::Analysis;
use likeness_core::stats::panel::PanelPerformance;

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
            <TableView table=from(tables::panel::assessors)/>
            <HelpOn help=&words::help::PANEL/>
            <TableView table=from(tables::panel::attributes)/>
            <TableView table=from(tables::panel::grid)/>
        </div>
    }
}
