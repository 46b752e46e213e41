//! Figures of a candidate against its target.

pub(in crate::figures) mod differences;
pub(in crate::figures) mod verdict_strip;
