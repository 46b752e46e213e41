//! Published figures recomputed on the machine that runs this: what was expected beside what came out, with its source.
//!
//! It sees every room that computes and knows nothing of the page. Only data that may be handed on are carried: printed
//! figures, numbers of the United States' standards institute (public domain), and invented scores of this project.

mod data;
mod panels;
mod printed;

pub use data::of_nist;

use serde::Serialize;

/// What a check is about, in the order of the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Topic {
    SampleEffect,
    Verdict,
    Comparisons,
    Counting,
    Planning,
    Codes,
}

/// One figure, expected and found.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CheckValue {
    pub topic: Topic,
    pub what: String,
    pub expected: f64,
    /// `None` where the engine gave no figure at all: that is a failure as well.
    pub got: Option<f64>,
    /// How far `got` may lie from `expected`: as far as the source is exact.
    pub tolerance: f64,
    pub source: &'static str,
}

impl Topic {
    pub const ALL: [Topic; 6] =
        [Topic::SampleEffect, Topic::Verdict, Topic::Comparisons, Topic::Counting, Topic::Planning, Topic::Codes];

    pub fn in_words(self) -> &'static str {
        match self {
            Topic::SampleEffect => "Do samples differ",
            Topic::Verdict => "Differences to the target",
            Topic::Comparisons => "Many comparisons at once",
            Topic::Counting => "Counting tests and ranks",
            Topic::Planning => "How large a panel",
            Topic::Codes => "Codes and serving orders",
        }
    }
}

impl CheckValue {
    pub fn agrees(&self) -> bool {
        self.got.is_some_and(|got| (got - self.expected).abs() <= self.tolerance)
    }
}

/// Computes everything anew. Takes some tens of milliseconds.
pub fn run() -> Vec<CheckValue> {
    let mut checks = panels::sample_effects();
    checks.extend(panels::against_the_target());
    checks.extend(printed::comparisons());
    checks.extend(printed::counting());
    checks.extend(printed::planning());
    checks.extend(printed::codes());
    checks
}

/// A figure that must agree to `digits` significant digits.
fn figure(topic: Topic, what: &str, expected: f64, digits: i32, got: Option<f64>, source: &'static str) -> CheckValue {
    let tolerance = 0.5 * 10f64.powi(1 - digits) * 10f64.powf(expected.abs().log10().floor());
    // Zero has no leading digit: it must be met to that many decimals.
    let tolerance = if tolerance.is_finite() && tolerance > 0.0 { tolerance } else { 0.5 * 10f64.powi(-digits) };
    CheckValue { topic, what: what.to_owned(), expected, got, tolerance, source }
}

/// A count that must agree exactly.
fn count(topic: Topic, what: &str, expected: u64, got: Option<u64>, source: &'static str) -> CheckValue {
    let got = got.map(|got| got as f64);
    CheckValue { topic, what: what.to_owned(), expected: expected as f64, got, tolerance: 0.0, source }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_published_figure_comes_out() {
        let failed: Vec<_> = run().into_iter().filter(|check| !check.agrees()).collect();
        assert!(failed.is_empty(), "{failed:#?}");
    }

    #[test]
    fn every_topic_is_checked_and_every_check_names_its_source() {
        let checks = run();
        for topic in Topic::ALL {
            assert!(checks.iter().any(|check| check.topic == topic), "{topic:?}");
        }
        assert!(checks.is_sorted_by_key(|check| check.topic));
        assert!(checks.iter().all(|check| check.source.len() > 10 && !check.what.is_empty()));
    }

    #[test]
    fn a_figure_that_is_off_in_its_last_digit_fails() {
        let check = |got| figure(Topic::Verdict, "t", 4.062_127, 5, got, "made up for this test").agrees();
        assert!(check(Some(4.062_13)) && !check(Some(4.062_3)) && !check(None) && !check(Some(f64::NAN)));
        let zero = |got| figure(Topic::Codes, "spread", 0.0, 3, Some(got), "made up for this test").agrees();
        assert!(zero(0.0) && !zero(0.01));
        assert!(!count(Topic::Counting, "of 24", 13, Some(14), "made up for this test").agrees());
    }
}
