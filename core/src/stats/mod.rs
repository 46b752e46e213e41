//! Methods: from a study and options to named results. One method a file; nothing here reads files or draws.

mod analyse;
#[cfg(test)]
mod made_up;
pub mod map;
pub mod r#match;
pub mod model;
pub mod panel;
pub mod results;
pub mod samples;
pub mod tests;
pub mod verdict;

pub use analyse::analyse;
pub use results::*;
