//! The kinds of tests that are no profile: what each asks, which result it opens with, how its cups are told apart. It
//! knows nothing of orders.

use serde::{Deserialize, Serialize};

/// What kind of test.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TestKind {
    /// The same cup under two labels: what the label does.
    LabelStudy,
    /// Every sample blind, then every sample named.
    BlindThenNamed,
    /// Identify each sample with the nose clip on, then with it off.
    NoseClip,
    /// Which of two is stronger in a named character.
    PairedStronger,
    /// Which of two is preferred; asked of consumers, not of the trained panel.
    PairedPreference,
    /// Which of three is the odd one.
    Triangle,
    /// Four cups, two of each sample: which is like the first.
    Tetrad,
    /// Three cups, one of them of the sample that is expected to be stronger: which is strongest in a named character.
    ThreeAfc,
    /// Five cups, two of one sample and three of the other: which two.
    TwoOfFive,
}

impl TestKind {
    /// What the assessor is asked.
    pub fn task(self) -> &'static str {
        match self {
            TestKind::LabelStudy => "Rate each cup on the ballot, in the order of the tray. The label is on the cup.",
            TestKind::BlindThenNamed => "Rate each cup on the ballot: first by code alone, then with the names given.",
            TestKind::NoseClip => {
                "Say which of the samples on the list each cup is: first with the nose clip on, then with it off."
            }
            TestKind::PairedStronger => {
                "Taste from left to right and say which cup is stronger in the named character."
            }
            TestKind::PairedPreference => "Taste from left to right and say which cup you prefer.",
            TestKind::Triangle => {
                "Two cups are the same and one is odd. Taste from left to right and name the odd one."
            }
            TestKind::Tetrad => {
                "The four cups are two pairs of like cups. Taste from left to right and name the cup that is like the first."
            }
            TestKind::ThreeAfc => {
                "Taste from left to right and say which of the three cups is strongest in the named character."
            }
            TestKind::TwoOfFive => {
                "Two cups are of one kind and three of another. Taste from left to right and name the two."
            }
        }
    }

    /// The test that the results open with.
    pub fn analysis(self) -> &'static str {
        match self {
            TestKind::LabelStudy => "Paired differences between labels within assessors, exact sign-flip test.",
            TestKind::BlindThenNamed => {
                "Paired differences named less blind within assessors, exact sign-flip test. Named always comes second, so \
                 the difference holds the effect of tasting again."
            }
            TestKind::NoseClip => {
                "Shares identified with and without the clip with exact binomial intervals, and the exact test on the cups \
                 that changed (McNemar)."
            }
            TestKind::PairedStronger => {
                "Exact binomial test against 1/2, one-sided where the direction was named before."
            }
            TestKind::PairedPreference => "Exact binomial test against 1/2, two-sided.",
            TestKind::Triangle | TestKind::Tetrad | TestKind::ThreeAfc => "Exact binomial test against 1/3, one-sided.",
            TestKind::TwoOfFive => "Exact binomial test against 1/10, one-sided.",
        }
    }

    /// How many cups of one sample a set can hold that must be told apart.
    pub(super) fn twins(self) -> usize {
        match self {
            TestKind::PairedStronger | TestKind::PairedPreference => 1,
            TestKind::TwoOfFive => 3,
            _ => 2,
        }
    }

    /// The orders that are dealt, in letters; none where orders are made in another way.
    pub(super) fn orders(self) -> &'static [&'static str] {
        match self {
            TestKind::PairedStronger | TestKind::PairedPreference => &["AB", "BA"],
            TestKind::Triangle => &["AAB", "ABA", "BAA", "ABB", "BAB", "BBA"],
            TestKind::Tetrad => &["AABB", "ABAB", "ABBA", "BAAB", "BABA", "BBAA"],
            TestKind::ThreeAfc => &["AAB", "ABA", "BAA"],
            TestKind::TwoOfFive => &TWO_OF_FIVE,
            TestKind::LabelStudy | TestKind::BlindThenNamed | TestKind::NoseClip => &[],
        }
    }

    /// Fewest and most samples.
    pub(super) fn sample_range(self) -> (usize, usize) {
        match self {
            TestKind::LabelStudy => (1, 12),
            TestKind::BlindThenNamed | TestKind::NoseClip => (2, 12),
            _ => (2, 2),
        }
    }

    /// Whether an answer is right or wrong and names a cup, or two.
    pub fn has_right_cup(self) -> bool {
        matches!(self, TestKind::Triangle | TestKind::Tetrad | TestKind::ThreeAfc | TestKind::TwoOfFive)
    }

    /// Whether the character that is compared has to be named.
    pub fn asks_for_character(self) -> bool {
        matches!(self, TestKind::PairedStronger | TestKind::ThreeAfc)
    }
}

/// All ways in which two of five cups can be of the one sample, whichever sample that is.
const TWO_OF_FIVE: [&str; 20] = [
    "AABBB", "ABABB", "ABBAB", "ABBBA", "BAABB", "BABAB", "BABBA", "BBAAB", "BBABA", "BBBAA", "BBAAA", "BABAA",
    "BAABA", "BAAAB", "ABBAA", "ABABA", "ABAAB", "AABBA", "AABAB", "AAABB",
];

/// Whether cups are rated on a ballot rather than chosen or named.
pub fn is_rated(kind: TestKind) -> bool {
    matches!(kind, TestKind::LabelStudy | TestKind::BlindThenNamed)
}
