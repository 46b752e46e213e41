//! Rows of text cells for files and for the clipboard, on the `csv` crate. The rule that makes cells harmless to
//! spreadsheets stands here and nowhere else.

/// How lines end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineEnd {
    Lf,
    CrLf,
}

/// Rows of cells that are written as they are, with a separator between them: words come through `words_cell` or
/// `clipboard_cell` first, numbers need neither.
pub fn joined_rows(rows: impl IntoIterator<Item = Vec<String>>, separator: u8, line_end: LineEnd) -> String {
    let terminator = match line_end {
        LineEnd::Lf => csv::Terminator::Any(b'\n'),
        LineEnd::CrLf => csv::Terminator::CRLF,
    };
    // The crate would quote for its own separator only. Cells come quoted for every separator, because a spreadsheet
    // that splits at another one would run the formula in `a;=1`.
    let style = csv::QuoteStyle::Never;
    let mut builder = csv::WriterBuilder::new();
    builder.delimiter(separator).terminator(terminator).quote_style(style).flexible(true);
    let mut writer = builder.from_writer(Vec::new());
    // Writing into memory doesn't fail, and rows of any length are taken.
    rows.into_iter().for_each(|row| _ = writer.write_record(row));
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8(bytes).unwrap_or_default()
}

/// CSV of words, header first, lines ended by LF. A cell that a spreadsheet would take for a formula gets an apostrophe
/// in front, which `plain_cell` takes away again.
pub fn csv_text(columns: &[String], rows: &[Vec<String>]) -> String {
    let rows = std::iter::once(columns).chain(rows.iter().map(Vec::as_slice));
    joined_rows(rows.map(|row| row.iter().map(|cell| words_cell(cell)).collect()), b',', LineEnd::Lf)
}

/// Words as a cell of a CSV file: harmless, and in quotation marks where needed.
pub fn words_cell(text: &str) -> String {
    quoted(&harmless_cell(text))
}

/// Words as a cell of tab-separated text for the clipboard: harmless, and in one line.
pub fn clipboard_cell(text: &str) -> String {
    harmless_cell(text).replace(['\t', '\n'], " ")
}

/// The cell with an apostrophe in front where it would start a formula (OWASP, "CSV injection"), or where it has one
/// there already.
pub fn harmless_cell(cell: &str) -> String {
    if starts_formula(cell) || starts_formula(cell.trim_start_matches('\'')) {
        format!("'{cell}")
    } else {
        cell.to_owned()
    }
}

/// The cell as it was before `harmless_cell`.
pub fn plain_cell(cell: &str) -> &str {
    match cell.strip_prefix('\'') {
        Some(rest) if starts_formula(rest.trim_start_matches('\'')) => rest,
        _ => cell,
    }
}

/// The cell in quotation marks where a separator, a quotation mark, a line end or a blank at an end asks for them.
pub fn quoted(cell: &str) -> String {
    if cell.contains([',', ';', '"', '\n', '\r', '\t']) || cell.trim() != cell {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell.to_owned()
    }
}

/// Blanks in front do not save a formula: spreadsheets may take them away.
fn starts_formula(cell: &str) -> bool {
    cell.starts_with(['\t', '\r'])
        || cell.trim_start().starts_with(['=', '+', '-', '@', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}'])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn owned(cells: &[&str]) -> Vec<String> {
        cells.iter().map(|cell| (*cell).to_owned()).collect()
    }

    #[test]
    fn a_formula_is_made_harmless_and_comes_back() {
        for cell in ["=1+2", "+cmd", "-3", "@sum", "'=x", "''=x", "\t=x", " =1", "plain", "it's", "'quoted'", ""] {
            let harmless = harmless_cell(cell);
            assert!(!starts_formula(&harmless), "{harmless}");
            assert_eq!(plain_cell(&harmless), cell);
        }
    }

    #[test]
    fn cells_that_need_it_are_quoted() {
        let text = csv_text(&owned(&["a", "b, c"]), &[owned(&["say \"x\"", "=1"])]);
        assert_eq!(text, "a,\"b, c\"\n\"say \"\"x\"\"\",'=1\n");
        assert_eq!(words_cell("a;=1"), "\"a;=1\"");
        assert_eq!(words_cell(" a"), "\" a\"");
    }

    #[test]
    fn rows_of_any_length_have_the_separator_and_line_end_asked_for() {
        let rows = || [owned(&["-1.5", "", "x"]), owned(&["", ""]), owned(&["\"a\tb\""])];
        assert_eq!(joined_rows(rows(), b',', LineEnd::Lf), "-1.5,,x\n,\n\"a\tb\"\n");
        assert_eq!(joined_rows(rows(), b'\t', LineEnd::CrLf), "-1.5\t\tx\r\n\t\r\n\"a\tb\"\r\n");
        assert_eq!(clipboard_cell("=a\tb\nc"), "'=a b c");
    }

    #[test]
    fn what_is_written_is_read_back_by_the_crate() {
        let cells = ["a;b", "say \"x\"", " blank ", "two\nlines", "tab\there", "plain", ""];
        let text = csv_text(&owned(&["one", "two", "three", "four", "five", "six", "seven"]), &[owned(&cells)]);
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let record = reader.records().next().expect("a row").expect("sound");
        assert_eq!(record.iter().collect::<Vec<_>>(), cells);
    }
}
