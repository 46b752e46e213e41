//! One study, plan or sheet in several tabs: hearing other tabs, and telling the person. The rules are those of `tab_state`. It
//! must not know where records lie, nor how notes travel.

pub use super::tab_state::{Held, Knowledge, Revision, TabNote, version_parts, versions_begin};

use super::app_state::AppState;
use super::page::Message;
use crate::words::tabs as say;
use leptos::prelude::*;
use likeness_core::notice::Severity;

/// Gives this tab its name.
pub fn begin(app: AppState, tab: &str) {
    app.tabs.knowledge.set_value(Knowledge::of_tab(tab));
}

/// Changes what this tab knows, or asks it.
pub fn know<T>(app: AppState, with: impl FnOnce(&mut Knowledge) -> T) -> T {
    let mut knowledge = app.tabs.knowledge.write_value();
    with(&mut knowledge)
}

/// What this tab has open; `sheet` is the name that its sheet is kept under.
pub fn held(app: AppState, sheet: Option<String>) -> Held {
    Held {
        study: app.study.with(|study| study.as_ref().and_then(|study| study.kept_as.clone())),
        plan: app.kept_plans.key.get(),
        sheet,
    }
}

/// The note that tells all other tabs what this one has open.
pub fn note_of(app: AppState, held: Held, is_answer: bool) -> TabNote {
    app.tabs.notes_told.update_value(|count| *count += 1);
    TabNote { tab: know(app, |own| own.tab.clone()), held, is_answer, number: app.tabs.notes_told.get_value() }
}

/// Hears another tab's note: says what both have open, and whether to answer.
pub fn hear(app: AppState, note: &TabNote, own: &Held) -> bool {
    let both = own.in_common(&note.held);
    if both.is_nothing() || know(app, |own| own.tab == note.tab) {
        return false;
    }
    if both.sheet.is_some() {
        app.tabs.of_sheet.set(Some(say::SHEET_ELSEWHERE.to_owned()));
    }
    if both.study.is_some() || both.plan.is_some() {
        let what = say::elsewhere(both.study.is_some(), both.plan.is_some());
        told(app, what, say::ELSEWHERE_HINT.to_owned());
    }
    !note.is_answer
}

/// Says that this tab goes on with a version of its own.
pub fn say_beside(app: AppState, what: &str, title: &str) {
    told(app, what.to_owned(), say::beside_hint(title));
}

pub fn say_typing_beside(app: AppState) {
    told(app, say::TYPING_BESIDE.to_owned(), say::TYPING_BESIDE_HINT.to_owned());
}

pub fn say_sheet_beside(app: AppState) {
    app.tabs.of_sheet.set(Some(say::SHEET_BESIDE.to_owned()));
}

fn told(app: AppState, what: String, hint: String) {
    app.message.set(Some(Message { severity: Severity::Check, what, hint }));
}

#[cfg(test)]
#[path = "tabs_tests.rs"]
mod tests;
