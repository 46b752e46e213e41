//! The scores that a tablet still holds after tasting: whose they are, and removing them.

use crate::persistence::on_screen_ballots;
use crate::state::session::on_screen_ballot;
use crate::words::on_screen_ballot as say;
use leptos::prelude::*;
use likeness_core::plan::on_screen::ballot_run::OnScreenRun;

#[component]
pub fn TabletScores() -> impl IntoView {
    let saved = RwSignal::new(on_screen_ballots::saved_runs());
    let is_asked = RwSignal::new(false);
    let line = |run: &OnScreenRun| view! { <li>{in_words(run)}</li> };
    let remove = move || {
        if is_asked.get() {
            return view! { <RemoveSure saved is_asked/> }.into_any();
        }
        view! {
            <p><button type="button" class="button" data-test="remove-marks" on:click=move |_| is_asked.set(true)>{say::REMOVE_SCORES}</button></p>
        }
        .into_any()
    };
    move || {
        (!saved.with(Vec::is_empty)).then(|| {
            view! {
                <section class="kept-marks" data-test="kept-marks">
                    <h2>{say::SAVED_SCORES}</h2>
                    <p class="note">{say::SAVED_SCORES_ABOUT}</p>
                    <ul>{saved.with(|runs| runs.iter().map(line).collect_view())}</ul>
                    {remove}
                </section>
            }
        })
    }
}

/// Asks once more, with how many sheets were never saved as a file.
#[component]
fn RemoveSure(saved: RwSignal<Vec<OnScreenRun>>, is_asked: RwSignal<bool>) -> impl IntoView {
    let unsaved = saved.with_untracked(|runs| runs.iter().filter(|run| run.saved == 0).count());
    let remove = move |_| {
        on_screen_ballots::forget_runs();
        saved.set(on_screen_ballots::saved_runs());
        is_asked.set(false);
    };
    view! {
        <p role="alert">{say::remove_sure(saved.with_untracked(Vec::len), unsaved)}</p>
        <div class="tools">
            <button type="button" class="button" data-test="remove-marks-sure" on:click=remove>{say::REMOVE}</button>
            <button type="button" class="button" data-test="keep-marks" on:click=move |_| is_asked.set(false)>{say::KEEP}</button>
        </div>
    }
}

fn in_words(run: &OnScreenRun) -> String {
    let who = say::who_and_session(&run.sheet.name, run.sheet.session);
    match say::progress(on_screen_ballot::progress_of(run)) {
        nothing if nothing.is_empty() => who,
        reached => format!("{who}: {reached}"),
    }
}
