//! Text to cells: where each row begins, and where its cells stand. It knows nothing of what cells mean.
//!
//! Only the beginnings of rows are kept; a row is split into cells when it is looked at. A file of a million rows
//! then costs four bytes a row, and splitting twenty bytes again is cheaper than fetching twenty stored numbers.

use crate::study::Origin;
use std::borrow::Cow;

/// A table of text cells. Blank rows are left out and listed; cells are never moved.
pub(super) struct Table<'a> {
    bytes: Cow<'a, [u8]>,
    /// Byte between two cells of a row.
    separator: u8,
    /// Bytes that end a row.
    terminators: [u8; 2],
    /// Where each row begins in `bytes`.
    starts: Vec<u32>,
    /// Line of the file for each row, from 1 (column of the file, when turned); empty where row 0 is line 1 and so on.
    lines: Vec<u32>,
    /// Lines with nothing but blanks and separators, before the last row that has something.
    pub blank_lines: Vec<u32>,
    /// Line where a quotation mark opens that is never closed; quotes were then read as plain text.
    pub open_quote_line: Option<u32>,
    /// For a table turned on its side: the line of the file behind each column.
    turned: Option<Vec<u32>>,
}

/// The cells of one row, borrowing the list of their ends.
#[derive(Clone, Copy)]
pub(super) struct RowCells<'t> {
    /// Number of the row in the table, from 0.
    pub row: usize,
    bytes: &'t [u8],
    start: u32,
    ends: &'t [u32],
}

/// A cell with its first sixteen bytes as one number, so that names are compared without a call.
#[derive(Clone, Copy)]
pub(super) struct Word<'t> {
    pub text: &'t [u8],
    pub first_bytes: u128,
}

/// Bytes that never occur in UTF-8: they part cells and rows whose quotation marks were taken off.
const CELL_END: u8 = 0xFF;
const ROW_END: u8 = 0xFE;

/// Rows by which the usual width of a table is told.
const MEASURED_ROWS: usize = 2000;

impl<'a> Table<'a> {
    /// Takes a text apart. `lines_above` is how many lines of the file stand before it.
    pub fn parse(text: &'a str, separator: u8, lines_above: u32) -> Self {
        let bytes = text.as_bytes();
        if memchr::memchr(b'"', bytes).is_some() {
            Self::parse_quoted(bytes, separator, lines_above)
        } else {
            Self::parse_plain(bytes, separator, lines_above)
        }
    }

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

    pub fn text(&self, row: usize, column: usize) -> Cow<'_, str> {
        String::from_utf8_lossy(self.cell(row, column))
    }

    /// All cells of a row as text.
    pub fn texts(&self, row: usize) -> Vec<String> {
        let cells = self.row_bytes(row).split(|byte| *byte == self.separator);
        cells.map(|cell| String::from_utf8_lossy(trimmed(cell)).into_owned()).collect()
    }

    /// Line of the file where a row begins (its column in the file, when the table was turned).
    pub fn line(&self, row: usize) -> u32 {
        if self.lines.is_empty() { row as u32 + 1 } else { self.lines[row] }
    }

    /// Where a cell stands in the file, rows and columns from 1.
    pub fn origin(&self, row: usize, column: usize) -> Origin {
        let here = self.line(row);
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
        byte != self.separator && memchr::memchr(byte, &self.bytes).is_some()
    }

    /// How many cells of a row have something in them.
    pub fn filled(&self, row: usize) -> usize {
        self.row_bytes(row).split(|byte| *byte == self.separator).filter(|cell| !trimmed(cell).is_empty()).count()
    }

    /// The table on its side, starting at row `from`: rows become columns.
    pub fn turned(&self, from: usize) -> Table<'static> {
        let rows: Vec<Vec<String>> = (from..self.row_count()).map(|row| self.texts(row)).collect();
        let mut turned = Table::empty(Cow::Owned(Vec::new()), CELL_END, [ROW_END, ROW_END]);
        let mut bytes = Vec::new();
        for column in 0..rows.iter().map(Vec::len).max().unwrap_or(0) {
            let cells = rows.iter().map(|row| row.get(column).map_or(&b""[..], String::as_bytes));
            turned.add_row(&mut bytes, column as u32 + 1, cells);
        }
        let lines = (from..self.row_count()).map(|row| self.line(row)).collect();
        let blank_lines = self.blank_lines.clone();
        Table { bytes: Cow::Owned(bytes), turned: Some(lines), blank_lines, ..turned }
    }

    fn row_bytes(&self, row: usize) -> &[u8] {
        let rest = &self.bytes[self.starts[row] as usize..];
        let end = rest.iter().position(|byte| self.terminators.contains(byte)).unwrap_or(rest.len());
        &rest[..end]
    }

    /// Text without quotation marks: cells stay where they are in the file.
    fn parse_plain(bytes: &'a [u8], separator: u8, lines_above: u32) -> Self {
        let mut table = Table::empty(Cow::Borrowed(bytes), separator, [b'\n', b'\r']);
        let is_nothing = |byte: &u8| *byte == separator || matches!(*byte, b' ' | b'\t');
        let (mut start, mut line) = (0, lines_above + 1);
        while start < bytes.len() {
            let end = memchr::memchr2(b'\n', b'\r', &bytes[start..]).map_or(bytes.len(), |at| start + at);
            if bytes[start..end].iter().all(is_nothing) {
                table.pass_over_blank(line);
            } else {
                table.push_start(start, line);
            }
            start = end + if bytes[end..].starts_with(b"\r\n") { 2 } else { 1 };
            line += 1;
        }
        table.forget_trailing_blanks();
        table
    }

    fn parse_quoted(bytes: &[u8], separator: u8, lines_above: u32) -> Self {
        let table = Self::parse_by_csv(bytes, separator, true, lines_above);
        let Some(line) = table.runaway_quote(bytes) else { return table };
        Table { open_quote_line: Some(line), ..Self::parse_by_csv(bytes, separator, false, lines_above) }
    }

    fn parse_by_csv(bytes: &[u8], separator: u8, quoting: bool, lines_above: u32) -> Self {
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .delimiter(separator)
            .quoting(quoting)
            .from_reader(bytes);
        let mut table = Table::empty(Cow::Owned(Vec::new()), CELL_END, [ROW_END, ROW_END]);
        let mut owned = Vec::with_capacity(bytes.len());
        let mut lines = LineCounter { bytes, at: 0, line: lines_above + 1 };
        let mut record = csv::ByteRecord::new();
        loop {
            let from = reader.position().byte() as usize;
            if !matches!(reader.read_byte_record(&mut record), Ok(true)) {
                break;
            }
            let line = lines.of_record_at(from, |blank| table.pass_over_blank(blank));
            if record.iter().all(|cell| trimmed(cell).is_empty()) {
                table.pass_over_blank(line);
            } else {
                table.add_row(&mut owned, line, record.iter());
            }
        }
        let mut table = Table { bytes: Cow::Owned(owned), ..table };
        table.forget_trailing_blanks();
        table
    }

    /// The line of a row that swallowed others because its quotation mark is never closed.
    fn runaway_quote(&self, bytes: &[u8]) -> Option<u32> {
        let quotes = bytes.iter().filter(|byte| **byte == b'"').count();
        let last = self.row_count().checked_sub(1)?;
        (quotes % 2 == 1 && self.row_bytes(last).contains(&b'\n')).then(|| self.line(last))
    }

    fn empty(bytes: Cow<'a, [u8]>, separator: u8, terminators: [u8; 2]) -> Self {
        Table {
            bytes,
            separator,
            terminators,
            starts: Vec::new(),
            lines: Vec::new(),
            blank_lines: Vec::new(),
            open_quote_line: None,
            turned: None,
        }
    }

    fn add_row<'c>(&mut self, bytes: &mut Vec<u8>, line: u32, cells: impl Iterator<Item = &'c [u8]>) {
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
    fn push_start(&mut self, start: usize, line: u32) {
        let row = self.starts.len() as u32;
        if self.lines.is_empty() && line != row + 1 {
            self.lines.extend(1..=row);
        }
        if line != row + 1 || !self.lines.is_empty() {
            self.lines.push(line);
        }
        self.starts.push(start as u32);
    }

    fn pass_over_blank(&mut self, line: u32) {
        self.blank_lines.push(line);
    }

    fn forget_trailing_blanks(&mut self) {
        let last = self.row_count().checked_sub(1).map_or(0, |row| self.line(row));
        self.blank_lines.retain(|line| *line < last);
    }
}

impl<'t> RowCells<'t> {
    #[inline]
    pub fn width(self) -> usize {
        self.ends.len()
    }

    /// A cell as it stands, blanks and all; empty where the row is too short.
    #[inline]
    pub fn raw(self, column: usize) -> &'t [u8] {
        let Some(end) = self.ends.get(column) else { return &[] };
        let start = if column == 0 { self.start } else { self.ends[column - 1] + 1 };
        &self.bytes[start as usize..*end as usize]
    }

    /// A cell without the blanks around it.
    #[inline]
    pub fn cell(self, column: usize) -> &'t [u8] {
        trimmed(self.raw(column))
    }

    /// A cell as it stands, ready to be compared with names.
    #[inline]
    pub fn word(self, column: usize) -> Word<'t> {
        let text = self.raw(column);
        let start = self.ends.get(column).map_or(0, |end| *end as usize) - text.len();
        let window = self.bytes.get(start..start + 16).and_then(|window| <[u8; 16]>::try_from(window).ok());
        match window {
            Some(window) if text.len() >= 16 => Word { text, first_bytes: u128::from_le_bytes(window) },
            Some(window) => {
                let mask = (1_u128 << (8 * text.len())) - 1;
                Word { text, first_bytes: u128::from_le_bytes(window) & mask }
            }
            None => Word::of(text),
        }
    }
}

impl<'t> Word<'t> {
    pub fn of(text: &'t [u8]) -> Self {
        let mut first = [0; 16];
        let length = text.len().min(16);
        first[..length].copy_from_slice(&text[..length]);
        Word { text, first_bytes: u128::from_le_bytes(first) }
    }
}

/// Finds the line of each record; the parser's own position stands before the blank lines it skips.
struct LineCounter<'b> {
    bytes: &'b [u8],
    at: usize,
    line: u32,
}

impl LineCounter<'_> {
    fn of_record_at(&mut self, from: usize, mut passed: impl FnMut(u32)) -> u32 {
        self.advance(from.min(self.bytes.len()), |_| {});
        // The parser stops between the two bytes of a Windows line end.
        if self.at > 0 && self.bytes[self.at - 1] == b'\r' && self.bytes.get(self.at) == Some(&b'\n') {
            self.advance(self.at + 1, |_| {});
        }
        let mut start = self.at;
        while start < self.bytes.len() && matches!(self.bytes[start], b'\n' | b'\r') {
            start += 1;
        }
        self.advance(start, &mut passed);
        self.line
    }

    fn advance(&mut self, to: usize, mut passed: impl FnMut(u32)) {
        while self.at < to {
            let byte = self.bytes[self.at];
            if byte == b'\n' || (byte == b'\r' && self.bytes.get(self.at + 1) != Some(&b'\n')) {
                passed(self.line);
                self.line += 1;
            }
            self.at += 1;
        }
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

/// A cell without blanks around it. No-break spaces, zero-width spaces and byte order marks count as blanks.
#[inline]
pub(super) fn trimmed(cell: &[u8]) -> &[u8] {
    let plain = |byte: &u8| *byte > b' ' && *byte < 0x80;
    match (cell.first(), cell.last()) {
        (Some(first), Some(last)) if plain(first) && plain(last) => cell,
        _ => trimmed_with_care(cell),
    }
}

fn trimmed_with_care(cell: &[u8]) -> &[u8] {
    let blank = |c: char| c.is_whitespace() || matches!(c, '\u{feff}' | '\u{200b}' | '\0');
    std::str::from_utf8(cell).map_or(cell.trim_ascii(), |text| text.trim_matches(blank).as_bytes())
}

fn clamped(column: usize) -> u16 {
    column.min(u16::MAX as usize) as u16
}
