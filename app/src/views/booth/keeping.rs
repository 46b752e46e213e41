//! The form and its sheets in this device's own store: each mark is written at once, so that a closed tab loses nothing.

use crate::browser::store;
use crate::state::{Ground, booth};
use leptos::prelude::*;
use likeness_core::plan::booth::{BoothForm, BoothSheet};
use likeness_core::plan::booth_run::BoothRun;

const FORM_KEPT_AS: &str = "likeness-booth-form";
const SHEET_KEPT_AS: &str = "likeness-booth-sheet";
const OPEN_SHEET_KEPT_AS: &str = "likeness-booth-open-sheet";
const COLLECTED_KEPT_AS: &str = "likeness-booth-collected";

/// Brings back the form that was open, with the sheet that was being marked, and the files that the leader collected.
pub fn restore(ground: Ground) {
    if let Some(text) = store::kept(COLLECTED_KEPT_AS) {
        booth::restore_collected(ground, &text);
    }
    let Some(form) = store::kept(FORM_KEPT_AS).and_then(|text| BoothForm::from_text(&text).ok()) else { return };
    let open = store::kept(OPEN_SHEET_KEPT_AS);
    let sheet = form.sheets.iter().position(|sheet| Some(sheet_name(&form, sheet)) == open);
    let kept = sheet.and_then(|index| kept_run(&form, &form.sheets[index]));
    booth::restore_form(ground, form);
    if let Some(index) = sheet {
        booth::choose_sheet(ground, index, kept);
    }
}

/// Keeps form, sheet and collected files whenever they change, at once.
pub fn keep_always(ground: Ground) {
    Effect::new(move |before: Option<()>| {
        let text = ground.booth.form.with(|form| form.as_ref().map(BoothForm::to_text));
        match (before, text) {
            (_, Some(text)) => booth::note_kept(ground, store::keep(FORM_KEPT_AS, &text)),
            (Some(()), None) => store::forget(FORM_KEPT_AS),
            (None, None) => {}
        }
    });
    Effect::new(move |before: Option<()>| {
        let sheet = ground.booth.run.with(|run| run.as_ref().map(|run| (run_name(run), serde_json::to_string(run))));
        match (before, sheet) {
            (_, Some((name, Ok(text)))) => {
                booth::note_kept(ground, store::keep(&name, &text) && store::keep(OPEN_SHEET_KEPT_AS, &name));
            }
            (Some(()), None) => store::forget(OPEN_SHEET_KEPT_AS),
            _ => {}
        }
    });
    Effect::new(move |before: Option<()>| {
        let text = ground.booth.collected.with(|files| booth::collected_text(files));
        if before.is_some() {
            store::keep(COLLECTED_KEPT_AS, &text);
        }
    });
}

/// What this device kept of a sheet.
pub fn kept_run(form: &BoothForm, sheet: &BoothSheet) -> Option<BoothRun> {
    let text = store::kept(&sheet_name(form, sheet))?;
    serde_json::from_str::<BoothRun>(&text).ok().filter(|run| run.belongs_to(form, sheet))
}

/// Every sheet that this device keeps, of any form.
pub fn kept_runs() -> Vec<BoothRun> {
    let names = store::names_beginning(SHEET_KEPT_AS);
    names.iter().filter_map(|name| serde_json::from_str(&store::kept(name)?).ok()).collect()
}

/// Removes every sheet from this device. There is no way back.
pub fn forget_runs() {
    store::names_beginning(SHEET_KEPT_AS).iter().for_each(|name| store::forget(name));
}

fn sheet_name(form: &BoothForm, sheet: &BoothSheet) -> String {
    name_of(&form.study, sheet)
}

fn run_name(run: &BoothRun) -> String {
    name_of(&run.study, &run.sheet)
}

fn name_of(study: &str, sheet: &BoothSheet) -> String {
    format!("{SHEET_KEPT_AS}-{study}-{}-{}", sheet.session, sheet.assessor)
}
