//! The marks that a tablet still keeps after tasting: whose they are, and removing them.

use crate::persistence::on_screen_ballots;
use crate::state::session::on_screen_ballot;
use crate::words::on_screen_ballot as say;
use leptos::prelude::*;
use likeness_core::plan::on_screen::ballot_run::OnScreenRun;

#[component]
pub fn TabletScores() -> impl IntoView {
    let kept = RwSignal::new(on_screen_ballots::kept_runs());
    let (is_asked, set_is_asked) = signal(false);
    let remove = move |_| {
        on_screen_ballots::forget_runs();
        kept.set(on_screen_ballots::kept_runs());
        set_is_asked.set(false);
    };
    let asked = move || {
        let unsaved = kept.with(|runs| runs.iter().filter(|run| run.saved == 0).count());
        view! {
            <p role="alert">{say::remove_sure(kept.with(Vec::len), unsaved)}</p>
            <div class="tools">
                <button type="button" class="button" data-test="remove-marks-sure" on:click=remove>{say::REMOVE}</button>
                <button type="button" class="button" data-test="keep-marks" on:click=move |_| set_is_asked.set(false)>{say::KEEP}</button>
            </div>
        }
    };
    move || {
        (!kept.with(Vec::is_empty)).then(|| {
            view! {
                <section class="kept-marks" data-test="kept-marks">
                    <h2>{say::KEPT_MARKS}</h2>
                    <p class="note">{say::KEPT_MARKS_ABOUT}</p>
                    <ul>{kept.with(|runs| runs.iter().map(|run| view! { <li>{in_words(run)}</li> }).collect_view())}</ul>
                    {move || if is_asked.get() {
                        asked().into_any()
                    } else {
                        view! {
                            <p><button type="button" class="button" data-test="remove-marks" on:click=move |_| set_is_asked.set(true)>{say::REMOVE_MARKS}</button></p>
                        }.into_any()
                    }}
                </section>
            }
        })
    }
}

fn in_words(run: &OnScreenRun) -> String {
    let who = say::who_and_session(&run.sheet.name, run.sheet.session);
    match say::progress(on_screen_ballot::progress_of(run)) {
        nothing if nothing.is_empty() => who,
        reached => format!("{who}: {reached}"),
    }
}
