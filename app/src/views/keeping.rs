//! Keeping work: every change goes into the browser's store a moment later, under a key of its own for each study, and
//! the study that was open comes back on the next visit. When the browser refuses, that is said and nothing is dropped.

use super::Desk;
use crate::browser::{clock, download, events, shelf, store, timers};
use crate::state::keeping::{self, KeptStudy};
use crate::state::{Message, actions, opening, study_file};
use crate::words;
use crate::words::kept as own;
use leptos::prelude::*;
use leptos::task::spawn_local;
use likeness_core::notice::Severity;
use likeness_core::study::Study;
use std::time::Duration;

/// Name of the note that says which study was open.
const OPEN_NOTE: &str = "likeness-open-key";
/// Where earlier versions kept the one open study.
const EARLIER_NOTE: &str = "likeness-open-study";
/// Changes that follow each other faster than this are kept together.
const WAIT: Duration = Duration::from_millis(400);

/// A study that was deleted from the store and can still be had back.
#[derive(Clone, Debug, PartialEq)]
pub struct Deleted {
    pub about: KeptStudy,
    text: String,
}

/// Brings back what was open, lists what is kept, and keeps every change from now on.
pub fn start(desk: Desk) {
    keep_always(desk);
    // Read before anything waits: what the user opens meanwhile is noted under a key that is not in the store yet.
    let noted = store::kept(OPEN_NOTE);
    spawn_local(async move {
        if let Some(text) = store::kept(EARLIER_NOTE) {
            take_over_earlier(desk, &text).await;
        }
        refresh(desk).await;
        // What an earlier version kept has got its key just now.
        if let Some(key) = noted.or_else(|| store::kept(OPEN_NOTE)) {
            bring_back(desk, key, true).await;
        }
    });
}

/// Opens a kept study; the one that is open stays kept.
pub fn open(desk: Desk, key: String) {
    spawn_local(bring_back(desk, key, false));
}

/// Saves a kept study as a file, as it lies in the store: also one that can't be opened here.
pub fn save_as_file(desk: Desk, about: KeptStudy) {
    spawn_local(async move {
        if let Some(text) = found(desk, &about.key).await {
            download::save_text(&own::file_name(&about.title), "application/json", &text);
        }
    });
}

pub fn rename(desk: Desk, key: String, title: String) {
    let is_open = open_key(desk).as_ref() == Some(&key);
    if is_open {
        return crate::state::report_details::rename_study(desk.ground, &title);
    }
    if title.trim().is_empty() {
        return;
    }
    spawn_local(async move {
        let Some(text) = found(desk, &key).await else { return };
        match keeping::renamed(&text, &key, &title, &desk.ground.now()) {
            Ok((about, text)) => put(desk, about, text).await,
            Err(why) => say(desk, own::cannot_open(&title, &why), own::CANNOT_OPEN_HINT),
        }
    });
}

/// Deletes a kept study; until another one is deleted it can be had back.
pub fn delete(desk: Desk, about: KeptStudy) {
    spawn_local(async move {
        let Some(text) = found(desk, &about.key).await else { return };
        match shelf::forget(&about.key).await {
            Ok(()) => {
                desk.kept.update(|list| list.retain(|other| other.key != about.key));
                desk.deleted.set(Some(Deleted { about, text }));
            }
            Err(why) => trouble(desk, why),
        }
    });
}

pub fn undo_delete(desk: Desk) {
    if let Some(deleted) = desk.deleted.get_untracked() {
        desk.deleted.set(None);
        spawn_local(put(desk, deleted.about, deleted.text));
    }
}

/// The key of the study that is open.
pub fn open_key(desk: Desk) -> Option<String> {
    desk.ground.study.with(|study| study.as_ref().and_then(|study| study.kept_as.clone()))
}

fn keep_always(desk: Desk) {
    // The state to be kept next: it is a copy, so that a study that is closed at once is kept whole before.
    let waiting = StoredValue::new(None::<Study>);
    let latest = StoredValue::new(0_u32);
    Effect::new(move |before: Option<()>| {
        let now = desk.ground.study.get();
        if before.is_none() {
            return;
        }
        let now = now.map(|study| with_key(desk, study));
        let key = now.as_ref().and_then(|study| study.kept_as.clone());
        if let Some(earlier) = waiting.get_value().filter(|earlier| earlier.kept_as != key) {
            keep(desk, &earlier);
        }
        note_open(key.as_deref());
        waiting.set_value(now);
        latest.update_value(|count| *count += 1);
        let this = latest.get_value();
        timers::after(WAIT, move || {
            if latest.get_value() == this {
                keep_waiting(desk, waiting);
            }
        });
    });
    // A page that goes away does not wait.
    events::when("pagehide", move || keep_waiting(desk, waiting));
}

fn keep_waiting(desk: Desk, waiting: StoredValue<Option<Study>>) {
    if let Some(study) = waiting.get_value() {
        waiting.set_value(None);
        keep(desk, &study);
    }
}

/// Gives a study the key that it is kept under, if it has none yet.
fn with_key(desk: Desk, mut study: Study) -> Study {
    if study.kept_as.is_none() {
        let key = desk.kept.with_untracked(|list| keeping::new_key(list, clock::epoch_milliseconds()));
        study.kept_as = Some(key.clone());
        keeping::give_key(desk.ground, key);
    }
    study
}

fn keep(desk: Desk, study: &Study) {
    let Some(key) = study.kept_as.clone() else { return };
    let text = opening::text_to_keep(study);
    let about = KeptStudy::of(study, &key, &desk.ground.now(), text.len());
    spawn_local(put(desk, about, text));
}

async fn put(desk: Desk, about: KeptStudy, text: String) {
    match shelf::keep(&about.key, &about.to_text(), &text).await {
        Ok(()) => {
            desk.is_kept.set(true);
            desk.kept.update(|list| *list = keeping::with_kept(list, about));
        }
        Err(why) => trouble(desk, why),
    }
}

async fn refresh(desk: Desk) {
    match shelf::list().await {
        Ok(found) => {
            let mut list: Vec<KeptStudy> = found.iter().map(|(key, about)| KeptStudy::from_text(key, about)).collect();
            keeping::sort(&mut list);
            desk.kept.set(list);
        }
        Err(_) => desk.is_kept.set(false),
    }
}

async fn bring_back(desk: Desk, key: String, is_start: bool) {
    // On a visit's start the user may have been faster, before the store answers or after.
    let user_was_faster = move || {
        is_start
            && (desk.ground.study.with_untracked(Option::is_some) || desk.ground.opened.with_untracked(Option::is_some))
    };
    if user_was_faster() {
        return;
    }
    let Some(text) = found(desk, &key).await else { return };
    if user_was_faster() {
        return;
    }
    match study_file::study_in(&text) {
        Ok(mut study) => {
            study.kept_as = Some(key);
            if is_start {
                restored(desk, study);
            } else {
                let said = own::log_opened(&study.title);
                opening::open_kept(desk.ground, study, said);
            }
        }
        Err(why) => {
            let title = desk.kept.with_untracked(|list| {
                list.iter().find(|kept| kept.key == key).map(|kept| kept.title.clone()).unwrap_or(key)
            });
            note_open(None);
            say(desk, own::cannot_open(&title, &why), own::CANNOT_OPEN_HINT);
        }
    }
}

fn restored(desk: Desk, study: Study) {
    opening::restore(desk.ground, study);
    actions::say(
        desk.ground,
        Message {
            severity: Severity::Understood,
            what: words::RESTORED_TITLE.to_owned(),
            hint: words::RESTORED_HINT.to_owned(),
        },
    );
}

/// Moves what an earlier version kept into the store of today; it is let go only when it lies there.
async fn take_over_earlier(desk: Desk, text: &str) {
    let key = keeping::new_key(&[], clock::epoch_milliseconds());
    let about = match study_file::study_in(text) {
        Ok(study) => KeptStudy::of(&study, &key, &desk.ground.now(), text.len()),
        Err(_) => KeptStudy { title: key.clone(), when: desk.ground.now(), bytes: text.len(), ..KeptStudy::default() },
    };
    if shelf::keep(&key, &about.to_text(), text).await.is_ok() {
        store::forget(EARLIER_NOTE);
        note_open(Some(&key));
    }
}

async fn found(desk: Desk, key: &str) -> Option<String> {
    match shelf::text_of(key).await {
        Ok(Some(text)) => Some(text),
        Ok(None) => {
            say(desk, own::GONE.to_owned(), own::GONE_HINT);
            refresh(desk).await;
            None
        }
        Err(why) => {
            trouble(desk, why);
            None
        }
    }
}

/// Notes which study is open, for the next visit.
fn note_open(key: Option<&str>) {
    match key {
        Some(key) => {
            store::keep(OPEN_NOTE, key);
        }
        None => store::forget(OPEN_NOTE),
    }
}

/// Says once that nothing is kept; the header goes on saying it.
fn trouble(desk: Desk, why: shelf::ShelfError) {
    if !desk.is_kept.get_untracked() {
        return;
    }
    desk.is_kept.set(false);
    match why {
        shelf::ShelfError::Full => say(desk, own::FULL.to_owned(), own::FULL_HINT),
        shelf::ShelfError::Refused => say(desk, own::REFUSED.to_owned(), own::REFUSED_HINT),
    }
}

fn say(desk: Desk, what: String, hint: &str) {
    actions::say(desk.ground, Message::refused(what, hint));
}
