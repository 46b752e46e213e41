//! Methods: from a study and options to named results. One method a file; nothing here reads files or draws.

mod analyse;
pub mod anova;
mod anova_closed;
mod anova_reml;
pub mod cells;
pub mod differences;
pub mod distance;
#[cfg(test)]
mod made_up;
pub mod means;
mod reml_criterion;
pub mod results;
mod sample_effect;
pub mod variance_closed;
mod variance_reml;
pub mod verdict;

pub use analyse::analyse;
pub use results::*;
