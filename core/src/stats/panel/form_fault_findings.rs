//! What may have happened to a form, with the evidence. Plain values; nothing here computes.

use serde::Serialize;

/// What may have happened.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum FormFaultKind {
    /// From some line on each mark stands one line too low on the sheet: it belongs to the attribute above.
    ShiftedDown,
    /// From some line on each mark stands one line too high: it belongs to the attribute below.
    ShiftedUp,
    /// One assessor read one scale the wrong way round.
    MirroredAttribute,
    /// One assessor read all scales the wrong way round.
    MirroredAssessor,
    /// Two forms of one assessor stand under each other's sample.
    SwappedForms,
}

/// One suspicion.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Suspicion {
    pub kind: FormFaultKind,
    pub assessor: String,
    /// The sample of the page, or both samples of swapped forms.
    pub samples: Vec<String>,
    pub session: Option<String>,
    pub replicate: Option<u32>,
    /// The attribute turned round, or the first line that stands wrong.
    pub attribute: Option<String>,
    /// Indices into `Study::servings` of the pages in question.
    pub servings: Vec<u32>,
    pub evidence: Evidence,
    /// What is suspected and why, in words.
    pub sentence: String,
}

/// The two readings against each other.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Evidence {
    /// Marks compared.
    pub n_marks: usize,
    pub as_written: Reading,
    pub as_suspected: Reading,
    /// How many times likelier the marks are as suspected, as a power of ten.
    pub log10_times_likelier: f64,
    /// What that had to reach, as a power of ten.
    pub log10_threshold: f64,
}

/// How well one reading fits what was expected.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Reading {
    /// Correlation of marks and expectation; `None` where one of them does not vary.
    pub correlation: Option<f64>,
    /// Root of the mean squared misfit, overall level of the page taken off, in units of the scale.
    pub typical_misfit: f64,
}
