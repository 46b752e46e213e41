//! Cells of an attribute, assessor by assessor, as the restricted likelihood needs them. It knows no derivatives of it.

use super::cell_terms::{ASSESSOR, CellTerm, Variances};
use super::cells::CellTable;

/// Cells of an attribute, assessor by assessor, ready for the likelihood.
#[derive(Clone, Debug)]
pub struct Blocks {
    pub samples: usize,
    /// Scores.
    pub n: usize,
    /// Filled cells.
    pub cells: usize,
    /// Sum of squares within cells, in squared score points.
    pub within_squares: f64,
    /// Sum over cells of ln n.
    pub log_counts: f64,
    /// Rough sample means that were taken off every cell.
    pub centres: Vec<f64>,
    /// The filled cells of each assessor, in the order of samples.
    pub assessors: Vec<Vec<Cell>>,
}

/// One filled cell.
#[derive(Clone, Copy, Debug)]
pub struct Cell {
    pub sample: usize,
    /// One over the number of scores.
    pub share: f64,
    /// Cell mean less the rough mean of its sample.
    pub deviation: f64,
}

/// One assessor's cells with their weights at given variances.
pub struct AssessorBlock<'a> {
    cells: &'a [Cell],
    weights: Vec<CellTerm>,
    /// Sum of the weights.
    pub total: CellTerm,
    /// assessor / (1 + assessor * total).
    pub shrink: f64,
}

impl Blocks {
    /// The cells of a table less the rough means of their samples, so that what is squared later is small.
    pub fn new(table: &CellTable) -> Self {
        let width = table.samples.len();
        let centres = (0..width).map(|sample| table.raw_sample_mean(sample) - table.shift).collect::<Vec<_>>();
        let cells_of = |assessor: usize| {
            let filled = (0..width).filter(|sample| table.counts[table.cell(assessor, *sample)] > 0);
            filled.map(|sample| Cell::of(table, assessor, sample, centres[sample])).collect()
        };
        Blocks {
            samples: width,
            n: table.n,
            cells: table.filled_cells(),
            within_squares: table.within_square_sum(),
            log_counts: table.counts.iter().filter(|n| **n > 0).map(|n| f64::from(*n).ln()).sum(),
            assessors: (0..table.assessors.len()).map(cells_of).collect(),
            centres,
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
}

impl Cell {
    fn of(table: &CellTable, assessor: usize, sample: usize, centre: f64) -> Cell {
        let cell = table.cell(assessor, sample);
        let share = 1.0 / f64::from(table.counts[cell]);
        Cell { sample, share, deviation: table.shifted_means[cell] - centre }
    }
}

impl<'a> AssessorBlock<'a> {
    /// Weighs the cells of one assessor.
    pub fn new(cells: &'a [Cell], variances: &Variances) -> Self {
        let weights = cells.iter().map(|cell| CellTerm::weight(cell.share, variances)).collect::<Vec<_>>();
        let mut total = CellTerm::default();
        for weight in &weights {
            total.add_scaled(1.0, weight);
        }
        let shrink = variances[ASSESSOR] / (1.0 + variances[ASSESSOR] * total.value);
        AssessorBlock { cells, weights, total, shrink }
    }

    /// Each cell with its weight.
    pub fn weighted_cells(&self) -> impl Iterator<Item = (&'a Cell, &CellTerm)> {
        self.cells.iter().zip(&self.weights)
    }

    /// Sum over cells of weight times deviation.
    pub fn weighted_deviations(&self) -> f64 {
        self.weighted_cells().map(|(cell, weight)| weight.value * cell.deviation).sum()
    }

    /// Writes the weights to the places of their samples; the other places stay.
    pub fn spread_out(&self, into: &mut [f64]) {
        for (cell, weight) in self.weighted_cells() {
            into[cell.sample] = weight.value;
        }
    }

    /// Zeros at the places of the samples of this assessor.
    pub fn wipe(&self, into: &mut [f64]) {
        for cell in self.cells {
            into[cell.sample] = 0.0;
        }
    }
}
