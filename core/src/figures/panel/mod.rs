//! Figures of the panel.

pub(in crate::figures) mod overview;
pub(in crate::figures) mod raw_scores;
