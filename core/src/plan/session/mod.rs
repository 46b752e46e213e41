//! The day of the tasting: checklist, serving sheets, what happened, late changes.

pub mod checklist;
pub mod late_changes;
pub mod session_record;
pub mod sheets;
pub mod study_of_plan;
