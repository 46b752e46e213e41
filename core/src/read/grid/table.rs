//! Text to cells: where each row begins, and where its cells stand. It knows nothing of what cells mean.
//!
//! Only the beginnings of rows are kept; a row is split into cells when it is surveyed at. A file of a million rows
//! then costs four bytes a row, and splitting twenty bytes again is cheaper than fetching twenty stored numbers.

use super::row_cells::{RowCells, trimmed};
use crate::study::Origin;
use std::borrow::Cow;

/// A table of text cells. Blank rows are left out and listed; cells are never moved.
pub(in crate::read) struct Table<'a> {
    pub(in crate::read) bytes: Cow<'a, [u8]>,
    /// Byte between two cells of a row.
    separator: u8,
    /// Bytes that end a row.
    terminators: [u8; 2],
    /// Where each row begins in `bytes`.
    starts: Vec<u32>,
    /// Line of the file for each row, from 1 (column of the file, when transposed); empty where row 0 is line 1 and so on.
    lines: Vec<u32>,
    /// Lines with nothing but blanks and separators, before the last row that has something.
    pub blank_lines: Vec<u32>,
    /// Line where a quotation mark opens that is never closed; quotes were then read as plain text.
    pub open_quote_line: Option<u32>,
    /// For a table transposed: the line of the file behind each column.
    transposed: Option<Vec<u32>>,
    /// For a table put together from several: where its rows come from, in order. Empty for a table of one source.
    pub(in crate::read) parts: Vec<TablePart>,
    /// Whether rows end at their last filled cell, as in sheets, so that a short row has lost nothing.
    pub rows_may_be_short: bool,
    /// Cells of a sheet that were stored in a way worth telling.
    pub stored: Vec<StoredCell>,
}

/// Rows of a table that come from one sheet or file.
#[derive(Clone, Debug, Default)]
pub(in crate::read) struct TablePart {
    pub first_row: usize,
    /// Index of the sheet or file among those that are read.
    pub source: u16,
    /// For each column of the table the column of the source, if it comes from there.
    pub columns: Vec<Option<usize>>,
    /// For a source that was transposed: the line behind each of its columns.
    pub transposed: Option<Vec<u32>>,
}

/// A cell by row and column of the table, from 0, and how its sheet stores it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::read) struct StoredCell {
    pub row: usize,
    pub column: usize,
    pub how: Stored,
}

/// How a sheet stores a cell that looks like any other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::read) enum Stored {
    /// A number kept as text.
    NumberAsText,
    /// The result of a formula.
    Formula,
    /// A formula whose result was not saved.
    UnsavedFormula,
}

/// Bytes that never occur in UTF-8: they part cells and rows whose quotation marks were taken off.
pub(in crate::read) const CELL_END: u8 = 0xFF;
pub(in crate::read) const ROW_END: u8 = 0xFE;

/// Rows by which the usual width of a table is told.
const MEASURED_ROWS: usize = 2000;

impl<'a> Table<'a> {
    /// How many rows there are, blank ones left out.
    pub fn row_count(&self) -> usize {
        self.starts.len()
    }

    /// The cells of a row counted from 0. `ends` is written over: one list serves all rows.
    pub fn row<'t>(&'t self, row: usize, ends: &'t mut Vec<u32>) -> RowCells<'t> {
        ends.clear();
        let start = self.starts[row];
        self.split(start as usize, ends);
        RowCells { row, bytes: &self.bytes, start, ends }
    }

    /// Ends of the cells of the row that begins at a byte. Eight bytes are compared at once.
    fn split(&self, start: usize, ends: &mut Vec<u32>) {
        let patterns =
            [self.separator, self.terminators[0], self.terminators[1]].map(|byte| u64::from(byte) * EACH_BYTE);
        let mut at = start;
        while let Some(chunk) = self.bytes.get(at..at + 8).and_then(|chunk| <[u8; 8]>::try_from(chunk).ok()) {
            let chunk = u64::from_le_bytes(chunk);
            let row_end = equal_bytes(chunk, patterns[1]) | equal_bytes(chunk, patterns[2]);
            // Separators behind the end of the row belong to the next one.
            let in_row = if row_end == 0 { u64::MAX } else { (1 << row_end.trailing_zeros()) - 1 };
            let mut separators = equal_bytes(chunk, patterns[0]) & in_row;
            while separators != 0 {
                ends.push((at + separators.trailing_zeros() as usize / 8) as u32);
                separators &= separators - 1;
            }
            if row_end != 0 {
                return ends.push((at + row_end.trailing_zeros() as usize / 8) as u32);
            }
            at += 8;
        }
        self.split_bytewise(at, ends);
    }

    /// The rest of a row at the end of the bytes, where there are not eight left to compare at once.
    fn split_bytewise(&self, mut at: usize, ends: &mut Vec<u32>) {
        for byte in &self.bytes[at..] {
            if *byte == self.separator {
                ends.push(at as u32);
            } else if self.terminators.contains(byte) {
                break;
            }
            at += 1;
        }
        ends.push(at as u32);
    }

    /// How many cells a row has.
    pub fn width(&self, row: usize) -> usize {
        self.row_bytes(row).iter().filter(|byte| **byte == self.separator).count() + 1
    }

    /// The number of cells that most rows have; the larger one where two are as common.
    pub fn commonest_width(&self) -> usize {
        let mut rows_of_width = Vec::new();
        for row in 0..self.row_count().min(MEASURED_ROWS) {
            let width = self.width(row);
            rows_of_width.resize(rows_of_width.len().max(width + 1), 0_usize);
            rows_of_width[width] += 1;
        }
        (0..rows_of_width.len()).max_by_key(|width| rows_of_width[*width]).unwrap_or(0)
    }

    /// A cell without the blanks around it; empty where the row is too short.
    pub fn cell(&self, row: usize, column: usize) -> &[u8] {
        trimmed(self.row_bytes(row).split(|byte| *byte == self.separator).nth(column).unwrap_or(&[]))
    }

    /// A cell as text.
    pub fn text(&self, row: usize, column: usize) -> Cow<'_, str> {
        String::from_utf8_lossy(self.cell(row, column))
    }

    /// All cells of a row as text.
    pub fn texts(&self, row: usize) -> Vec<String> {
        let cells = self.row_bytes(row).split(|byte| *byte == self.separator);
        cells.map(|cell| String::from_utf8_lossy(trimmed(cell)).into_owned()).collect()
    }

    /// Line of the file where a row begins (its column in the file, when the table was transposed).
    pub fn line(&self, row: usize) -> u32 {
        if self.lines.is_empty() { row as u32 + 1 } else { self.lines[row] }
    }

    /// Where a cell stands in its file, rows and columns from 1; column 0 where no cell of the file stands behind it.
    pub fn origin(&self, row: usize, column: usize) -> Origin {
        let here = self.line(row);
        let (file, column, transposed) = match self.part_of(row) {
            None => (0, Some(column), self.transposed.as_ref()),
            Some(part) => (part.source, part.columns.get(column).copied().flatten(), part.transposed.as_ref()),
        };
        match (column, transposed) {
            (None, _) => Origin { file, row: here, column: 0 },
            (Some(column), None) => Origin { file, row: here, column: clamped(column + 1) },
            (Some(column), Some(lines)) => {
                Origin { file, row: lines.get(column).copied().unwrap_or(0), column: clamped(here as usize) }
            }
        }
    }

    /// Whether rows stand for columns of their file.
    pub fn is_transposed(&self) -> bool {
        self.transposed.is_some() || self.parts.first().is_some_and(|part| part.transposed.is_some())
    }

    /// Whether it was put together from several.
    pub fn is_combined(&self) -> bool {
        !self.parts.is_empty()
    }

    /// The part that a row belongs to, in a table put together from several.
    pub fn part_of(&self, row: usize) -> Option<&TablePart> {
        self.parts[..self.parts.partition_point(|part| part.first_row <= row)].last()
    }

    /// The first rows to be shown, from a row on: of a table put together from several, the first rows of each.
    pub fn first_rows(&self, from: usize, at_most: usize) -> Vec<usize> {
        let each = at_most / self.parts.len().clamp(1, at_most.max(1));
        let starts =
            if self.parts.is_empty() { vec![from] } else { self.parts.iter().map(|part| part.first_row).collect() };
        let end_of = |number: usize| starts.get(number + 1).copied().unwrap_or(self.row_count());
        let rows = starts.iter().enumerate().flat_map(|(number, start)| (*start..end_of(number)).take(each.max(1)));
        rows.take(at_most).collect()
    }

    /// For a table transposed: the line of the file behind each column.
    pub fn transposed_lines(&self) -> Option<&Vec<u32>> {
        self.transposed.as_ref()
    }

    /// Whether any cell may hold this byte; never false where one does.
    pub fn may_hold(&self, byte: u8) -> bool {
        byte != self.separator && memchr::memchr(byte, &self.bytes).is_some()
    }

    /// How many cells of a row have something in them.
    pub fn filled(&self, row: usize) -> usize {
        self.row_bytes(row).split(|byte| *byte == self.separator).filter(|cell| !trimmed(cell).is_empty()).count()
    }

    /// The table transposed, starting at row `from`: rows become columns.
    pub fn transposed(&self, from: usize) -> Table<'static> {
        let rows: Vec<Vec<String>> = (from..self.row_count()).map(|row| self.texts(row)).collect();
        let mut transposed = Table::empty_sheet();
        let mut bytes = Vec::new();
        for column in 0..rows.iter().map(Vec::len).max().unwrap_or(0) {
            let cells = rows.iter().map(|row| row.get(column).map_or(&b""[..], String::as_bytes));
            transposed.add_row(&mut bytes, column as u32 + 1, cells);
        }
        let lines = (from..self.row_count()).map(|row| self.line(row)).collect();
        let blank_lines = self.blank_lines.clone();
        let stored = self.stored.iter().filter(|cell| cell.row >= from);
        let stored = stored.map(|cell| StoredCell { row: cell.column, column: cell.row - from, ..*cell }).collect();
        let rows_may_be_short = self.rows_may_be_short;
        Table {
            bytes: Cow::Owned(bytes),
            transposed: Some(lines),
            blank_lines,
            rows_may_be_short,
            stored,
            ..transposed
        }
    }

    pub(in crate::read) fn row_bytes(&self, row: usize) -> &[u8] {
        let rest = &self.bytes[self.starts[row] as usize..];
        let end = rest.iter().position(|byte| self.terminators.contains(byte)).unwrap_or(rest.len());
        &rest[..end]
    }

    /// A table of cells that are put in one row after the other.
    pub(in crate::read) fn empty_sheet() -> Table<'static> {
        Table::empty(Cow::Owned(Vec::new()), CELL_END, [ROW_END, ROW_END])
    }

    pub(in crate::read) fn empty(bytes: Cow<'a, [u8]>, separator: u8, terminators: [u8; 2]) -> Self {
        Table {
            bytes,
            separator,
            terminators,
            starts: Vec::new(),
            lines: Vec::new(),
            blank_lines: Vec::new(),
            open_quote_line: None,
            transposed: None,
            parts: Vec::new(),
            rows_may_be_short: false,
            stored: Vec::new(),
        }
    }

    pub(in crate::read) fn add_row<'c>(
        &mut self,
        bytes: &mut Vec<u8>,
        line: u32,
        cells: impl Iterator<Item = &'c [u8]>,
    ) {
        self.push_start(bytes.len(), line);
        for (number, cell) in cells.enumerate() {
            if number > 0 {
                bytes.push(CELL_END);
            }
            bytes.extend_from_slice(cell);
        }
        bytes.push(ROW_END);
    }

    /// Lines are listed from the first one on that is not the number of its row.
    pub(in crate::read) fn push_start(&mut self, start: usize, line: u32) {
        let row = self.starts.len() as u32;
        if self.lines.is_empty() && line != row + 1 {
            self.lines.extend(1..=row);
        }
        if line != row + 1 || !self.lines.is_empty() {
            self.lines.push(line);
        }
        self.starts.push(start as u32);
    }

    pub(in crate::read) fn pass_over_blank(&mut self, line: u32) {
        self.blank_lines.push(line);
    }

    pub(in crate::read) fn forget_trailing_blanks(&mut self) {
        let last = self.row_count().checked_sub(1).map_or(0, |row| self.line(row));
        self.blank_lines.retain(|line| *line < last);
    }
}

const EACH_BYTE: u64 = 0x0101_0101_0101_0101;

/// The top bit of each byte of `chunk` that equals the byte repeated in `pattern`; exact for every byte, since the
/// sums stay below the next byte.
#[inline]
fn equal_bytes(chunk: u64, pattern: u64) -> u64 {
    const LOW_BITS: u64 = 0x7f * EACH_BYTE;
    let differs = chunk ^ pattern;
    !(((differs & LOW_BITS) + LOW_BITS) | differs | LOW_BITS)
}

fn clamped(column: usize) -> u16 {
    column.min(u16::MAX as usize) as u16
}
