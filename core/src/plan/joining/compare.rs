//! Where sources differ about one score, and what a person decided. It knows nothing of how a source came about.

use super::source::{ScoreSource, SourceScores};
use crate::numeric::tolerance::SAME_NUMBER;
use crate::plan::data_entry::entry::Entry;
use serde::{Deserialize, Serialize};

/// A difference that was decided, with what it was between: a decision about other entries no longer holds.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct JoinDecision {
    /// Index into the servings of the plan.
    pub serving: usize,
    pub attribute: usize,
    pub between: Vec<(ScoreSource, Entry)>,
    pub entry: Entry,
}

/// One score about which sources differ.
#[derive(Clone, Debug, PartialEq)]
pub struct SourceDifference {
    pub serving: usize,
    pub attribute: usize,
    /// What each source says that has something to say, in the order of sources.
    pub between: Vec<(ScoreSource, Entry)>,
    /// What a person decided.
    pub decided: Option<Entry>,
}

/// What sources say of one score, those left out that say nothing.
pub(super) fn said(sources: &[SourceScores], serving: usize, attribute: usize) -> Vec<(ScoreSource, Entry)> {
    let entries = sources.iter().map(|source| (source.source, source.entry(serving, attribute)));
    entries.filter(|(_, entry)| *entry != Entry::NotTyped).collect()
}

/// Whether any two of them differ by more than `tolerance` units of the scale, or one found a mark and one none.
pub(super) fn differ(said: &[(ScoreSource, Entry)], tolerance: f64) -> bool {
    let scores =
        || said.iter().filter_map(|(_, entry)| if let Entry::Score(score) = entry { Some(*score) } else { None });
    let (least, most) = scores().fold((f64::MAX, f64::MIN), |(least, most), score| (least.min(score), most.max(score)));
    let some_found_none = scores().count() > 0 && scores().count() < said.len();
    // A hair's breadth is added, as where two people typed.
    some_found_none || (scores().count() > 1 && most - least > tolerance + SAME_NUMBER)
}
