//! A table as text for other programs: CSV to save, tab-separated text for the clipboard. Numbers go out in full, with
//! a point; text that a spreadsheet would take for a formula is made harmless.

use crate::table::{Cell, Column, Row, Table, Value};
use crate::text::csv::{harmless_cell, quoted};

/// Comma-separated text, UTF-8, with a header row; numbers as computed.
pub fn csv(table: &Table) -> String {
    text_of(table, ",", &in_csv, &|cell, _| match &cell.value {
        Value::Number(value) | Value::Said { value, .. } => value.to_string(),
        Value::Verdict(verdict) => verdict.word().to_owned(),
        Value::Words(words) => in_csv(words),
        Value::NotDefined(_) => String::new(),
    })
}

/// Tab-separated text as a spreadsheet takes it from the clipboard; numbers as shown, with the decimal mark of the
/// reader, which is that of the spreadsheet.
pub fn clipboard(table: &Table, readable: &dyn Fn(&str) -> String) -> String {
    text_of(table, "\t", &on_clipboard, &|cell, column| match &cell.value {
        Value::Number(_) | Value::Said { .. } => {
            readable(cell.shown(column.format, table.scale_maximum).trim_start_matches('+'))
        }
        Value::Verdict(verdict) => verdict.in_words().to_owned(),
        Value::Words(words) => on_clipboard(words),
        Value::NotDefined(_) => String::new(),
    })
}

/// Details of the names stand in a column of their own, without a head, where there are any.
fn text_of(
    table: &Table,
    separator: &str,
    safe: &dyn Fn(&str) -> String,
    show: &dyn Fn(&Cell, &Column) -> String,
) -> String {
    let with_aside = table.has_details(0);
    let line = |mut cells: Vec<String>, aside: &str| {
        if with_aside {
            cells.insert(1, safe(aside));
        }
        cells.join(separator) + "\r\n"
    };
    let heads = table.columns.iter().map(|column| safe(&column.full_head())).collect();
    let row = |row: &Row| {
        let cells = row.cells.iter().zip(&table.columns).map(|(cell, column)| show(cell, column)).collect();
        line(cells, row.cells.first().map_or("", |cell| &cell.detail))
    };
    line(heads, "") + &table.rows.iter().map(row).collect::<String>()
}

/// Rows of text as they stand on the screen, header first, as CSV. What is a number in them goes out as one.
pub fn csv_of_rows(rows: impl Iterator<Item = Vec<String>>) -> String {
    rows.map(|row| {
        let cells = row.iter().map(|cell| number_in(cell).unwrap_or_else(|| in_csv(cell)));
        cells.collect::<Vec<_>>().join(",") + "\r\n"
    })
    .collect()
}

/// The same for the clipboard, numbers with the decimal mark of the reader.
pub fn clipboard_of_rows(rows: impl Iterator<Item = Vec<String>>, readable: &dyn Fn(&str) -> String) -> String {
    let cell = |cell: &String| match number_in(cell) {
        Some(number) => readable(&number),
        None => on_clipboard(cell),
    };
    rows.map(|row| row.iter().map(cell).collect::<Vec<_>>().join("\t") + "\r\n").collect()
}

fn in_csv(text: &str) -> String {
    quoted(&harmless_cell(text))
}

fn on_clipboard(text: &str) -> String {
    harmless_cell(text).replace(['\t', '\n'], " ")
}

/// A cell that holds a number and nothing else, as programs read it: a plain hyphen for the minus sign, no plus sign.
fn number_in(cell: &str) -> Option<String> {
    let plain = cell.replace('\u{2212}', "-");
    let plain = plain.strip_prefix('+').unwrap_or(&plain);
    let is_number = plain.starts_with(|first: char| first.is_ascii_digit() || first == '-')
        && plain.parse::<f64>().is_ok_and(f64::is_finite);
    is_number.then(|| plain.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::Format;

    #[test]
    fn text_that_looks_like_a_formula_is_made_harmless_and_numbers_are_not_touched() {
        let table = small_table("=HYPERLINK(\"x\")", "");
        assert_eq!(csv(&table), "attribute,difference\r\n\"'=HYPERLINK(\"\"x\"\")\",-1.26\r\n");
    }

    #[test]
    fn the_clipboard_gets_the_numbers_as_shown() {
        assert_eq!(clipboard(&small_table("green", ""), &str::to_owned), "attribute\tdifference\r\ngreen\t-1.3\r\n");
    }

    #[test]
    fn what_is_said_beside_a_name_stands_in_a_column_of_its_own() {
        let table = small_table("green", "does not decide");
        assert_eq!(csv(&table), "attribute,,difference\r\ngreen,does not decide,-1.26\r\n");
    }

    #[test]
    fn rows_as_they_stand_give_numbers_where_there_are_numbers() {
        let rows = || {
            let cells =
                [["sample", "difference"], ["=A", "\u{2212}1.5"], ["012", "+2"], ["-x", "+2 (1 to 3)"], ["a;b", "inf"]];
            cells.into_iter().map(|row| row.map(str::to_owned).to_vec())
        };
        let text = csv_of_rows(rows());
        assert_eq!(text, "sample,difference\r\n'=A,-1.5\r\n012,2\r\n'-x,'+2 (1 to 3)\r\n\"a;b\",inf\r\n");
        let comma = |text: &str| text.replace('.', ",");
        let text = clipboard_of_rows(rows(), &comma);
        assert_eq!(text, "sample\tdifference\r\n'=A\t-1,5\r\n012\t2\r\n'-x\t'+2 (1 to 3)\r\na;b\tinf\r\n");
    }

    fn small_table(name: &str, aside: &str) -> Table {
        let columns = vec![Column::name("attribute"), Column::of("difference", Format::Difference, "difference")];
        Table::new("small", "", columns, 100.0)
            .with_rows([vec![Cell::words(name).with_detail(aside), Cell::number(-1.26).selecting("A")]])
    }
}
