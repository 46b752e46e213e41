//! Figures of what samples are like.

pub(in crate::figures) mod difference_grid;
pub(in crate::figures) mod means;
pub(in crate::figures) mod spider;
