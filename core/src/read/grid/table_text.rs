//! Text to a table: lines, quotation marks, blank rows. It knows nothing of what cells mean.

use super::row_cells::trimmed;
use super::table::Table;
use std::borrow::Cow;

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
        let mut table = Self::parse_by_csv(bytes, separator, false, lines_above);
        table.open_quote_line = Some(line);
        table
    }

    fn parse_by_csv(bytes: &[u8], separator: u8, quoting: bool, lines_above: u32) -> Self {
        let mut builder = csv::ReaderBuilder::new();
        builder.has_headers(false).flexible(true);
        let mut reader = builder.delimiter(separator).quoting(quoting).from_reader(bytes);
        let mut table = Table::empty_sheet();
        let mut owned = Vec::with_capacity(bytes.len());
        let mut lines = LineCounter { bytes, at: 0, line: lines_above + 1 };
        let mut record = csv::ByteRecord::new();
        let mut from = 0;
        while matches!(reader.read_byte_record(&mut record), Ok(true)) {
            let line = lines.of_record_at(from, |blank| table.pass_over_blank(blank));
            if record.iter().all(|cell| trimmed(cell).is_empty()) {
                table.pass_over_blank(line);
            } else {
                table.add_row(&mut owned, line, record.iter());
            }
            from = reader.position().byte() as usize;
        }
        table.bytes = Cow::Owned(owned);
        table.forget_trailing_blanks();
        table
    }

    /// The line of a row that swallowed others because its quotation mark is never closed.
    fn runaway_quote(&self, bytes: &[u8]) -> Option<u32> {
        let quotes = bytes.iter().filter(|byte| **byte == b'"').count();
        let last = self.row_count().checked_sub(1)?;
        (quotes % 2 == 1 && self.row_bytes(last).contains(&b'\n')).then(|| self.line(last))
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
