//! Panel: can it be believed, as a whole and one by one.

pub mod form_faults;
mod leave_out;
pub mod panel_view;
mod people;
pub mod raw_scores;
