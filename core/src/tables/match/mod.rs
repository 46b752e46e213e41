//! Tables of a candidate against its target.

pub(in crate::tables) mod closeness;
pub(in crate::tables) mod differences;
