//! The on-screen ballot on a tablet or computer of the tasting room: the whole page, with nothing else visible. It knows codes and words,
//! and no name of a sample.

mod cup;
mod line;
mod names;
mod rest;

use crate::browser::{clock, download, page};
use crate::state::AppContext;
use crate::state::session::on_screen_ballot;
use crate::words::on_screen_ballot as say;
use leptos::prelude::*;
use likeness_core::plan::on_screen::ballot_run::{Moment, OnScreenStep};
use likeness_core::plan::on_screen::results_file::OnScreenResults;

/// The form that is open.
#[component]
pub fn OnScreenView() -> impl IntoView {
    let context: AppContext = expect_context();
    let state = context.app.on_screen;
    let step = Memo::new(move |_| state.run.with(|run| run.as_ref().map(|run| run.step)));
    // What is new on the screen is seen from its start.
    Effect::new(move |_| {
        step.track();
        page::scroll_to_top();
    });
    view! {
        <main class="booth" id="main" data-test="booth">
            {move || (!state.is_saved.get()).then(|| view! { <p class="booth-warning" role="alert">{say::NOT_SAVED}</p> })}
            {move || context.app.tabs.of_sheet.get().map(|said| view! { <p class="booth-warning" role="alert" data-test="sheet-elsewhere">{said}</p> })}
            {move || match step.get() {
                None => view! { <names::Names/> }.into_any(),
                Some(OnScreenStep::Consent) => view! { <names::Consent/> }.into_any(),
                Some(OnScreenStep::WarmUp) => view! { <names::WarmUp/> }.into_any(),
                Some(OnScreenStep::Cup(index)) => view! { <cup::Cup index/> }.into_any(),
                Some(OnScreenStep::Rest(next)) => view! { <rest::Rest next/> }.into_any(),
                Some(OnScreenStep::Done) => view! { <Done/> }.into_any(),
            }}
            <Leave/>
        </main>
    }
}

/// Local date and time of this device.
fn now() -> Moment {
    Moment { local: clock::local_time(), seconds: clock::epoch_milliseconds() / 1000 }
}

/// Saves the results file of the open sheet.
fn save_results(context: AppContext) {
    if let Some(results) = on_screen_ballot::save_results(context.app, &now()) {
        download::save_text(&results.file_name(), "application/json", &results.to_text());
    }
}

/// The end: the results are saved, and can be saved again.
#[component]
fn Done() -> impl IntoView {
    let context: AppContext = expect_context();
    let run = context.app.on_screen.run;
    let file_name =
        move || run.with(|run| run.as_ref().map(|run| OnScreenResults::of_run(run, &Moment::default()).file_name()));
    let saved = Memo::new(move |_| run.with(|run| run.as_ref().map_or(0, |run| run.saved)));
    view! {
        <section class="booth-card" data-test="booth-done">
            <h1 tabindex="-1">{say::DONE}</h1>
            {move || (saved.get() > 0).then(|| view! { <p>{say::DONE_ABOUT}<br/><strong data-test="results-file">{file_name}</strong></p> })}
            <p>{say::HAND_OVER}</p>
            <div class="booth-actions">
                <button type="button" class="booth-button" data-test="save-results" on:click=move |_| save_results(context)>
                    {move || if saved.get() > 0 { say::SAVE_AGAIN } else { say::SAVE_FIRST }}
                </button>
                <button type="button" class="booth-button is-quiet" data-test="next-person" on:click=move |_| on_screen_ballot::put_sheet_away(context.app)>
                    {say::NEXT_PERSON}
                </button>
            </div>
        </section>
    }
}

/// The leader's way out, out of the way.
#[component]
fn Leave() -> impl IntoView {
    let context: AppContext = expect_context();
    let (is_asked, set_is_asked) = signal(false);
    view! {
        <footer class="booth-foot">
            {move || if is_asked.get() {
                view! {
                    <span role="alert">{say::LEAVE_SURE}</span>
                    <button type="button" class="booth-button is-quiet" data-test="leave-sure" on:click=move |_| on_screen_ballot::leave_form(context.app)>{say::LEAVE}</button>
                    <button type="button" class="booth-button" data-test="stay" on:click=move |_| set_is_asked.set(false)>{say::STAY}</button>
                }.into_any()
            } else {
                view! { <button type="button" class="booth-link" data-test="leave" on:click=move |_| set_is_asked.set(true)>{say::LEAVE}</button> }.into_any()
            }}
        </footer>
    }
}
