//! The sign-flip test: if candidate and target were the same, each assessor's differences could as well have come out
//! with the opposite sign. Exact, and without any assumption about the shape of the scatter.
//!
//! Fisher 1935 (The Design of Experiments, section 21) for one attribute; whole profiles flip together here, so that
//! correlation between attributes is kept as it is.
//!
//! The statistic depends on the attributes only by the products of any two assessors' rows, so where there are more
//! attributes than assessors the rows are turned into as many directions as there are assessors: less to add up a step.

use crate::numeric::dense::{SquareMatrix, dot};
use crate::numeric::random::Random;
use crate::stats::results::{Defined, NotDefined};
use serde::Serialize;

/// Up to this many assessors all 2^n arrangements are gone through.
pub const EXACT_UP_TO: usize = 16;
/// Arrangements drawn at random where there are more assessors.
pub const RANDOM_ARRANGEMENTS: u64 = 10_000;

/// Result of the test.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SignFlip {
    /// Two-sided p: share of arrangements at least as far from "no difference" as the one seen.
    pub p: f64,
    pub n_assessors: usize,
    /// Arrangements gone through or drawn.
    pub arrangements: u64,
    /// Whether all arrangements were gone through; else they were drawn with the study's seed.
    pub exact: bool,
    /// The smallest p that this many assessors can give.
    pub smallest_possible_p: f64,
    /// What was flipped and measured, in words.
    pub model: String,
}

/// Tests one list of differences, one an assessor, by the size of their mean.
///
/// Errors: fewer than two differences, or all of them zero.
pub fn of_differences(differences: &[f64], seed: u64) -> Defined<SignFlip> {
    let rows = vec![differences.iter().map(|difference| Some(*difference)).collect()];
    of_profiles(&rows, seed).map(|test| SignFlip {
        model: "The sign of each assessor's difference is flipped; measured by the size of the mean difference."
            .to_owned(),
        ..test
    })
}

/// Tests whole profiles, `differences[attribute][assessor]`, by the sum over attributes of the squared mean difference.
///
/// Errors: fewer than two assessors with a difference, or all differences zero.
pub fn of_profiles(differences: &[Vec<Option<f64>>], seed: u64) -> Defined<SignFlip> {
    let flip = Flipping::of(differences).in_few_directions();
    let n = flip.contributions.len();
    if n < 2 {
        return Err(NotDefined::because("fewer than two assessors scored both samples"));
    }
    let observed = flip.statistic(&flip.sums(&vec![false; n]));
    if observed <= 0.0 && flip.contributions.iter().flatten().all(|value| value.abs() <= 0.0) {
        return Err(NotDefined::because("no assessor scored the two samples differently"));
    }
    // Sums are updated step by step; a hair of rounding must not turn a tie into a miss.
    let reached = observed * (1.0 - crate::numeric::tolerance::TIE);
    let exact = n <= EXACT_UP_TO;
    let (p, arrangements) = if exact { flip.all(reached) } else { flip.some(reached, seed) };
    Ok(SignFlip {
        p,
        n_assessors: n,
        arrangements,
        exact,
        smallest_possible_p: if exact { 2.0 / arrangements as f64 } else { 1.0 / (arrangements + 1) as f64 },
        model: "The signs of all of an assessor's differences are flipped together; measured by the sum over \
                attributes of the squared mean difference."
            .to_owned(),
    })
}

/// What each assessor adds to the mean difference of each attribute.
struct Flipping {
    /// `[assessor][attribute]`.
    contributions: Vec<Vec<f64>>,
}

impl Flipping {
    fn of(differences: &[Vec<Option<f64>>]) -> Self {
        let assessors = differences.first().map_or(0, Vec::len);
        let counts: Vec<f64> = differences.iter().map(|row| row.iter().flatten().count() as f64).collect();
        let contributions = (0..assessors)
            .filter(|assessor| differences.iter().any(|row| row[*assessor].is_some()))
            .map(|assessor| {
                differences
                    .iter()
                    .zip(&counts)
                    .map(|(row, count)| row[assessor].map_or(0.0, |difference| difference / count))
                    .collect()
            })
            .collect();
        Flipping { contributions }
    }

    /// The same lengths of all sums, in no more directions than there are assessors.
    fn in_few_directions(self) -> Self {
        let n = self.contributions.len();
        if self.contributions.first().is_none_or(|row| row.len() <= n) {
            return self;
        }
        match SquareMatrix::products_of_rows(&self.contributions).symmetric_eigen() {
            None => self,
            Some(eigen) => {
                let axes = || eigen.values.iter().zip(&eigen.vectors).filter(|(value, _)| **value > 0.0);
                let row = |assessor: usize| axes().map(|(value, axis)| value.sqrt() * axis[assessor]).collect();
                Flipping { contributions: (0..n).map(row).collect() }
            }
        }
    }

    fn sums(&self, flipped: &[bool]) -> Vec<f64> {
        let mut sums = vec![0.0; self.contributions.first().map_or(0, Vec::len)];
        for (row, flipped) in self.contributions.iter().zip(flipped) {
            for (sum, value) in sums.iter_mut().zip(row) {
                *sum += if *flipped { -value } else { *value };
            }
        }
        sums
    }

    fn statistic(&self, sums: &[f64]) -> f64 {
        dot(sums, sums)
    }

    /// All arrangements in Gray-code order, one flip a step. Flipping everybody changes nothing, so the last assessor
    /// stays put and every arrangement counts twice.
    fn all(&self, reached: f64) -> (f64, u64) {
        let free = self.contributions.len() - 1;
        let mut flipped = vec![false; self.contributions.len()];
        let mut sums = self.sums(&flipped);
        let half = 1_u64 << free;
        let mut count = u64::from(self.statistic(&sums) >= reached);
        for step in 1..half {
            let turn = step.trailing_zeros() as usize;
            let sign = if flipped[turn] { 2.0 } else { -2.0 };
            flipped[turn] = !flipped[turn];
            for (sum, value) in sums.iter_mut().zip(&self.contributions[turn]) {
                *sum += sign * value;
            }
            count += u64::from(self.statistic(&sums) >= reached);
        }
        (count as f64 / half as f64, 2 * half)
    }

    /// Random arrangements; the one seen counts as one of them, so p is never zero.
    fn some(&self, reached: f64, seed: u64) -> (f64, u64) {
        let mut random = Random::seeded_for(seed, "sign flips");
        let count = (0..RANDOM_ARRANGEMENTS)
            .filter(|_| {
                let flipped: Vec<bool> = self.contributions.iter().map(|_| random.coin()).collect();
                self.statistic(&self.sums(&flipped)) >= reached
            })
            .count();
        ((count + 1) as f64 / (RANDOM_ARRANGEMENTS + 1) as f64, RANDOM_ARRANGEMENTS)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn darwins_maize_as_fisher_tested_it() {
        // Fisher 1935, section 21: 15 differences in height of cross- and self-fertilised maize, eighths of an inch;
        // 863 of 32768 arrangements reach the sum of 314 on one side, 1726 on both: p = .05267. From memory.
        let differences = [49, -67, 8, 16, 6, 23, 28, 41, 14, 29, 56, 24, 75, 60, -48].map(f64::from);
        let test = of_differences(&differences, 1).unwrap();
        assert!(test.exact && test.arrangements == 32768);
        assert!((test.p - 1726.0 / 32768.0).abs() < 1e-12, "{}", test.p * 32768.0);
    }

    #[test]
    fn the_random_test_is_near_the_exact_one() {
        // Standard error of the share at p = .4 with 10,000 draws is .005.
        let few: Vec<f64> = (0..16).map(|i| f64::from((i * 7) % 11) - 4.2).collect();
        let exact = of_differences(&few, 1).unwrap();
        let flip = Flipping::of(&[few.iter().map(|x| Some(*x)).collect()]);
        let observed = flip.statistic(&flip.sums(&[false; 16]));
        let (p, _) = flip.some(observed * (1.0 - 1e-9), 5);
        assert!((p - exact.p).abs() < 0.02, "{p} {}", exact.p);
        assert_eq!(flip.some(observed, 5), flip.some(observed, 5));
    }

    #[test]
    fn profiles_flip_together() {
        // Two assessors, two attributes: differences (3, 4) and (3, -4). Mean profile (3, 0): 9. Flipping one of them
        // gives (0, 4): 16. So all four arrangements are at least as far: p = 1; by the first attribute alone p = .5.
        let rows = vec![vec![Some(3.0), Some(3.0)], vec![Some(4.0), Some(-4.0)]];
        assert_eq!(of_profiles(&rows, 1).unwrap().p, 1.0);
        assert_eq!(of_differences(&[3.0, 3.0], 1).unwrap().p, 0.5);
    }

    #[test]
    fn few_directions_have_the_lengths_of_all_attributes() {
        // Identity: every arrangement's statistic by the attributes themselves.
        let mut random = Random::seeded_for(2, "directions");
        let rows: Vec<Vec<Option<f64>>> =
            (0..9).map(|_| (0..4).map(|at| (at > 0 || random.coin()).then(|| random.normal())).collect()).collect();
        let (all, few) = (Flipping::of(&rows), Flipping::of(&rows).in_few_directions());
        assert!(few.contributions.len() == 4 && few.contributions[0].len() <= 4);
        for pattern in 0..16_u32 {
            let flipped: Vec<bool> = (0..4).map(|at| pattern >> at & 1 == 1).collect();
            let (one, other) = (all.statistic(&all.sums(&flipped)), few.statistic(&few.sums(&flipped)));
            assert!((one - other).abs() < 1e-13 * one.max(1.0), "{pattern:b}: {one} {other}");
        }
    }

    #[test]
    fn nothing_to_flip_says_why() {
        assert!(of_differences(&[1.0], 1).is_err());
        assert!(of_differences(&[0.0, 0.0, 0.0], 1).unwrap_err().because.contains("differently"));
        assert!(of_profiles(&[], 1).is_err());
    }
}
