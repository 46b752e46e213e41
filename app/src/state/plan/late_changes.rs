//! What happens to a plan on the day: cups served, somebody absent, somebody added, when and where a session is.

use super::planning::{change_plan, replace_plan};
use crate::state::app_state::AppState;
use crate::words::plan::orders as say;
use leptos::prelude::*;
use likeness_core::plan::PlanError;

/// Notes how many cups of a row were served.
pub fn mark_served(app: AppState, assessor: usize, session: u32, cups: usize) {
    let name = app
        .plan
        .with_untracked(|plan| plan.as_ref().and_then(|plan| plan.assessors.get(assessor).cloned()))
        .unwrap_or_default();
    change_plan(app, &say::log_served(&name, session, cups), |plan| {
        // A row that is not there can't be marked, and none is offered.
        let _ = plan.orders.mark_served(assessor, session, cups);
    });
}

/// Notes that all cups of a session were served.
pub fn mark_session_served(app: AppState, session: u32) {
    change_plan(app, &say::log_session_served(session), |plan| {
        for row in plan.orders.rows.iter_mut().filter(|row| row.session == session) {
            row.served = row.order.len();
        }
    });
}

/// Says when or where a session takes place.
pub fn set_session(app: AppState, session: u32, when: Option<String>, place: Option<String>) {
    change_plan(app, &say::log_session(session, when.as_deref(), place.as_deref()), |plan| {
        if let Some(found) = plan.sessions.iter_mut().find(|found| found.number == session) {
            if let Some(when) = when.clone() {
                found.when = when;
            }
            if let Some(place) = place.clone() {
                found.place = place;
            }
        }
    });
}

/// Takes an assessor out from a session on; what was served stays.
///
/// # Errors
/// What the plan refuses.
pub fn absent(app: AppState, name: &str, from_session: u32) -> Result<(), PlanError> {
    let seed = next_seed(app);
    replace_plan(app, &say::step_absent(name), |plan, now| plan.with_absent(name, from_session, seed, now))
}

/// Adds an assessor from a session on; what was served stays.
///
/// # Errors
/// What the plan refuses.
pub fn added(app: AppState, name: &str, from_session: u32) -> Result<(), PlanError> {
    let seed = next_seed(app);
    replace_plan(app, &say::step_added(name), |plan, now| plan.with_added(name.trim(), from_session, seed, now))
}

/// Each change has a seed of its own that follows from the plan's.
fn next_seed(app: AppState) -> u64 {
    app.plan.with_untracked(|plan| {
        plan.as_ref().map_or(1, |plan| plan.orders.request.seed + 1 + plan.orders.late_changes.len() as u64)
    })
}
