//! Report: what the leader states, and the one document that is read here, printed and saved.

use super::Desk;
use super::drawn_again::DrawnAgain;
use super::report_details::Details;
use crate::browser::{download, page};
use crate::parts::follow::follow_later;
use crate::parts::long_work::WorkInProgress;
use crate::state::{Message, Shared, View, actions, opening};
use crate::words;
use crate::words::report as own;
use leptos::prelude::*;
use likeness_core::stats::drawn::{Drawn, DrawnRun};
use likeness_core::study::Study;
use likeness_core::write::report_html::{REPORT_STYLE, report_body, report_html};
use likeness_core::write::tidy::tidy_csv;
use likeness_core::write::workbook::workbook_bytes;

/// What the report shows of panels drawn again; kept until scores or target change.
#[derive(Clone, Copy)]
struct Draws {
    drawn: DrawnAgain<Drawn>,
    /// The document, made once for a state of the study however often it is looked at.
    body: Memo<Option<Shared<String>>>,
}

/// Draws panels once Report is looked at.
pub fn keep_draws(desk: Desk) {
    let is_wanted = Memo::new(move |_| desk.ground.view.get() == View::Report);
    let drawn = DrawnAgain::keep(desk, is_wanted, |work, study| work.start(Ok(DrawnRun::start(study))));
    let body = Memo::new(move |_| {
        let drawn = drawn.found()?;
        desk.ground.study.with(|study| study.as_ref().map(|study| Shared::new(report_body(study, &drawn))))
    });
    provide_context(Draws { drawn, body });
}

#[component]
pub fn Report() -> impl IntoView {
    view! {
        <div class="report">
            <Saving/>
            <Details/>
            <Document/>
        </div>
    }
}

/// Printing and saving.
#[component]
fn Saving() -> impl IntoView {
    let desk: Desk = expect_context();
    let Draws { drawn: draws, .. } = expect_context();
    let waits = Signal::derive(move || draws.found().is_none());
    let save_report = move |_| {
        let made = with_draws(desk, draws, report_html);
        if let Some(text) = made {
            download::save_text(own::REPORT_FILE, "text/html", &text);
        }
    };
    let save_study = move |_| {
        if let Some(text) = desk.ground.study.with_untracked(|study| study.as_ref().map(opening::text_to_keep)) {
            download::save_text(words::STUDY_FILE_NAME, "application/json", &text);
        }
    };
    let save_workbook = move |_| match with_draws(desk, draws, workbook_bytes) {
        Some(Ok(bytes)) => download::save_bytes(own::WORKBOOK_FILE, own::WORKBOOK_KIND, &bytes),
        Some(Err(why)) => actions::say(desk.ground, Message::refused(why, own::WORKBOOK_HINT)),
        None => {}
    };
    let save_scores = move |_| {
        if let Some(text) = desk.ground.study.with_untracked(|study| study.as_ref().map(tidy_csv)) {
            download::save_text(own::SCORES_FILE, "text/csv", &text);
        }
    };
    let save_json = move |_| {
        if let Some(text) = desk.derived.results_json() {
            download::save_text(words::JSON_FILE_NAME, "application/json", &text);
        }
    };
    let json = move || desk.derived.results_json();
    view! {
        <div class="saving">
            <p>{own::INTRO}</p>
            <div class="tools">
                <button type="button" class="button is-main" disabled=waits on:click=move |_| page::print()>{words::PRINT}</button>
                <button type="button" class="button" disabled=waits on:click=save_report data-test="save-report">{own::SAVE_REPORT}</button>
                <button type="button" class="button" disabled=waits on:click=save_workbook data-test="save-workbook">{own::SAVE_WORKBOOK}</button>
                <button type="button" class="button" on:click=save_scores data-test="save-scores">{own::SAVE_SCORES}</button>
                <button type="button" class="button" on:click=save_study data-test="save-study">{words::SAVE_STUDY}</button>
                <button type="button" class="button" on:click=save_json data-test="save-json">{words::SAVE_JSON}</button>
            </div>
            // For programs that read the page: the same text that the button saves.
            <script type="application/json" data-test="results-json">{json}</script>
        </div>
    }
}

/// Makes something of the study as it is and of what was drawn for it, once that is there.
fn with_draws<T>(desk: Desk, draws: DrawnAgain<Drawn>, make: impl Fn(&Study, &Drawn) -> T) -> Option<T> {
    let drawn = untrack(|| draws.found())?;
    desk.ground.study.with_untracked(|study| study.as_ref().map(|study| make(study, &drawn)))
}

/// The document itself, the same that is saved.
#[component]
fn Document() -> impl IntoView {
    let desk: Desk = expect_context();
    let Draws { drawn, body } = expect_context();
    // It takes longer than a frame: what was typed or pressed is seen first.
    let body = follow_later(move || body.get());
    let start = move |()| {
        let run = desk.ground.study.with_untracked(|study| study.as_ref().map(DrawnRun::start));
        if let Some(run) = run {
            drawn.work.start(Ok(run));
        }
    };
    view! {
        <style>{REPORT_STYLE}</style>
        <WorkInProgress
            work=drawn.work
            name="report"
            doing=own::DRAWING
            not_defined=own::draws_not_defined
            start_words=own::DRAW_AGAIN
            start=Callback::new(start)
        />
        {move || body.with(Option::is_some).then(|| view! {
            <section class="report-sheet" tabindex="0" aria-label=own::PREVIEW data-test="report">
                // All text in it was escaped where it was written.
                <div inner_html=move || body.get().map(|body| (*body).clone()).unwrap_or_default()></div>
            </section>
        })}
    }
}
