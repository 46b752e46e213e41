//! What was understood of a file, before its scores are used.

pub mod cell_map;
pub mod sheets;
pub mod understood;
