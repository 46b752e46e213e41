//! Which samples a table shows, and how they stand over their columns.

use crate::stats::Analysis;

/// The samples named that count, in the order of the study; all of them where none is named.
pub(super) fn shown_samples<'a>(analysis: &'a Analysis, named: &[String]) -> Vec<&'a String> {
    analysis.samples.iter().filter(|name| named.is_empty() || named.contains(name)).collect()
}

/// The name of a sample over its column, the target marked.
pub(super) fn sample_head(analysis: &Analysis, name: &String) -> String {
    if analysis.target.as_ref() == Some(name) { format!("{name} (target)") } else { name.clone() }
}
