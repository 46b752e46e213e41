//! What this browser keeps between visits: studies, the plan, data entry, filled pages, ballots on a screen. It knows no view.

pub mod data_entry;
pub mod decimal_mark;
mod kept_plans;
pub mod on_screen_ballots;
pub mod plan;
pub mod scan_desk;
pub mod studies;
pub mod tabs;
mod versions;
