//! What the samples are like, and whether they differ.

mod anova;
mod comparisons;
mod means;
mod words;

pub use anova::anova;
pub use comparisons::{against_target, letters};
pub use means::{means, means_long};

use crate::stats::Analysis;

/// The samples named that count, in the order of the study; all of them where none is named.
fn shown_samples<'a>(analysis: &'a Analysis, named: &[String]) -> Vec<&'a String> {
    analysis.samples.iter().filter(|name| named.is_empty() || named.contains(name)).collect()
}

/// The name of a sample over its column, the target marked.
fn sample_head(analysis: &Analysis, name: &String) -> String {
    if analysis.target.as_ref() == Some(name) { format!("{name} (target)") } else { name.clone() }
}
