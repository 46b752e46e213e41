//! Saving work: every change goes into the browser's store a moment later, under a key of its own for each study, and
//! the study that was open comes back on the next visit. When the browser refuses, that is said and nothing is dropped.

use super::versions;
use crate::browser::{clock, download, events, indexed_db, kept_texts, timers};
use crate::state::AppContext;
use crate::state::plan::kept_keys::is_of_plans;
use crate::state::study::saved_studies;
use crate::state::study::saved_studies::{DeletedStudy, SavedStudy};
use crate::state::study::{opening, study_file};
use crate::state::tabs;
use crate::state::{Message, actions};
use crate::words;
use crate::words::saved_studies as own;
use leptos::prelude::*;
use leptos::task::spawn_local;
use likeness_core::notice::Severity;
use likeness_core::study::Study;
use std::time::Duration;

/// Name of the note that says which study was open.
const OPEN_NOTE: &str = "likeness-open-key";
/// Where earlier versions saved the one open study.
const EARLIER_NOTE: &str = "likeness-open-study";
/// Changes that follow each other faster than this are saved together, where making the text takes longer than a frame.
const WAIT: Duration = Duration::from_millis(400);
/// Where it takes less, the browser only paints before: a machine that stops then loses the last change and no other.
const SHORT_WAIT: Duration = Duration::from_millis(20);
/// Studies of so many scores have texts of a few hundred kilobytes.
const LARGE_SCORES: usize = 10_000;

/// Brings back what was open, lists what is saved, and saves every change from now on.
pub fn start(context: AppContext) {
    save_always(context);
    // Read before anything waits: what the user opens meanwhile is noted under a key that is not in the store yet.
    let noted = kept_texts::kept(OPEN_NOTE);
    spawn_local(async move {
        if let Some(text) = kept_texts::kept(EARLIER_NOTE) {
            take_over_earlier(context, &text).await;
        }
        refresh(context).await;
        // What an earlier version saved has got its key just now.
        if let Some(key) = noted.or_else(|| kept_texts::kept(OPEN_NOTE)) {
            bring_back(context, key, true).await;
        }
    });
}

/// Opens a saved study; the one that is open stays saved.
pub fn open(context: AppContext, key: String) {
    spawn_local(bring_back(context, key, false));
}

/// Writes a saved study into a file, as it lies in the store: also one that can't be opened here.
pub fn save_as_file(context: AppContext, about: SavedStudy) {
    spawn_local(async move {
        if let Some(text) = found(context, &about.key).await {
            download::save_text(&own::file_name(&about.title), "application/json", &text);
        }
    });
}

pub fn rename(context: AppContext, key: String, title: String) {
    let is_open = open_key(context).as_ref() == Some(&key);
    if is_open {
        return crate::state::study::report_details::rename_study(context.app, &title);
    }
    if title.trim().is_empty() {
        return;
    }
    spawn_local(async move {
        let Some(text) = found(context, &key).await else { return };
        match saved_studies::renamed(&text, &key, &title, &context.app.now()) {
            Ok((about, text)) => put(context, about, text).await,
            Err(why) => say(context, own::cannot_open(&title, &why), own::CANNOT_OPEN_HINT),
        }
    });
}

/// Deletes a saved study; until another one is deleted it can be had back.
pub fn delete(context: AppContext, about: SavedStudy) {
    spawn_local(async move {
        let Some(text) = found(context, &about.key).await else { return };
        match indexed_db::forget(&about.key).await {
            Ok(()) => {
                context.saved.update(|list| list.retain(|other| other.key != about.key));
                context.deleted.set(Some(DeletedStudy { about, text }));
            }
            Err(why) => trouble(context, why),
        }
    });
}

pub fn undo_delete(context: AppContext) {
    if let Some(deleted) = context.deleted.get_untracked() {
        context.deleted.set(None);
        spawn_local(put(context, deleted.about, deleted.text));
    }
}

/// The key of the study that is open.
pub fn open_key(context: AppContext) -> Option<String> {
    context.app.study.with(|study| study.as_ref().and_then(|study| study.kept_as.clone()))
}

/// Saves a study a moment after it changed.
fn save_always(context: AppContext) {
    // The state to be saved next: it is a copy, so that a study that is closed at once is saved whole before.
    let waiting = StoredValue::new(None::<Study>);
    let is_coming = StoredValue::new(false);
    Effect::new(move |before: Option<()>| {
        let now = context.app.study.get();
        if before.is_some() {
            let now = now.map(|study| with_key(context, study));
            let key = now.as_ref().and_then(|study| study.kept_as.clone());
            // What was just read lies there already: writing it would take it from the tab that has it open.
            let is_there = tabs::know(context.app, |own| own.take_just_read(key.as_deref()));
            wait_with(context, waiting, now.filter(|_| !is_there), key);
            save_soon(context, waiting, is_coming);
        }
    });
    // A page that goes away does not wait.
    events::when("pagehide", move || save_waiting(context, waiting));
}

/// Puts a study in the place of the one that waits; another study that waited there is saved at once. `key` is that of the
/// open study.
fn wait_with(context: AppContext, waiting: StoredValue<Option<Study>>, now: Option<Study>, key: Option<String>) {
    if let Some(earlier) = waiting.get_value().filter(|earlier| earlier.kept_as != key) {
        save(context, &earlier);
    }
    note_open(key.as_deref());
    waiting.set_value(now);
}

/// Saves what waits a moment from now, with whatever changes until then; work that goes on and on is saved all the while.
fn save_soon(context: AppContext, waiting: StoredValue<Option<Study>>, is_coming: StoredValue<bool>) {
    let scores = waiting.with_value(|study| study.as_ref().map(Study::score_count));
    let Some(scores) = scores.filter(|_| !is_coming.get_value()) else { return };
    is_coming.set_value(true);
    timers::after(if scores < LARGE_SCORES { SHORT_WAIT } else { WAIT }, move || {
        is_coming.set_value(false);
        save_waiting(context, waiting);
    });
}

fn save_waiting(context: AppContext, waiting: StoredValue<Option<Study>>) {
    if let Some(study) = waiting.get_value() {
        waiting.set_value(None);
        save(context, &study);
    }
}

/// Gives a study the key that it is saved under, if it has none yet.
fn with_key(context: AppContext, mut study: Study) -> Study {
    if study.kept_as.is_none() {
        let key = context.saved.with_untracked(|list| saved_studies::new_key(list, clock::epoch_milliseconds()));
        study.kept_as = Some(key.clone());
        saved_studies::give_key(context.app, key);
    }
    study
}

fn save(context: AppContext, study: &Study) {
    let Some(key) = study.kept_as.clone() else { return };
    let text = opening::text_to_keep(study);
    let about = SavedStudy::of(study, &key, &context.app.now(), text.len());
    spawn_local(put(context, about, text));
}

/// Keeps a study; where another tab has written it since, this tab's version goes under a key and a name of its own.
async fn put(context: AppContext, about: SavedStudy, text: String) {
    let about = SavedStudy { key: tabs::know(context.app, |own| own.now_under(&about.key)), ..about };
    match versions::keep(context.app, &about.key, &about.to_text(), &text).await {
        Ok(true) => show_kept(context, about),
        Ok(false) => put_beside(context, about, text).await,
        Err(why) => trouble(context, why),
    }
}

async fn put_beside(context: AppContext, about: SavedStudy, text: String) {
    let app = context.app;
    // Before anything waits: what is changed from now on goes there too.
    let key = tabs::know(app, |own| own.go_on_beside(&about.key));
    let title = saved_studies::go_on_as_other_version(app, &about, &key);
    let (about, text) = saved_studies::renamed(&text, &key, &title, &app.now())
        .unwrap_or((SavedStudy { key: key.clone(), title, ..about }, text));
    match versions::keep(app, &key, &about.to_text(), &text).await {
        Ok(_) => show_kept(context, about),
        Err(why) => trouble(context, why),
    }
    // The other tab's version is listed with its time.
    refresh(context).await;
}

fn show_kept(context: AppContext, about: SavedStudy) {
    context.is_saved.set(true);
    context.saved.update(|list| *list = saved_studies::with_saved(list, about));
}

async fn refresh(context: AppContext) {
    match indexed_db::list().await {
        Ok(found) => {
            let mut list: Vec<SavedStudy> = found
                .iter()
                .filter(|(key, _)| !is_of_plans(key))
                .map(|(key, about)| SavedStudy::from_text(key, about))
                .collect();
            saved_studies::sort(&mut list);
            context.saved.set(list);
        }
        Err(_) => context.is_saved.set(false),
    }
}

async fn bring_back(context: AppContext, key: String, is_start: bool) {
    // On a visit's start the user may have been faster, before the store answers or after.
    if is_start && has_something_open(context) {
        return;
    }
    let Some(text) = read(context, &key).await else { return };
    if is_start && has_something_open(context) {
        return;
    }
    match study_file::study_in(&text) {
        Ok(mut study) => {
            study.kept_as = Some(key);
            if is_start {
                restored(context, study);
            } else {
                let said = own::log_opened(&study.title);
                opening::open_saved(context.app, study, said);
            }
        }
        Err(why) => not_opened(context, key, &why),
    }
}

fn has_something_open(context: AppContext) -> bool {
    context.app.study.with_untracked(Option::is_some) || context.app.opened.with_untracked(Option::is_some)
}

/// Says why a saved study was not opened; it stays saved as it is.
fn not_opened(context: AppContext, key: String, why: &str) {
    let title = context.saved.with_untracked(|list| {
        list.iter().find(|saved| saved.key == key).map(|saved| saved.title.clone()).unwrap_or(key)
    });
    note_open(None);
    say(context, own::cannot_open(&title, why), own::CANNOT_OPEN_HINT);
}

fn restored(context: AppContext, study: Study) {
    opening::restore(context.app, study);
    actions::say(
        context.app,
        Message {
            severity: Severity::Understood,
            what: words::RESTORED_TITLE.to_owned(),
            hint: words::RESTORED_HINT.to_owned(),
        },
    );
}

/// Moves what an earlier version saved into the store of today; it is let go only when it lies there.
async fn take_over_earlier(context: AppContext, text: &str) {
    let key = saved_studies::new_key(&[], clock::epoch_milliseconds());
    let about = match study_file::study_in(text) {
        Ok(study) => SavedStudy::of(&study, &key, &context.app.now(), text.len()),
        Err(_) => {
            SavedStudy { title: key.clone(), when: context.app.now(), bytes: text.len(), ..SavedStudy::default() }
        }
    };
    if indexed_db::keep(&key, &about.to_text(), text).await.is_ok() {
        kept_texts::forget(EARLIER_NOTE);
        note_open(Some(&key));
    }
}

/// The text of a kept study that is about to be opened.
async fn read(context: AppContext, key: &str) -> Option<String> {
    told(context, versions::read(context.app, key).await).await
}

/// The text of a kept study that is not opened; what this tab goes on from is noted all the same.
async fn found(context: AppContext, key: &str) -> Option<String> {
    let is_open = context.app.study.with_untracked(|study| study.as_ref().and_then(|study| study.kept_as.clone()));
    if is_open.as_deref() != Some(key) {
        versions::note(context.app, key).await;
    }
    told(context, indexed_db::text_of(key).await).await
}

async fn told(context: AppContext, text: Result<Option<String>, indexed_db::DatabaseError>) -> Option<String> {
    match text {
        Ok(Some(text)) => Some(text),
        Ok(None) => {
            say(context, own::GONE.to_owned(), own::GONE_HINT);
            refresh(context).await;
            None
        }
        Err(why) => {
            trouble(context, why);
            None
        }
    }
}

/// Notes which study is open, for the next visit.
fn note_open(key: Option<&str>) {
    match key {
        Some(key) => {
            kept_texts::keep(OPEN_NOTE, key);
        }
        None => kept_texts::forget(OPEN_NOTE),
    }
}

/// Says once that nothing is saved; the header goes on saying it.
fn trouble(context: AppContext, why: indexed_db::DatabaseError) {
    if !context.is_saved.get_untracked() {
        return;
    }
    context.is_saved.set(false);
    match why {
        indexed_db::DatabaseError::Full => say(context, own::FULL.to_owned(), own::FULL_HINT),
        indexed_db::DatabaseError::Refused => say(context, own::REFUSED.to_owned(), own::REFUSED_HINT),
    }
}

fn say(context: AppContext, what: String, hint: &str) {
    actions::say(context.app, Message::refused(what, hint));
}
