//! One undo and one redo for the page: they take back what was done to what is looked at, the plan or the study. It knows
//! no view's looks.

use super::actions;
use super::app_state::AppState;
use super::page::View;
use super::plan::planning;
use leptos::prelude::*;

/// Takes back the last step of what is looked at.
pub fn undo(app: AppState) {
    if untrack(|| is_of_plan(app)) { planning::undo(app) } else { actions::undo(app) }
}

/// Does again what was undone last of what is looked at.
pub fn redo(app: AppState) {
    if untrack(|| is_of_plan(app)) { planning::redo(app) } else { actions::redo(app) }
}

/// What undo would take back, in words.
pub fn next_undo(app: AppState) -> Option<String> {
    if is_of_plan(app) {
        return app.plan_steps.with(|steps| steps.next_undo().map(str::to_owned));
    }
    app.history.with(|history| history.next_undo().map(str::to_owned))
}

/// What redo would do again, in words.
pub fn next_redo(app: AppState) -> Option<String> {
    if is_of_plan(app) {
        return app.plan_steps.with(|steps| steps.next_redo().map(str::to_owned));
    }
    app.history.with(|history| history.next_redo().map(str::to_owned))
}

fn is_of_plan(app: AppState) -> bool {
    app.view.get() == View::Plan
}
