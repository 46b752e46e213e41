//! What a set of orders costs when the sample before may work on into the next: efficiency of the comparison of
//! samples after carry-over is allowed for. Pure linear algebra on small tables; it knows nothing of scores.

use crate::plan::PlanError;

/// Mean variance of a difference of two samples without carry-over in the model, divided by that with first-order
/// carry-over; assessor and position are in both models. 1 means carry-over costs nothing. Orders are sample indices.
///
/// For Williams designs this is (J^2 - J - 2) / (J^2 - J - 1).
///
/// # Errors
/// `Incomplete` where the orders can't tell all samples apart.
pub fn efficiency_after_carry_over(orders: &[Vec<usize>], samples: usize) -> Result<f64, PlanError> {
    let information = sample_and_carry_over_information(orders, samples);
    let direct = corner(&information, 0, samples);
    let adjusted = without_last(information, samples);
    match (trace_of_inverse(direct), trace_of_inverse(corner(&adjusted, 0, samples))) {
        (Some(plain), Some(with_carry_over)) => Ok(plain / with_carry_over),
        _ => Err(PlanError::Incomplete {
            what: "These orders can't tell all samples apart once carry-over is allowed for.".to_owned(),
            hint: "Plan more assessors or replicates.".to_owned(),
        }),
    }
}

type Table = Vec<Vec<f64>>;

const NOTHING_LEFT: f64 = 1e-9;

/// Information on direct effects (first `samples` lines) and carry-over effects (last `samples` lines), with assessors
/// and positions taken out.
fn sample_and_carry_over_information(orders: &[Vec<usize>], samples: usize) -> Table {
    let positions = orders.iter().map(Vec::len).max().unwrap_or(0);
    let size = 2 * samples + positions + orders.len();
    let mut normal = vec![vec![0.0; size]; size];
    for (row, order) in orders.iter().enumerate() {
        for (position, sample) in order.iter().enumerate() {
            let mut columns = vec![*sample, 2 * samples + position, 2 * samples + positions + row];
            columns.extend(position.checked_sub(1).map(|before| samples + order[before]));
            for left in &columns {
                for right in &columns {
                    normal[*left][*right] += 1.0;
                }
            }
        }
    }
    without_last(normal, 2 * samples)
}

/// Sweeps out all lines from `keep` on and returns the corner that is left; a line with nothing left is skipped.
fn without_last(mut table: Table, keep: usize) -> Table {
    for pivot in (keep..table.len()).rev() {
        let divisor = table[pivot][pivot];
        if divisor > NOTHING_LEFT {
            let pivot_line = table[pivot].clone();
            for line in table.iter_mut().take(pivot) {
                let factor = line[pivot] / divisor;
                line.iter_mut().zip(&pivot_line).take(pivot).for_each(|(cell, above)| *cell -= factor * above);
            }
        }
    }
    corner(&table, 0, keep)
}

fn corner(table: &Table, from: usize, to: usize) -> Table {
    table[from..to].iter().map(|line| line[from..to].to_vec()).collect()
}

/// Trace of the inverse on the space of differences: the mean variance of a difference, up to a constant.
fn trace_of_inverse(mut information: Table) -> Option<f64> {
    let size = information.len();
    for line in &mut information {
        line.iter_mut().for_each(|cell| *cell += 1.0 / size as f64);
    }
    let mut inverse: Table = (0..size).map(|row| (0..size).map(|column| f64::from(row == column)).collect()).collect();
    for pivot in 0..size {
        let divisor = information[pivot][pivot];
        if divisor < NOTHING_LEFT {
            return None;
        }
        let (pivot_line, pivot_inverse) = (information[pivot].clone(), inverse[pivot].clone());
        for row in 0..size {
            let factor = if row == pivot { 1.0 - 1.0 / divisor } else { information[row][pivot] / divisor };
            information[row].iter_mut().zip(&pivot_line).for_each(|(cell, above)| *cell -= factor * above);
            inverse[row].iter_mut().zip(&pivot_inverse).for_each(|(cell, above)| *cell -= factor * above);
        }
    }
    Some((0..size).map(|index| inverse[index][index]).sum::<f64>() - 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::orders::williams::williams_rows;

    #[test]
    fn williams_designs_have_their_known_efficiency() {
        // .8000 .9091 .9474 .9655 for 3 to 6 samples: R 4.2.2, lm with subject, period, direct and carry-over terms.
        // The closed form (J^2 - J - 2) / (J^2 - J - 1) gives the same and goes on.
        for (samples, expected) in [(3, 0.8), (4, 0.9091), (5, 0.9474), (6, 0.9655)] {
            let got = efficiency_after_carry_over(&williams_rows(samples), samples).expect("defined");
            assert!((got - expected).abs() < 5e-5, "{samples}: {got}");
        }
        for samples in 3..=12 {
            let square = (samples * samples - samples) as f64;
            let got = efficiency_after_carry_over(&williams_rows(samples), samples).expect("defined");
            assert!((got - (square - 2.0) / (square - 1.0)).abs() < 1e-9, "{samples}: {got}");
        }
    }

    #[test]
    fn orders_that_cannot_tell_are_not_defined() {
        assert!(efficiency_after_carry_over(&[vec![0, 1], vec![1, 0]], 2).is_err());
        assert!(efficiency_after_carry_over(&[], 3).is_err());
    }
}
