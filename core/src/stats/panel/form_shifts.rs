//! All ways in which the marks of one page may stand a line off: how much likelier each makes them. It knows no names.
//!
//! A page of hundreds of lines may be shifted in a thousand ways, each over hundreds of lines. Every way is the end of one
//! list, so levels come from sums over its ends, and logarithms of likelihoods from products of many marks at once.

use super::form_fault_findings::FormFaultKind;
use super::form_pages::robust_scale_in_place;

/// A shift must touch this many lines to be told from chance.
pub(super) const FEWEST_LINES: usize = 4;
/// Marks whose terms are multiplied before a logarithm is taken, and products that run side by side.
const MARKS_A_LOGARITHM: usize = 64;
const SIDE_BY_SIDE: usize = 8;

/// One way in which a page may be shifted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Shift {
    pub kind: FormFaultKind,
    /// First line that stands wrong.
    pub from: usize,
    /// How much likelier it makes the marks, as a logarithm.
    pub log_ratio: f64,
}

/// Every mark of a page as one of a line's neighbour: where both readings can be compared.
struct Moved {
    lines: Vec<usize>,
    written: Misfits,
    suspected: Misfits,
    /// From each place to the end: logarithms of scales as written less those as suspected.
    log_scales: Vec<f64>,
}

/// Marks less what is expected of them, in order of their lines.
#[derive(Default)]
struct Misfits {
    gaps: Vec<f64>,
    /// One over the scale of each.
    per_scale: Vec<f64>,
    /// Sum of the gaps from each place to the end.
    sums: Vec<f64>,
}

/// The line that a mark belongs to when the page is shifted; `None` off the sheet.
pub(super) fn belongs(kind: FormFaultKind, line: usize, lines: usize) -> Option<usize> {
    match kind {
        FormFaultKind::ShiftedDown => line.checked_sub(1),
        _ => Some(line + 1).filter(|line| *line < lines),
    }
}

/// All ways in which a page may be shifted by one line: down from each line but the first, then up from each but the last.
/// Down, the mark of a line belongs to the line above; up, to the one below.
pub(super) fn shifts(marks: &[Option<f64>], expected: &[Option<f64>], misfit: &[f64]) -> Vec<Shift> {
    let lines = marks.len();
    let mut all = Vec::with_capacity(2 * lines);
    for (kind, from) in [(FormFaultKind::ShiftedDown, 1..lines), (FormFaultKind::ShiftedUp, 0..lines.saturating_sub(1))]
    {
        let moved = Moved::of(kind, marks, expected, misfit);
        let mut scratch = Vec::with_capacity(lines);
        for from in from {
            let first = moved.lines.partition_point(|line| *line < from);
            if moved.lines.len() - first >= FEWEST_LINES {
                all.push(Shift { kind, from, log_ratio: moved.log_ratio(first, &mut scratch) });
            }
        }
    }
    all
}

impl Moved {
    fn of(kind: FormFaultKind, marks: &[Option<f64>], expected: &[Option<f64>], misfit: &[f64]) -> Self {
        let (mut lines, mut scales) = (Vec::new(), Vec::new());
        let (mut written, mut suspected) = (Misfits::default(), Misfits::default());
        for (line, mark) in marks.iter().enumerate() {
            let Some(belongs) = belongs(kind, line, marks.len()) else { continue };
            let (Some(mark), Some(here), Some(there)) = (mark, expected[line], expected[belongs]) else { continue };
            lines.push(line);
            written.push(mark - here, misfit[line]);
            suspected.push(mark - there, misfit[belongs]);
            scales.push(misfit[line].ln() - misfit[belongs].ln());
        }
        written.sums = sums_to_the_end(&written.gaps);
        suspected.sums = sums_to_the_end(&suspected.gaps);
        Moved { lines, written, suspected, log_scales: sums_to_the_end(&scales) }
    }

    /// How much likelier the marks from a place on are as suspected, as a logarithm. The level of either reading is taken
    /// off: a generous or stingy page is no fault. A page that fits badly either way proves little, so the scales of all
    /// its marks are widened until the suspected reading fits as marks of this assessor do.
    fn log_ratio(&self, first: usize, scratch: &mut Vec<f64>) -> f64 {
        scratch.clear();
        scratch.extend(self.suspected.standardised(first).map(f64::abs));
        let wider = robust_scale_in_place(scratch).max(1.0);
        let narrow = 1.0 / (5.0 * wider * wider);
        3.0 * (self.written.sum_of_logs(first, narrow) - self.suspected.sum_of_logs(first, narrow))
            + self.log_scales[first]
    }
}

impl Misfits {
    fn push(&mut self, gap: f64, scale: f64) {
        self.gaps.push(gap);
        self.per_scale.push(1.0 / scale);
    }

    /// From a place on, the level taken off, in scales.
    fn standardised(&self, first: usize) -> impl Iterator<Item = f64> {
        let level = self.sums[first] / (self.gaps.len() - first) as f64;
        self.gaps[first..].iter().zip(&self.per_scale[first..]).map(move |(gap, per_scale)| (gap - level) * per_scale)
    }

    /// Sum of ln(1 + `narrow` z^2) over the marks from a place on, z in scales.
    fn sum_of_logs(&self, first: usize, narrow: f64) -> f64 {
        let level = self.sums[first] / (self.gaps.len() - first) as f64;
        let gaps = self.gaps[first..].chunks(MARKS_A_LOGARITHM);
        let parts = gaps.zip(self.per_scale[first..].chunks(MARKS_A_LOGARITHM));
        parts.map(|(gaps, per_scale)| log_of_product(gaps, per_scale, level, narrow)).sum()
    }
}

/// The same of a few marks. Where their product is too large for a number, as of marks that lie millions of scales off,
/// one by one.
fn log_of_product(gaps: &[f64], per_scale: &[f64], level: f64, narrow: f64) -> f64 {
    let excess = |gap: f64, per_scale: f64| {
        let z = (gap - level) * per_scale;
        z * z * narrow
    };
    let mut products = [1.0; SIDE_BY_SIDE];
    for (gaps, per_scale) in gaps.chunks(SIDE_BY_SIDE).zip(per_scale.chunks(SIDE_BY_SIDE)) {
        for (product, (gap, per_scale)) in products.iter_mut().zip(gaps.iter().zip(per_scale)) {
            *product *= 1.0 + excess(*gap, *per_scale);
        }
    }
    let pairs: f64 = products.as_chunks::<2>().0.iter().map(|[one, other]| (one * other).ln()).sum();
    if pairs.is_finite() {
        return pairs;
    }
    gaps.iter().zip(per_scale).map(|(gap, per_scale)| excess(*gap, *per_scale).ln_1p()).sum()
}

fn sums_to_the_end(values: &[f64]) -> Vec<f64> {
    let mut sums = values.to_vec();
    for place in (0..sums.len().saturating_sub(1)).rev() {
        sums[place] += sums[place + 1];
    }
    sums
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numeric::random::Random;

    /// Gaps less their mean over their scales, and the scales' logarithms, for the marks from a line on.
    fn plainly(gaps: &[(f64, f64)]) -> (Vec<f64>, f64) {
        let level = gaps.iter().map(|(gap, _)| gap).sum::<f64>() / gaps.len() as f64;
        (
            gaps.iter().map(|(gap, scale)| (gap - level) / scale).collect(),
            gaps.iter().map(|(_, scale)| scale.ln()).sum(),
        )
    }

    #[test]
    fn sums_over_ends_and_products_are_those_of_single_marks() {
        // Identity: every way by its own list of marks, a sorted median and one logarithm a mark.
        let mut random = Random::seeded_for(4, "form shifts");
        for (lines, wild) in [(6, 1.0), (40, 1.0), (150, 1.0), (90, 1e9)] {
            let mut list = |hole: usize| -> Vec<Option<f64>> {
                (0..lines).map(|at| (at % 17 != hole).then(|| 50.0 + 20.0 * wild * random.normal())).collect()
            };
            let (marks, expected) = (list(5), list(11));
            let misfit: Vec<f64> = (0..lines).map(|at| 3.0 + (at % 5) as f64).collect();
            let found = shifts(&marks, &expected, &misfit);
            assert!(found.len() >= lines / 2);
            for shift in found {
                let pair = |line: usize| {
                    let other = belongs(shift.kind, line, lines)?;
                    let gap = |at: usize| Some((marks[line]? - expected[at]?, misfit[at]));
                    Some((gap(line)?, gap(other)?))
                };
                let (written, suspected): (Vec<_>, Vec<_>) = (shift.from..lines).filter_map(pair).unzip();
                let ((written, scales_written), (suspected, scales)) = (plainly(&written), plainly(&suspected));
                let mut sizes: Vec<f64> = suspected.iter().map(|z| z.abs()).collect();
                sizes.sort_by(f64::total_cmp);
                let wider = (0.5 * (sizes[sizes.len() / 2] + sizes[(sizes.len() - 1) / 2]) / 0.7267).max(1.0);
                let logs = |z: &[f64]| z.iter().map(|z| (z * z / (5.0 * wider * wider)).ln_1p()).sum::<f64>();
                let expected = 3.0 * (logs(&written) - logs(&suspected)) + scales_written - scales;
                let error = (shift.log_ratio - expected).abs();
                assert!(error < 1e-10 * expected.abs().max(1.0), "{shift:?}: {expected}");
            }
        }
    }
}
