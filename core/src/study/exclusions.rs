//! What is left out of the computation, and why. Nothing is ever deleted: an exclusion hides and can be lifted.

use serde::{Deserialize, Serialize};

/// What an exclusion hides. Indices are those of the study.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ExclusionScope {
    Assessor(usize),
    Sample(usize),
    Attribute(usize),
    /// One page of the score sheet.
    Serving(usize),
    /// One mark.
    Score {
        serving: usize,
        attribute: usize,
    },
}

/// One thing left out, with the reason the person gave.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Exclusion {
    pub scope: ExclusionScope,
    pub reason: String,
    /// Local date and time as given by the caller.
    pub when: String,
    /// Whether the verdict had been seen.
    #[serde(default)]
    pub late: bool,
}
