//! The start: what to open, and the studies that this browser keeps.

pub mod saved_studies;
pub mod start_page;
