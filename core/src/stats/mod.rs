//! Methods: from a study and options to named results. One method a file; nothing here reads files or draws.

mod analyse;
pub mod anova;
pub mod differences;
pub mod distance;
pub mod results;
pub mod verdict;

pub use analyse::analyse;
pub use results::*;
