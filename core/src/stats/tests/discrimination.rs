//! Discrimination and preference tests: is there a difference at all, how many can tell, is it small enough.
//!
//! All p-values are exact binomial tails and all counts are computed from them; no table of any standard is copied.
//! Triangle: ISO 4120. Duo-trio: ISO 10399. Paired comparison: ISO 5495. Where assessors judged more than once, claims
//! about people count whole people: see `people`.

pub use super::similarity::{Similarity, maximum_correct_for_similarity};
pub use super::test_kind::{ALL_TESTS, DiscriminationTest};

use super::d_prime::{d_prime_of, share_of_d_prime};
use super::people::Counted;
use super::similarity::{similarity, smallest};
use crate::numeric::binomial::{lower, lower_bound, upper, upper_bound};
use crate::numeric::portable::normal_quantile;
use crate::stats::results::{Defined, Interval, NotDefined};
use serde::Serialize;

/// What to compute besides the p-value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DiscriminationOptions {
    /// Chance of claiming a difference that is not there.
    pub alpha: f64,
    /// Chance of claiming similarity where `distinguishers_allowed` can tell.
    pub beta: f64,
    /// Share of distinguishers that would still count as similar, 0 to 1.
    pub distinguishers_allowed: f64,
    /// People who took part, where that is not the number of judgements: claims about people then count whole people.
    pub n_assessors: Option<u64>,
}

/// Result of one test. "Right" is the majority answer in two-sided tests.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DiscriminationResult {
    pub test: DiscriminationTest,
    pub n: u64,
    pub correct: u64,
    /// People behind the judgements; as many as judgements where each made one.
    pub n_assessors: u64,
    pub alpha: f64,
    /// Exact; doubled in two-sided tests.
    pub p: f64,
    pub difference_shown: bool,
    /// Smallest count that shows a difference at alpha with this n; none where n is too small for any.
    pub minimum_correct: Defined<u64>,
    pub share_correct: f64,
    /// Exact 95 % interval of Clopper and Pearson, of whole people.
    pub share_interval95: Interval,
    /// Not defined for preference: nobody is wrong there.
    pub distinguishers: Defined<Distinguishers>,
    /// Only for tests with a right answer.
    pub similarity: Defined<Similarity>,
    /// Only for tests with a right answer.
    pub d_prime: Defined<DPrime>,
    pub model: String,
}

/// Share of people who really tell the difference, guessing taken off.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Distinguishers {
    /// (share correct - chance) / (1 - chance); below zero where fewer were right than by guessing.
    pub share: f64,
    pub se: f64,
    /// One-sided 95 % lower bound by the normal approximation, as in ISO 5495.
    pub lower_bound95: f64,
    /// One-sided 95 % upper bound by the normal approximation.
    pub upper_bound95: f64,
    /// Two-sided 95 % interval by the normal approximation.
    pub interval95: Interval,
    /// Two-sided 95 % interval from the exact binomial one; 0 where that reaches below chance.
    pub exact_interval95: Interval,
}

/// Distance between the two products in standard deviations of perception (Thurstone).
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct DPrime {
    /// 0 where fewer were right than by guessing; `None` where all were right: then it has no upper end.
    pub value: Option<f64>,
    /// Lower end of the 95 % interval, through the exact binomial one.
    pub lower95: f64,
    /// `None` where it has no end.
    pub upper95: Option<f64>,
}

/// Judgements needed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct RequiredNumber {
    /// Smallest n with the power asked for.
    pub n: u64,
    pub minimum_correct: u64,
    /// Power at that n.
    pub power: f64,
    /// From this n on the power never falls below what was asked for; counts are whole, so power moves in a saw.
    pub n_for_certain: u64,
}

impl Default for DiscriminationOptions {
    fn default() -> Self {
        DiscriminationOptions { alpha: 0.05, beta: 0.05, distinguishers_allowed: 0.3, n_assessors: None }
    }
}

/// Evaluates `correct` right answers (or answers for one side) out of `n`.
///
/// Errors: no judgements, more right than judgements, more than a million judgements, or levels outside 0 to 1.
pub fn evaluate(
    test: DiscriminationTest,
    n: u64,
    correct: u64,
    options: DiscriminationOptions,
) -> Defined<DiscriminationResult> {
    check(n, correct, options)?;
    let correct = if test.is_two_sided() { correct.max(n - correct) } else { correct };
    let of = |correct: u64| Counted::by_people(n, correct, options.n_assessors);
    let counted = of(correct);
    let p = p_of_count(test, correct, &counted);
    let shows = |correct: u64| p_of_count(test, correct, &of(correct)) <= options.alpha;
    let share_correct = correct as f64 / n as f64;
    let share_interval95 = Interval {
        lower: lower_bound(counted.people, counted.least, 0.025),
        upper: upper_bound(counted.people, counted.most, 0.025),
    };
    Ok(DiscriminationResult {
        test,
        n,
        correct,
        n_assessors: counted.people,
        alpha: options.alpha,
        p,
        difference_shown: p <= options.alpha,
        minimum_correct: smallest(0, n, shows)
            .ok_or_else(|| NotDefined::because("with so few judgements not even all right would show a difference")),
        share_correct,
        share_interval95,
        distinguishers: distinguishers(test, counted.people, share_correct, share_interval95),
        similarity: similarity(test, &counted, options.beta, options.distinguishers_allowed),
        d_prime: d_prime(test, share_correct, share_interval95),
        model: model_in_words(test, &counted),
    })
}

/// Where nobody can tell all answers are guesses, and all of them count; where both sides are tested a person may hold to
/// one of them, and whole people count.
fn p_of_count(test: DiscriminationTest, correct: u64, counted: &Counted) -> f64 {
    if test.is_two_sided() {
        return p_value(test, counted.people, counted.least);
    }
    p_value(test, counted.n, correct)
}

/// Exact p of `correct` or more right out of `n`; two-sided where the test is.
pub fn p_value(test: DiscriminationTest, n: u64, correct: u64) -> f64 {
    let tail = upper(n, correct, test.chance());
    if test.is_two_sided() { (2.0 * tail).min(1.0) } else { tail }
}

/// Smallest number of right answers with p at or below alpha; `None` where even n right do not reach it.
pub fn minimum_correct(test: DiscriminationTest, n: u64, alpha: f64) -> Option<u64> {
    smallest(0, n, |correct| p_value(test, n, correct) <= alpha)
}

/// Power to show a difference at `alpha` where `distinguishers` can tell: chance of `minimum_correct` or more.
pub fn power(test: DiscriminationTest, n: u64, alpha: f64, distinguishers: f64) -> f64 {
    let share = test.share_correct(distinguishers);
    minimum_correct(test, n, alpha).map_or(0.0, |least| {
        let right = upper(n, least, share);
        // The wrong side counts too where both sides are tested.
        if test.is_two_sided() { right + lower(n, n - least, share) } else { right }
    })
}

/// Judgements needed to show a difference with the power asked for.
///
/// Errors: levels outside 0 to 1, or more than 20,000 judgements.
pub fn required_number(
    test: DiscriminationTest,
    alpha: f64,
    wanted_power: f64,
    distinguishers: f64,
) -> Defined<RequiredNumber> {
    let inside = |value: f64| value > 0.0 && value < 1.0;
    if !(inside(alpha) && inside(wanted_power) && distinguishers > 0.0 && distinguishers <= 1.0) {
        return Err(NotDefined::because(
            "alpha and power must lie between 0 and 1, the share of distinguishers above 0",
        ));
    }
    const MOST: u64 = 20_000;
    // Power rises like that of a normal test; far from the answer large steps do.
    let guess = normal_guess(test, alpha, wanted_power, distinguishers);
    if guess > MOST as f64 {
        return Err(NotDefined::because("it would take more than 20,000 judgements"));
    }
    let from = ((0.5 * guess) as u64).saturating_sub(20).max(1);
    let to = (1.5 * guess) as u64 + 60;
    let reached: Vec<(u64, f64)> = (from..=to).map(|n| (n, power(test, n, alpha, distinguishers))).collect();
    let first = reached.iter().find(|(_, power)| *power >= wanted_power);
    let last_short = reached.iter().rev().find(|(_, power)| *power < wanted_power).map_or(from - 1, |(n, _)| *n);
    let (n, power) = *first.ok_or_else(|| NotDefined::because("it would take too many judgements"))?;
    let least = minimum_correct(test, n, alpha).unwrap_or(n);
    Ok(RequiredNumber { n, minimum_correct: least, power, n_for_certain: last_short + 1 })
}

fn normal_guess(test: DiscriminationTest, alpha: f64, power: f64, distinguishers: f64) -> f64 {
    let alpha = if test.is_two_sided() { 0.5 * alpha } else { alpha };
    let (chance, share) = (test.chance(), test.share_correct(distinguishers));
    let reach = |lower: f64, share: f64| normal_quantile(lower).unwrap_or(0.0) * (share * (1.0 - share)).sqrt();
    let width = (reach(1.0 - alpha, chance) + reach(power, share)) / (share - chance);
    width * width
}

fn check(n: u64, correct: u64, options: DiscriminationOptions) -> Defined<()> {
    let inside = |value: f64| value > 0.0 && value < 1.0;
    if n == 0 {
        Err(NotDefined::because("there are no judgements"))
    } else if n > 1_000_000 {
        Err(NotDefined::because("more than a million judgements are no sensory test"))
    } else if correct > n {
        Err(NotDefined::because(format!("{correct} right out of {n} can't be")))
    } else if !(inside(options.alpha) && inside(options.beta) && inside(options.distinguishers_allowed)) {
        Err(NotDefined::because("alpha, beta and the share of distinguishers must lie between 0 and 1"))
    } else {
        Ok(())
    }
}

fn distinguishers(test: DiscriminationTest, n: u64, share: f64, exact: Interval) -> Defined<Distinguishers> {
    if test == DiscriminationTest::Preference {
        return Err(NotDefined::because("nobody is right or wrong in a preference test"));
    }
    let beyond = |share: f64| test.distinguishers_of(share);
    let se = (share * (1.0 - share) / n as f64).sqrt() / (1.0 - test.chance());
    // 95 % points of the normal law, one-sided and two-sided.
    let (one_sided, two_sided) =
        (normal_quantile(0.95).unwrap_or_default() * se, normal_quantile(0.975).unwrap_or_default() * se);
    let middle = beyond(share);
    Ok(Distinguishers {
        share: middle,
        se,
        lower_bound95: middle - one_sided,
        upper_bound95: middle + one_sided,
        interval95: Interval { lower: middle - two_sided, upper: middle + two_sided },
        exact_interval95: Interval { lower: beyond(exact.lower).max(0.0), upper: beyond(exact.upper).max(0.0) },
    })
}

fn d_prime(test: DiscriminationTest, share: f64, interval: Interval) -> Defined<DPrime> {
    if !test.has_right_answer() {
        return Err(NotDefined::because("d' needs a right answer"));
    }
    if share_of_d_prime(test, 0.0).is_none() {
        return Err(NotDefined::because("this test has no model of d' here"));
    }
    Ok(DPrime {
        value: d_prime_of(test, share),
        lower95: d_prime_of(test, interval.lower).unwrap_or(0.0),
        upper95: d_prime_of(test, interval.upper),
    })
}

fn model_in_words(test: DiscriminationTest, counted: &Counted) -> String {
    let sides = if test.is_two_sided() { "two-sided, the tail doubled" } else { "one-sided" };
    let chance = test.chance_in_words();
    let at_one = share_of_d_prime(test, 1.0).map_or(String::new(), |share| {
        format!(" d' by Thurstone's model of this test: at d' = 1 a share of {share:.3} is right.")
    });
    let whose = match (counted.is_repeated(), test.is_two_sided()) {
        (false, _) => "Judgements are taken as independent, one by each assessor.".to_owned(),
        (true, false) => format!(
            "{} judgements by {} people: p counts every judgement, which are all guesses where nobody can tell; shares, \
             intervals, similarity and d' count whole people, rounded against the claim.",
            counted.n, counted.people
        ),
        (true, true) => format!(
            "{} judgements by {} people: all figures count whole people, rounded against the claim.",
            counted.n, counted.people
        ),
    };
    format!("Exact binomial, chance {chance}, {sides}. {whose}{at_one}")
}
