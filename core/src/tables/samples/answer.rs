//! What the samples are like, in one sentence: who parts from the target on what, else on how much the samples differ.

use crate::stats::{Analysis, Verdict};
use crate::tables::words::{count_of, first_of};
use crate::text::lists::listed_at_most;

/// Attributes that a sentence names of each candidate before it counts the rest.
const NAMED_AT_MOST: usize = 3;

/// "Candidate C parts from Fresh mango on cooked, sweet and ripe mango." The largest difference first; only what is shown off.
/// Without a target, or before it is settled: on how many attributes the samples differ.
pub fn answer(analysis: &Analysis) -> String {
    let Some(target) = &analysis.target else { return samples_differ(analysis) };
    let candidates = || analysis.candidates.iter().filter(|one| !analysis.is_target_again(&one.sample));
    let parted: Vec<(String, Vec<String>)> =
        candidates().map(|one| (one.sample.clone(), off(analysis, &one.sample))).collect();
    let none: Vec<String> = parted.iter().filter(|(_, off)| off.is_empty()).map(|(name, _)| name.clone()).collect();
    let phrase = |(sample, off): &(String, Vec<String>)| {
        (!off.is_empty()).then(|| format!("{sample} on {}", listed_at_most(off, NAMED_AT_MOST)))
    };
    let phrases: Vec<String> = parted.iter().filter_map(phrase).collect();
    if phrases.is_empty() {
        return format!("Nothing is shown on which a candidate parts from {target}.");
    }
    let rest = match none.as_slice() {
        [] => String::new(),
        names => format!(" Nothing is shown on which {} parts from it.", first_of(names)),
    };
    format!("These part from {target}: {}.{rest}", phrases.join("; "))
}

fn off(analysis: &Analysis, sample: &str) -> Vec<String> {
    let all = analysis.differences_of(sample).into_iter().filter(|(_, one)| one.verdict == Verdict::Off);
    all.map(|(attribute, _)| attribute.attribute.clone()).collect()
}

/// "Samples are shown to differ on 13 of 15 attributes, each tested by itself."
pub fn samples_differ(analysis: &Analysis) -> String {
    let p = analysis.sample_p();
    let shown = p.iter().filter(|p| p.as_ref().is_ok_and(|p| *p < analysis.alpha)).count();
    format!("Samples are shown to differ on {} attributes, each tested by itself.", count_of(shown, p.len()))
}
