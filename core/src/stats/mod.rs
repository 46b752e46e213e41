//! Methods: from a study and options to named results. One method a file; nothing here reads files or draws.

pub mod results;

pub use results::*;
