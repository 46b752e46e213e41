//! The fair-test record: what happened at the tasting, noted at the time, and the reasons that it gives later for leaving
//! scores out.

use crate::state::app_state::AppState;
use crate::state::plan::planning;
use crate::words::session_record as say;
use leptos::prelude::WithUntracked;
use likeness_core::plan::session::session_record::{RecordEntry, RecordKind};
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
