//! Panel: can it be believed, as a whole and one by one.

pub mod form_faults;
pub mod panel_view;
pub mod raw_scores;
