//! The table of counts and means, assessor x sample, that every variance method of one attribute starts from.
//!
//! Scores are shifted by one of them before anything is summed, and sums of squares are taken about means, so that
//! digits are not lost where scores are large beside their differences. It does not know what is done with the table.

use crate::study::AttributeScores;

/// Counts, means and scatter of the scores of one attribute in each cell, a cell being one assessor on one sample.
///
/// Only assessors and samples with at least one score are in the table. Cells lie row by row: the cell of assessor `a`
/// on sample `s` is number `a * samples.len() + s`.
#[derive(Clone, Debug, PartialEq)]
pub struct CellTable {
    /// Indices into `AttributeScores::assessors` of those with a score.
    pub assessors: Vec<usize>,
    /// Indices into `AttributeScores::samples` of those with a score.
    pub samples: Vec<usize>,
    /// What was subtracted from every score before summing.
    pub shift: f64,
    /// Scores in each cell.
    pub counts: Vec<u32>,
    /// Mean of each cell less `shift`; 0 in an empty cell.
    pub shifted_means: Vec<f64>,
    /// Sum of squares about the mean of each cell.
    pub within_squares: Vec<f64>,
    /// All scores.
    pub n: usize,
    /// Highest absolute score: what rounding error is measured by.
    pub largest_score: f64,
}

/// Whether every assessor scored every sample equally often.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Balance {
    /// No scores at all.
    Empty,
    /// Every cell has this many scores, one or more.
    Balanced { replicates: usize },
    /// Cells differ; `empty_cells` have no score.
    Unbalanced { empty_cells: usize, fewest: usize, most: usize },
}

impl CellTable {
    /// Counts and sums the scores. Assessors and samples without a score are left out.
    pub fn new(scores: &AttributeScores) -> Self {
        let whole = Sums::of(scores);
        let width = scores.samples.len();
        let assessors = (0..scores.assessors.len())
            .filter(|assessor| whole.cells[assessor * width..(assessor + 1) * width].iter().any(|cell| cell.count > 0))
            .collect::<Vec<_>>();
        let samples = (0..width)
            .filter(|sample| whole.cells.iter().skip(*sample).step_by(width).any(|cell| cell.count > 0))
            .collect::<Vec<_>>();
        let places = assessors.iter().flat_map(|a| samples.iter().map(move |s| a * width + s)).collect::<Vec<_>>();
        CellTable {
            counts: places.iter().map(|place| whole.cells[*place].count).collect(),
            shifted_means: places.iter().map(|place| whole.cells[*place].mean).collect(),
            within_squares: places.iter().map(|place| whole.cells[*place].squares).collect(),
            assessors,
            samples,
            shift: whole.shift,
            n: scores.observations.len(),
            largest_score: whole.largest_score,
        }
    }

    /// Whether the cells are filled equally.
    pub fn balance(&self) -> Balance {
        let (Some(fewest), Some(most)) = (self.counts.iter().min(), self.counts.iter().max()) else {
            return Balance::Empty;
        };
        if fewest == most {
            return Balance::Balanced { replicates: *most as usize };
        }
        let empty_cells = self.counts.iter().filter(|count| **count == 0).count();
        Balance::Unbalanced { empty_cells, fewest: *fewest as usize, most: *most as usize }
    }

    /// Number of the cell of an assessor and a sample of this table.
    pub fn cell(&self, assessor: usize, sample: usize) -> usize {
        assessor * self.samples.len() + sample
    }

    /// Cells with at least one score.
    pub fn filled_cells(&self) -> usize {
        self.counts.iter().filter(|count| **count > 0).count()
    }

    /// Scores of one sample of this table.
    pub fn sample_count(&self, sample: usize) -> usize {
        self.counts.iter().skip(sample).step_by(self.samples.len().max(1)).map(|count| *count as usize).sum()
    }

    /// Sum of squares of scores about the means of their cells.
    pub fn within_square_sum(&self) -> f64 {
        self.within_squares.iter().sum()
    }

    /// Degrees of freedom within cells.
    pub fn within_df(&self) -> usize {
        self.n - self.filled_cells()
    }

    /// Whether a sum of squares over the scores is no more than the rounding error of reading them.
    pub fn is_rounding_noise(&self, squares: f64) -> bool {
        let rounding = crate::numeric::tolerance::reading_error(self.largest_score);
        squares <= self.n as f64 * rounding * rounding
    }

    /// Plain mean of all scores of one sample of this table.
    pub fn raw_sample_mean(&self, sample: usize) -> f64 {
        let width = self.samples.len();
        let (mut sum, mut count) = (0.0, 0.0);
        for cell in (sample..self.counts.len()).step_by(width) {
            sum += self.shifted_means[cell] * f64::from(self.counts[cell]);
            count += f64::from(self.counts[cell]);
        }
        self.shift + sum / count
    }
}

struct Sums {
    shift: f64,
    cells: Vec<CellSums>,
    largest_score: f64,
}

#[derive(Clone, Copy, Default)]
struct CellSums {
    count: u32,
    mean: f64,
    /// Sum of deviations from `mean`: what the first pass missed by rounding.
    rest: f64,
    squares: f64,
    /// What additions to `squares` lost by rounding.
    lost: f64,
}

impl Sums {
    /// Two passes: means first, then squares about them; the small rest of the mean that the second pass finds is
    /// given back to the mean and taken off the squares.
    fn of(scores: &AttributeScores) -> Sums {
        let width = scores.samples.len();
        let shift = scores.observations.first().map_or(0.0, |first| first.score);
        let mut cells = vec![CellSums::default(); scores.assessors.len() * width];
        let mut largest_score = 0.0_f64;
        for observation in &scores.observations {
            let cell = &mut cells[observation.assessor as usize * width + observation.sample as usize];
            cell.count += 1;
            cell.mean += observation.score - shift;
            largest_score = largest_score.max(observation.score.abs());
        }
        for cell in &mut cells {
            cell.mean /= f64::from(cell.count.max(1));
        }
        for observation in &scores.observations {
            let cell = &mut cells[observation.assessor as usize * width + observation.sample as usize];
            cell.add_deviation(observation.score - shift - cell.mean);
        }
        cells.iter_mut().for_each(CellSums::give_back_the_rest);
        Sums { shift, cells, largest_score }
    }
}

impl CellSums {
    fn add_deviation(&mut self, deviation: f64) {
        self.rest += deviation;
        let (square, before) = (deviation * deviation, self.squares);
        self.squares += square;
        let added = self.squares - before;
        self.lost += (before - (self.squares - added)) + (square - added);
    }

    fn give_back_the_rest(&mut self) {
        let count = f64::from(self.count.max(1));
        self.mean += self.rest / count;
        self.squares = (self.squares + (self.lost - self.rest * self.rest / count)).max(0.0);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::made_up::scores_of;

    #[test]
    fn counts_means_and_scatter_by_hand() {
        let table = CellTable::new(&scores_of(&[("Ada", "A", 1.0), ("Ada", "A", 3.0), ("Ben", "B", 5.0)]));
        assert_eq!(table.counts, [2, 0, 0, 1]);
        assert_eq!(table.shift, 1.0);
        assert_eq!(table.shifted_means, [1.0, 0.0, 0.0, 4.0]);
        assert_eq!(table.within_squares, [2.0, 0.0, 0.0, 0.0]);
        assert_eq!(table.balance(), Balance::Unbalanced { empty_cells: 2, fewest: 0, most: 2 });
        assert_eq!(table.raw_sample_mean(0), 2.0);
    }

    #[test]
    fn assessors_and_samples_without_a_score_are_not_in_the_table() {
        let mut scores = scores_of(&[("Ada", "A", 1.0), ("Ben", "B", 5.0), ("Ben", "A", 2.0)]);
        scores.observations.remove(0);
        let table = CellTable::new(&scores);
        assert_eq!((table.assessors.as_slice(), table.samples.as_slice()), (&[1][..], &[0, 1][..]));
        assert_eq!(table.balance(), Balance::Balanced { replicates: 1 });
    }

    #[test]
    fn no_scores_is_empty() {
        let table = CellTable::new(&scores_of(&[]));
        assert_eq!((table.balance(), table.within_df()), (Balance::Empty, 0));
    }
}
