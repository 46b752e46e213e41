//! What can be wrong with a request for a plan, with the facts in fields; sentences are made here only.

use crate::text::lists::counted_regular as counted;
use std::fmt;

/// Why a plan can't be made as asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PlanError {
    /// An order needs two samples at least; what is asked is out of what can be laid out.
    SampleCount {
        got: usize,
        lowest: usize,
        highest: usize,
    },
    AssessorCount {
        got: usize,
        highest: usize,
    },
    ReplicateCount {
        got: usize,
        highest: usize,
    },
    /// Samples in one session: at least two, and the target takes one of the places where it is in every session.
    SessionSize {
        got: usize,
        lowest: usize,
    },
    /// The target is a number from 1 to the number of samples.
    NoSuchSample {
        number: usize,
        samples: usize,
    },
    NoSuchAssessor {
        name: String,
    },
    /// `of` is sample, attribute or assessor.
    NameTwice {
        of: &'static str,
        name: String,
    },
    /// Three digits don't carry that many codes.
    TooManyCodes {
        wanted: usize,
        left: usize,
    },
    /// A code that is said to have been used is not three digits.
    NotACode {
        text: String,
    },
    /// A part of a plan is missing or contradicts another part.
    Incomplete {
        what: String,
        hint: String,
    },
}

impl fmt::Display for PlanError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            PlanError::SampleCount { .. }
            | PlanError::AssessorCount { .. }
            | PlanError::ReplicateCount { .. }
            | PlanError::SessionSize { .. } => self.fmt_count(out),
            PlanError::NoSuchSample { number, samples } => {
                write!(out, "There is no sample {number}. Samples are numbered from 1 to {samples}.")
            }
            PlanError::NoSuchAssessor { name } => {
                write!(out, "There is no assessor “{name}” in this plan. Check the name against the list.")
            }
            PlanError::NameTwice { of, name } => {
                write!(out, "“{name}” is the name of more than one {of}. Give each {of} a name of its own.")
            }
            PlanError::TooManyCodes { wanted, left } => {
                write!(out, "{wanted} codes are wanted and three digits leave only {left}. ")?;
                out.write_str("Plan fewer samples or replicates in one study.")
            }
            PlanError::NotACode { text } => {
                write!(out, "“{text}” is not a code of three digits. Correct the list of codes used before.")
            }
            PlanError::Incomplete { what, hint } => write!(out, "{what} {hint}"),
        }
    }
}

impl PlanError {
    /// Counts that can't be laid out, with those that can.
    fn fmt_count(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            PlanError::SampleCount { got, lowest, highest } => {
                let range = range(*lowest, *highest, "sample");
                write!(out, "{} can't be ordered. Give {range}.", counted(*got, "sample"))
            }
            PlanError::AssessorCount { got, highest } => {
                write!(out, "{} can't be planned for. Give 1 to {highest} assessors.", counted(*got, "assessor"))
            }
            PlanError::ReplicateCount { got, highest } => {
                write!(out, "{} can't be planned for. Give 1 to {highest} replicates.", counted(*got, "replicate"))
            }
            PlanError::SessionSize { got, lowest } => {
                let samples = counted(*got, "sample");
                write!(out, "A session of {samples} is too small. Give {lowest} samples or more a session.")
            }
            _ => Ok(()),
        }
    }
}

impl std::error::Error for PlanError {}

fn range(lowest: usize, highest: usize, of_one: &str) -> String {
    if lowest == highest { counted(lowest, of_one) } else { format!("{lowest} to {}", counted(highest, of_one)) }
}
