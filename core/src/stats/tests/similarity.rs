//! Similarity: whether a test shows that few can tell, how many could tell at most, and how many judgements it takes.
//!
//! Exact binomial throughout (triangle: ISO 4120, duo-trio: ISO 10399, paired comparison: ISO 5495; no table of any standard
//! is copied). Several judgements of one person count as one, see `people`.

use super::people::Counted;
use super::test_kind::DiscriminationTest;
use crate::numeric::binomial::{lower, upper_bound};
use crate::numeric::portable::normal_quantile;
use crate::stats::results::{Defined, NotDefined};
use serde::Serialize;

/// Whether the test shows that few can tell.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Similarity {
    pub distinguishers_allowed: f64,
    pub beta: f64,
    /// Largest count that still shows similarity; none where n is too small.
    pub maximum_correct: Option<u64>,
    /// Chance of so few right answers, were the allowed share able to tell.
    pub p: f64,
    pub similarity_shown: bool,
    /// Largest share of people who can tell, with confidence 1 - beta: the one-sided upper bound of Clopper and Pearson for
    /// the share of right answers, guessing taken off. Similarity is shown where it is no larger than what is allowed.
    pub most_distinguishers: f64,
}

/// Judgements, one a person, that it takes to show similarity.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SimilarityNumber {
    /// Smallest n with the chance asked for.
    pub n: u64,
    /// Similarity is shown with so many right answers or fewer.
    pub maximum_correct: u64,
    /// Chance of showing similarity with that n where nobody can tell.
    pub power: f64,
    /// From this n on the chance never falls below what was asked for; counts are whole, so it moves in a saw.
    pub n_for_certain: u64,
}

/// What is asked of a test of similarity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SimilarityAsked {
    /// Share of people who may be able to tell.
    pub distinguishers_allowed: f64,
    /// Chance of claiming similarity where that share can tell.
    pub beta: f64,
    /// Chance of showing similarity where nobody can tell: 1 - alpha.
    pub power: f64,
}

const MOST_JUDGEMENTS: u64 = 2_000;

/// Similarity by the count of a test.
///
/// # Errors
/// A test without a right answer.
pub fn similarity(
    test: DiscriminationTest,
    counted: &Counted,
    beta: f64,
    distinguishers_allowed: f64,
) -> Defined<Similarity> {
    if !test.has_right_answer() {
        return Err(NotDefined::because("similarity is shown by tests with a right answer only"));
    }
    let p = lower(counted.people, counted.most, test.share_correct(distinguishers_allowed));
    let maximum = maximum_correct_for_similarity(test, counted.people, beta, distinguishers_allowed);
    let bound = upper_bound(counted.people, counted.most, beta);
    Ok(Similarity {
        distinguishers_allowed,
        beta,
        maximum_correct: maximum.map(|most| counted.most_answers(most)),
        p,
        similarity_shown: p <= beta,
        most_distinguishers: test.distinguishers_of(bound).max(0.0),
    })
}

/// Largest number of right answers that shows similarity: with `distinguishers` able to tell, so few or fewer would
/// come out with chance `beta` at most. `None` where even none right does not show it.
pub fn maximum_correct_for_similarity(test: DiscriminationTest, n: u64, beta: f64, distinguishers: f64) -> Option<u64> {
    let share = test.share_correct(distinguishers);
    let first_too_many = smallest(0, n, |correct| lower(n, correct, share) > beta).unwrap_or(n + 1);
    first_too_many.checked_sub(1)
}

/// First count from `from` to `to` for which `holds`; it must hold for all counts after the first.
pub(super) fn smallest(from: u64, to: u64, holds: impl Fn(u64) -> bool) -> Option<u64> {
    let (mut low, mut high) = (from, to + 1);
    while low < high {
        let middle = low + (high - low) / 2;
        if holds(middle) {
            high = middle;
        } else {
            low = middle + 1;
        }
    }
    (low <= to).then_some(low)
}

/// Judgements, one a person, that it takes to show that fewer than the share allowed can tell.
///
/// # Errors
/// A test without a right answer, levels outside 0 to 1, or more than 2,000 judgements.
pub fn similarity_number(test: DiscriminationTest, asked: SimilarityAsked) -> Defined<SimilarityNumber> {
    let inside = |value: f64| value > 0.0 && value < 1.0;
    if !test.has_right_answer() {
        return Err(NotDefined::because("similarity is shown by tests with a right answer only"));
    }
    if !(inside(asked.beta) && inside(asked.power) && inside(asked.distinguishers_allowed)) {
        return Err(NotDefined::because("alpha, beta and the share of distinguishers must lie between 0 and 1"));
    }
    let guess = normal_guess(test, asked);
    if guess > MOST_JUDGEMENTS as f64 {
        return Err(NotDefined::because("it would take more than 2,000 judgements"));
    }
    // Far from the answer the chance is clear: only numbers about the guess are counted out.
    let numbers = ((0.5 * guess) as u64).saturating_sub(20).max(1)..=(1.5 * guess) as u64 + 60;
    let reached: Vec<(u64, Option<u64>, f64)> = numbers.clone().map(|n| chance_of(test, n, asked)).collect();
    let first = reached.iter().find(|(_, _, power)| *power >= asked.power);
    let short = reached.iter().rev().find(|(_, _, power)| *power < asked.power);
    let last_short = short.map_or(numbers.start() - 1, |(n, _, _)| *n);
    match first {
        Some((n, Some(maximum_correct), power)) => Ok(SimilarityNumber {
            n: *n,
            maximum_correct: *maximum_correct,
            power: *power,
            n_for_certain: last_short + 1,
        }),
        _ => Err(NotDefined::because("it would take too many judgements")),
    }
}

/// n, the largest count that shows similarity, and the chance of it where nobody can tell.
fn chance_of(test: DiscriminationTest, n: u64, asked: SimilarityAsked) -> (u64, Option<u64>, f64) {
    let most = maximum_correct_for_similarity(test, n, asked.beta, asked.distinguishers_allowed);
    (n, most, most.map_or(0.0, |most| lower(n, most, test.chance())))
}

fn normal_guess(test: DiscriminationTest, asked: SimilarityAsked) -> f64 {
    let (chance, share) = (test.chance(), test.share_correct(asked.distinguishers_allowed));
    let reach = |level: f64, share: f64| normal_quantile(level).unwrap_or(0.0) * (share * (1.0 - share)).sqrt();
    let width = (reach(asked.power, chance) + reach(1.0 - asked.beta, share)) / (share - chance);
    width * width
}

#[cfg(test)]
mod tests {
    use super::*;
    use DiscriminationTest::{DuoTrio, Tetrad, ThreeAfc, Triangle, TwoAfc, TwoOfFive};

    fn asked(beta: f64, distinguishers_allowed: f64, power: f64) -> SimilarityAsked {
        SimilarityAsked { distinguishers_allowed, beta, power }
    }

    #[test]
    fn judgements_needed_to_show_similarity() {
        // scipy 1.17.1: smallest n with stats.binom.cdf(k, n, chance) >= power at the largest k with
        // stats.binom.cdf(k, n, chance + (1 - chance) pd) <= beta; then the n from which on it holds (searched to 400).
        let cases = [
            (Triangle, asked(0.05, 0.3, 0.95), (66, 28, 73)),
            (Tetrad, asked(0.05, 0.3, 0.8), (39, 15, 46)),
            (ThreeAfc, asked(0.1, 0.3, 0.9), (43, 18, 45)),
            (Triangle, asked(0.05, 0.2, 0.9), (119, 46, 129)),
            (TwoAfc, asked(0.05, 0.3, 0.95), (119, 68, 126)),
            (DuoTrio, asked(0.05, 0.2, 0.9), (214, 116, 227)),
            (TwoOfFive, asked(0.05, 0.3, 0.95), (26, 5, 29)),
            (TwoOfFive, asked(0.05, 0.2, 0.9), (40, 6, 49)),
        ];
        for (test, asked, wanted) in cases {
            let found = similarity_number(test, asked).expect("it is within reach");
            assert_eq!((found.n, found.maximum_correct, found.n_for_certain), wanted, "{test:?} {asked:?}");
            assert!(found.power >= asked.power);
        }
    }

    #[test]
    fn the_largest_share_who_can_tell() {
        // scipy 1.17.1: stats.beta.ppf(.95, k + 1, n - k), guessing taken off.
        let cases = [
            (Triangle, 60, 25, 0.296_522_428_471_308_05),
            (Triangle, 60, 26, 0.321_341_377_289_185_44),
            (TwoAfc, 60, 33, 0.320_314_926_972_179_67),
            (TwoOfFive, 40, 7, 0.226_339_630_003_794),
            (DuoTrio, 24, 11, 0.284_872_081_306_958_07),
        ];
        for (test, n, correct, wanted) in cases {
            let found = similarity(test, &Counted::once_each(n, correct), 0.05, 0.3).expect("a right answer");
            assert!((found.most_distinguishers - wanted).abs() < 1e-9, "{found:?}");
        }
    }

    #[test]
    fn the_bound_and_the_count_say_the_same() {
        for test in [Triangle, DuoTrio, TwoAfc, Tetrad, ThreeAfc, TwoOfFive] {
            for n in [5, 12, 31, 60] {
                for correct in 0..=n {
                    let found = similarity(test, &Counted::once_each(n, correct), 0.05, 0.3).expect("a right answer");
                    assert_eq!(found.similarity_shown, found.most_distinguishers <= 0.3, "{test:?} {n} {correct}");
                    assert_eq!(found.similarity_shown, found.maximum_correct.is_some_and(|most| correct <= most));
                }
            }
        }
    }

    #[test]
    fn what_can_t_be_planned_is_refused_in_words() {
        let because = |test, asked| similarity_number(test, asked).expect_err("it can't be").because;
        assert!(because(DiscriminationTest::Preference, asked(0.05, 0.3, 0.9)).contains("right answer"));
        assert!(because(Triangle, asked(0.05, 0.001, 0.9)).contains("2,000"));
        assert!(because(Triangle, asked(0.0, 0.3, 0.9)).contains("between 0 and 1"));
        assert!(because(Triangle, asked(0.05, f64::NAN, 0.9)).contains("between 0 and 1"));
    }
}
