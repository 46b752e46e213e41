//! Sums of rows over many columns, chunk by chunk, and which thresholds the largest of them reaches. Numbers only.
//!
//! Chunks are arrays, so that a compiler adds and compares several columns in one instruction.

/// Columns that are summed and compared together.
pub(super) const CHUNK: usize = 8;

/// Neighbouring columns; 0 behind the last one.
pub(super) type Chunk = [f64; CHUNK];

/// Counts on one tile and one pattern, from the largest statistic of the columns before; returns the largest so far.
///
/// Thresholds rise from column to column, so a chunk whose last one is reached already is reached as a whole, and one whose
/// first lies above all its statistics not at all.
pub(super) fn count_tile(rows: &[&[Chunk]], thresholds: &[Chunk], reached: &mut [[u64; CHUNK]], so_far: f64) -> f64 {
    let mut largest = so_far;
    for (at, (thresholds, reached)) in thresholds.iter().zip(reached).enumerate() {
        let mut sizes = rows[1..].iter().fold(rows[0][at], |sum, row| plus(&sum, &row[at]));
        sizes.iter_mut().for_each(|size| *size = size.abs());
        let top = largest_of(&sizes).max(largest);
        if largest >= thresholds[CHUNK - 1] {
            reached.iter_mut().for_each(|reached| *reached += 1);
        } else if top >= thresholds[0] {
            count_chunk(&sizes, thresholds, reached, largest);
        }
        largest = top;
    }
    largest
}

fn count_chunk(sizes: &Chunk, thresholds: &Chunk, reached: &mut [u64; CHUNK], mut largest: f64) {
    for ((size, threshold), reached) in sizes.iter().zip(thresholds).zip(reached) {
        largest = if *size > largest { *size } else { largest };
        *reached += u64::from(largest >= *threshold);
    }
}

pub(super) fn plus(one: &Chunk, other: &Chunk) -> Chunk {
    std::array::from_fn(|at| one[at] + other[at])
}

/// Half against half, so that comparisons run side by side.
fn largest_of(sizes: &Chunk) -> f64 {
    let larger = |one: f64, other: f64| if one > other { one } else { other };
    let four: [f64; 4] = std::array::from_fn(|at| larger(sizes[at], sizes[at + 4]));
    larger(larger(four[0], four[2]), larger(four[1], four[3]))
}

pub(super) fn in_chunks(mut values: impl ExactSizeIterator<Item = f64>, behind: f64) -> Vec<Chunk> {
    let chunks = values.len().div_ceil(CHUNK);
    (0..chunks).map(|_| std::array::from_fn(|_| values.next().unwrap_or(behind))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_by_whole_chunks_are_those_by_single_columns() {
        let sums: Vec<f64> = [3.0, -1.0, 0.5, 2.0, -4.0, 1.0, 0.0, 0.0, 2.5, -6.0, 1.0, 0.0].into();
        let parts: Vec<Vec<f64>> = vec![sums.iter().map(|sum| sum - 1.5).collect(), vec![1.5; 12]];
        for lift in [0.0, 0.5, 1.0, 2.5, 4.5, 8.0] {
            let thresholds: Vec<f64> = (0..12).map(|at| lift + 0.3 * f64::from(at)).collect();
            for before in [0.0, 1.7, 5.0] {
                let rows: Vec<Vec<Chunk>> = parts.iter().map(|row| in_chunks(row.iter().copied(), 0.0)).collect();
                let rows: Vec<&[Chunk]> = rows.iter().map(Vec::as_slice).collect();
                let mut reached = [[0; CHUNK]; 2];
                let limits = in_chunks(thresholds.iter().copied(), f64::INFINITY);
                let largest = count_tile(&rows, &limits, &mut reached, before);
                let mut running = before;
                for at in 0..12 {
                    running = running.max(sums[at].abs());
                    let got = reached.as_flattened()[at];
                    assert_eq!(got, u64::from(running >= thresholds[at]), "{lift} {before} {at}");
                }
                assert!((largest - running).abs() < 1e-15);
            }
        }
    }
}
