//! The on-screen ballot: what is done on a tablet with the form and the sheet that is being filled in, and, on the leader's
//! side, with the results files that came back. The rules are those of `likeness_core::plan::on_screen`.

use crate::state::app_state::AppState;
use crate::state::page::{Message, PlanPart, View};
use crate::state::study::in_place;
use crate::words::on_screen_ballot as say;
use leptos::prelude::*;
use likeness_core::notice::{Notice, Place, Severity};
use likeness_core::plan::PlanError;
use likeness_core::plan::on_screen::ballot_file::{OnScreenBallot, OnScreenScope, allergen_sentences};
use likeness_core::plan::on_screen::ballot_run::{Finished, Moment, OnScreenRun, OnScreenStep};
use likeness_core::plan::on_screen::collect::{Collected, CollectedFile, collect};
use likeness_core::plan::on_screen::results_file::OnScreenResults;
use likeness_core::plan::tasting_plan::TastingPlan;

// On the tablet.

/// Opens a ballot file: the page becomes the form.
pub fn open_form(app: AppState, name: &str, text: &str) {
    match OnScreenBallot::from_text(text) {
        Ok(form) => {
            app.on_screen.run.set(None);
            app.on_screen.form.set(Some(form));
        }
        Err(why) => {
            let what = format!("{name} {} {why}", crate::words::opening::NOT_OPENED);
            app.message.set(Some(Message::refused(what, say::BALLOT_FILE_HINT)));
        }
    }
}

/// Begins a sheet, or goes on with what this device saved of it.
pub fn choose_sheet(app: AppState, sheet: usize, saved: Option<OnScreenRun>) {
    let run = app.on_screen.form.with_untracked(|form| {
        let form = form.as_ref()?;
        let fresh = OnScreenRun::of_form(form, sheet)?;
        Some(saved.filter(|run| run.belongs_to(form, &fresh.sheet)).unwrap_or(fresh))
    });
    app.tabs.of_sheet.set(None);
    app.on_screen.run.set(run);
}

/// Puts back the form that this device saved.
pub fn restore_form(app: AppState, form: OnScreenBallot) {
    app.on_screen.form.set(Some(form));
}

/// Notes whether this device saved the latest change.
pub fn note_saved(app: AppState, is_saved: bool) {
    app.on_screen.is_saved.set(is_saved);
}

/// Back to the list of names. The sheet stays on this device.
pub fn put_sheet_away(app: AppState) {
    app.on_screen.run.set(None);
}

/// The page is a page again. The scores stay on this device.
pub fn leave_form(app: AppState) {
    app.on_screen.run.set(None);
    app.on_screen.form.set(None);
}

pub fn consent(app: AppState, now: &Moment) {
    change_run(app, |run| run.consent(now));
}

pub fn warm_up_done(app: AppState, now: &Moment) {
    change_run(app, |run| run.warm_up_done(now));
}

/// Makes or moves a mark, given the share of the line's length that lies left of it.
pub fn mark_at(app: AppState, row: usize, share: f64) {
    let tenths = (share.clamp(0.0, 1.0) * 1000.0).round() as u16;
    change_run(app, |run| run.mark(row, Some(tenths)));
}

pub fn nudge(app: AppState, row: usize, tenths: i32) {
    change_run(app, |run| run.nudge(row, tenths));
}

pub fn take_mark_away(app: AppState, row: usize) {
    change_run(app, |run| run.mark(row, None));
}

/// The assessor is through with the cup; `None` where no sheet is open.
pub fn finish_cup(app: AppState, now: &Moment) -> Option<Finished> {
    let mut finished = None;
    change_run(app, |run| finished = Some(run.finish_cup(now)));
    finished
}

/// The assessor, who was asked, goes on without the marks that are open; `None` where no sheet is open.
pub fn finish_without_marks(app: AppState, now: &Moment) -> Option<Finished> {
    let mut finished = None;
    change_run(app, |run| finished = Some(run.finish_without_marks(now)));
    finished
}

/// The assessor goes back to the lines without a mark; they are asked again.
pub fn back_to_lines(app: AppState) {
    change_run(app, |run| run.asked = false);
}

pub fn end_rest(app: AppState, now: &Moment) {
    change_run(app, |run| run.end_rest(now));
}

/// The results file of the open sheet, counted as saved.
pub fn save_results(app: AppState, now: &Moment) -> Option<OnScreenResults> {
    change_run(app, |run| run.saved += 1);
    app.on_screen.run.with_untracked(|run| run.as_ref().map(|run| OnScreenResults::of_run(run, now)))
}

/// How far a saved sheet is, for the list of names.
pub fn progress_of(run: &OnScreenRun) -> say::Progress {
    match run.step {
        OnScreenStep::Consent => say::Progress::NotBegun,
        OnScreenStep::Done if run.saved > 0 => say::Progress::Saved,
        OnScreenStep::Done => say::Progress::Done,
        _ => {
            let finished = run.cups.iter().filter(|cup| cup.finished.is_some()).count();
            say::Progress::Begun { finished, cups: run.cups.len() }
        }
    }
}

// On the leader's side.

/// What assessors read before the first cup: as the leader wrote it, else what the plan says of allergens.
pub fn before_tasting(plan: &TastingPlan, typed: Option<&str>) -> Vec<String> {
    match typed {
        Some(text) => text.lines().map(str::trim).filter(|line| !line.is_empty()).map(str::to_owned).collect(),
        None => allergen_sentences(plan),
    }
}

/// Changes the rest between cups as one types it.
pub fn type_rest(app: AppState, typed: String) {
    app.on_screen.rest_typed.set(typed);
}

/// Changes what assessors read before the first cup.
pub fn type_before(app: AppState, typed: String) {
    app.on_screen.before_typed.set(Some(typed));
}

/// A ballot file of the open plan.
///
/// # Errors
/// A rest that is no number of seconds, a scope in which nobody tastes.
pub fn form_for(app: AppState, scope: OnScreenScope) -> Result<OnScreenBallot, String> {
    let typed = app.on_screen.rest_typed.get_untracked();
    let rest: u32 = typed.trim().parse().map_err(|_| say::refused_rest(&typed))?;
    let before = app.on_screen.before_typed.get_untracked();
    app.plan.with_untracked(|plan| {
        let plan = plan.as_ref().ok_or(say::NEEDS_PLAN.to_owned())?;
        OnScreenBallot::of_plan(plan, scope, rest, &before_tasting(plan, before.as_deref()))
            .map_err(|why: PlanError| why.to_string())
    })
}

/// Takes a results file in. A damaged one is listed with what to do; nothing else changes.
pub fn take_results(app: AppState, name: &str, bytes: &[u8]) {
    match OnScreenResults::from_text(&String::from_utf8_lossy(bytes)) {
        Ok(results) => {
            let file = CollectedFile { file: name.to_owned(), length_bytes: bytes.len() as u64, results };
            app.on_screen.collected.update(|files| files.push(file));
        }
        Err(why) => {
            let (what, hint) = match why {
                PlanError::Incomplete { what, hint } => (what, hint),
                other => (other.to_string(), String::new()),
            };
            let notice = Notice::new(Severity::Refused, Place::file(name), what, hint);
            app.on_screen.refused.update(|refused| refused.push(notice));
        }
    }
    app.view.set(View::Plan);
    app.plan_part.set(PlanPart::OnScreen);
}

/// Takes a results file out of the collection; the file itself stays where it is.
pub fn put_results_away(app: AppState, index: usize) {
    app.on_screen.collected.update(|files| {
        if index < files.len() {
            files.remove(index);
        }
    });
}

pub fn put_refused_away(app: AppState) {
    app.on_screen.refused.set(Vec::new());
}

/// The files that came back, against the open plan.
pub fn collected(app: AppState) -> Option<Collected> {
    app.plan.with(|plan| {
        let plan = plan.as_ref()?;
        app.on_screen.collected.with(|files| Some(collect(plan, files)))
    })
}

/// The study from all scores that came back; it opens at the verdict.
pub fn use_results(app: AppState) {
    let Some(plan) = app.plan.get_untracked() else { return };
    let files = app.on_screen.collected.get_untracked();
    let collected = collect(&plan, &files);
    if collected.marks() == 0 {
        return;
    }
    let study = collected.study(&plan, &files, &app.now());
    in_place::put_in_place(app, study, say::log_collected(collected.marks()));
}

/// Puts back the results files that the browser had saved; damaged ones are said.
pub fn restore_collected(app: AppState, text: &str) {
    match serde_json::from_str::<Vec<CollectedFile>>(text) {
        Ok(files) => app.on_screen.collected.set(files),
        Err(_) => app.message.set(Some(Message::refused(say::COLLECTED_BROKEN, say::COLLECTED_BROKEN_HINT))),
    }
}

/// The results files as text for the browser's store.
pub fn collected_text(files: &[CollectedFile]) -> String {
    serde_json::to_string(files).unwrap_or_default()
}

fn change_run(app: AppState, change: impl FnOnce(&mut OnScreenRun)) {
    app.on_screen.run.update(|run| {
        if let Some(run) = run {
            change(run);
        }
    });
}
