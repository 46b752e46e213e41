//! The one queue: what is asked now, who decides, how much is left.

use super::empties::Empties;
use super::row::AskedLine;
use crate::state::AppContext;
use crate::state::session::scan_desk::{self, AskedKind};
use crate::words::scan_pages as say;
use leptos::prelude::*;
use likeness_core::scan_desk::desk::ScanDesk;
use likeness_core::scan_desk::queue::Due;

/// What kind of question stands; only where this changes is the place made anew, so that the keyboard stays where it is.
#[derive(Clone, Copy, PartialEq)]
enum Question {
    Nothing,
    Row(AskedKind),
    Empties,
}

#[component]
pub fn Queue() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let desk = app.scanning.desk;
    let question = Memo::new(move |_| desk.with(|desk| desk.as_ref().map_or(Question::Nothing, question_of)));
    let left = move || desk.with(|desk| desk.as_ref().map(|desk| say::still_to_do(&desk.queue_count())));
    let has_pages = Memo::new(move |_| desk.with(|desk| desk.as_ref().is_some_and(|desk| !desk.pages.is_empty())));
    view! {
        <section class="scan-queue not-printed" data-test="scan-queue" data-takes-keys="true">
            <div class="queue-head">
                <h2>{say::TO_DECIDE}</h2>
                <span role="status" data-test="left-to-do">{move || has_pages.get().then(left)}</span>
                <Who/>
            </div>
            {move || match question.get() {
                Question::Row(kind) => view! { <AskedLine kind/> }.into_any(),
                Question::Empties => view! { <Empties/> }.into_any(),
                Question::Nothing => view! { <Done/> }.into_any(),
            }}
            <Kept/>
        </section>
    }
}

fn question_of(desk: &ScanDesk) -> Question {
    match desk.due() {
        Due::Doubtful(_) => Question::Row(AskedKind::Doubtful),
        Due::Again(_) => Question::Row(AskedKind::Again),
        Due::Differs(_) => Question::Row(AskedKind::Differs),
        Due::Empty(_) => Question::Empties,
        Due::Nothing => Question::Nothing,
    }
}

#[component]
fn Who() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let name = move || app.scanning.desk.with(|desk| desk.as_ref().map(|desk| desk.who.clone()));
    view! {
        <label class="field who-decides">
            <span>{say::WHO}</span>
            <input
                type="text"
                autocomplete="off"
                placeholder=say::WHO_HINT
                data-test="who-decides"
                prop:value=name
                on:change=move |event| scan_desk::name_person(app, &event_target_value(&event))
            />
        </label>
    }
}

/// Nothing is asked: either all is decided or nothing was read.
#[component]
fn Done() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let has_pages = move || app.scanning.desk.with(|desk| desk.as_ref().is_some_and(|desk| !desk.pages.is_empty()));
    let has_steps = move || app.scanning.desk.with(|desk| desk.as_ref().is_some_and(|desk| !desk.steps.is_empty()));
    view! {
        <p data-test="queue-done">{move || if has_pages() { say::NOTHING_DUE } else { say::PUT_PICTURES_IN }}</p>
        {move || has_steps().then(|| view! {
            <p><button type="button" class="button" data-test="step-back" on:click=move |_| scan_desk::back(app)>{say::BACK}</button></p>
        })}
    }
}

/// Whether decisions and strips are kept.
#[component]
fn Kept() -> impl IntoView {
    let scanning = expect_context::<AppContext>().app.scanning;
    view! {
        <p class="quiet" class:is-warning=move || !scanning.is_saved.get()>
            {move || if scanning.is_saved.get() { say::SAVED } else { say::NOT_SAVED }}
        </p>
        {move || (!scanning.strips_are_saved.get()).then(|| view! { <p class="is-warning">{say::STRIPS_NOT_SAVED}</p> })}
    }
}
