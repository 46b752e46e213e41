//! The decimal mark of each column of scores. It is decided by the whole column, never by taking a comma away.

use crate::read::grid::cell_values::{MarkEvidence, ScoreCell, mark_evidence, score_cell};
use crate::read::grid::table::Table;
use crate::read::options::DecimalMark;

/// What the cells of one column say.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(in crate::read) struct ColumnMarks {
    pub sure_points: usize,
    pub sure_commas: usize,
    /// Rows with cells such as 1,234 that may be 1.234 or 1234.
    pub either: Vec<usize>,
    /// Those of them that fit the scale with the mark as decimal mark, and as sign of thousands.
    fits_as_decimals: usize,
    fits_as_thousands: usize,
    either_points: usize,
    either_count: usize,
}

/// How a column is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::read) enum Decision {
    All(DecimalMark),
    /// Some cells have a decimal point and some a decimal comma, each beyond doubt.
    EachCell,
    /// Points or commas may be decimals or thousands, and nothing tells which.
    Unclear,
}

const REMEMBERED_ROWS: usize = 1000;

/// Reads the marks of each of these columns. `scale_end` tells decimals from thousands where the form of the cell
/// doesn't.
pub(in crate::read) fn marks_of(
    table: &Table<'_>,
    first_data: usize,
    columns: &[usize],
    scale_end: f64,
) -> Vec<ColumnMarks> {
    let mut marks = vec![ColumnMarks::default(); columns.len()];
    let mut ends = Vec::new();
    for row in (first_data..table.row_count()).filter(|_| !columns.is_empty()) {
        let cells = table.row(row, &mut ends);
        for (column, marks) in columns.iter().zip(&mut marks) {
            let cell = cells.cell(*column);
            match mark_evidence(cell) {
                MarkEvidence::None => {}
                MarkEvidence::Sure(DecimalMark::Point) => marks.sure_points += 1,
                MarkEvidence::Sure(DecimalMark::Comma) => marks.sure_commas += 1,
                MarkEvidence::Either => marks.add_either(cell, row, scale_end),
            }
        }
    }
    marks
}

impl ColumnMarks {
    fn add_either(&mut self, cell: &[u8], row: usize, scale_end: f64) {
        let (decimal, thousands) = if cell.contains(&b'.') {
            self.either_points += 1;
            (DecimalMark::Point, DecimalMark::Comma)
        } else {
            (DecimalMark::Comma, DecimalMark::Point)
        };
        let fits = |mark| matches!(score_cell(cell, mark), ScoreCell::Score(score) if score.abs() <= scale_end);
        self.either_count += 1;
        self.fits_as_decimals += usize::from(fits(decimal));
        self.fits_as_thousands += usize::from(fits(thousands));
        if self.either.len() < REMEMBERED_ROWS {
            self.either.push(row);
        }
    }

    /// The decision by this column alone; `None` where it has no mark at all.
    pub fn decide(&self) -> Option<Decision> {
        let either = self.either_count;
        match (self.sure_points > 0, self.sure_commas > 0, either > 0) {
            (false, false, false) => None,
            (true, true, false) => Some(Decision::EachCell),
            (true, true, true) => Some(Decision::Unclear),
            (true, false, _) => Some(Decision::All(DecimalMark::Point)),
            (false, true, _) => Some(Decision::All(DecimalMark::Comma)),
            (false, false, true) => Some(self.by_the_scale()),
        }
    }

    /// Where every mark could be either, the reading that fits the scale is taken; both or none: unclear.
    fn by_the_scale(&self) -> Decision {
        let either = self.either_count;
        let one_sign = self.either_points == 0 || self.either_points == either;
        let decimal = if self.either_points == either { DecimalMark::Point } else { DecimalMark::Comma };
        match (self.fits_as_decimals > 0, self.fits_as_thousands > 0) {
            (true, false) if one_sign => Decision::All(decimal),
            (false, true) if one_sign => Decision::All(decimal.opposite()),
            _ => Decision::Unclear,
        }
    }
}

/// What a whole number above the scale would be if its last digit had lost the decimal mark before it: 250 on a
/// scale to 100 may be 25.0. Nothing for scores just above the end: those are more likely marks beside the line.
pub(in crate::read) fn without_lost_mark(score: f64, maximum: f64) -> Option<f64> {
    let meant = score / 10.0;
    (score >= 1.2 * maximum && score.fract().abs() < crate::numeric::tolerance::SAME_NUMBER && meant <= maximum)
        .then_some(meant)
}

/// The mark that most columns have, for those that have none of their own.
pub(in crate::read) fn commonest(decisions: &[Option<Decision>]) -> DecimalMark {
    let number_of = |mark| decisions.iter().filter(|decision| **decision == Some(Decision::All(mark))).count();
    if number_of(DecimalMark::Comma) > number_of(DecimalMark::Point) { DecimalMark::Comma } else { DecimalMark::Point }
}
