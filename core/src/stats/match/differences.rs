//! Differences of a candidate to the target on one attribute, from each assessor's own difference.
//!
//! Every assessor is their own control: an assessor's mean for the candidate minus the same assessor's mean for the
//! target. The level at which a person uses the line drops out, nothing is assumed about balance, and the degrees of
//! freedom are assessors - 1: servings are not independent people. The two one-sided tests are Schuirmann's (1987).

use super::calibrated::AttributeVerdict;
use crate::numeric::describe::mean;
use crate::numeric::tails::{t_quantile_upper, t_two_sided, t_upper};
use crate::stats::results::{Defined, DifferenceTest, Interval, NotDefined, TargetDifference, Verdict};
use crate::study::AttributeScores;

/// What a difference is judged by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DifferenceOptions {
    /// Half-width of the margin in units of the scale; above zero.
    pub margin: f64,
    /// Chance of a wrong claim, between 0 and 0.5.
    pub alpha: f64,
}

/// Mean score of every assessor for every sample, `[assessor][sample]`; `None` where there is no score.
pub fn assessor_means(scores: &AttributeScores) -> Vec<Vec<Option<f64>>> {
    assessor_means_in(scores, |_| true)
}

/// The same over the sessions wanted only.
pub fn assessor_means_in(scores: &AttributeScores, wanted: impl Fn(Option<u32>) -> bool) -> Vec<Vec<Option<f64>>> {
    let (rows, width) = (scores.assessors.len(), scores.samples.len());
    // The first score of a cell is taken off before summing, so that large levels cost no digits.
    let mut cells = vec![(0.0_f64, 0.0_f64, 0_u32); rows * width];
    for observation in scores.observations.iter().filter(|observation| wanted(observation.session)) {
        let (first, sum, count) = &mut cells[observation.assessor as usize * width + observation.sample as usize];
        if *count == 0 {
            *first = observation.score;
        }
        *sum += observation.score - *first;
        *count += 1;
    }
    let mean = |(first, sum, count): &(f64, f64, u32)| (*count > 0).then(|| first + sum / f64::from(*count));
    (0..rows).map(|row| cells[row * width..(row + 1) * width].iter().map(mean).collect()).collect()
}

/// Tests on a list of independent differences, one an assessor.
///
/// Errors: fewer than two differences, or no spread between them.
pub fn difference_test(differences: &[f64], options: DifferenceOptions) -> Defined<DifferenceTest> {
    let n = differences.len();
    let Some(mean) = mean(differences).filter(|_| n >= 2) else {
        return Err(NotDefined::because("fewer than two assessors scored both samples, so nothing tells the noise"));
    };
    let squares: f64 = differences.iter().map(|difference| (difference - mean).powi(2)).sum();
    let df = n as f64 - 1.0;
    let se = (squares / df / n as f64).sqrt();
    let size = differences.iter().fold(mean.abs(), |largest, difference| largest.max(difference.abs()));
    if se <= crate::numeric::tolerance::NOTHING_LEFT * size.max(options.margin) {
        return Err(NotDefined::because("all assessors differ by the very same amount, so nothing tells the noise"));
    }
    test_from_summary(mean, se, df, options).ok_or_else(|| NotDefined::because("the numbers are out of range"))
}

/// The same tests from a difference, its standard error and its degrees of freedom; `None` outside the domain.
pub fn test_from_summary(difference: f64, se: f64, df: f64, options: DifferenceOptions) -> Option<DifferenceTest> {
    let interval = |upper_tail: f64| {
        let reach = t_quantile_upper(upper_tail, df)? * se;
        Some(Interval { lower: difference - reach, upper: difference + reach })
    };
    Some(DifferenceTest {
        se,
        df,
        interval95: interval(0.025)?,
        interval90: interval(0.05)?,
        difference_interval: interval(options.alpha / 2.0)?,
        match_interval: interval(options.alpha)?,
        p_lower: t_upper((difference + options.margin) / se, df)?,
        p_upper: t_upper((options.margin - difference) / se, df)?,
        p_difference: t_two_sided(difference / se, df)?,
    })
}

/// The difference of one candidate on one attribute with its tests and the verdict that was reached on it; `None` where no
/// assessor scored both. `differences`: one an assessor that scored both.
pub fn target_difference(
    sample: &str,
    differences: &[f64],
    options: DifferenceOptions,
    judged: &Defined<AttributeVerdict>,
) -> Option<TargetDifference> {
    let figures = judged.as_ref().map_err(Clone::clone).and_then(|judged| judged.figures.clone());
    Some(TargetDifference {
        sample: sample.to_owned(),
        difference: mean(differences)?,
        n_assessors: differences.len(),
        margin: options.margin,
        test: difference_test(differences, options),
        verdict: judged.as_ref().map_or(Verdict::NotShown, |judged| judged.verdict),
        p_off: figures.map(|figures| figures.p_off),
        beyond: judged.as_ref().is_ok_and(|judged| judged.beyond),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(got: f64, expected: f64, absolute: f64) {
        assert!((got - expected).abs() <= absolute, "got {got}, expected {expected}");
    }

    /// Difference, standard error and Welch-Satterthwaite df of two independent groups, from their summaries.
    fn welch(first: (f64, f64, f64), second: (f64, f64, f64)) -> (f64, f64, f64) {
        let (v1, v2) = (first.1 * first.1 / first.2, second.1 * second.1 / second.2);
        let df = (v1 + v2).powi(2) / (v1 * v1 / (first.2 - 1.0) + v2 * v2 / (second.2 - 1.0));
        (first.0 - second.0, (v1 + v2).sqrt(), df)
    }

    #[test]
    fn sleep_data_within_half_an_hour_is_not_shown() {
        // R 4.2.2, datasets::sleep (Student 1908): group means 0.75 and 2.33, sd 1.789010 and 2.002249, n 10 each;
        // t.test(extra ~ group, mu = -0.5, alternative = "greater") gives t = -1.272, p = .890; upper test t = -2.450;
        // 90 % interval -3.053 to -0.107 (Welch).
        let (difference, se, df) = welch((0.75, 1.789010, 10.0), (2.33, 2.002249, 10.0));
        let test = test_from_summary(difference, se, df, DifferenceOptions { margin: 0.5, alpha: 0.05 }).unwrap();
        close((difference + 0.5) / se, -1.272, 5e-4);
        close((difference - 0.5) / se, -2.450, 5e-4);
        close(test.p_lower, 0.890, 5e-4);
        close(test.interval90.lower, -3.053, 1e-3);
        close(test.interval90.upper, -0.107, 1e-3);
        assert!(!test.match_interval.is_inside(0.5));
    }

    #[test]
    fn two_groups_shown_equivalent_in_print() {
        // Lakens 2017 (Social Psychological and Personality Science 8, 355-362), first example: means 5.25 and 5.22,
        // sd 0.95 and 0.83, n 95 and 89, bound d = .43 standard deviations = .3836: t 3.150 and -2.693, p = .0039.
        let (difference, se, df) = welch((5.25, 0.95, 95.0), (5.22, 0.83, 89.0));
        let test = test_from_summary(difference, se, df, DifferenceOptions { margin: 0.3836, alpha: 0.05 }).unwrap();
        close((difference + 0.3836) / se, 3.150, 1e-3);
        close((difference - 0.3836) / se, -2.693, 1e-3);
        close(test.p_upper, 0.0039, 5e-5);
        assert!(test.match_interval.is_inside(0.3836));
    }

    #[test]
    fn the_two_tests_agree_with_the_interval() {
        let options = DifferenceOptions { margin: 6.0, alpha: 0.05 };
        for shift in 0..40 {
            let differences: Vec<f64> =
                (0..9).map(|index| f64::from(shift) * 0.4 + f64::from((index * 37) % 11) - 5.0).collect();
            let test = difference_test(&differences, options).unwrap();
            let by_tests = test.p_lower < 0.05 && test.p_upper < 0.05;
            assert_eq!(by_tests, test.match_interval.is_inside(options.margin), "shift {shift}");
            assert_eq!(test.p_difference < 0.05, test.difference_interval.excludes_zero(), "shift {shift}");
        }
    }

    #[test]
    fn one_assessor_or_no_spread_gives_a_reason_not_a_number() {
        let options = DifferenceOptions { margin: 10.0, alpha: 0.05 };
        assert!(difference_test(&[4.0], options).unwrap_err().because.contains("fewer than two assessors"));
        assert!(difference_test(&[4.0, 4.0, 4.0], options).unwrap_err().because.contains("the very same amount"));
    }
}
