//! Methods: from a study and options to named results. One method a file; nothing here reads files or draws.

mod analyse;
pub mod anova;
pub mod cells;
pub mod differences;
pub mod distance;
#[cfg(test)]
mod made_up;
pub mod means;
pub mod results;
pub mod variance_closed;
pub mod verdict;

pub use analyse::analyse;
pub use results::*;
