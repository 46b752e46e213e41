//! What a short test is asked for, and its cups and rows as they reach assessors. It knows nothing of how orders are made.

use super::test_kind::TestKind;
use serde::{Deserialize, Serialize};

/// What is to be laid out.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct TestRequest {
    pub kind: TestKind,
    /// Names; two for pairs, triangles and their like, one or more for label studies, two or more for the others. The
    /// second of a 3-AFC is the one that is expected to be stronger.
    pub samples: Vec<String>,
    /// The two labels of a label study; empty for all others.
    pub labels: Vec<String>,
    pub assessors: usize,
    /// How often each assessor does the whole test.
    pub sets: usize,
    pub used_codes: Vec<String>,
    pub seed: u64,
}

/// One cup as it reaches one assessor.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct TestCup {
    /// From 1, within the set.
    pub position: u32,
    /// Index into the samples of the request.
    pub sample: usize,
    pub code: String,
    /// What the assessor is told that the cup holds; `None` where it is blind.
    pub shown_label: Option<String>,
    /// How the cup is tasted, such as "nose clip on"; empty where nothing is special.
    pub condition: String,
}

/// One assessor doing the test once.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct TestRow {
    pub assessor: usize,
    /// From 1.
    pub set: u32,
    pub cups: Vec<TestCup>,
    /// The right answer where there is one: the code of the odd cup of a triangle, of the cup like the first of a tetrad,
    /// of the stronger cup of a 3-AFC; both codes of the pair of a two-out-of-five, with a space between.
    pub odd_code: Option<String>,
}

impl TestRow {
    /// What can be answered, as the codes of cups in the order of the tray; two codes with a space between where two
    /// cups are named.
    pub fn choices(&self, kind: TestKind) -> Vec<String> {
        let codes = || self.cups.iter().map(|cup| cup.code.clone());
        match kind {
            TestKind::Tetrad => codes().skip(1).collect(),
            TestKind::TwoOfFive => {
                let after = |first: usize| codes().skip(first + 1);
                codes()
                    .enumerate()
                    .flat_map(|(first, code)| after(first).map(move |other| format!("{code} {other}")))
                    .collect()
            }
            _ => codes().collect(),
        }
    }
}

impl TestCup {
    /// What tells two cups of one sample apart: the condition, or else the label that was shown.
    pub(in crate::plan) fn label(&self) -> String {
        if self.condition.is_empty() { self.shown_label.clone().unwrap_or_default() } else { self.condition.clone() }
    }
}
