//! Cells of CSV text that any program reads and no spreadsheet runs: quoted where needed, formulas made harmless.

/// CSV with every cell quoted where needed, header first, lines ended by LF. A cell that a spreadsheet would take for a
/// formula gets an apostrophe in front, which `plain_cell` takes away again.
pub fn csv_text(columns: &[String], rows: &[Vec<String>]) -> String {
    let mut text = String::new();
    for row in std::iter::once(columns).chain(rows.iter().map(Vec::as_slice)) {
        let cells: Vec<String> = row.iter().map(|cell| quoted(&harmless_cell(cell))).collect();
        text.push_str(&cells.join(","));
        text.push('\n');
    }
    text
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
        let text = csv_text(&["a".to_owned(), "b, c".to_owned()], &[vec!["say \"x\"".to_owned(), "=1".to_owned()]]);
        assert_eq!(text, "a,\"b, c\"\n\"say \"\"x\"\"\",'=1\n");
    }
}
