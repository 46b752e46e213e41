//! What the restricted likelihood sums over assessors: logarithms of determinants, residuals, and how both move with
//! the variances. It knows not what becomes of the sums.

use super::cell_terms::{ASSESSOR, CellTerm, ERROR, Expansion, INTERACTION, VARIANCES, Variances};
use super::reml_blocks::{AssessorBlock, Blocks, Cell};
use crate::numeric::dense::{SquareMatrix, add_scaled, dot};

/// What is summed over assessors.
pub struct Totals {
    /// Logarithms of determinants: covariance of the scores, and information on the means. The second derivatives lack
    /// the part of the information's that is a product of its first ones.
    pub determinants: Expansion,
    /// Quadratic form of the residuals with the means held fixed.
    pub residuals: Expansion,
    /// Derivative in each variance of X' V^-1 r, the residuals r held fixed.
    pub residual_slopes: [Vec<f64>; VARIANCES],
    /// Derivative in each variance of X' V^-1 X.
    pub information_slopes: [SquareMatrix; VARIANCES],
    spread: Spread,
}

/// The weights of one assessor and their first derivatives, at the places of all samples; zero where there is no cell.
struct Spread {
    weights: Vec<f64>,
    by_error: Vec<f64>,
    by_interaction: Vec<f64>,
}

impl Totals {
    /// The sums before the first assessor: the scores within cells, which know nothing of assessors or samples.
    /// `log_information` is ln |X' V^-1 X|.
    pub fn new(blocks: &Blocks, variances: &Variances, log_information: f64) -> Totals {
        let mut totals = Totals {
            determinants: Expansion { value: blocks.log_counts + log_information, ..Expansion::default() },
            residuals: Expansion::default(),
            residual_slopes: std::array::from_fn(|_| vec![0.0; blocks.samples]),
            information_slopes: std::array::from_fn(|_| SquareMatrix::zeros(blocks.samples)),
            spread: Spread::over(blocks.samples),
        };
        if blocks.n > blocks.cells {
            totals.add_within_cells(blocks, variances[ERROR]);
        }
        totals
    }

    /// The n - 1 contrasts within each cell have the variance of the error alone.
    fn add_within_cells(&mut self, blocks: &Blocks, error: f64) {
        let within_df = (blocks.n - blocks.cells) as f64;
        let of_error = Expansion::variable(ERROR, error);
        let logarithm = of_error.through(error.ln(), 1.0 / error, -1.0 / (error * error));
        let inverse = of_error.through(1.0 / error, -1.0 / (error * error), 2.0 / error.powi(3));
        self.determinants.add_scaled(within_df, &logarithm);
        self.residuals.add_scaled(blocks.within_squares, &inverse);
    }

    /// Adds one assessor. `effects` are the estimated means less the rough ones, `covariance` is (X' V^-1 X)^-1.
    pub fn add(&mut self, cells: &[Cell], variances: &Variances, effects: &[f64], covariance: &SquareMatrix) {
        let block = AssessorBlock::new(cells, variances);
        let assessor = Expansion::variable(ASSESSOR, variances[ASSESSOR]);
        let product = assessor.times(&block.total.expansion());
        let one_plus = 1.0 + product.value;
        let log_one_plus = product.through(one_plus.ln(), 1.0 / one_plus, -1.0 / (one_plus * one_plus));
        let inverse = product.through(1.0 / one_plus, -1.0 / (one_plus * one_plus), 2.0 / one_plus.powi(3));
        let shrink = assessor.times(&inverse);
        self.determinants.add_scaled(1.0, &log_one_plus);
        self.add_residuals(&block, &shrink, effects);
        self.spread.fill(&block);
        self.add_log_information(&block, &shrink, covariance);
        self.add_information_slopes(&block, &shrink);
        self.spread.wipe(&block);
    }

    /// The quadratic form sum w r^2 - g (w'r)^2, and the logarithms of the variances of the cells on the way.
    fn add_residuals(&mut self, block: &AssessorBlock<'_>, shrink: &Expansion, effects: &[f64]) {
        let (mut pull, mut squares) = (CellTerm::default(), CellTerm::default());
        for (cell, weight) in block.weighted_cells() {
            let residual = cell.deviation - effects[cell.sample];
            pull.add_scaled(residual, weight);
            squares.add_scaled(residual * residual, weight);
            self.determinants.add_scaled(1.0, &weight.log_variance(cell.share));
        }
        let pull = pull.expansion();
        self.residuals.add_scaled(1.0, &squares.expansion());
        self.residuals.add_scaled(-1.0, &shrink.times(&pull.times(&pull)));
        self.add_residual_slopes(block, &shrink.times(&pull), effects);
    }

    /// Derivative of w r - g (w'r) w, cell by cell; `drag` is g (w'r).
    fn add_residual_slopes(&mut self, block: &AssessorBlock<'_>, drag: &Expansion, effects: &[f64]) {
        for (cell, weight) in block.weighted_cells() {
            let residual = cell.deviation - effects[cell.sample];
            let slopes = weight.slopes();
            for (i, of_variance) in self.residual_slopes.iter_mut().enumerate() {
                of_variance[cell.sample] += slopes[i] * (residual - drag.value) - drag.first[i] * weight.value;
            }
        }
    }

    /// The part of ln |X'V^-1X| that is linear in the derivatives of X'V^-1X: tr(C diag(w)) - g w'Cw with C held fixed.
    fn add_log_information(&mut self, block: &AssessorBlock<'_>, shrink: &Expansion, covariance: &SquareMatrix) {
        let (mut form, mut diagonal) = (CellTerm::default(), CellTerm::default());
        for (cell, weight) in block.weighted_cells() {
            let row = covariance.row(cell.sample);
            self.spread.add_to_form(&mut form, weight, row);
            diagonal.add_scaled(row[cell.sample], weight);
        }
        let mut linear = diagonal.expansion();
        linear.add_scaled(-1.0, &shrink.times(&form.expansion()));
        // The logarithm itself came with the inverse.
        linear.value = 0.0;
        self.determinants.add_scaled(1.0, &linear);
    }

    /// Derivatives of diag(w) - g w w', row by row.
    fn add_information_slopes(&mut self, block: &AssessorBlock<'_>, shrink: &Expansion) {
        let Spread { weights, by_error, by_interaction } = &self.spread;
        let [of_error, of_interaction, of_assessor] = &mut self.information_slopes;
        for (cell, weight) in block.weighted_cells() {
            of_error[(cell.sample, cell.sample)] += weight.by_error;
            of_interaction[(cell.sample, cell.sample)] += weight.by_interaction;
            let row = of_error.row_mut(cell.sample);
            add_scaled(row, -shrink.first[ERROR] * weight.value - shrink.value * weight.by_error, weights);
            add_scaled(row, -shrink.value * weight.value, by_error);
            let row = of_interaction.row_mut(cell.sample);
            add_scaled(row, -shrink.first[INTERACTION] * weight.value - shrink.value * weight.by_interaction, weights);
            add_scaled(row, -shrink.value * weight.value, by_interaction);
            add_scaled(of_assessor.row_mut(cell.sample), -shrink.first[ASSESSOR] * weight.value, weights);
        }
    }
}

impl Spread {
    fn over(samples: usize) -> Spread {
        Spread { weights: vec![0.0; samples], by_error: vec![0.0; samples], by_interaction: vec![0.0; samples] }
    }

    fn fill(&mut self, block: &AssessorBlock<'_>) {
        for (cell, weight) in block.weighted_cells() {
            self.weights[cell.sample] = weight.value;
            self.by_error[cell.sample] = weight.by_error;
            self.by_interaction[cell.sample] = weight.by_interaction;
        }
    }

    fn wipe(&mut self, block: &AssessorBlock<'_>) {
        for places in [&mut self.weights, &mut self.by_error, &mut self.by_interaction] {
            block.wipe(places);
        }
    }

    /// Adds to w'Cw what one cell puts in, `row` being its row of C.
    fn add_to_form(&self, form: &mut CellTerm, weight: &CellTerm, row: &[f64]) {
        let plain = dot(row, &self.weights);
        let (error, interaction) = (dot(row, &self.by_error), dot(row, &self.by_interaction));
        form.value += weight.value * plain;
        form.by_error += 2.0 * weight.by_error * plain;
        form.by_interaction += 2.0 * weight.by_interaction * plain;
        form.by_error_twice += 2.0 * (weight.by_error_twice * plain + weight.by_error * error);
        form.by_error_and_interaction +=
            2.0 * (weight.by_error_and_interaction * plain + weight.by_error * interaction);
        form.by_interaction_twice += 2.0 * (weight.by_interaction_twice * plain + weight.by_interaction * interaction);
    }
}
