//! What the samples are like, and whether they differ.

mod anova;
mod answer;
mod comparisons;
mod means;
mod sample_names;
mod words;

pub use anova::anova;
pub use answer::{answer, samples_differ};
pub use comparisons::{against_target, letters};
pub use means::{means, means_long};
