//! What of the scores is there: assessors down, samples across, each cell with how many of its scores came.

use crate::state::AppContext;
use crate::words::reading as say;
use leptos::prelude::*;
use likeness_core::read::{CellFill, CellMap};

#[component]
pub fn WhatIsThere() -> impl IntoView {
    let reading = expect_context::<AppContext>().derived.reading;
    let map = Memo::new(move |_| reading.with(|reading| Some(CellMap::of(reading.as_ref()?.study.as_ref()?))));
    move || {
        map.get().map(|map| {
            view! {
                <section class="cell-map" data-test="cell-map">
                    <h2>{say::CELL_MAP}</h2>
                    <p data-test="cell-map-summary">{say::cell_map_summary(&map)}</p>
                    <div class="table-place" tabindex="0" role="region" aria-label=say::CELL_MAP>{map_table(&map)}</div>
                    <p class="quiet">{say::CELL_MAP_KEY}</p>
                </section>
            }
        })
    }
}

fn map_table(map: &CellMap) -> impl IntoView + use<> {
    let heads = map.samples.iter().map(|sample| view! { <th scope="col">{sample.clone()}</th> }).collect_view();
    let rows = (0..map.assessors.len()).map(|assessor| map_row(map, assessor)).collect_view();
    view! {
        <table class="results">
            <thead>
                <tr><th scope="col">{say::ASSESSOR}</th>{heads}</tr>
            </thead>
            <tbody>{rows}</tbody>
        </table>
    }
}

fn map_row(map: &CellMap, assessor: usize) -> impl IntoView + use<> {
    let cells = map.there[assessor].iter().map(|scores| {
        let (class, mark) = match map.fill(*scores) {
            CellFill::Full => ("is-full", "\u{25a0}"),
            CellFill::Part => ("is-part", "\u{25e7}"),
            CellFill::Empty => ("is-empty", "\u{25a1}"),
        };
        view! {
            <td class=class><span class="mark" aria-hidden="true">{mark}</span>" "{say::scores_of(*scores, map.full)}</td>
        }
    });
    view! { <tr><th scope="row">{map.assessors[assessor].clone()}</th>{cells.collect_view()}</tr> }
}
