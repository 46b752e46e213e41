//! Lines in which no mark was found, in a grid: confirmed together, or one by one sent to the queue.

use crate::state::AppContext;
use crate::state::session::scan_desk::{self, AskedRow};
use crate::words::scan_pages as say;
use leptos::prelude::*;
use leptos::{ev, html};
use likeness_core::scan::SmallStrip;
use likeness_core::scan_desk::desk::RowPlace;

#[component]
pub fn Empties() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let rows = Memo::new(move |_| {
        let scanning = app.scanning;
        scanning.desk.with(|desk| {
            scanning
                .strips
                .with(|strips| desk.as_ref().map(|desk| scan_desk::empties(desk, strips)).unwrap_or_default())
        })
    });
    let places = move || rows.with_untracked(|rows| rows.iter().map(|row| row.place).collect::<Vec<RowPlace>>());
    let count = Memo::new(move |_| rows.with(Vec::len));
    let place: NodeRef<html::Div> = NodeRef::new();
    // No button has the keyboard: Enter, which took the line before, must not confirm what nobody looked at.
    place.on_load(|place| _ = place.focus());
    let by_key = move |event: ev::KeyboardEvent| {
        match event.key().as_str() {
            "Backspace" => scan_desk::back(app),
            "e" | "E" => scan_desk::confirm_empty(app, &places()),
            _ => return,
        }
        event.prevent_default();
    };
    view! {
        <div class="empties" tabindex="-1" data-test="empties" node_ref=place on:keydown=by_key>
            <h3>{say::EMPTY_TITLE}</h3>
            <p class="quiet">{say::EMPTY_ABOUT}</p>
            <ul class="empty-rows">{move || rows.get().into_iter().map(|row| view! { <EmptyRow row/> }).collect_view()}</ul>
            <div class="choices">
                <button type="button" class="button is-main" data-test="all-empty" on:click=move |_| scan_desk::confirm_empty(app, &places())>
                    {move || say::all_empty(count.get())}
                </button>
                <button type="button" class="button" data-test="step-back" on:click=move |_| scan_desk::back(app)>{say::BACK}</button>
            </div>
            <p class="keys quiet">{say::EMPTY_KEYS}</p>
        </div>
    }
}

#[component]
fn EmptyRow(row: AskedRow) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let place = row.place;
    let (left, length) = SmallStrip::across_mm();
    let (top, height) = SmallStrip::down_mm();
    let name = say::row_name(row.row.number, &row.row.attribute);
    let strip = match row.strip {
        Some(address) => view! {
            <svg class="strip" role="img" aria-label=say::STRIP_LABEL viewBox=format!("{left} {top} {length} {height}")>
                <image href=address x=left y=top width=length height=height preserveAspectRatio="none"/>
            </svg>
        }
        .into_any(),
        None => view! { <span class="is-warning">{say::NO_STRIP}</span> }.into_any(),
    };
    view! {
        <li>
            <span class="empty-name"><strong>{name.clone()}</strong>" "<span class="quiet">{say::page(&row.assessor, row.session, &row.code)}</span></span>
            {strip}
            <button type="button" class="small" data-test="has-mark" on:click=move |_| scan_desk::doubt_empty(app, place)>
                {say::HAS_MARK}<span class="heard">": "{name}</span>
            </button>
        </li>
    }
}
