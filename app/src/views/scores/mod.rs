//! Scores: every score, what is left out, what is corrected, what was done.

pub mod exclusions;
pub mod filters;
pub mod noted_reasons;
pub mod record;
pub mod score_card;
pub mod scores_table;
pub mod scores_view;
