//! The fair-test record: what happened at the tasting, noted at the time, and the reasons that it gives later for leaving
//! scores out.

use crate::state::app_state::AppState;
use crate::state::plan::planning;
use crate::words::session_record as say;
use leptos::prelude::WithUntracked;
use likeness_core::plan::session::session_record::{RecordEntry, RecordKind};
use likeness_core::plan::tasting_plan::TastingPlan;
use likeness_core::study::{ExclusionScope, Study};

/// Notes something that happened now. It stands in the plan's log as well and can be undone there.
pub fn note(app: AppState, session: u32, kind: RecordKind, assessor: Option<usize>, code: Option<String>, note: &str) {
    let entry = RecordEntry { when: app.now(), session, kind, assessor, code, note: note.trim().to_owned() };
    let Some(what) =
        app.plan.with_untracked(|plan| plan.as_ref().map(|plan| say::log_noted(&plan.record_in_words(&entry))))
    else {
        return;
    };
    planning::change_plan(app, &what, |plan| plan.record.push(entry));
}

/// Strikes an entry that was noted by mistake. The log keeps that it was there.
pub fn strike(app: AppState, index: usize) {
    let words = app.plan.with_untracked(|plan| {
        plan.as_ref().and_then(|plan| plan.record.get(index).map(|entry| plan.record_in_words(entry)))
    });
    if let Some(words) = words {
        planning::change_plan(app, &say::log_struck(&words), |plan| _ = plan.record.remove(index));
    }
}

/// What is noted of an assessor in a session: when, and what, with the cup and the note.
pub fn noted_of(plan: &TastingPlan, session: u32, assessor: usize) -> Vec<(String, String)> {
    let own = plan.record.iter().filter(|entry| entry.session == session && entry.assessor == Some(assessor));
    own.map(|entry| (entry.when.clone(), say::in_row(entry.kind.in_words(), entry.code.as_deref(), &entry.note)))
        .collect()
}

pub fn session_numbers(plan: &TastingPlan) -> Vec<u32> {
    plan.sessions.iter().map(|session| session.number).collect()
}

/// When a session was started first and ended last, as noted.
pub fn times_of(plan: &TastingPlan, session: u32) -> (Option<String>, Option<String>) {
    let of_kind =
        |kind: RecordKind| plan.record.iter().filter(move |entry| entry.session == session && entry.kind == kind);
    let started = of_kind(RecordKind::SessionStarted).next().map(|entry| entry.when.clone());
    let ended = of_kind(RecordKind::SessionEnded).next_back().map(|entry| entry.when.clone());
    (started, ended)
}

/// The last session that was started and not ended.
pub fn running_session(plan: &TastingPlan) -> Option<u32> {
    let runs = |number: &u32| matches!(times_of(plan, *number), (Some(_), None));
    session_numbers(plan).into_iter().rev().find(runs)
}

/// The session that runs, else the first that was not started: the one of which something is noted next.
pub fn session_to_note(plan: &TastingPlan) -> u32 {
    let is_fresh = |number: &u32| times_of(plan, *number).0.is_none();
    running_session(plan).or_else(|| session_numbers(plan).into_iter().find(is_fresh)).unwrap_or(1)
}

/// Reasons that the record gives for leaving something out: what was noted of the assessor, or of the cup.
pub fn reasons_for(study: &Study, scope: ExclusionScope) -> Vec<String> {
    let serving = match scope {
        ExclusionScope::Serving(serving) | ExclusionScope::Score { serving, .. } => study.servings.get(serving),
        _ => None,
    };
    let about = |event: &&likeness_core::study::RecordedEvent| match scope {
        ExclusionScope::Assessor(assessor) => event.assessor == Some(assessor),
        ExclusionScope::Serving(index) | ExclusionScope::Score { serving: index, .. } => {
            event.serving == Some(index)
                || (event.serving.is_none()
                    && event.assessor.is_some()
                    && event.assessor == serving.map(|serving| serving.assessor as usize)
                    && serving.is_some_and(|serving| serving.session == session_index(study, event.session)))
        }
        ExclusionScope::Sample(_) | ExclusionScope::Attribute(_) => false,
    };
    study.record.iter().filter(about).filter_map(|event| event.exclusion_reason.clone()).collect()
}

/// Place of a planned session among the sessions of the study.
fn session_index(study: &Study, number: u32) -> Option<u32> {
    let name = likeness_core::plan::tasting_plan::session_name(number);
    study.sessions.iter().position(|session| *session == name).map(|index| index as u32)
}
