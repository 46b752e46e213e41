//! The F test of the sample effect where the data are unbalanced, with lmerTest's degrees of freedom.
//!
//! The contrasts are the rows that Doolittle elimination of X'X gives (type I, and with one factor type III too): each
//! sample against the mean of the first sample and all later ones, weighted by their numbers of scores. Other bases of
//! the same hypothesis give the same F and, in unbalanced data, degrees of freedom that differ in the decimals;
//! lmerTest's is followed because it is the one that can be checked outside. R orders factor levels by name, so the
//! samples are ordered by name here too, which makes the result independent of the order of rows and columns.

use crate::numeric::dense::{SquareMatrix, add_scaled, dot};
use crate::stats::results::{Defined, FTest, NotDefined};
use crate::stats::samples::means::EstimatedMeans;

/// Tests that all sample means are equal.
///
/// `order` lists the places of the means in the order of names, `counts` the scores of each place.
pub fn sample_effect(estimated: &EstimatedMeans, order: &[usize], counts: &[usize]) -> Defined<FTest> {
    let contrasts = doolittle_contrasts(order, counts);
    let size = contrasts.len();
    let mut joint = SquareMatrix::zeros(size);
    for (row, left) in contrasts.iter().enumerate() {
        for (column, right) in contrasts.iter().enumerate().take(row + 1) {
            let covariance = estimated.contrast_covariance(left, right);
            joint[(row, column)] = covariance;
            joint[(column, row)] = covariance;
        }
    }
    let no_numbers = || NotDefined::because("the covariance of the sample means cannot be computed");
    let eigen = joint.symmetric_eigen().ok_or_else(no_numbers)?;
    let (mut sum, mut dfs) = (0.0, Vec::with_capacity(size));
    for vector in &eigen.vectors {
        let mut weights = vec![0.0; estimated.means.len()];
        for (weight, contrast) in vector.iter().zip(&contrasts) {
            add_scaled(&mut weights, *weight, contrast);
        }
        let found = estimated.contrast(&weights)?;
        sum += found.t() * found.t();
        dfs.push(found.df);
    }
    FTest::of(sum / size as f64, size as f64, joint_df(&dfs)?)
}

/// Each sample less the mean of the first sample and all later ones; one row for each sample but the first.
fn doolittle_contrasts(order: &[usize], counts: &[usize]) -> Vec<Vec<f64>> {
    let mut rows = Vec::new();
    for place in 1..order.len() {
        let mut row = vec![0.0; counts.len()];
        let others = std::iter::once(order[0]).chain(order[place + 1..].iter().copied()).collect::<Vec<_>>();
        let total = others.iter().map(|other| counts[*other] as f64).sum::<f64>();
        for other in others {
            row[other] = -(counts[other] as f64) / total;
        }
        row[order[place]] = 1.0;
        rows.push(row);
    }
    rows
}

/// Degrees of freedom of a mean of squared t values (Fai and Cornelius 1996, as lmerTest 3.1-3 does it): each t with
/// df v has squared mean v / (v - 2); at 2 or below there is none and lmerTest answers 2.
fn joint_df(dfs: &[f64]) -> Defined<f64> {
    let count = dfs.len() as f64;
    let mean = dfs.iter().sum::<f64>() / count;
    if dfs.iter().all(|df| (df - mean).abs() <= crate::numeric::tolerance::SAME_DF) {
        return Ok(mean);
    }
    if dfs.iter().any(|df| *df <= 2.0) {
        return Ok(2.0);
    }
    let expected = dfs.iter().map(|df| df / (df - 2.0)).sum::<f64>();
    let df = 2.0 * expected / (expected - count);
    if df.is_finite() { Ok(df) } else { Err(NotDefined::because("the degrees of freedom of F cannot be found")) }
}

impl EstimatedMeans {
    fn contrast_covariance(&self, left: &[f64], right: &[f64]) -> f64 {
        dot(left, &self.covariance_times(right))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn contrasts_are_the_rows_of_doolittle_elimination() {
        // Elimination by hand of X'X for counts 2, 3, 4 in treatment coding: (1, 3/9, 4/9), (0, 1, -4/6), (0, 0, 1).
        let rows = doolittle_contrasts(&[0, 1, 2], &[2, 3, 4]);
        assert_eq!(rows[0], [-2.0 / 6.0, 1.0, -4.0 / 6.0]);
        assert_eq!(rows[1], [-1.0, 0.0, 1.0]);
    }

    #[test]
    fn equal_dfs_stay_and_small_ones_answer_two() {
        assert_eq!(joint_df(&[7.0, 7.0]).unwrap(), 7.0);
        assert_eq!(joint_df(&[7.0, 1.5]).unwrap(), 2.0);
        // By hand: 6/4 + 10/8 = 2.75; 2 * 2.75 / .75.
        assert!((joint_df(&[6.0, 10.0]).unwrap() - 5.5 / 0.75).abs() < 1e-12);
    }
}
