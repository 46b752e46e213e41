//! Opening the invented plan whose filled pages can be tried. It must not know how they are drawn or read.

use super::scan_desk;
use crate::state::app_state::AppState;
use crate::state::page::Message;
use crate::state::plan::planning;
use crate::words::scan_pages as say;
use leptos::prelude::*;
use likeness_core::scan::demo_plan;

/// Always the same pages.
pub const SEED: u64 = 1;

/// Opens the plan, unless it is open, and goes to its desk. The plan before stays kept, and can be had back by undo.
/// `false` where there is none.
pub fn open(app: AppState) -> bool {
    match demo_plan(SEED) {
        Ok(plan) => {
            let study = plan.study_id();
            let is_open = app.plan.with_untracked(|open| open.as_ref().is_some_and(|open| open.study_id() == study));
            if !is_open {
                planning::open_plan(app, say::DEMO_PLAN, plan.to_json().as_bytes());
            }
            scan_desk::look_at_desk(app);
            true
        }
        Err(why) => {
            app.message.set(Some(Message::refused(why.to_string(), say::DEMO_FAILED)));
            false
        }
    }
}

/// Whether the desk of the open plan is laid, and empty.
pub fn desk_waits(app: AppState) -> Option<bool> {
    let study = app.plan.with_untracked(|plan| plan.as_ref().map(|plan| plan.study_id()))?;
    app.scanning.desk.with_untracked(|desk| {
        let desk = desk.as_ref().filter(|desk| desk.study == study)?;
        Some(desk.pictures.is_empty())
    })
}
