//! Intraclass correlations: how alike assessors score, as one number from 0 to 1.
//!
//! Shrout & Fleiss 1979, Psychological Bulletin 86, 420-428: one-way random (1), two-way random (2) and two-way mixed
//! (3), each for a single judge and for the mean of all k.

use crate::stats::r#match::calibrated::f_quantile_lower;
use crate::stats::results::{Defined, Interval, NotDefined};
use serde::Serialize;

/// All six coefficients. A coefficient below zero means: less alike than chance.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Intraclass {
    /// One judge, each target judged by other judges.
    pub one_way_single: f64,
    /// One judge, same judges throughout, differences of level count as disagreement.
    pub agreement_single: f64,
    /// One judge, same judges throughout, differences of level are forgiven.
    pub consistency_single: f64,
    pub one_way_mean: f64,
    pub agreement_mean: f64,
    /// Mean of all judges, level forgiven: what suits a panel, since levels drop out of differences between samples.
    pub consistency_mean: f64,
    /// 95 % intervals by F, on the same pages as the coefficients; for normal marks.
    pub agreement_single_interval95: Option<Interval>,
    pub agreement_mean_interval95: Option<Interval>,
    pub consistency_single_interval95: Option<Interval>,
    pub consistency_mean_interval95: Option<Interval>,
    pub n_targets: usize,
    pub n_judges: usize,
}

/// Coefficients from a full table, `table[target][judge]`.
///
/// Errors: fewer than two targets or judges, rows of unequal length, or no variation at all.
pub fn intraclass(table: &[Vec<f64>]) -> Defined<Intraclass> {
    let (n, k) = (table.len(), table.first().map_or(0, Vec::len));
    if n < 2 || k < 2 || table.iter().any(|row| row.len() != k) {
        return Err(NotDefined::because("it takes two samples and two assessors who scored all of them"));
    }
    let squares = mean_squares(table, n as f64, k as f64);
    let (n_real, k_real) = (n as f64, k as f64);
    let MeanSquares { targets, judges, residual, within } = squares;
    if targets <= 0.0 && within <= 0.0 {
        return Err(NotDefined::because("all scores are equal"));
    }
    let level = k_real * (judges - residual) / n_real;
    let agreement_single = (targets - residual) / (targets + (k_real - 1.0) * residual + level);
    let agreement_mean = (targets - residual) / (targets + (judges - residual) / n_real);
    let all = Intraclass {
        one_way_single: (targets - within) / (targets + (k_real - 1.0) * within),
        agreement_single,
        consistency_single: (targets - residual) / (targets + (k_real - 1.0) * residual),
        one_way_mean: (targets - within) / targets,
        agreement_mean,
        consistency_mean: (targets - residual) / targets,
        agreement_single_interval95: squares.agreement_interval95(n_real, k_real),
        agreement_mean_interval95: squares.agreement_interval95(n_real, k_real).map(|one| of_mean(one, k_real)),
        consistency_single_interval95: squares.consistency_interval95(n_real, k_real),
        consistency_mean_interval95: squares.consistency_interval95(n_real, k_real).map(|one| of_mean(one, k_real)),
        n_targets: n,
        n_judges: k,
    };
    let finite = [all.one_way_mean, all.agreement_single, all.consistency_single, agreement_mean, all.consistency_mean];
    if finite.iter().all(|value| value.is_finite()) {
        Ok(all)
    } else {
        Err(NotDefined::because("the means of all samples are equal"))
    }
}

/// What F exceeds with probability .025.
fn f_above(df1: f64, df2: f64) -> Option<f64> {
    f_quantile_lower(0.025, df2, df1).map(|reciprocal| 1.0 / reciprocal)
}

/// From a single judge to the mean of k, after Spearman and Brown.
fn of_mean(single: Interval, k: f64) -> Interval {
    let of = |single: f64| k * single / (1.0 + (k - 1.0) * single);
    Interval { lower: of(single.lower), upper: of(single.upper) }
}

impl MeanSquares {
    /// Of one judge, level forgiven: ICC(3,1) of the source.
    fn consistency_interval95(&self, n: f64, k: f64) -> Option<Interval> {
        let (df1, df2) = (n - 1.0, (n - 1.0) * (k - 1.0));
        let f = self.targets / self.residual;
        let of = |f: f64| (f - 1.0) / (f + k - 1.0);
        let (lower, upper) = (of(f / f_above(df1, df2)?), of(f * f_above(df2, df1)?));
        (lower.is_finite() && upper.is_finite()).then_some(Interval { lower, upper })
    }

    /// Of one judge, level counted: ICC(2,1) of the source, with Satterthwaite's degrees of freedom.
    fn agreement_interval95(&self, n: f64, k: f64) -> Option<Interval> {
        let MeanSquares { targets, judges, residual, .. } = *self;
        let rho = (targets - residual) / (targets + (k - 1.0) * residual + k * (judges - residual) / n);
        let (of_judges, of_residual) = (k * rho * judges / residual, n * (1.0 + (k - 1.0) * rho) - k * rho);
        let top = (k - 1.0) * (n - 1.0) * (of_judges + of_residual).powi(2);
        let df = top / ((n - 1.0) * of_judges.powi(2) + of_residual.powi(2));
        let (above, below) = (f_above(n - 1.0, df)?, f_above(df, n - 1.0)?);
        let common = k * judges + (k * n - k - n) * residual;
        let lower = n * (targets - above * residual) / (above * common + n * targets);
        let upper = n * (below * targets - residual) / (common + n * below * targets);
        (lower.is_finite() && upper.is_finite()).then_some(Interval { lower, upper })
    }
}

struct MeanSquares {
    targets: f64,
    judges: f64,
    residual: f64,
    within: f64,
}

fn mean_squares(table: &[Vec<f64>], n: f64, k: f64) -> MeanSquares {
    let grand = table.iter().flatten().sum::<f64>() / (n * k);
    let rows: Vec<f64> = table.iter().map(|row| row.iter().map(|x| x - grand).sum::<f64>() / k).collect();
    let columns: Vec<f64> =
        (0..table[0].len()).map(|judge| table.iter().map(|row| row[judge] - grand).sum::<f64>() / n).collect();
    let (mut residual, mut within) = (0.0, 0.0);
    for (row, row_effect) in table.iter().zip(&rows) {
        for (value, column_effect) in row.iter().zip(&columns) {
            let deviation = value - grand - row_effect;
            within += deviation * deviation;
            residual += (deviation - column_effect) * (deviation - column_effect);
        }
    }
    let squares = |effects: &[f64]| effects.iter().map(|effect| effect * effect).sum::<f64>();
    MeanSquares {
        targets: k * squares(&rows) / (n - 1.0),
        judges: n * squares(&columns) / (k - 1.0),
        residual: residual / ((n - 1.0) * (k - 1.0)),
        within: within / (n * (k - 1.0)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_of_shrout_and_fleiss() {
        // Shrout & Fleiss 1979, table 2 (six targets, four judges) and table 4 (.17 .29 .71 .44 .62 .91).
        let table = [[9, 2, 5, 8], [6, 1, 3, 2], [8, 4, 6, 8], [7, 1, 2, 6], [10, 5, 6, 9], [6, 2, 4, 7]];
        let table: Vec<Vec<f64>> = table.iter().map(|row| row.iter().map(|x| f64::from(*x)).collect()).collect();
        let got = intraclass(&table).unwrap();
        let list = [
            (got.one_way_single, 0.17),
            (got.agreement_single, 0.29),
            (got.consistency_single, 0.71),
            (got.one_way_mean, 0.44),
            (got.agreement_mean, 0.62),
            (got.consistency_mean, 0.91),
        ];
        for (got, printed) in list {
            assert!((got - printed).abs() < 0.005, "{got} {printed}");
        }
    }

    #[test]
    fn intervals_of_the_table_of_shrout_and_fleiss() {
        // pingouin 0.7.0, intraclass_corr(targets, raters, ratings) on the same table prints .02 to .76 and .34 to .95 for one
        // judge, .07 to .93 and .68 to .99 for the mean; by the formulas of the paper in numpy 2.4.6 and scipy 1.17.1
        // (stats.f.ppf): the digits below.
        let table = [[9, 2, 5, 8], [6, 1, 3, 2], [8, 4, 6, 8], [7, 1, 2, 6], [10, 5, 6, 9], [6, 2, 4, 7]];
        let table: Vec<Vec<f64>> = table.iter().map(|row| row.iter().map(|x| f64::from(*x)).collect()).collect();
        let got = intraclass(&table).unwrap();
        let list = [
            (got.agreement_single_interval95, 0.018_786_513_374_712, 0.761_084_369_648_952_9),
            (got.consistency_single_interval95, 0.342_464_765_033_925_3, 0.945_858_259_955_359_5),
            (got.agreement_mean_interval95, 0.071_136_815_302_503_32, 0.927_232_040_167_721_9),
            (got.consistency_mean_interval95, 0.675_674_713_816_304_6, 0.985_891_678_169_062_3),
        ];
        for (interval, lower, upper) in list {
            let interval = interval.unwrap();
            assert!((interval.lower - lower).abs() < 1e-9 && (interval.upper - upper).abs() < 1e-9, "{interval:?}");
        }
    }

    #[test]
    fn too_little_says_why() {
        assert!(intraclass(&[vec![1.0, 2.0]]).is_err());
        assert!(intraclass(&[vec![1.0, 2.0], vec![1.0]]).is_err());
        assert!(intraclass(&[vec![3.0, 3.0], vec![3.0, 3.0]]).unwrap_err().because.contains("equal"));
        assert!(intraclass(&[vec![3.0, 5.0], vec![5.0, 3.0]]).is_err());
    }
}
