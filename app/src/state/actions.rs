//! Actions on the page as a whole: undo, redo, looking somewhere else. Each is one thing that a user does.

use super::ground::{Ground, Message, View};
use super::history::{Decisions, Snapshot};
use leptos::prelude::*;
use likeness_core::study::Study;

/// Takes the last step back, and says so in the log of the study.
pub fn undo(ground: Ground) {
    let mut history = ground.history.get_untracked();
    let mut undone = None;
    ground.study.update(|study| undone = history.undo(|side| side.swapped_with(study)));
    finish_step(ground, history, undone, crate::words::log_undone);
}

/// Does again what was undone last, and says so in the log of the study.
pub fn redo(ground: Ground) {
    let mut history = ground.history.get_untracked();
    let mut redone = None;
    ground.study.update(|study| redone = history.redo(|side| side.swapped_with(study)));
    finish_step(ground, history, redone, crate::words::log_redone);
}

pub fn look_at(ground: Ground, view: View) {
    ground.learning.is_open.set(false);
    ground.view.set(view);
}

pub fn choose_candidate(ground: Ground, name: &str) {
    ground.candidate.set(Some(name.to_owned()));
}

/// Marks a sample or an attribute by its name in every view; the same one again takes the mark away.
pub fn mark(ground: Ground, name: &str) {
    let is_sample =
        ground.study.with_untracked(|study| study.as_ref().is_some_and(|study| study.sample_index(name).is_some()));
    let place = if is_sample { ground.candidate } else { ground.kept_attribute };
    place.update(|marked| {
        *marked = if marked.as_deref() == Some(name) { None } else { Some(name.to_owned()) };
    });
}

/// Takes both marks away.
pub fn unmark(ground: Ground) {
    ground.candidate.set(None);
    ground.kept_attribute.set(None);
}

/// Keeps an attribute marked in every view.
pub fn keep_attribute(ground: Ground, name: &str) {
    ground.kept_attribute.set(Some(name.to_owned()));
}

/// Marks an attribute in the figures, or none.
pub fn point_at(ground: Ground, attribute: Option<String>) {
    ground.attribute.set(attribute);
}

/// Shows or hides a sample in the profile. The last one stays.
pub fn show_sample(ground: Ground, name: &str, shown: bool, all: &[String]) {
    ground.shown_samples.update(|list| {
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
pub fn say(ground: Ground, message: Message) {
    ground.message.set(Some(message));
}

pub fn put_message_away(ground: Ground) {
    ground.message.set(None);
}

/// Changes what is decided about the study, as one step that can be undone and stands in the log.
/// `change` gives what was done in words, or `None` where nothing changed.
pub(super) fn decide(ground: Ground, change: impl FnOnce(&mut Study) -> Option<String>) {
    take_step(ground, |study| {
        let before = Decisions::of(study);
        Some((change(study)?, Snapshot::Decisions(Box::new(before))))
    });
}

/// Changes the study, as one step that can be undone and stands in the log. `change` gives what was done in words and
/// the way back, or `None` where nothing changed.
pub(super) fn take_step(ground: Ground, change: impl FnOnce(&mut Study) -> Option<(String, Snapshot)>) {
    let when = ground.now();
    let mut recorded = None;
    ground.study.maybe_update(|study| {
        let Some(study) = study else { return false };
        let Some((what, before)) = change(study) else { return false };
        study.note_in_log(&when, what.clone());
        recorded = Some((what, before));
        true
    });
    if let Some((what, before)) = recorded {
        ground.history.update(|history| history.record(what, before));
    }
}

fn finish_step(ground: Ground, history: super::history::History, what: Option<String>, say: fn(&str) -> String) {
    let Some(what) = what else { return };
    ground.history.set(history);
    let when = ground.now();
    ground.study.update(|study| {
        if let Some(study) = study {
            study.note_in_log(&when, say(&what));
        }
    });
}
