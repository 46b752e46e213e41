//! The restricted likelihood of one attribute with its first and second derivatives in the variances, all analytic.
//!
//! Assessors are independent blocks, and within one assessor the covariance of cell means is a diagonal plus a
//! constant. So everything reduces to sums over cells: with v = interaction + error / n, w = 1 / v, S = sum w and
//! g = assessor / (1 + assessor S), the inverse covariance of one assessor's cell means is diag(w) - g w w', and its
//! derivatives follow from those of w and g. The cost is cells x samples + samples^3; no matrix over scores is ever
//! built. The Hessian is the observed one, since that is what lmerTest approximates by differences. It does not know
//! how steps are chosen.

use super::cells::CellTable;
use crate::numeric::dense::{SquareMatrix, add_scaled, dot};
use crate::numeric::second_order::SecondOrder;

/// Places of the three variances in gradients and Hessians.
pub const ERROR: usize = 0;
pub const INTERACTION: usize = 1;
pub const ASSESSOR: usize = 2;
pub const VARIANCES: usize = 3;

/// The three variances, by place.
pub type Variances = [f64; VARIANCES];

/// A number for each pair of variances.
pub type Pairs = [[f64; VARIANCES]; VARIANCES];

/// Cells of an attribute, assessor by assessor, ready for the likelihood.
#[derive(Clone, Debug)]
pub struct Blocks {
    pub samples: usize,
    /// Scores.
    pub n: usize,
    /// Filled cells.
    pub cells: usize,
    /// Sum of squares within cells.
    pub within_squares: f64,
    /// Sum over cells of ln n.
    log_counts: f64,
    /// Rough sample means that were taken off every cell.
    pub centres: Vec<f64>,
    assessors: Vec<Vec<Cell>>,
}

#[derive(Clone, Copy, Debug)]
struct Cell {
    sample: usize,
    /// One over the number of scores.
    share: f64,
    /// Cell mean less the rough mean of its sample.
    deviation: f64,
}

/// The likelihood at one set of variances.
#[derive(Clone, Debug)]
pub struct Evaluation {
    /// -2 log restricted likelihood, constants included, as lmer prints it.
    pub criterion: f64,
    pub gradient: Variances,
    /// Observed Hessian of the criterion.
    pub hessian: Pairs,
    /// Expected Hessian: tr(P K_i P K_j). Positive definite wherever the variances can be told apart.
    pub expected: Pairs,
    /// Estimated means less `Blocks::centres`.
    pub effects: Vec<f64>,
    /// Covariance of the estimated means.
    pub covariance: SquareMatrix,
    /// The covariance times the derivative of the information on the means, for each variance.
    turned: [SquareMatrix; VARIANCES],
}

impl Blocks {
    pub fn new(table: &CellTable) -> Self {
        let width = table.samples.len();
        let centres = (0..width).map(|sample| table.raw_sample_mean(sample) - table.shift).collect::<Vec<_>>();
        let assessors = (0..table.assessors.len())
            .map(|assessor| {
                let filled = (0..width).filter(|sample| table.counts[table.cell(assessor, *sample)] > 0);
                filled.map(|sample| Cell::of(table, assessor, sample, centres[sample])).collect()
            })
            .collect();
        Blocks {
            samples: width,
            n: table.n,
            cells: table.filled_cells(),
            within_squares: table.within_square_sum(),
            log_counts: table.counts.iter().filter(|n| **n > 0).map(|n| f64::from(*n).ln()).sum(),
            centres,
            assessors,
        }
    }

    /// The same cells as if each held one score: what is left when scores within cells do not vary at all.
    pub fn one_score_a_cell(mut self) -> Self {
        for cell in self.assessors.iter_mut().flatten() {
            cell.share = 1.0;
        }
        (self.n, self.within_squares, self.log_counts) = (self.cells, 0.0, 0.0);
        self
    }

    /// Mean square of all scores about the rough means of their samples.
    pub fn total_variance(&self) -> f64 {
        let cells = self.assessors.iter().flatten();
        let between = cells.map(|cell| cell.deviation * cell.deviation / cell.share).sum::<f64>();
        (between + self.within_squares) / self.n as f64
    }

    /// Evaluates the likelihood; `None` where the means of the samples cannot be estimated to working precision.
    pub fn evaluate(&self, variances: &Variances) -> Option<Evaluation> {
        let mut information = SquareMatrix::zeros(self.samples);
        let mut weighted = vec![0.0; self.samples];
        let mut weights = vec![0.0; self.samples];
        for cells in &self.assessors {
            let block = Block::new(cells, variances);
            block.spread_out(&block.weights, &mut weights);
            let sum = block.sum_of(&block.weights, 1);
            for (cell, weight) in cells.iter().zip(&block.weights) {
                information[(cell.sample, cell.sample)] += weight[0];
                add_scaled(information.row_mut(cell.sample), -block.shrink * weight[0], &weights);
                weighted[cell.sample] += weight[0] * (cell.deviation - block.shrink * sum);
            }
            block.wipe(&mut weights);
        }
        let solved = information.positive_inverse()?;
        let effects = solved.inverse.times_vector(&weighted);
        let mut sums = Totals::new(self, variances, solved.log_determinant);
        for cells in &self.assessors {
            sums.add(cells, variances, &effects, &solved.inverse);
        }
        Some(sums.finish(self, effects, solved.inverse))
    }
}

impl Evaluation {
    /// Derivative of the covariance of the estimated means in one variance, by its place.
    pub fn covariance_derivative(&self, variance: usize) -> SquareMatrix {
        let mut product = self.turned[variance].times(&self.covariance);
        product.scale(-1.0);
        product
    }
}

impl Cell {
    fn of(table: &CellTable, assessor: usize, sample: usize, centre: f64) -> Cell {
        let cell = table.cell(assessor, sample);
        let share = 1.0 / f64::from(table.counts[cell]);
        Cell { sample, share, deviation: table.shifted_means[cell] - centre }
    }
}

/// Which pairs of derivatives of a weight are kept: (error, error), (error, interaction), (interaction, interaction).
const SECOND: [(usize, usize); 3] = [(ERROR, ERROR), (ERROR, INTERACTION), (INTERACTION, INTERACTION)];

/// A quantity with its derivatives in error and interaction: value, two first, three second in the order of `SECOND`.
type Jet = [f64; 6];

/// One assessor's weights at given variances.
struct Block<'a> {
    cells: &'a [Cell],
    weights: Vec<Jet>,
    /// Sum of the weights.
    total: Jet,
    /// assessor / (1 + assessor * total).
    shrink: f64,
}

impl<'a> Block<'a> {
    fn new(cells: &'a [Cell], variances: &Variances) -> Self {
        let weights = cells.iter().map(|cell| weight_jet(cell.share, variances)).collect::<Vec<_>>();
        let mut total = [0.0; 6];
        for weight in &weights {
            add_scaled(&mut total, 1.0, weight);
        }
        let shrink = variances[ASSESSOR] / (1.0 + variances[ASSESSOR] * total[0]);
        Block { cells, weights, total, shrink }
    }

    /// Sum over cells of weight times deviation to a power.
    fn sum_of(&self, weights: &[Jet], power: i32) -> f64 {
        self.cells.iter().zip(weights).map(|(cell, weight)| weight[0] * cell.deviation.powi(power)).sum()
    }

    fn spread_out(&self, weights: &[Jet], into: &mut [f64]) {
        for (cell, weight) in self.cells.iter().zip(weights) {
            into[cell.sample] = weight[0];
        }
    }

    fn wipe(&self, into: &mut [f64]) {
        for cell in self.cells {
            into[cell.sample] = 0.0;
        }
    }
}

fn weight_jet(share: f64, variances: &Variances) -> Jet {
    let weight = 1.0 / (variances[INTERACTION] + variances[ERROR] * share);
    let square = weight * weight;
    let cube = 2.0 * square * weight;
    [weight, -square * share, -square, cube * share * share, cube * share, cube]
}

/// A quantity as an expansion in all three variances.
type Expansion = SecondOrder<VARIANCES>;

/// The expansion of something that does not depend on the variance between assessors.
fn without_assessor(jet: &Jet) -> Expansion {
    let mut expansion = Expansion { value: jet[0], first: [jet[1], jet[2], 0.0], ..Expansion::default() };
    for (place, (i, j)) in SECOND.iter().enumerate() {
        expansion.second[*i][*j] = jet[3 + place];
        expansion.second[*j][*i] = jet[3 + place];
    }
    expansion
}

/// What is summed over assessors.
struct Totals {
    /// Logarithms of determinants: covariance of the scores, and information on the means.
    determinants: Expansion,
    /// Quadratic form of the residuals with the means held fixed.
    residuals: Expansion,
    /// Derivative in each variance of X' V^-1 r.
    moved: [Vec<f64>; VARIANCES],
    /// Derivative in each variance of X' V^-1 X.
    information: [SquareMatrix; VARIANCES],
    scratch: [Vec<f64>; VARIANCES],
}

impl Totals {
    fn new(blocks: &Blocks, variances: &Variances, log_information: f64) -> Totals {
        let error = variances[ERROR];
        let within_df = (blocks.n - blocks.cells) as f64;
        let mut determinants = Expansion { value: blocks.log_counts + log_information, ..Expansion::default() };
        let mut residuals = Expansion::default();
        let of_error = Expansion::variable(ERROR, error);
        if blocks.n > blocks.cells {
            determinants.add_scaled(within_df, &of_error.through(error.ln(), 1.0 / error, -1.0 / (error * error)));
            let inverse = of_error.through(1.0 / error, -1.0 / (error * error), 2.0 / error.powi(3));
            residuals.add_scaled(blocks.within_squares, &inverse);
        }
        let zeros = || vec![0.0; blocks.samples];
        let square = || SquareMatrix::zeros(blocks.samples);
        Totals {
            determinants,
            residuals,
            moved: [zeros(), zeros(), zeros()],
            information: [square(), square(), square()],
            scratch: [zeros(), zeros(), zeros()],
        }
    }

    /// Adds one assessor.
    fn add(&mut self, cells: &[Cell], variances: &Variances, effects: &[f64], covariance: &SquareMatrix) {
        let block = Block::new(cells, variances);
        let total = without_assessor(&block.total);
        let assessor = Expansion::variable(ASSESSOR, variances[ASSESSOR]);
        let product = assessor.times(&total);
        let one_plus = 1.0 + product.value;
        let log_one_plus = product.through(one_plus.ln(), 1.0 / one_plus, -1.0 / (one_plus * one_plus));
        let inverse = product.through(1.0 / one_plus, -1.0 / (one_plus * one_plus), 2.0 / one_plus.powi(3));
        let shrink = assessor.times(&inverse);
        self.determinants.add_scaled(1.0, &log_one_plus);
        self.add_residuals(&block, &shrink, effects);
        self.add_information(&block, &shrink, covariance);
    }

    fn add_residuals(&mut self, block: &Block<'_>, shrink: &Expansion, effects: &[f64]) {
        let (mut pull, mut squares) = ([0.0; 6], [0.0; 6]);
        for (cell, weight) in block.cells.iter().zip(&block.weights) {
            let residual = cell.deviation - effects[cell.sample];
            add_scaled(&mut pull, residual, weight);
            add_scaled(&mut squares, residual * residual, weight);
            let mut log_variance = Expansion { value: -weight[0].ln(), ..Expansion::default() };
            let shares = [cell.share, 1.0];
            for i in [ERROR, INTERACTION] {
                log_variance.first[i] = shares[i] * weight[0];
                for j in [ERROR, INTERACTION] {
                    log_variance.second[i][j] = -shares[i] * shares[j] * weight[0] * weight[0];
                }
            }
            self.determinants.add_scaled(1.0, &log_variance);
        }
        let pull = without_assessor(&pull);
        self.residuals.add_scaled(1.0, &without_assessor(&squares));
        self.residuals.add_scaled(-1.0, &shrink.times(&pull.times(&pull)));
        // Derivative of w r - g (w'r) w, cell by cell.
        let drag = shrink.times(&pull);
        for (cell, weight) in block.cells.iter().zip(&block.weights) {
            let residual = cell.deviation - effects[cell.sample];
            let slopes = [weight[1], weight[2], 0.0];
            for (i, moved) in self.moved.iter_mut().enumerate() {
                moved[cell.sample] += slopes[i] * (residual - drag.value) - drag.first[i] * weight[0];
            }
        }
    }

    fn add_information(&mut self, block: &Block<'_>, shrink: &Expansion, covariance: &SquareMatrix) {
        let [weights, by_error, by_interaction] = &mut self.scratch;
        for (cell, weight) in block.cells.iter().zip(&block.weights) {
            weights[cell.sample] = weight[0];
            by_error[cell.sample] = weight[1];
            by_interaction[cell.sample] = weight[2];
        }
        // h = w' C w and the part of ln |X'V^-1X| that is linear in the second derivatives of X'V^-1X.
        let (mut jet, mut diagonal) = ([0.0; 6], [0.0; 6]);
        for (cell, weight) in block.cells.iter().zip(&block.weights) {
            let row = covariance.row(cell.sample);
            let (plain, error, interaction) = (dot(row, weights), dot(row, by_error), dot(row, by_interaction));
            jet[0] += weight[0] * plain;
            jet[1] += 2.0 * weight[1] * plain;
            jet[2] += 2.0 * weight[2] * plain;
            jet[3] += 2.0 * (weight[3] * plain + weight[1] * error);
            jet[4] += 2.0 * (weight[4] * plain + weight[1] * interaction);
            jet[5] += 2.0 * (weight[5] * plain + weight[2] * interaction);
            add_scaled(&mut diagonal, row[cell.sample], weight);
        }
        let mut linear = without_assessor(&diagonal);
        linear.add_scaled(-1.0, &shrink.times(&without_assessor(&jet)));
        linear.value = 0.0;
        self.determinants.add_scaled(1.0, &linear);
        for (cell, weight) in block.cells.iter().zip(&block.weights) {
            let [of_error, of_interaction, of_assessor] = &mut self.information;
            of_error[(cell.sample, cell.sample)] += weight[1];
            of_interaction[(cell.sample, cell.sample)] += weight[2];
            let row = of_error.row_mut(cell.sample);
            add_scaled(row, -shrink.first[ERROR] * weight[0] - shrink.value * weight[1], weights);
            add_scaled(row, -shrink.value * weight[0], by_error);
            let row = of_interaction.row_mut(cell.sample);
            add_scaled(row, -shrink.first[INTERACTION] * weight[0] - shrink.value * weight[2], weights);
            add_scaled(row, -shrink.value * weight[0], by_interaction);
            add_scaled(of_assessor.row_mut(cell.sample), -shrink.first[ASSESSOR] * weight[0], weights);
        }
        for scratch in &mut self.scratch {
            block.wipe(scratch);
        }
    }

    fn finish(self, blocks: &Blocks, effects: Vec<f64>, covariance: SquareMatrix) -> Evaluation {
        let turned = self.information.each_ref().map(|derivative| covariance.times(derivative));
        let pulled = self.moved.each_ref().map(|moved| covariance.times_vector(moved));
        let (mut gradient, mut hessian, mut expected) = (self.determinants.first, [[0.0; 3]; 3], [[0.0; 3]; 3]);
        for i in 0..VARIANCES {
            gradient[i] += self.residuals.first[i];
            for j in 0..VARIANCES {
                let determinants = self.determinants.second[i][j] - turned[i].trace_of_product(&turned[j]);
                expected[i][j] = -determinants;
                hessian[i][j] = determinants + self.residuals.second[i][j] - 2.0 * dot(&self.moved[i], &pulled[j]);
            }
        }
        let free = (blocks.n - blocks.samples) as f64;
        let constant = free * (2.0 * std::f64::consts::PI).ln();
        Evaluation {
            criterion: self.determinants.value + self.residuals.value + constant,
            gradient,
            hessian,
            expected,
            effects,
            covariance,
            turned,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::made_up::full_table;
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
