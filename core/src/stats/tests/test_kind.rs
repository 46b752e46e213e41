//! The kinds of discrimination and preference tests: how they ask, and what guessing gives.

use serde::Serialize;

/// Which test was made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum DiscriminationTest {
    /// Three cups, one is different: chance 1/3.
    Triangle,
    /// A reference and two cups, one is the reference: chance 1/2.
    DuoTrio,
    /// Two cups, which has more of a named character, the right answer known beforehand: one-sided, chance 1/2.
    TwoAfc,
    /// Two cups, which has more of a named character, no right answer known: two-sided, chance 1/2.
    Paired,
    /// Two cups, which is preferred: two-sided, chance 1/2.
    Preference,
}

impl DiscriminationTest {
    /// Chance of a right answer by guessing.
    pub fn chance(self) -> f64 {
        if self == DiscriminationTest::Triangle { 1.0 / 3.0 } else { 0.5 }
    }

    pub fn is_two_sided(self) -> bool {
        matches!(self, DiscriminationTest::Paired | DiscriminationTest::Preference)
    }

    /// Whether there is a right answer.
    pub fn has_right_answer(self) -> bool {
        !self.is_two_sided()
    }

    /// The name by which the shell program knows the test.
    pub fn word(self) -> &'static str {
        match self {
            DiscriminationTest::Triangle => "triangle",
            DiscriminationTest::DuoTrio => "duo-trio",
            DiscriminationTest::TwoAfc => "2-afc",
            DiscriminationTest::Paired => "paired",
            DiscriminationTest::Preference => "preference",
        }
    }

    pub fn from_word(word: &str) -> Option<Self> {
        ALL_TESTS.into_iter().find(|test| test.word() == word)
    }

    /// Chance of a right answer where this share of people can tell.
    pub fn share_correct(self, distinguishers: f64) -> f64 {
        distinguishers + (1.0 - distinguishers) * self.chance()
    }
}

/// All tests, in the order in which they are offered.
pub const ALL_TESTS: [DiscriminationTest; 5] = [
    DiscriminationTest::Triangle,
    DiscriminationTest::DuoTrio,
    DiscriminationTest::TwoAfc,
    DiscriminationTest::Paired,
    DiscriminationTest::Preference,
];
