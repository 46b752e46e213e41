//! The day of the tasting: checklist, serving sheets, what happened, late changes.

pub mod brief_sheet;
pub mod checklist;
pub mod late_changes;
pub mod preparations;
mod report_of_plan;
pub mod session_record;
pub mod sheets;
pub mod study_of_plan;
