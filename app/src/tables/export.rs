//! A table as text for other programs: CSV to save, tab-separated text for the clipboard. Numbers go out in full, with
//! a point; text that a spreadsheet would take for a formula is made harmless.

use super::{Cell, Content, Table};
use likeness_core::figures::FigureTable;
use likeness_core::text::csv::{harmless_cell, quoted};

/// Comma-separated text, UTF-8, with a header row; numbers as computed.
pub fn csv(table: &Table) -> String {
    text_of(table, ",", &|text| quoted(&harmless_cell(text)), &|cell| match &cell.content {
        Content::Number { value, .. } => value.to_string(),
        Content::Verdict(verdict) => verdict.word().to_owned(),
        Content::Words(words) => quoted(&harmless_cell(words)),
        Content::Missing { .. } => String::new(),
    })
}

/// Tab-separated text as a spreadsheet takes it from the clipboard; numbers as shown, with the decimal mark of the
/// reader, which is that of the spreadsheet.
pub fn clipboard(table: &Table, readable: &dyn Fn(&str) -> String) -> String {
    text_of(table, "\t", &|text| harmless_cell(text).replace(['\t', '\n'], " "), &|cell| match &cell.content {
        Content::Number { shown, .. } => readable(shown.trim_start_matches('+')),
        Content::Verdict(verdict) => verdict.in_words().to_owned(),
        Content::Words(words) => harmless_cell(words).replace(['\t', '\n'], " "),
        Content::Missing { .. } => String::new(),
    })
}

fn text_of(table: &Table, separator: &str, safe: &dyn Fn(&str) -> String, show: &dyn Fn(&Cell) -> String) -> String {
    let with_aside = table.rows.iter().any(|row| !row.aside.is_empty());
    let aside = |text: &str| with_aside.then(|| safe(text));
    let heads = table.columns.iter().map(|column| safe(format!("{} {}", column.group, column.head).trim()));
    let mut lines = vec![[safe(&table.corner)].into_iter().chain(aside("")).chain(heads).collect::<Vec<_>>()];
    for row in &table.rows {
        let cells = row.cells.iter().map(show);
        lines.push([safe(&row.head)].into_iter().chain(aside(&row.aside)).chain(cells).collect());
    }
    lines.into_iter().map(|line| line.join(separator) + "\r\n").collect()
}

/// Rows of text as they stand on the screen, header first, as CSV. What is a number in them goes out as one.
pub fn csv_of_rows(rows: impl Iterator<Item = Vec<String>>) -> String {
    rows.map(|row| {
        let cells = row.iter().map(|cell| number_in(cell).unwrap_or_else(|| quoted(&harmless_cell(cell))));
        cells.collect::<Vec<_>>().join(",") + "\r\n"
    })
    .collect()
}

/// The same for the clipboard, numbers with the decimal mark of the reader.
pub fn clipboard_of_rows(rows: impl Iterator<Item = Vec<String>>, readable: &dyn Fn(&str) -> String) -> String {
    let cell = |cell: &String| match number_in(cell) {
        Some(number) => readable(&number),
        None => harmless_cell(cell).replace(['\t', '\n'], " "),
    };
    rows.map(|row| row.iter().map(cell).collect::<Vec<_>>().join("\t") + "\r\n").collect()
}

/// The table behind a figure as such rows.
pub fn rows_of_figure(table: &FigureTable) -> impl Iterator<Item = Vec<String>> + '_ {
    let heads = table.columns.iter().map(|column| column.heading.clone()).collect();
    std::iter::once(heads).chain(table.rows.iter().cloned())
}

/// A cell that holds a number and nothing else, as programs read it: a plain hyphen for the minus sign, no plus sign.
fn number_in(cell: &str) -> Option<String> {
    let plain = cell.replace('\u{2212}', "-");
    let plain = plain.strip_prefix('+').unwrap_or(&plain);
    let is_number = plain.starts_with(|first: char| first.is_ascii_digit() || first == '-')
        && plain.parse::<f64>().is_ok_and(f64::is_finite);
    is_number.then(|| plain.to_owned())
}
