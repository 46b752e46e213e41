//! The score in one cell, with what is told where there is none.

use super::rows::Gatherer;
use crate::read::DecimalMark;
use crate::read::columns::numbers::{MarkEvidence, NotANumber, ScoreCell, mark_evidence, score_cell};
use crate::read::grid::row_cells::RowCells;
use crate::read::messages::sentences as say;

/// Characters of a cell that a note repeats.
const TOLD_CHARACTERS: usize = 40;

impl Gatherer<'_> {
    /// The score, or `None` where it is missing or no number. `mark` is that of the column, if it has one.
    pub fn value(&mut self, cells: RowCells<'_>, column: usize, mark: Option<DecimalMark>) -> Option<f64> {
        let cell = cells.cell(column);
        match score_cell(cell, mark.unwrap_or_else(|| own_mark(cell))) {
            ScoreCell::Score(score) => self.unless_coded(score),
            ScoreCell::Missing => None,
            ScoreCell::NotANumber(kind) => {
                let text: String = String::from_utf8_lossy(cell).chars().take(TOLD_CHARACTERS).collect();
                let note = match kind {
                    NotANumber::Date => say::date_cell(&text),
                    NotANumber::SheetError => say::error_cell(&text),
                    NotANumber::Text => say::text_cell(&text),
                };
                let place = self.notes.cell(self.table, cells.row, column);
                self.notes.at(place, note);
                None
            }
        }
    }

    fn unless_coded(&mut self, score: f64) -> Option<f64> {
        match self.options.missing_codes.iter().position(|code| same(*code, score)) {
            Some(code) => {
                self.out.coded_missing[code] += 1;
                None
            }
            None => Some(score),
        }
    }
}

/// Whether two numbers of a file are the same code.
pub(in crate::read) fn same(a: f64, b: f64) -> bool {
    crate::numeric::tolerance::is_same_number(a, b)
}

/// The decimal mark that a cell shows by itself, in columns where both occur.
fn own_mark(cell: &[u8]) -> DecimalMark {
    match mark_evidence(cell) {
        MarkEvidence::Sure(mark) => mark,
        _ => DecimalMark::Point,
    }
}
