//! The restricted likelihood of one attribute with its first and second derivatives in the variances, all analytic.
//!
//! It does not know how steps are chosen. What follows says why each term is there, in the names used here.
//!
#![doc = include_str!("REML.md")]

pub use super::cell_terms::{ASSESSOR, ERROR, INTERACTION, Pairs, VARIANCES, Variances};
pub use super::reml_blocks::Blocks;

use super::reml_blocks::AssessorBlock;
use super::reml_totals::Totals;
use crate::numeric::dense::{SquareMatrix, add_scaled, dot};

/// The likelihood at one set of variances.
#[derive(Clone, Debug)]
pub struct Evaluation {
    /// -2 log restricted likelihood, constants included, as lmer prints it.
    pub criterion: f64,
    /// First derivatives of the criterion.
    pub gradient: Variances,
    /// Observed Hessian of the criterion.
    pub hessian: Pairs,
    /// Expected Hessian: tr(P K_i P K_j). Positive definite wherever the variances can be told apart.
    pub expected: Pairs,
    /// Estimated means less `Blocks::centres`, in score points.
    pub effects: Vec<f64>,
    /// Covariance of the estimated means, samples by samples, in squared score points.
    pub covariance: SquareMatrix,
    /// The covariance times the derivative of the information on the means, for each variance.
    covariance_times_slopes: [SquareMatrix; VARIANCES],
}

impl Blocks {
    /// Evaluates the likelihood; `None` where the means of the samples cannot be estimated to working precision.
    pub fn evaluate(&self, variances: &Variances) -> Option<Evaluation> {
        let (information, weighted) = self.normal_equations(variances);
        let solved = information.positive_inverse()?;
        let effects = solved.inverse.times_vector(&weighted);
        let mut totals = Totals::new(self, variances, solved.log_determinant);
        for cells in &self.assessors {
            totals.add(cells, variances, &effects, &solved.inverse);
        }
        Some(Evaluation::of(totals, self, effects, solved.inverse))
    }

    /// X' V^-1 X and X' V^-1 d of the deviations d: the equations of the means of the samples.
    fn normal_equations(&self, variances: &Variances) -> (SquareMatrix, Vec<f64>) {
        let mut information = SquareMatrix::zeros(self.samples);
        let mut weighted = vec![0.0; self.samples];
        let mut weights = vec![0.0; self.samples];
        for cells in &self.assessors {
            let block = AssessorBlock::new(cells, variances);
            block.spread_out(&mut weights);
            let sum = block.weighted_deviations();
            for (cell, weight) in block.weighted_cells() {
                information[(cell.sample, cell.sample)] += weight.value;
                add_scaled(information.row_mut(cell.sample), -block.shrink * weight.value, &weights);
                weighted[cell.sample] += weight.value * (cell.deviation - block.shrink * sum);
            }
            block.wipe(&mut weights);
        }
        (information, weighted)
    }
}

impl Evaluation {
    fn of(totals: Totals, blocks: &Blocks, effects: Vec<f64>, covariance: SquareMatrix) -> Evaluation {
        let slopes = totals.information_slopes.each_ref().map(|slope| covariance.times(slope));
        let pulled = totals.residual_slopes.each_ref().map(|slope| covariance.times_vector(slope));
        let (mut gradient, mut hessian, mut expected) = (totals.determinants.first, [[0.0; 3]; 3], [[0.0; 3]; 3]);
        for i in 0..VARIANCES {
            gradient[i] += totals.residuals.first[i];
            for j in 0..VARIANCES {
                let determinants = totals.determinants.second[i][j] - slopes[i].trace_of_product(&slopes[j]);
                let moved = 2.0 * dot(&totals.residual_slopes[i], &pulled[j]);
                expected[i][j] = -determinants;
                hessian[i][j] = determinants + totals.residuals.second[i][j] - moved;
            }
        }
        let free = (blocks.n - blocks.samples) as f64;
        let constant = free * (2.0 * std::f64::consts::PI).ln();
        let criterion = totals.determinants.value + totals.residuals.value + constant;
        Evaluation { criterion, gradient, hessian, expected, effects, covariance, covariance_times_slopes: slopes }
    }

    /// Derivative of the covariance of the estimated means in one variance, by its place.
    pub fn covariance_derivative(&self, variance: usize) -> SquareMatrix {
        let mut product = self.covariance_times_slopes[variance].times(&self.covariance);
        product.scale(-1.0);
        product
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::made_up::full_table;
    use crate::stats::model::cells::CellTable;
    use crate::study::AttributeScores;

    const SOMEWHERE: Variances = [1.7, 0.6, 2.3];

    /// Nine assessors, five samples, one to three scores a cell, some cells empty.
    fn uneven() -> AttributeScores {
        let mut scores = full_table(9, 5, 3, |a, s, r| ((a * 31 + s * 17 + r * 7 + a * s * r) % 23) as f64 / 3.0);
        let mut number = 0;
        scores.observations.retain(|_| {
            number += 1;
            number % 7 != 3 && number % 5 != 1 && !(30..36).contains(&number)
        });
        scores
    }

    /// The same likelihood from the covariance matrix of all scores, by definition.
    fn dense_criterion(scores: &AttributeScores, variances: &Variances) -> f64 {
        let seen = &scores.observations;
        let mut covariance = SquareMatrix::zeros(seen.len());
        for (row, left) in seen.iter().enumerate() {
            for (column, right) in seen.iter().enumerate() {
                let same_assessor = left.assessor == right.assessor;
                let same_cell = same_assessor && left.sample == right.sample;
                covariance[(row, column)] = if row == column { variances[ERROR] } else { 0.0 }
                    + if same_cell { variances[INTERACTION] } else { 0.0 }
                    + if same_assessor { variances[ASSESSOR] } else { 0.0 };
            }
        }
        let inverse = covariance.positive_inverse().unwrap();
        let samples = scores.samples.len();
        let column =
            |sample: usize| seen.iter().map(move |o| f64::from(o.sample as usize == sample)).collect::<Vec<_>>();
        let columns = (0..samples).map(|sample| inverse.inverse.times_vector(&column(sample))).collect::<Vec<_>>();
        let y = seen.iter().map(|o| o.score).collect::<Vec<_>>();
        let mut information = SquareMatrix::zeros(samples);
        for row in 0..samples {
            for other in 0..samples {
                information[(row, other)] = dot(&column(row), &columns[other]);
            }
        }
        let solved = information.positive_inverse().unwrap();
        let right = columns.iter().map(|column| dot(column, &y)).collect::<Vec<_>>();
        let squares = dot(&y, &inverse.inverse.times_vector(&y)) - dot(&right, &solved.inverse.times_vector(&right));
        let constant = (seen.len() - samples) as f64 * (2.0 * std::f64::consts::PI).ln();
        inverse.log_determinant + solved.log_determinant + squares + constant
    }

    #[test]
    fn sums_over_cells_equal_the_likelihood_by_definition() {
        let scores = uneven();
        let blocks = Blocks::new(&CellTable::new(&scores));
        for variances in [SOMEWHERE, [0.2, 3.0, 0.1], [5.0, 0.0, 1.0], [2.0, 1.0, 0.0]] {
            let got = blocks.evaluate(&variances).unwrap().criterion;
            let expected = dense_criterion(&scores, &variances);
            assert!((got - expected).abs() < 1e-10 * expected.abs(), "got {got}, expected {expected}");
        }
    }

    #[test]
    fn gradient_and_hessian_are_the_slopes_of_the_criterion() {
        let blocks = Blocks::new(&CellTable::new(&uneven()));
        let here = blocks.evaluate(&SOMEWHERE).unwrap();
        let step = 1e-4;
        for i in 0..VARIANCES {
            let (mut up, mut down) = (SOMEWHERE, SOMEWHERE);
            up[i] += step;
            down[i] -= step;
            let (up, down) = (blocks.evaluate(&up).unwrap(), blocks.evaluate(&down).unwrap());
            let slope = (up.criterion - down.criterion) / (2.0 * step);
            assert!((here.gradient[i] - slope).abs() < 1e-6, "gradient {i}: {} {slope}", here.gradient[i]);
            for j in 0..VARIANCES {
                let bend = (up.gradient[j] - down.gradient[j]) / (2.0 * step);
                assert!((here.hessian[i][j] - bend).abs() < 1e-6, "hessian {i} {j}: {} {bend}", here.hessian[i][j]);
            }
            let derivative = here.covariance_derivative(i);
            for row in 0..blocks.samples {
                for column in 0..blocks.samples {
                    let slope = (up.covariance[(row, column)] - down.covariance[(row, column)]) / (2.0 * step);
                    assert!((derivative[(row, column)] - slope).abs() < 1e-7);
                }
            }
        }
    }
}
