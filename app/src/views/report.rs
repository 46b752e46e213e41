//! Report: what the leader states, and the one document that is read here, printed and saved.

use super::Desk;
use super::report_details::Details;
use crate::browser::{download, page};
use crate::state::{Message, actions, opening};
use crate::words;
use crate::words::report as own;
use leptos::prelude::*;
use likeness_core::write::report_html::{REPORT_STYLE, report_body, report_html};
use likeness_core::write::tidy::tidy_csv;
use likeness_core::write::workbook::workbook_bytes;

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
    let save_report = move |_| {
        if let Some(text) = desk.ground.study.with_untracked(|study| study.as_ref().map(report_html)) {
            download::save_text(own::REPORT_FILE, "text/html", &text);
        }
    };
    let save_study = move |_| {
        if let Some(text) = desk.ground.study.with_untracked(|study| study.as_ref().map(opening::text_to_keep)) {
            download::save_text(words::STUDY_FILE_NAME, "application/json", &text);
        }
    };
    let save_workbook = move |_| {
        let made = desk.ground.study.with_untracked(|study| study.as_ref().map(workbook_bytes));
        match made {
            Some(Ok(bytes)) => download::save_bytes(own::WORKBOOK_FILE, own::WORKBOOK_KIND, &bytes),
            Some(Err(why)) => actions::say(desk.ground, Message::refused(why, own::WORKBOOK_HINT)),
            None => {}
        }
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
                <button type="button" class="button is-main" on:click=move |_| page::print()>{words::PRINT}</button>
                <button type="button" class="button" on:click=save_report data-test="save-report">{own::SAVE_REPORT}</button>
                <button type="button" class="button" on:click=save_workbook data-test="save-workbook">{own::SAVE_WORKBOOK}</button>
                <button type="button" class="button" on:click=save_scores data-test="save-scores">{own::SAVE_SCORES}</button>
                <button type="button" class="button" on:click=save_study data-test="save-study">{words::SAVE_STUDY}</button>
                <button type="button" class="button" on:click=save_json data-test="save-json">{words::SAVE_JSON}</button>
            </div>
            // For programs that read the page: the same text that the button saves.
            <script type="application/json" data-test="results-json">{json}</script>
        </div>
    }
}

/// The document itself, the same that is saved.
#[component]
fn Document() -> impl IntoView {
    let desk: Desk = expect_context();
    let body = Memo::new(move |_| desk.ground.study.with(|study| study.as_ref().map(report_body)));
    view! {
        <style>{REPORT_STYLE}</style>
        <section class="report-sheet" tabindex="0" aria-label=own::PREVIEW data-test="report">
            // All text in it was escaped where it was written.
            <div inner_html=move || body.get().unwrap_or_default()></div>
        </section>
    }
}
