//! The open study: how it is opened, decided, corrected, undone, and the long work on it.

pub mod corrections;
pub mod decisions;
pub mod demos;
pub mod exclusions;
pub mod findings;
pub mod history;
pub mod in_place;
pub mod opening;
pub mod report_details;
pub mod saved_studies;
pub mod score_rows;
pub mod scores_shown;
pub mod study_file;
