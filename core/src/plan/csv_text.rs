//! Tables of the plan as CSV text that a spreadsheet opens without running anything. It knows nothing of what the
//! tables hold.

/// A sheet to be printed or saved: a title, notes above it, and cells as text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetTable {
    pub title: String,
    /// True where assessors and servers must not see it.
    pub confidential: bool,
    /// Sentences that belong above the table.
    pub notes: Vec<String>,
    pub columns: Vec<String>,
    /// Each row has one cell a column.
    pub rows: Vec<Vec<String>>,
}

impl SheetTable {
    /// The table as CSV, header first, lines ended by LF. Notes are not part of it.
    pub fn to_csv(&self) -> String {
        csv_text(&self.columns, &self.rows)
    }
}

/// CSV with every cell quoted where needed. A cell that a spreadsheet would take for a formula gets an apostrophe in
/// front, which `plain_cell` takes away again.
pub fn csv_text(columns: &[String], rows: &[Vec<String>]) -> String {
    let mut text = String::new();
    for row in std::iter::once(columns).chain(rows.iter().map(Vec::as_slice)) {
        let cells: Vec<String> = row.iter().map(|cell| quoted(&harmless_cell(cell))).collect();
        text.push_str(&cells.join(","));
        text.push('\n');
    }
    text
}

/// The cell with an apostrophe in front where it would start a formula, or where it has one there already.
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

fn starts_formula(cell: &str) -> bool {
    cell.starts_with(['=', '+', '-', '@', '\t', '\r', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}'])
}

fn quoted(cell: &str) -> String {
    if cell.contains([',', ';', '"', '\n', '\r', '\t']) || cell.trim() != cell {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_formula_is_made_harmless_and_comes_back() {
        for cell in ["=1+2", "+cmd", "-3", "@sum", "'=x", "''=x", "\t=x", "plain", "it's", "'quoted'", ""] {
            let harmless = harmless_cell(cell);
            assert!(!starts_formula(&harmless), "{harmless}");
            assert_eq!(plain_cell(&harmless), cell);
        }
    }

    #[test]
    fn cells_that_need_it_are_quoted() {
        let text = csv_text(&["a".to_owned(), "b, c".to_owned()], &[vec!["say \"x\"".to_owned(), "=1".to_owned()]]);
        assert_eq!(text, "a,\"b, c\"\n\"say \"\"x\"\"\",'=1\n");
    }
}
