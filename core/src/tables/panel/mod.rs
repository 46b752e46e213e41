//! Tables of the panel.

pub(in crate::tables) mod performance;
