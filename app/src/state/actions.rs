//! Actions on the page as a whole: undo, redo, looking somewhere else. Each is one thing that a user does.

use super::app_state::AppState;
use super::page::{Message, View};
use super::study::history::{Decisions, Snapshot};
use leptos::prelude::*;
use likeness_core::study::{LogKind, Study};

/// Takes the last step back, and says so in the log of the study.
pub fn undo(app: AppState) {
    let mut history = app.history.get_untracked();
    let mut kind = LogKind::Undone;
    let mut undone = None;
    app.study.update(|study| {
        undone = history.undo(|side| {
            kind = side.kind_of_change(study.as_ref());
            side.swapped_with(study)
        });
    });
    finish_step(app, history, undone.map(|what| (kind, crate::words::log_undone(&what))));
}

/// Does again what was undone last, and says so in the log of the study.
pub fn redo(app: AppState) {
    let mut history = app.history.get_untracked();
    let mut kind = LogKind::Undone;
    let mut redone = None;
    app.study.update(|study| {
        redone = history.redo(|side| {
            kind = side.kind_of_change(study.as_ref());
            side.swapped_with(study)
        });
    });
    finish_step(app, history, redone.map(|what| (kind, crate::words::log_redone(&what))));
}

pub fn look_at(app: AppState, view: View) {
    app.learning.is_open.set(false);
    app.view.set(view);
}

pub fn choose_candidate(app: AppState, name: &str) {
    app.candidate.set(Some(name.to_owned()));
}

/// Selects a sample or an attribute by its name in every view; the same one again is selected no more.
pub fn select(app: AppState, name: &str) {
    let is_sample =
        app.study.with_untracked(|study| study.as_ref().is_some_and(|study| study.sample_index(name).is_some()));
    let place = if is_sample { app.candidate } else { app.selected_attribute_kept };
    place.update(|selected| {
        *selected = if selected.as_deref() == Some(name) { None } else { Some(name.to_owned()) };
    });
}

/// Selects neither sample nor attribute.
pub fn select_nothing(app: AppState) {
    app.candidate.set(None);
    app.selected_attribute_kept.set(None);
}

/// Selects an attribute in every view, until another is selected.
pub fn keep_attribute(app: AppState, name: &str) {
    app.selected_attribute_kept.set(Some(name.to_owned()));
}

/// Points at an attribute in the figures, or at none.
pub fn point_at(app: AppState, attribute: Option<String>) {
    app.attribute.set(attribute);
}

/// Shows or hides a sample in the profile. The last one stays.
pub fn show_sample(app: AppState, name: &str, shown: bool, all: &[String]) {
    app.shown_samples.update(|list| {
        if list.is_empty() {
            list.extend(all.iter().cloned());
        }
        list.retain(|known| all.contains(known) && known != name);
        if shown || list.is_empty() {
            list.push(name.to_owned());
        }
        list.sort_by_key(|name| all.iter().position(|other| other == name));
        if list.len() == all.len() {
            list.clear();
        }
    });
}

/// Says one thing at the top of the page until it is put away.
pub fn say(app: AppState, message: Message) {
    app.message.set(Some(message));
}

pub fn put_message_away(app: AppState) {
    app.message.set(None);
}

/// Changes what is decided about the study, as one step of a kind that can be undone and stands in the log.
/// `change` gives what was done in words, or `None` where nothing changed.
pub(super) fn decide(app: AppState, kind: LogKind, change: impl FnOnce(&mut Study) -> Option<String>) {
    take_step(app, kind, |study| {
        let before = Decisions::of(study);
        Some((change(study)?, Snapshot::Decisions(Box::new(before))))
    });
}

/// Changes the study, as one step of a kind that can be undone and stands in the log. `change` gives what was done in words and
/// the way back, or `None` where nothing changed.
pub(super) fn take_step(app: AppState, kind: LogKind, change: impl FnOnce(&mut Study) -> Option<(String, Snapshot)>) {
    let when = app.now();
    let mut recorded = None;
    app.study.maybe_update(|study| {
        let Some(study) = study else { return false };
        let Some((what, before)) = change(study) else { return false };
        study.note_in_log(&when, kind, what.clone());
        recorded = Some((what, before));
        true
    });
    if let Some((what, before)) = recorded {
        app.history.update(|history| history.record(what, before));
    }
}

/// Keeps the piles of steps after one was taken back or done again, and writes it into the log of the study.
fn finish_step(app: AppState, history: crate::state::study::history::History, done: Option<(LogKind, String)>) {
    let Some((kind, what)) = done else { return };
    app.history.set(history);
    let when = app.now();
    app.study.update(|study| {
        if let Some(study) = study {
            study.note_in_log(&when, kind, what);
        }
    });
}
