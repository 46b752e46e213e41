//! Williams designs: orders in which each sample stands in each position and after each other sample equally often
//! (E. J. Williams, Australian Journal of Scientific Research A 2, 1949, 149-168). It knows nothing of assessors.

/// The rows of the design before samples are drawn for its labels, as sample indices from 0: as many rows as samples
/// where that number is even, twice as many where it is odd. The first row is 0, 1, J-1, 2, J-2, ...; row i adds i
/// modulo J; for odd J every row follows reversed. No rows for no samples.
pub fn williams_rows(samples: usize) -> Vec<Vec<usize>> {
    let first: Vec<usize> = (0..samples)
        .map(|position| if position % 2 == 1 { position.div_ceil(2) } else { (samples - position / 2) % samples })
        .collect();
    let mut rows: Vec<Vec<usize>> =
        (0..samples).map(|shift| first.iter().map(|sample| (sample + shift) % samples).collect()).collect();
    if samples % 2 == 1 && samples > 1 {
        let reversed: Vec<Vec<usize>> = rows.iter().map(|row| row.iter().rev().copied().collect()).collect();
        rows.extend(reversed);
    }
    rows
}

/// The same rows with other labels: sample i becomes `labels[i]`.
pub fn relabelled(rows: &[Vec<usize>], labels: &[usize]) -> Vec<Vec<usize>> {
    rows.iter().map(|row| row.iter().map(|sample| labels[*sample]).collect()).collect()
}
