//! Methods: from a study and options to named results. One method a file; nothing here reads files or draws.

mod analyse;
pub mod anova;
mod anova_closed;
mod anova_reml;
mod cell_groups;
pub mod cells;
pub mod comparisons;
pub mod d_prime;
pub mod differences;
pub mod discrimination;
pub mod distance;
pub mod everything;
pub mod influence;
pub mod integrated;
pub mod intraclass;
mod letters;
#[cfg(test)]
mod made_up;
pub mod map;
pub mod map_ellipses;
pub mod marks;
pub mod means;
pub mod multiplicity;
pub mod order;
mod order_model;
pub mod panel;
pub mod panel_assessor;
pub mod planning;
pub mod profiles;
pub mod ranking;
mod reml_criterion;
pub mod replicates;
pub mod resampling;
pub mod results;
mod sample_effect;
pub mod scale_use;
pub mod sign_flip;
mod slip_detectors;
mod slip_pages;
pub mod slips;
pub mod variance_closed;
mod variance_reml;
pub mod verdict;

pub use analyse::analyse;
pub use everything::StudyResults;
pub use results::*;
