//! Figures of what is planned, before there are scores.

pub mod verdict_chances;
