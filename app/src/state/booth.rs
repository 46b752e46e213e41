//! The on-screen ballot: a form that is open on a tablet, the sheet that is being marked, and, on the leader's side, the
//! results files that came back. The rules are those of `likeness_core::plan::{booth, booth_run, booth_collect}`.

use super::ground::{Ground, Message, PlanPart, View};
use super::opening;
use crate::words::booth as say;
use leptos::prelude::*;
use likeness_core::notice::{Notice, Place, Severity};
use likeness_core::plan::PlanError;
use likeness_core::plan::booth::{BoothForm, BoothScope, USUAL_REST_SECONDS, allergen_sentences};
use likeness_core::plan::booth_collect::{Collected, CollectedFile, collect};
use likeness_core::plan::booth_results::BoothResults;
use likeness_core::plan::booth_run::{BoothRun, BoothStep, Finished, Moment};
use likeness_core::plan::design::TastingPlan;

/// Everything that is kept about forms on a screen. Copies are handles to the same store.
#[derive(Clone, Copy)]
pub struct BoothState {
    /// An open form hides everything else on the page.
    pub form: RwSignal<Option<BoothForm>>,
    /// The sheet that is being marked.
    pub run: RwSignal<Option<BoothRun>>,
    /// Whether this device keeps each mark.
    pub is_kept: RwSignal<bool>,
    /// Results files that the leader opened.
    pub collected: RwSignal<Vec<CollectedFile>>,
    /// Results files that could not be opened, and why.
    pub refused: RwSignal<Vec<Notice>>,
    /// Rest between cups for the next booth file, as typed.
    pub rest_typed: RwSignal<String>,
    /// What assessors read before the first cup, one sentence a line; `None` until the leader changes it.
    pub before_typed: RwSignal<Option<String>>,
}

impl Default for BoothState {
    fn default() -> Self {
        BoothState {
            form: RwSignal::new(None),
            run: RwSignal::new(None),
            is_kept: RwSignal::new(true),
            collected: RwSignal::new(Vec::new()),
            refused: RwSignal::new(Vec::new()),
            rest_typed: RwSignal::new(USUAL_REST_SECONDS.to_string()),
            before_typed: RwSignal::new(None),
        }
    }
}

// On the tablet.

/// Opens a booth file: the page becomes the form.
pub fn open_form(ground: Ground, name: &str, text: &str) {
    match BoothForm::from_text(text) {
        Ok(form) => {
            ground.booth.run.set(None);
            ground.booth.form.set(Some(form));
        }
        Err(why) => {
            let what = format!("{name} {} {why}", crate::words::opening::NOT_OPENED);
            ground.message.set(Some(Message::refused(what, say::BOOTH_FILE_HINT)));
        }
    }
}

/// Begins a sheet, or goes on with what this device kept of it.
pub fn choose_sheet(ground: Ground, sheet: usize, kept: Option<BoothRun>) {
    let run = ground.booth.form.with_untracked(|form| {
        let form = form.as_ref()?;
        let fresh = BoothRun::of_form(form, sheet)?;
        Some(kept.filter(|run| run.belongs_to(form, &fresh.sheet)).unwrap_or(fresh))
    });
    ground.booth.run.set(run);
}

/// Puts back the form that this device kept.
pub fn restore_form(ground: Ground, form: BoothForm) {
    ground.booth.form.set(Some(form));
}

/// Whether this device kept the latest change.
pub fn note_kept(ground: Ground, is_kept: bool) {
    ground.booth.is_kept.set(is_kept);
}

/// Back to the list of names. The sheet stays on this device.
pub fn put_sheet_away(ground: Ground) {
    ground.booth.run.set(None);
}

/// The page is a page again. The marks stay on this device.
pub fn leave_form(ground: Ground) {
    ground.booth.run.set(None);
    ground.booth.form.set(None);
}

pub fn consent(ground: Ground, now: &Moment) {
    change_run(ground, |run| run.consent(now));
}

pub fn warm_up_done(ground: Ground, now: &Moment) {
    change_run(ground, |run| run.warm_up_done(now));
}

/// Makes or moves a mark, given the share of the line's length that lies left of it.
pub fn mark_at(ground: Ground, row: usize, share: f64) {
    let tenths = (share.clamp(0.0, 1.0) * 1000.0).round() as u16;
    change_run(ground, |run| run.mark(row, Some(tenths)));
}

pub fn nudge(ground: Ground, row: usize, tenths: i32) {
    change_run(ground, |run| run.nudge(row, tenths));
}

pub fn take_mark_away(ground: Ground, row: usize) {
    change_run(ground, |run| run.mark(row, None));
}

/// The assessor is through with the cup; `None` where no sheet is open.
pub fn finish_cup(ground: Ground, now: &Moment) -> Option<Finished> {
    let mut finished = None;
    change_run(ground, |run| finished = Some(run.finish_cup(now)));
    finished
}

/// The assessor goes back to the lines without a mark; they are asked again.
pub fn back_to_lines(ground: Ground) {
    change_run(ground, |run| run.asked = false);
}

pub fn end_rest(ground: Ground, now: &Moment) {
    change_run(ground, |run| run.end_rest(now));
}

/// The results file of the open sheet, counted as saved.
pub fn save_results(ground: Ground, now: &Moment) -> Option<BoothResults> {
    change_run(ground, |run| run.saved += 1);
    ground.booth.run.with_untracked(|run| run.as_ref().map(|run| BoothResults::of_run(run, now)))
}

/// How far a kept sheet is, for the list of names.
pub fn progress_of(run: &BoothRun) -> say::Progress {
    match run.step {
        BoothStep::Consent => say::Progress::NotBegun,
        BoothStep::Done if run.saved > 0 => say::Progress::Saved,
        BoothStep::Done => say::Progress::Done,
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

/// A booth file of the open plan.
///
/// # Errors
/// A rest that is no number of seconds, a scope in which nobody tastes.
pub fn form_for(ground: Ground, scope: BoothScope) -> Result<BoothForm, String> {
    let typed = ground.booth.rest_typed.get_untracked();
    let rest: u32 = typed.trim().parse().map_err(|_| say::refused_rest(&typed))?;
    let before = ground.booth.before_typed.get_untracked();
    ground.plan.with_untracked(|plan| {
        let plan = plan.as_ref().ok_or(say::NEEDS_PLAN.to_owned())?;
        BoothForm::of_plan(plan, scope, rest, &before_tasting(plan, before.as_deref()))
            .map_err(|why: PlanError| why.to_string())
    })
}

/// Takes a results file in. A damaged one is listed with what to do; nothing else changes.
pub fn take_results(ground: Ground, name: &str, bytes: &[u8]) {
    match BoothResults::from_text(&String::from_utf8_lossy(bytes)) {
        Ok(results) => {
            let file = CollectedFile { file: name.to_owned(), length_bytes: bytes.len() as u64, results };
            ground.booth.collected.update(|files| files.push(file));
        }
        Err(why) => {
            let (what, hint) = match why {
                PlanError::Incomplete { what, hint } => (what, hint),
                other => (other.to_string(), String::new()),
            };
            let notice = Notice::new(Severity::Refused, Place::file(name), what, hint);
            ground.booth.refused.update(|refused| refused.push(notice));
        }
    }
    ground.view.set(View::Plan);
    ground.plan_part.set(PlanPart::ScreenForms);
}

/// Takes a results file out of the collection; the file itself stays where it is.
pub fn put_results_away(ground: Ground, index: usize) {
    ground.booth.collected.update(|files| {
        if index < files.len() {
            files.remove(index);
        }
    });
}

pub fn put_refused_away(ground: Ground) {
    ground.booth.refused.set(Vec::new());
}

/// The files that came back, against the open plan.
pub fn collected(ground: Ground) -> Option<Collected> {
    ground.plan.with(|plan| {
        let plan = plan.as_ref()?;
        ground.booth.collected.with(|files| Some(collect(plan, files)))
    })
}

/// The study from all marks that came back; it opens at the verdict.
pub fn use_results(ground: Ground) {
    let Some(plan) = ground.plan.get_untracked() else { return };
    let files = ground.booth.collected.get_untracked();
    let collected = collect(&plan, &files);
    if collected.marks() == 0 {
        return;
    }
    let study = collected.study(&plan, &files, &ground.now());
    opening::put_in_place(ground, study, say::log_collected(collected.marks()));
}

/// Puts back the results files that the browser had kept; damaged ones are said.
pub fn restore_collected(ground: Ground, text: &str) {
    match serde_json::from_str::<Vec<CollectedFile>>(text) {
        Ok(files) => ground.booth.collected.set(files),
        Err(_) => ground.message.set(Some(Message::refused(say::COLLECTED_BROKEN, say::COLLECTED_BROKEN_HINT))),
    }
}

/// The results files as text for the browser's store.
pub fn collected_text(files: &[CollectedFile]) -> String {
    serde_json::to_string(files).unwrap_or_default()
}

fn change_run(ground: Ground, change: impl FnOnce(&mut BoothRun)) {
    ground.booth.run.update(|run| {
        if let Some(run) = run {
            change(run);
        }
    });
}
