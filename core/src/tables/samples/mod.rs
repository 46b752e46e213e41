//! Tables of what samples are like.

pub(in crate::tables) mod means;
