//! From a file to the open study: opening, answering, confirming. A bad file never touches the open study.

use super::decisions::margin_from;
use super::history::Snapshot;
use super::in_place::{apply_before, put_in_place, put_scores_in_place};
use super::study_file;
use crate::state::app_state::{AppState, DecidedBefore, OpenedFile, OpenedFiles};
use crate::state::derived::Derived;
use crate::state::page::{Message, View};
use crate::words;
use leptos::prelude::*;
use likeness_core::read::{Answer, ColumnRole, ReadOptions, SheetUse};
use likeness_core::study::{LogKind, Study};
use likeness_core::write::study_file::study_file_text;
use std::sync::Arc;

/// Takes a file to be read and shown. What is in it becomes the study only by `use_scores`.
pub fn open_file(app: AppState, name: &str, bytes: Vec<u8>) {
    open_many(app, vec![(name.to_owned(), bytes)]);
}

/// Takes files that were picked or dropped together, each with its name and bytes, to be read as one study and shown.
/// A saved study among them is opened by itself; beside other files it is refused, since it can't be joined to them.
pub fn open_many(app: AppState, files: Vec<(String, Vec<u8>)>) {
    app.message.set(None);
    let files = crate::state::session::tasting_files::take(app, files);
    if let [(name, bytes)] = files.as_slice()
        && crate::state::plan::planning::looks_like_plan(bytes)
    {
        return crate::state::plan::planning::open_plan(app, name, bytes);
    }
    let saved = files.iter().find(|(_, bytes)| study_file::looks_like_one(bytes));
    match (saved, files.len()) {
        (_, 0) => {}
        (Some((name, bytes)), 1) => open_study_file(app, name, bytes),
        (Some((name, _)), _) => {
            let what = words::reading::saved_study_among_files(name);
            app.message.set(Some(Message::refused(what, words::reading::SAVED_STUDY_ALONE)));
        }
        (None, _) => {
            let files = files.into_iter().map(|(name, bytes)| OpenedFile { name, bytes: Arc::new(bytes) }).collect();
            app.opened.set(Some(OpenedFiles { files, options: ReadOptions::default() }));
            app.before.set(DecidedBefore::default());
        }
    }
}

/// Takes text that was pasted.
pub fn open_pasted(app: AppState, text: &str) {
    if text.trim().is_empty() {
        app.message.set(Some(Message::refused(words::opening::PASTE_EMPTY, words::opening::PASTE_EMPTY_HINT)));
        return;
    }
    open_file(app, words::opening::PASTED_NAME, text.as_bytes().to_vec());
}

/// Says what a column holds and reads the file again.
pub fn set_role(app: AppState, derived: Derived, column: usize, role: ColumnRole) {
    let Some(reading) = derived.reading.get_untracked() else { return };
    let preview = &reading.preview;
    change_options(app, |options| options.state_role(&preview.header, &preview.roles, column, role));
}

/// Says what a sheet is used for and reads the files again. The columns are other ones then: their roles are found anew.
pub fn set_sheet_use(app: AppState, sheet: usize, sheet_use: SheetUse) {
    change_options(app, |options| {
        options.find_roles_anew();
        options.sheet_uses.insert(sheet, sheet_use);
    });
}

/// States the high end of the scale and reads the file again.
pub fn set_scale_maximum(app: AppState, typed: &str) -> Result<(), String> {
    let number: Option<f64> = typed.trim().replace(',', ".").parse().ok();
    match number.filter(|maximum| maximum.is_finite() && *maximum > 0.0) {
        Some(maximum) => {
            change_options(app, |options| options.scale_maximum = Some(maximum));
            Ok(())
        }
        None => Err(words::refused_scale(typed)),
    }
}

/// Answers a question of the reading and reads the file again.
pub fn answer(app: AppState, answer: &Answer) {
    change_options(app, |options| *options = options.clone().answered(answer));
}

pub fn decide_before(app: AppState, change: impl FnOnce(&mut DecidedBefore)) {
    app.before.update(change);
}

/// States the margin before the scores are in use, from what was typed.
///
/// # Errors
/// Why it is no margin on a scale of this length, in words.
pub fn decide_margin_before(app: AppState, typed: &str, scale_maximum: f64) -> Result<(), String> {
    let width = margin_from(typed, scale_maximum)?;
    decide_before(app, |before| before.margin_width = Some(width));
    Ok(())
}

/// Goes back to the open study, or to the start.
pub fn put_file_away(app: AppState) {
    app.opened.set(None);
}

/// Makes the file that is being read the open study. The one before can be had back by undo.
pub fn use_scores(app: AppState, derived: Derived) {
    let Some(opened) = app.opened.get_untracked() else { return };
    let Some(mut study) = derived.reading.get_untracked().and_then(|reading| reading.study.clone()) else { return };
    apply_before(&mut study, &app.before.get_untracked());
    put_scores_in_place(app, study, &opened.names());
    app.opened.set(None);
}

/// Puts back the study that the browser had saved.
pub fn restore(app: AppState, study: Study) {
    let when = app.now();
    let mut study = study;
    study.note_in_log(&when, LogKind::Opened, words::LOG_RESTORED);
    app.study.set(Some(study));
    app.view.set(View::Match);
}

/// Opens another of the saved studies. The one before can be had back by undo.
pub fn open_saved(app: AppState, study: Study, said: String) {
    app.message.set(None);
    app.opened.set(None);
    put_in_place(app, study, said);
}

/// The study as text for the browser's store and for the study file.
pub fn text_to_keep(study: &Study) -> String {
    study_file_text(study)
}

/// Closes the study. Undo brings it back.
pub fn close_study(app: AppState) {
    let before = app.study.get_untracked();
    if before.is_some() {
        app.history.update(|history| history.record(words::STEP_CLOSED, Snapshot::Whole(Box::new(before))));
        app.study.set(None);
    }
}

fn change_options(app: AppState, change: impl FnOnce(&mut ReadOptions)) {
    app.opened.update(|opened| {
        if let Some(opened) = opened {
            change(&mut opened.options);
        }
    });
}

/// A saved study holds its decisions: there is nothing to confirm.
fn open_study_file(app: AppState, name: &str, bytes: &[u8]) {
    match study_file::study_in(&String::from_utf8_lossy(bytes)) {
        Ok(study) => {
            app.opened.set(None);
            put_in_place(app, study, words::log_opened_study(name));
        }
        Err(why) => {
            let what = format!("{name} {} {why}", words::opening::NOT_OPENED);
            app.message.set(Some(Message::refused(what, words::STUDY_FILE_HINT)));
        }
    }
}
