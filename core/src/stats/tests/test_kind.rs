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
    /// Four cups, two of each product, to be sorted into the two pairs: chance 1/3.
    Tetrad,
    /// Three cups, one has more of a named character and is known beforehand, which: chance 1/3.
    ThreeAfc,
    /// Five cups, two are different from the other three, which two: chance 1/10.
    TwoOfFive,
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
        match self {
            DiscriminationTest::Triangle | DiscriminationTest::Tetrad | DiscriminationTest::ThreeAfc => 1.0 / 3.0,
            DiscriminationTest::TwoOfFive => 0.1,
            _ => 0.5,
        }
    }

    /// The same chance as people write it.
    pub fn chance_in_words(self) -> &'static str {
        match self {
            DiscriminationTest::Triangle | DiscriminationTest::Tetrad | DiscriminationTest::ThreeAfc => "1/3",
            DiscriminationTest::TwoOfFive => "1/10",
            _ => "1/2",
        }
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
            DiscriminationTest::Tetrad => "tetrad",
            DiscriminationTest::ThreeAfc => "3-afc",
            DiscriminationTest::TwoOfFive => "2-of-5",
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

    /// Share of people who can tell behind a share of right answers, guessing taken off; below zero where fewer were right
    /// than by guessing.
    pub fn distinguishers_of(self, share_correct: f64) -> f64 {
        (share_correct - self.chance()) / (1.0 - self.chance())
    }
}

/// All tests, in the order in which they are offered.
pub const ALL_TESTS: [DiscriminationTest; 8] = [
    DiscriminationTest::Triangle,
    DiscriminationTest::DuoTrio,
    DiscriminationTest::Tetrad,
    DiscriminationTest::ThreeAfc,
    DiscriminationTest::TwoOfFive,
    DiscriminationTest::TwoAfc,
    DiscriminationTest::Paired,
    DiscriminationTest::Preference,
];
