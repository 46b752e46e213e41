//! The form and its sheets in this device's own store: each score is written at once, so that a closed tab loses nothing.

use super::versions::{self, TextKept};
use crate::browser::kept_texts;
use crate::state::AppState;
use crate::state::session::on_screen_ballot;
use crate::state::tabs;
use leptos::prelude::*;
use likeness_core::plan::on_screen::ballot_file::{OnScreenBallot, OnScreenSheet};
use likeness_core::plan::on_screen::ballot_run::OnScreenRun;

const FORM_SAVED_AS: &str = "likeness-booth-form";
const SHEET_SAVED_AS: &str = "likeness-booth-sheet";
const OPEN_SHEET_SAVED_AS: &str = "likeness-booth-open-sheet";
const COLLECTED_SAVED_AS: &str = "likeness-booth-collected";

/// Brings back the form that was open, with the sheet that was being filled in, and the files that the leader collected.
pub fn restore(app: AppState) {
    if let Some(text) = kept_texts::kept(COLLECTED_SAVED_AS) {
        on_screen_ballot::restore_collected(app, &text);
    }
    let Some(form) = kept_texts::kept(FORM_SAVED_AS).and_then(|text| OnScreenBallot::from_text(&text).ok()) else {
        return;
    };
    let open = kept_texts::kept(OPEN_SHEET_SAVED_AS);
    let bare = open.as_deref().map(|name| tabs::version_parts(name).0.to_owned());
    let sheet = form.sheets.iter().position(|sheet| Some(sheet_name(&form, sheet)) == bare);
    let saved = sheet.zip(open).and_then(|(index, name)| open_version(app, &form, &form.sheets[index], &name));
    on_screen_ballot::restore_form(app, form);
    if let Some(index) = sheet {
        on_screen_ballot::choose_sheet(app, index, saved);
    }
}

/// Saves form, sheet and collected files whenever they change, at once.
pub fn save_always(app: AppState) {
    Effect::new(move |before: Option<()>| save_form(app, before.is_none()));
    Effect::new(move |before: Option<()>| save_sheet(app, before.is_none()));
    Effect::new(move |before: Option<()>| {
        let text = app.on_screen.collected.with(|files| on_screen_ballot::collected_text(files));
        if before.is_some() {
            kept_texts::keep(COLLECTED_SAVED_AS, &text);
        }
    });
}

/// A form that was left is forgotten; none at the start of a visit is not.
fn save_form(app: AppState, is_start: bool) {
    match app.on_screen.form.with(|form| form.as_ref().map(OnScreenBallot::to_text)) {
        Some(text) => on_screen_ballot::note_saved(app, kept_texts::keep(FORM_SAVED_AS, &text)),
        None if !is_start => kept_texts::forget(FORM_SAVED_AS),
        None => {}
    }
}

/// A sheet stays in the store when it is put away; only that it was open is forgotten.
fn save_sheet(app: AppState, is_start: bool) {
    let sheet = app.on_screen.run.with(|run| run.as_ref().map(|run| (run_name(run), serde_json::to_string(run))));
    match sheet {
        Some((name, Ok(text))) => {
            let kept = versions::keep_text(app, &name, &text);
            if kept == TextKept::BesideNow {
                tabs::say_sheet_beside(app);
            }
            let here = tabs::know(app, |own| own.now_under(&name));
            let is_saved = kept != TextKept::Not && kept_texts::keep(OPEN_SHEET_SAVED_AS, &here);
            on_screen_ballot::note_saved(app, is_saved);
        }
        None if !is_start => kept_texts::forget(OPEN_SHEET_SAVED_AS),
        _ => {}
    }
}

/// What this device saved of a sheet, each version under its name; the first one first, also where there is nothing of it yet.
pub fn versions_of(form: &OnScreenBallot, sheet: &OnScreenSheet) -> Vec<(String, Option<OnScreenRun>)> {
    let name = sheet_name(form, sheet);
    let others = kept_texts::names_beginning(&tabs::versions_begin(&name));
    std::iter::once(name).chain(others).map(|name| (name.clone(), run_in(form, sheet, &name))).collect()
}

/// Goes on with the version of a sheet that lies under this name.
pub fn open_version(app: AppState, form: &OnScreenBallot, sheet: &OnScreenSheet, name: &str) -> Option<OnScreenRun> {
    let first = sheet_name(form, sheet);
    tabs::know(app, |own| if name == first { own.stay(&first) } else { own.go_on_under(&first, name) });
    versions::read_text(app, name);
    run_in(form, sheet, name)
}

/// The name that the open sheet is kept under.
pub fn open_sheet(app: AppState) -> Option<String> {
    let name = app.on_screen.run.with(|run| run.as_ref().map(run_name))?;
    Some(tabs::know(app, |own| own.now_under(&name)))
}

fn run_in(form: &OnScreenBallot, sheet: &OnScreenSheet, name: &str) -> Option<OnScreenRun> {
    let text = kept_texts::kept(name)?;
    serde_json::from_str::<OnScreenRun>(&text).ok().filter(|run| run.belongs_to(form, sheet))
}

/// Every sheet that this device has saved, of any form.
pub fn saved_runs() -> Vec<OnScreenRun> {
    let names = kept_texts::names_beginning(SHEET_SAVED_AS);
    names.iter().filter_map(|name| serde_json::from_str(&kept_texts::kept(name)?).ok()).collect()
}

/// Removes every sheet from this device. There is no way back.
pub fn forget_runs() {
    kept_texts::names_beginning(SHEET_SAVED_AS).iter().for_each(|name| kept_texts::forget(name));
}

fn sheet_name(form: &OnScreenBallot, sheet: &OnScreenSheet) -> String {
    name_of(&form.study, sheet)
}

fn run_name(run: &OnScreenRun) -> String {
    name_of(&run.study, &run.sheet)
}

fn name_of(study: &str, sheet: &OnScreenSheet) -> String {
    format!("{SHEET_SAVED_AS}-{study}-{}-{}", sheet.session, sheet.assessor)
}
