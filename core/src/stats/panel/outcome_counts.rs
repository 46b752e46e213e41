//! What a test of an assessor may say, and how often it said what. Plain values; the rule stands in `outcomes`.

use serde::Serialize;

/// Chance that a sound assessor fails a test, at most.
pub const FALSE_FAILS: f64 = 0.05;

/// What a test says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Outcome {
    Shown,
    Fails,
    TooFewCups,
}

/// The three tests of one assessor on one attribute; `None` where a test cannot be made, or nobody is judged.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Outcomes {
    pub discrimination: Option<Outcome>,
    pub repeatability: Option<Outcome>,
    pub agreement: Option<Outcome>,
}

/// How often a test said what.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct OutcomeCounts {
    pub shown: usize,
    pub fails: usize,
    pub too_few_cups: usize,
    /// Tests that a sound assessor would fail by chance, at most.
    pub fails_by_chance: f64,
}

impl OutcomeCounts {
    pub fn of(outcomes: impl Iterator<Item = Option<Outcome>>) -> Self {
        let mut counts = OutcomeCounts::default();
        for outcome in outcomes.flatten() {
            match outcome {
                Outcome::Shown => counts.shown += 1,
                Outcome::Fails => counts.fails += 1,
                Outcome::TooFewCups => counts.too_few_cups += 1,
            }
            counts.fails_by_chance += FALSE_FAILS;
        }
        counts
    }

    pub fn tested(&self) -> usize {
        self.shown + self.fails + self.too_few_cups
    }

    /// Both together.
    pub fn and(self, other: OutcomeCounts) -> OutcomeCounts {
        OutcomeCounts {
            shown: self.shown + other.shown,
            fails: self.fails + other.fails,
            too_few_cups: self.too_few_cups + other.too_few_cups,
            fails_by_chance: self.fails_by_chance + other.fails_by_chance,
        }
    }
}
