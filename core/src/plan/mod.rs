//! The plan of a tasting, made before there are data: codes, serving orders, ballots, sheets, scores typed from paper.
//!
//! Everything here is a pure function: the seed and the time are arguments. It knows nothing of files, statistics or
//! the page.

pub mod ballot;
pub mod brief;
pub mod data_entry;
mod error;
pub mod file_envelope;
pub mod joining;
pub mod on_screen;
pub mod orders;
pub mod session;
pub mod sheet_table;
pub mod tasting_plan;
pub mod tests;

pub use error::PlanError;
