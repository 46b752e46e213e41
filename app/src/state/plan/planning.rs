//! What a leader does to a plan: writing the draft, making the plan, changing what was made, opening and closing it.
//! What is typed counts at once and is undone by the field itself; each other step can be taken back.

use super::kept_keys::new_key;
use super::plan_history::PlanSnapshot;
use crate::state::app_state::AppState;
use crate::state::page::{Message, PlanPart, View};
use crate::words::plan as say;
use leptos::prelude::*;
use likeness_core::notice::Severity;
use likeness_core::numeric::hash::fnv_1a;
use likeness_core::plan::PlanError;
use likeness_core::plan::brief::draft::{DRAFT_FILE, PlanDraft};
use likeness_core::plan::brief::study_brief::{PlannedSample, SampleRole};
use likeness_core::plan::tasting_plan::{PLAN_FILE_FORMAT, TastingPlan};
use likeness_core::study::{LogEntry, LogKind};

/// Goes to the plan; a first draft gets its seed from the clock, and what it will be kept under.
pub fn start(app: AppState) {
    ensure_key(app);
    app.learning.is_open.set(false);
    if app.plan_draft.with_untracked(|draft| draft.seed == 0) {
        let seed = seed_from(&app.now());
        app.plan_draft.update(|draft| draft.seed = seed);
    }
    app.plan_draft.update(give_rows_to_type_in);
    app.view.set(View::Plan);
}

pub fn look_at_part(app: AppState, part: PlanPart) {
    app.plan_part.set(part);
}

/// Changes the draft as one types. Nothing is recorded: the field undoes its own typing.
pub fn type_into_draft(app: AppState, change: impl FnOnce(&mut PlanDraft)) {
    app.plan_draft.update(change);
}

/// Changes the draft as one step that can be taken back; no step where nothing changed.
pub fn change_draft(app: AppState, what: &str, change: impl FnOnce(&mut PlanDraft)) {
    let before = snapshot(app);
    let mut draft = before.draft.clone();
    change(&mut draft);
    if draft != before.draft {
        app.plan_steps.update(|steps| steps.record(what, before));
        app.plan_draft.set(draft);
    }
}

/// Makes the plan from the draft, dated now. A plan that was there before can be had back by undo.
///
/// # Errors
/// What is missing or can't be laid out.
pub fn make(app: AppState) -> Result<(), PlanError> {
    let now = app.now();
    let before = snapshot(app);
    let mut draft = before.draft.clone();
    if let Some(old) = before.plan.as_ref().filter(|old| old.attributes.attributes != draft.attributes.attributes) {
        // The panel learned another list: it gets the next number, or two studies would name the same one.
        draft.attributes.version = old.attributes.version.max(draft.attributes.version) + 1;
    }
    let mut plan = draft.make(&now)?;
    if let Some(old) = &before.plan {
        // What was printed stays known: it is out of date now.
        plan.printed.clone_from(&old.printed);
        let entry = LogEntry::new(&now, LogKind::Planned, say::log_made_anew(&old.made_at));
        plan.log.splice(0..0, old.log.iter().cloned().chain([entry]));
    }
    draft.brief.written_at = now;
    app.plan_draft.set(draft);
    app.plan_steps.update(|steps| steps.record(say::STEP_MADE, before));
    app.plan.set(Some(plan));
    Ok(())
}

/// Another seed, that follows from the one before.
pub fn draw_seed(app: AppState) {
    type_into_draft(app, |draft| draft.seed = seed_from(&draft.seed.to_string()));
}

/// Changes the plan as one step that can be taken back and that stands in the plan's log under `what`.
pub fn change_plan(app: AppState, what: &str, change: impl FnOnce(&mut TastingPlan)) {
    let before = snapshot(app);
    let Some(mut plan) = before.plan.clone() else { return };
    change(&mut plan);
    if Some(&plan) == before.plan.as_ref() {
        return;
    }
    plan.log.push(LogEntry::new(&app.now(), LogKind::Planned, what));
    app.plan_steps.update(|steps| steps.record(what, before));
    app.plan.set(Some(plan));
}

/// Puts a plan in place that was worked out from the one before and has its own entry in the log, as one step.
///
/// # Errors
/// Whatever `change` refuses; then nothing changes.
pub fn replace_plan(
    app: AppState,
    what: &str,
    change: impl FnOnce(&TastingPlan, &str) -> Result<TastingPlan, PlanError>,
) -> Result<(), PlanError> {
    let before = snapshot(app);
    let Some(plan) = &before.plan else { return Ok(()) };
    let changed = change(plan, &app.now())?;
    let assessors = changed.assessors.join("\n");
    // Who joined late belongs to the draft too, or making the plan anew would lose them.
    if before.draft.assessors() != changed.assessors {
        app.plan_draft.update(|draft| draft.assessors_typed = assessors);
    }
    app.plan_steps.update(|steps| steps.record(what, before));
    app.plan.set(Some(changed));
    Ok(())
}

/// Takes the last step of planning back, and says so in the log of the plan.
pub fn undo(app: AppState) {
    let mut steps = app.plan_steps.get_untracked();
    let mut there = None;
    let undone = steps.undo(|before| set_aside(app, before, &mut there));
    finish_step(app, steps, undone.zip(there), crate::words::log_undone);
}

/// Does again what was undone last.
pub fn redo(app: AppState) {
    let mut steps = app.plan_steps.get_untracked();
    let mut there = None;
    let redone = steps.redo(|after| set_aside(app, after, &mut there));
    finish_step(app, steps, redone.zip(there), crate::words::log_redone);
}

/// Whether a file begins as a saved plan or draft does. A damaged one still does, so that its own message is shown.
pub fn looks_like_plan(bytes: &[u8]) -> bool {
    let beginning = String::from_utf8_lossy(&bytes[..bytes.len().min(200)]).into_owned();
    [PLAN_FILE_FORMAT, DRAFT_FILE.format].iter().any(|format| beginning.contains(&format!("\"{format}\"")))
}

/// Opens a saved plan or draft. The one before stays kept, and can be had back by undo.
pub fn open_plan(app: AppState, name: &str, bytes: &[u8]) {
    match PlanDraft::in_file(&String::from_utf8_lossy(bytes)) {
        Ok((draft, plan)) => {
            let part = if plan.is_some() { PlanPart::Orders } else { PlanPart::Brief };
            go_to_other(app, say::STEP_OPENED, PlanSnapshot { key: Some(another_key(app)), draft, plan });
            app.view.set(View::Plan);
            app.plan_part.set(part);
        }
        Err(why) => {
            let what = format!("{name} {} {why}", crate::words::opening::NOT_OPENED);
            app.message.set(Some(Message::refused(what, say::OPEN_PLAN_UNTOUCHED)));
        }
    }
}

/// Puts an empty draft in place of draft and plan, which stay kept. Undo goes back to them.
pub fn begin_anew(app: AppState) {
    let before = app.plan_draft.with_untracked(|draft| (!draft.is_blank()).then(|| draft.brief.title.clone()));
    let mut draft = PlanDraft { seed: seed_from(&app.now()), ..PlanDraft::default() };
    give_rows_to_type_in(&mut draft);
    go_to_other(app, say::STEP_BEGUN_ANEW, PlanSnapshot { key: Some(another_key(app)), draft, plan: None });
    app.plan_part.set(PlanPart::Brief);
    if let Some(title) = before {
        let title = if title.trim().is_empty() { say::kept::NO_TITLE.to_owned() } else { title };
        app.message.set(Some(Message {
            severity: Severity::Understood,
            what: say::kept::begun(&title),
            hint: say::kept::BEGUN_HINT.to_owned(),
        }));
    }
}

/// Puts another plan in place of the open one, as a step that can be taken back. The open one stays kept under its key.
pub(super) fn go_to_other(app: AppState, what: &str, other: PlanSnapshot) {
    ensure_key(app);
    let before = snapshot(app);
    app.plan_steps.update(|steps| steps.record(what, before));
    put_in_place(app, other);
}

/// Gives the open plan something to be kept under, where it has nothing yet.
pub fn ensure_key(app: AppState) {
    if app.kept_plans.key.with_untracked(Option::is_none) {
        app.kept_plans.key.set(Some(another_key(app)));
    }
}

/// The text of a file with all that was typed, and with the plan once it is made.
pub fn file_text(app: AppState) -> String {
    app.plan.with_untracked(|plan| app.plan_draft.with_untracked(|draft| draft.file_text(plan.as_ref())))
}

/// Puts back what the browser had saved. Text that can't be read is refused with a message and nothing is lost by it.
pub fn restore(app: AppState, draft: Option<&str>, plan: Option<&str>) {
    let draft: Option<Result<PlanDraft, _>> = draft.map(serde_json::from_str);
    let plan = plan.map(TastingPlan::from_json);
    if matches!(draft, Some(Err(_))) || matches!(plan, Some(Err(_))) {
        app.message.set(Some(Message::refused(say::SAVED_BROKEN, say::SAVED_BROKEN_HINT)));
    }
    let plan = plan.and_then(Result::ok);
    if let Some(draft) = draft.and_then(Result::ok).or_else(|| plan.as_ref().map(PlanDraft::of_plan)) {
        app.plan_draft.set(draft);
    }
    app.plan.set(plan);
    let nothing = app.plan.with_untracked(Option::is_none) && app.plan_draft.with_untracked(PlanDraft::is_blank);
    if !nothing && app.study.with_untracked(Option::is_none) {
        app.view.set(View::Plan);
    }
    if !nothing && app.message.with_untracked(Option::is_none) {
        app.message.set(Some(Message {
            severity: Severity::Understood,
            what: say::RESTORED.to_owned(),
            hint: say::RESTORED_HINT.to_owned(),
        }));
    }
}

/// The draft as text for the browser's store.
pub fn draft_text(draft: &PlanDraft) -> String {
    // Strings, numbers and lists can't fail to be written.
    serde_json::to_string(draft).unwrap_or_default()
}

/// A seed of six digits at most from the time, so that it can be read out and typed.
pub fn seed_from(text: &str) -> u64 {
    1 + fnv_1a(text.as_bytes()) % 999_999
}

/// A target and a candidate without names, where there is no sample yet.
fn give_rows_to_type_in(draft: &mut PlanDraft) {
    if draft.brief.samples.is_empty() {
        draft.brief.samples =
            [SampleRole::Target, SampleRole::Candidate].map(|role| PlannedSample::named("", role)).to_vec();
    }
}

fn snapshot(app: AppState) -> PlanSnapshot {
    PlanSnapshot {
        key: app.kept_plans.key.get_untracked(),
        draft: app.plan_draft.get_untracked(),
        plan: app.plan.get_untracked(),
    }
}

fn put_in_place(app: AppState, other: PlanSnapshot) {
    app.kept_plans.key.set(other.key);
    app.plan_draft.set(other.draft);
    app.plan.set(other.plan);
}

/// A key that neither the open plan nor a kept one has.
fn another_key(app: AppState) -> String {
    let open = app.kept_plans.key.get_untracked();
    app.kept_plans.list.with_untracked(|list| new_key(list, open.as_deref(), &app.now()))
}

/// Hands over the other side of a step and gives what stands now in its place.
fn set_aside(app: AppState, other_side: PlanSnapshot, there: &mut Option<PlanSnapshot>) -> PlanSnapshot {
    *there = Some(other_side);
    snapshot(app)
}

/// The log and the list of printed papers stay whole whatever is undone: what was done stays on record.
fn finish_step(
    app: AppState,
    steps: crate::state::plan::plan_history::PlanSteps,
    step: Option<(String, PlanSnapshot)>,
    say_so: fn(&str) -> String,
) {
    let Some((what, mut there)) = step else { return };
    let is_same = there.key == app.kept_plans.key.get_untracked();
    let log = app.plan.with_untracked(|plan| plan.as_ref().filter(|_| is_same).map(|plan| plan.log.clone()));
    let printed = app.plan.with_untracked(|plan| plan.as_ref().filter(|_| is_same).map(|plan| plan.printed.clone()));
    if let Some(plan) = &mut there.plan {
        plan.log = log.unwrap_or_else(|| plan.log.clone());
        plan.printed = printed.unwrap_or_else(|| plan.printed.clone());
        plan.log.push(LogEntry::new(&app.now(), LogKind::Undone, say_so(&what)));
    }
    app.plan_steps.set(steps);
    put_in_place(app, there);
}
