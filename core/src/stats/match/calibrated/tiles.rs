//! Sums of rows over many columns, chunk by chunk, and which thresholds the largest of them reaches. Numbers only.
//!
//! Chunks are arrays, so that a compiler adds and compares several columns in one instruction.

/// Columns that are summed and compared together.
pub(super) const CHUNK: usize = 8;

/// Neighbouring columns; 0 behind the last one.
pub(super) type Chunk = [f64; CHUNK];

/// Sums of a few neighbouring rows on one tile, for every way to choose them: `[way][chunk]`.
pub(super) struct Block {
    chunks: usize,
    sums: Vec<Chunk>,
    /// Chunks of the ways so far.
    so_far: usize,
}

impl Block {
    /// One way, which sums up to nothing, and room for so many.
    pub fn new(chunks: usize, ways: usize) -> Self {
        Block { chunks, sums: vec![[0.0; CHUNK]; ways * chunks], so_far: chunks }
    }

    /// Lets the first way start from a row.
    pub fn start(&mut self, row: &[Chunk]) {
        self.sums[..self.chunks].copy_from_slice(row);
    }

    /// Follows every way so far by each choice of one more row, the first row's choice counting fastest.
    pub fn multiply<'r>(&mut self, choices: usize, row: impl Fn(usize) -> &'r [Chunk]) {
        let (ways, free) = self.sums.split_at_mut(self.so_far);
        for (choice, into) in (1..choices).zip(free.chunks_exact_mut(self.so_far)) {
            for (into, way) in into.chunks_exact_mut(self.chunks).zip(ways.chunks_exact(self.chunks)) {
                into.iter_mut().zip(way.iter().zip(row(choice))).for_each(|(into, (sum, add))| *into = plus(sum, add));
            }
        }
        // Choice 0 last: it takes the place of the ways so far.
        for way in ways.chunks_exact_mut(self.chunks) {
            way.iter_mut().zip(row(0)).for_each(|(sum, add)| *sum = plus(sum, add));
        }
        self.so_far *= choices;
    }

    /// One way's sums.
    pub fn row(&self, way: u8) -> &[Chunk] {
        &self.sums[usize::from(way) * self.chunks..][..self.chunks]
    }
}

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

fn plus(one: &Chunk, other: &Chunk) -> Chunk {
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
