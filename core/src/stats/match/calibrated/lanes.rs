//! All patterns of two choices a place, eight neighbouring patterns side by side: for a few columns, where sums over whole rows
//! of columns would be too short to pay. Numbers only.

use std::ops::Range;

/// Patterns side by side: every way to choose the first places.
pub(super) const LANES: usize = 8;
const PLACES_IN_LANES: usize = 3;
/// The next places, whose rows are summed up beforehand for every way to choose them.
const PLACES_BESIDE: usize = 5;
/// More columns than these are gone through in tiles.
const MOST_COLUMNS: usize = 256;

/// Rows of two choices a place, and what the largest of their sums is held against.
pub(super) struct Lanes<'r, R> {
    /// The row of a place and a choice.
    pub row: R,
    pub places: usize,
    /// What is added to every sum.
    pub fixed: &'r [f64],
    /// Rising from column to column; as many as there are columns.
    pub thresholds: &'r [f64],
}

/// Whether so many places and columns are worth it.
pub(super) fn are_worth_it(places: usize, columns: usize) -> bool {
    places > PLACES_IN_LANES + PLACES_BESIDE && columns <= MOST_COLUMNS
}

impl<'r, R: Fn(usize, usize) -> &'r [f64]> Lanes<'r, R> {
    /// Counts the columns that are reached by the largest of themselves and all smaller ones, over a range of patterns whose
    /// ends are multiples of `LANES`. The bits of a pattern's number are its choices, the first place's lowest.
    pub fn count(&self, patterns: Range<u64>, reached: &mut [u64]) {
        let columns = self.thresholds.len();
        let in_lanes = self.in_lanes();
        let beside: Vec<Vec<f64>> =
            (0..1 << PLACES_BESIDE).map(|way| self.sum(PLACES_IN_LANES, PLACES_BESIDE, way)).collect();
        let mut counts = vec![[0_u64; LANES]; columns];
        let (mut upper, mut upper_way) = (Vec::new(), None);
        for way in patterns.start / LANES as u64..patterns.end / LANES as u64 {
            let first = PLACES_IN_LANES + PLACES_BESIDE;
            if upper_way != Some(way >> PLACES_BESIDE) {
                upper_way = Some(way >> PLACES_BESIDE);
                upper = self.sum(first, self.places - first, way >> PLACES_BESIDE);
            }
            let beside = &beside[way as usize & ((1 << PLACES_BESIDE) - 1)];
            let mut largest = [0.0; LANES];
            let each = in_lanes.iter().zip(self.thresholds).zip(upper.iter().zip(beside)).zip(&mut counts);
            for (((lanes, threshold), (upper, beside)), counts) in each {
                step(&mut largest, upper + beside, lanes, *threshold, counts);
            }
        }
        for (reached, counts) in reached.iter_mut().zip(&counts) {
            *reached += counts.iter().sum::<u64>();
        }
    }

    /// For each column what is fixed and the first places' rows, every way to choose them.
    fn in_lanes(&self) -> Vec<[f64; LANES]> {
        let ways: Vec<Vec<f64>> = (0..LANES as u64).map(|way| self.sum(0, PLACES_IN_LANES, way)).collect();
        let lane = |column: usize| std::array::from_fn(|way| self.fixed[column] + ways[way][column]);
        (0..self.thresholds.len()).map(lane).collect()
    }

    /// Sum of the rows of neighbouring places, chosen by the bits of `way`.
    fn sum(&self, first: usize, places: usize, way: u64) -> Vec<f64> {
        let mut sums = vec![0.0; self.thresholds.len()];
        for place in 0..places {
            let row = (self.row)(first + place, (way >> place & 1) as usize);
            sums.iter_mut().zip(row).for_each(|(sum, value)| *sum += value);
        }
        sums
    }
}

/// One column of eight patterns.
#[inline]
fn step(largest: &mut [f64; LANES], sum: f64, lanes: &[f64; LANES], threshold: f64, counts: &mut [u64; LANES]) {
    for lane in 0..LANES {
        let size = (sum + lanes[lane]).abs();
        largest[lane] = if size > largest[lane] { size } else { largest[lane] };
        counts[lane] += u64::from(largest[lane] >= threshold);
    }
}
