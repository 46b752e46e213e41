//! How the filled cells of a table hang together, and what a sum of assessor and sample effects leaves of them.

use super::cells::CellTable;
use crate::numeric::dense::SquareMatrix;

/// Samples in groups such that no assessor scored samples of two groups.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SampleGroups {
    /// For each sample of the table a label of its group.
    pub of_sample: Vec<usize>,
    pub count: usize,
}

/// What is left of the cell means once assessor and sample effects are taken off, both fixed, each cell counting once.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AdditiveRest {
    pub ss: f64,
    pub df: usize,
}

impl SampleGroups {
    pub fn of(table: &CellTable) -> SampleGroups {
        let mut of_sample = (0..table.samples.len()).collect::<Vec<_>>();
        for assessor in 0..table.assessors.len() {
            let mut scored = filled(table, assessor);
            let Some(first) = scored.next() else { continue };
            for sample in scored {
                let (from, to) = (of_sample[sample], of_sample[first]);
                of_sample.iter_mut().filter(|label| **label == from).for_each(|label| *label = to);
            }
        }
        let mut labels = of_sample.clone();
        labels.sort_unstable();
        labels.dedup();
        SampleGroups { of_sample, count: labels.len() }
    }
}

impl AdditiveRest {
    /// `None` where the effects cannot be computed to working precision.
    pub fn of(table: &CellTable) -> Option<AdditiveRest> {
        let groups = SampleGroups::of(table);
        let width = table.samples.len();
        let mut normal = SquareMatrix::zeros(width);
        for row in 0..width {
            for column in 0..width {
                // Effects are free up to a shift of each group; this fixes the shifts and changes no residual.
                normal[(row, column)] = f64::from(u8::from(groups.of_sample[row] == groups.of_sample[column]));
            }
        }
        for assessor in 0..table.assessors.len() {
            let scored = filled(table, assessor).collect::<Vec<_>>();
            for row in &scored {
                normal[(*row, *row)] += 1.0;
                for column in &scored {
                    normal[(*row, *column)] -= 1.0 / scored.len() as f64;
                }
            }
        }
        let inverse = normal.positive_inverse()?.inverse;
        let mut residuals = table.shifted_means.clone();
        // The second round takes off what rounding left in the first.
        for _ in 0..2 {
            take_off_assessors(table, &mut residuals);
            let mut sums = vec![0.0; width];
            for_each_filled(table, |cell, sample| sums[sample] += residuals[cell]);
            let effects = inverse.times_vector(&sums);
            for_each_filled(table, |cell, sample| residuals[cell] -= effects[sample]);
        }
        take_off_assessors(table, &mut residuals);
        let mut ss = 0.0;
        for_each_filled(table, |cell, _| ss += residuals[cell] * residuals[cell]);
        Some(AdditiveRest { ss, df: table.filled_cells() + groups.count - table.assessors.len() - width })
    }
}

fn filled(table: &CellTable, assessor: usize) -> impl Iterator<Item = usize> + '_ {
    (0..table.samples.len()).filter(move |sample| table.counts[table.cell(assessor, *sample)] > 0)
}

fn for_each_filled(table: &CellTable, mut act: impl FnMut(usize, usize)) {
    for (cell, _) in table.counts.iter().enumerate().filter(|(_, count)| **count > 0) {
        act(cell, cell % table.samples.len());
    }
}

fn take_off_assessors(table: &CellTable, residuals: &mut [f64]) {
    for assessor in 0..table.assessors.len() {
        let cells = filled(table, assessor).map(|sample| table.cell(assessor, sample)).collect::<Vec<_>>();
        let mean = cells.iter().map(|cell| residuals[*cell]).sum::<f64>() / cells.len().max(1) as f64;
        cells.iter().for_each(|cell| residuals[*cell] -= mean);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::made_up::{full_table, scores_of};

    #[test]
    fn a_full_table_leaves_its_interaction() {
        // By hand: each cell of 1 2 / 3 8 leaves (1 - 2 - 3 + 8) / 4 = 1 or -1.
        let table =
            CellTable::new(&scores_of(&[("Ada", "A", 1.0), ("Ada", "B", 2.0), ("Ben", "A", 3.0), ("Ben", "B", 8.0)]));
        let rest = AdditiveRest::of(&table).unwrap();
        assert!((rest.ss - 4.0).abs() < 1e-13 && rest.df == 1);
    }

    #[test]
    fn additive_scores_leave_nothing_whatever_is_missing() {
        let mut scores = full_table(7, 5, 1, |a, s, _| 13.7 * a as f64 + (s * s) as f64 / 3.0);
        scores.observations.retain(|o| (o.assessor * 3 + o.sample * 2) % 4 != 0);
        let table = CellTable::new(&scores);
        let rest = AdditiveRest::of(&table).unwrap();
        assert!(rest.df > 3 && table.is_rounding_noise(rest.ss), "{rest:?}");
    }

    #[test]
    fn two_halves_of_a_panel_make_two_groups() {
        let mut scores = full_table(4, 4, 1, |a, s, _| (a + s) as f64);
        scores.observations.retain(|o| (o.assessor < 2) == (o.sample < 2));
        let groups = SampleGroups::of(&CellTable::new(&scores));
        assert_eq!(groups.count, 2);
        assert!(groups.of_sample[0] == groups.of_sample[1] && groups.of_sample[1] != groups.of_sample[2]);
    }
}
