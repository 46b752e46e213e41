//! Text to cells: which character separates them, and where each stands. It knows nothing of what cells mean.

use crate::study::Origin;
use std::borrow::Cow;

/// A table of text cells. Blank rows are left out and listed; cells are never moved.
pub(super) struct Table<'a> {
    bytes: Cow<'a, [u8]>,
    rows: Vec<Row>,
    /// End of each cell in `bytes`, row after row.
    ends: Vec<u32>,
    /// Bytes between two cells of one row: 1 where cells lie in the file's own text, 0 where quotes were taken off.
    gap: u32,
    separator: u8,
    /// Lines with nothing but blanks and separators, before the last row that has something.
    pub blank_lines: Vec<u32>,
    /// Line where a quotation mark opens that is never closed; quotes were then read as plain text.
    pub open_quote_line: Option<u32>,
    /// For a table turned on its side: the line of the file behind each column.
    turned: Option<Vec<u32>>,
}

#[derive(Clone, Copy)]
struct Row {
    /// Line of the file (or column of the file, when turned), from 1.
    line: u32,
    start: u32,
    first_cell: u32,
}

pub(super) const SEPARATORS: [u8; 4] = [b',', b';', b'\t', b'|'];

/// Lines looked at from either end of a long file when the separator is guessed.
const SAMPLED_BYTES: usize = 200_000;

impl<'a> Table<'a> {
    pub fn parse(text: &'a str, separator: u8) -> Self {
        let bytes = text.as_bytes();
        if bytes.contains(&b'"') { Self::parse_quoted(bytes, separator) } else { Self::parse_plain(bytes, separator) }
    }

    pub fn row_count(&self) -> usize {
        self.rows.len()
    }

    /// How many cells a row has.
    pub fn width(&self, row: usize) -> usize {
        self.end_cell(row) - self.rows[row].first_cell as usize
    }

    pub fn widest(&self) -> usize {
        (0..self.rows.len()).map(|row| self.width(row)).max().unwrap_or(0)
    }

    /// A cell without the blanks around it; empty where the row is too short.
    pub fn cell(&self, row: usize, column: usize) -> &[u8] {
        trimmed(self.raw(row, column))
    }

    pub fn text(&self, row: usize, column: usize) -> Cow<'_, str> {
        String::from_utf8_lossy(self.cell(row, column))
    }

    /// Line of the file where a row begins (its column in the file, when the table was turned).
    pub fn line(&self, row: usize) -> u32 {
        self.rows[row].line
    }

    /// Where a cell stands in the file, rows and columns from 1.
    pub fn origin(&self, row: usize, column: usize) -> Origin {
        let here = self.rows[row].line;
        match &self.turned {
            None => Origin { file: 0, row: here, column: clamped(column + 1) },
            Some(lines) => {
                Origin { file: 0, row: lines.get(column).copied().unwrap_or(0), column: clamped(here as usize) }
            }
        }
    }

    pub fn is_turned(&self) -> bool {
        self.turned.is_some()
    }

    /// Whether any cell may hold this byte; never false where one does.
    pub fn may_hold(&self, byte: u8) -> bool {
        (self.gap == 0 || byte != self.separator) && self.bytes.contains(&byte)
    }

    /// How many cells of a row have something in them.
    pub fn filled(&self, row: usize) -> usize {
        (0..self.width(row)).filter(|column| !self.cell(row, *column).is_empty()).count()
    }

    /// The table on its side, starting at row `from`: rows become columns.
    pub fn turned(&self, from: usize) -> Table<'static> {
        let lines: Vec<u32> = (from..self.rows.len()).map(|row| self.line(row)).collect();
        let mut cells = Cells::new();
        for column in 0..self.widest() {
            cells.open(column as u32 + 1);
            for row in from..self.rows.len() {
                cells.owned.extend_from_slice(self.cell(row, column));
                cells.ends.push(cells.owned.len() as u32);
            }
        }
        let blank_lines = self.blank_lines.clone();
        Table { turned: Some(lines), blank_lines, open_quote_line: self.open_quote_line, ..cells.into_table() }
    }

    fn end_cell(&self, row: usize) -> usize {
        self.rows.get(row + 1).map_or(self.ends.len(), |next| next.first_cell as usize)
    }

    /// A cell as it stands, blanks and all.
    pub fn raw(&self, row: usize, column: usize) -> &[u8] {
        let here = self.rows[row];
        let cell = here.first_cell as usize + column;
        if cell >= self.end_cell(row) {
            return &[];
        }
        let start = if column == 0 { here.start } else { self.ends[cell - 1] + self.gap };
        &self.bytes[start as usize..self.ends[cell] as usize]
    }

    /// Text without quotation marks: cells stay where they are in the file.
    fn parse_plain(bytes: &'a [u8], separator: u8) -> Self {
        let mut table = Table::empty(Cow::Borrowed(bytes), 1, separator);
        let (mut start, mut line) = (0, 1);
        while start < bytes.len() {
            let row = Row { line, start: start as u32, first_cell: table.ends.len() as u32 };
            let mut at = start;
            let mut blank = true;
            while at < bytes.len() && bytes[at] != b'\n' && bytes[at] != b'\r' {
                if bytes[at] == separator {
                    table.ends.push(at as u32);
                } else if bytes[at] != b' ' && bytes[at] != b'\t' {
                    blank = false;
                }
                at += 1;
            }
            table.ends.push(at as u32);
            table.keep_or_drop(row, blank);
            start = at + if bytes[at..].starts_with(b"\r\n") { 2 } else { 1 };
            line += 1;
        }
        table.forget_trailing_blanks();
        table
    }

    fn parse_quoted(bytes: &[u8], separator: u8) -> Self {
        let table = Self::parse_by_csv(bytes, separator, true);
        let Some(line) = table.runaway_quote(bytes) else { return table };
        Table { open_quote_line: Some(line), ..Self::parse_by_csv(bytes, separator, false) }
    }

    fn parse_by_csv(bytes: &[u8], separator: u8, quoting: bool) -> Self {
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .delimiter(separator)
            .quoting(quoting)
            .from_reader(bytes);
        let mut cells = Cells::new();
        let mut lines = LineCounter { bytes, at: 0, line: 1 };
        let mut record = csv::ByteRecord::new();
        let mut blank_lines = Vec::new();
        loop {
            let from = reader.position().byte() as usize;
            if !matches!(reader.read_byte_record(&mut record), Ok(true)) {
                break;
            }
            let line = lines.of_record_at(from, &mut blank_lines);
            if record.iter().all(|cell| trimmed(cell).is_empty()) {
                blank_lines.push(line);
                continue;
            }
            cells.open(line);
            let base = cells.owned.len();
            cells.owned.extend_from_slice(record.as_slice());
            cells.ends.extend((0..record.len()).filter_map(|cell| record.range(cell)).map(|r| (base + r.end) as u32));
        }
        let mut table = Table { blank_lines, ..cells.into_table() };
        table.forget_trailing_blanks();
        table
    }

    /// The line of a row that swallowed others because its quotation mark is never closed.
    fn runaway_quote(&self, bytes: &[u8]) -> Option<u32> {
        let quotes = bytes.iter().filter(|byte| **byte == b'"').count();
        let last = self.rows.len().checked_sub(1)?;
        let swallowed = (0..self.width(last)).any(|column| self.raw(last, column).contains(&b'\n'));
        (quotes % 2 == 1 && swallowed).then(|| self.line(last))
    }

    fn empty(bytes: Cow<'a, [u8]>, gap: u32, separator: u8) -> Self {
        Table {
            bytes,
            rows: Vec::new(),
            ends: Vec::new(),
            gap,
            separator,
            blank_lines: Vec::new(),
            open_quote_line: None,
            turned: None,
        }
    }

    fn keep_or_drop(&mut self, row: Row, blank: bool) {
        if blank {
            self.ends.truncate(row.first_cell as usize);
            self.blank_lines.push(row.line);
        } else {
            self.rows.push(row);
        }
    }

    fn forget_trailing_blanks(&mut self) {
        let last = self.rows.last().map_or(0, |row| row.line);
        self.blank_lines.retain(|line| *line < last);
    }
}

/// Rows whose cells are copied out of the file.
struct Cells {
    owned: Vec<u8>,
    rows: Vec<Row>,
    ends: Vec<u32>,
}

impl Cells {
    fn new() -> Self {
        Cells { owned: Vec::new(), rows: Vec::new(), ends: Vec::new() }
    }

    fn open(&mut self, line: u32) {
        self.rows.push(Row { line, start: self.owned.len() as u32, first_cell: self.ends.len() as u32 });
    }

    fn into_table(self) -> Table<'static> {
        let empty = Table::empty(Cow::Owned(self.owned), 0, 0);
        Table { rows: self.rows, ends: self.ends, ..empty }
    }
}

/// Finds the line of each record; the parser's own position stands before the blank lines it skips.
struct LineCounter<'b> {
    bytes: &'b [u8],
    at: usize,
    line: u32,
}

impl LineCounter<'_> {
    fn of_record_at(&mut self, from: usize, blank_lines: &mut Vec<u32>) -> u32 {
        self.advance(from.min(self.bytes.len()), None);
        // The parser stops between the two bytes of a Windows line end.
        if self.at > 0 && self.bytes[self.at - 1] == b'\r' && self.bytes.get(self.at) == Some(&b'\n') {
            self.advance(self.at + 1, None);
        }
        let mut start = self.at;
        while start < self.bytes.len() && matches!(self.bytes[start], b'\n' | b'\r') {
            start += 1;
        }
        self.advance(start, Some(blank_lines));
        self.line
    }

    fn advance(&mut self, to: usize, mut passed: Option<&mut Vec<u32>>) {
        while self.at < to {
            let byte = self.bytes[self.at];
            let ends_line = byte == b'\n' || (byte == b'\r' && self.bytes.get(self.at + 1) != Some(&b'\n'));
            if ends_line {
                if let Some(lines) = passed.as_deref_mut() {
                    lines.push(self.line);
                }
                self.line += 1;
            }
            self.at += 1;
        }
    }
}

/// The separator under which the most lines of the text have the same number of cells; `None` where no candidate
/// gives two columns.
pub(super) fn guess_separator(text: &str) -> Option<u8> {
    let sample = sampled(text);
    let fits: Vec<Fit> = SEPARATORS.iter().filter_map(|separator| Fit::of(&sample, *separator)).collect();
    let best_share = fits.iter().map(|fit| fit.share).fold(0.0, f64::max);
    // A decimal comma makes columns as well, but always fewer than the separator beside it.
    let close = fits.iter().filter(|fit| fit.share >= best_share - 0.1);
    close.max_by_key(|fit| fit.width).map(|fit| fit.separator)
}

struct Fit {
    separator: u8,
    /// Share of the rows that have the commonest width.
    share: f64,
    width: usize,
}

impl Fit {
    fn of(sample: &str, separator: u8) -> Option<Fit> {
        let table = Table::parse(sample, separator);
        let width = table.commonest_width();
        let alike = (0..table.row_count()).filter(|row| table.width(*row) == width).count();
        (width >= 2).then(|| Fit { separator, share: alike as f64 / table.row_count() as f64, width })
    }
}

impl Table<'_> {
    /// The number of cells that most rows have; the larger one where two are as common.
    pub fn commonest_width(&self) -> usize {
        let mut rows_of_width = vec![0_usize; self.widest() + 1];
        (0..self.row_count()).for_each(|row| rows_of_width[self.width(row)] += 1);
        (0..rows_of_width.len()).max_by_key(|width| rows_of_width[*width]).unwrap_or(0)
    }
}

/// The whole text, or the beginning and the end of a long one, cut at line ends.
fn sampled(text: &str) -> Cow<'_, str> {
    if text.len() <= 2 * SAMPLED_BYTES {
        return Cow::Borrowed(text);
    }
    let bytes = text.as_bytes();
    let is_end = |byte: &u8| matches!(byte, b'\n' | b'\r');
    let head_end = bytes[..SAMPLED_BYTES].iter().rposition(is_end).unwrap_or(0);
    let tail_from = bytes.len() - SAMPLED_BYTES;
    let tail_start = bytes[tail_from..].iter().position(is_end).map_or(bytes.len(), |at| tail_from + at + 1);
    Cow::Owned(format!("{}\n{}", &text[..head_end], &text[tail_start..]))
}

/// A cell without blanks around it. No-break spaces, zero-width spaces and byte order marks count as blanks.
pub(super) fn trimmed(cell: &[u8]) -> &[u8] {
    let plain = |byte: &u8| *byte > b' ' && *byte < 0x80;
    match (cell.first(), cell.last()) {
        (Some(first), Some(last)) if plain(first) && plain(last) => cell,
        (None, _) => cell,
        _ => match std::str::from_utf8(cell) {
            Ok(text) => {
                text.trim_matches(|c: char| c.is_whitespace() || matches!(c, '\u{feff}' | '\u{200b}' | '\0')).as_bytes()
            }
            Err(_) => cell.trim_ascii(),
        },
    }
}

fn clamped(column: usize) -> u16 {
    column.min(u16::MAX as usize) as u16
}
