//! Where the table begins: lines of titles above, the header, the first row of data. It knows nothing of scores.

use super::names::tidy;
use super::numbers::{is_missing, looks_like_number};
use super::table::Table;
use super::words::role_of_header;

/// What the rows of a table are. Rows are counted from 0 in the table.
#[derive(Debug, Default, PartialEq, Eq)]
pub(super) struct Layout {
    pub header: Option<usize>,
    pub first_data: usize,
    /// Header of each column; empty where the header has none.
    pub names: Vec<String>,
}

/// The header is looked for among this many rows.
const SEARCHED_ROWS: usize = 20;

pub(super) fn find(table: &Table<'_>, stated_line: Option<u32>) -> Layout {
    let stated = stated_line.and_then(|line| (0..table.row_count()).find(|row| table.line(*row) == line));
    let header = stated.or_else(|| header_by_words(table)).or_else(|| header_by_contrast(table));
    let first_data = header.map_or_else(|| first_full_row(table), |row| row + 1);
    Layout { header, first_data, names: names(table, header) }
}

/// The first row in which two different roles or more are named.
fn header_by_words(table: &Table<'_>) -> Option<usize> {
    (0..table.row_count().min(SEARCHED_ROWS)).find(|row| roles_named(table, *row) >= 2)
}

pub(super) fn roles_named(table: &Table<'_>, row: usize) -> usize {
    let mut roles: Vec<_> = (0..table.width(row))
        .filter_map(|column| role_of_header(&table.text(row, column)))
        .map(|(role, _)| role)
        .collect();
    roles.sort_unstable();
    roles.dedup();
    roles.len()
}

/// The first full row, if it has words where the rows below have numbers.
fn header_by_contrast(table: &Table<'_>) -> Option<usize> {
    let row = first_full_row(table);
    if row + 1 >= table.row_count() {
        return None;
    }
    let numbers_above_numbers = (0..table.width(row))
        .filter(|column| looks_like_number(table.cell(row, *column)))
        .any(|column| share_of_numbers(table, row + 1, column) > 0.8);
    (!numbers_above_numbers).then_some(row)
}

/// The first row with at least half as many filled cells as rows usually have.
fn first_full_row(table: &Table<'_>) -> usize {
    let width = table.commonest_width();
    (0..table.row_count()).find(|row| table.filled(*row) * 2 >= width.max(2)).unwrap_or(0)
}

/// Share of numbers among the filled cells of a column, from a row on; at most two hundred rows are looked at.
pub(super) fn share_of_numbers(table: &Table<'_>, from: usize, column: usize) -> f64 {
    let cells = (from..table.row_count()).take(200).map(|row| table.cell(row, column));
    let filled: Vec<&[u8]> = cells.filter(|cell| !is_missing(cell)).collect();
    let numbers = filled.iter().filter(|cell| looks_like_number(cell)).count();
    if filled.is_empty() { 0.0 } else { numbers as f64 / filled.len() as f64 }
}

fn names(table: &Table<'_>, header: Option<usize>) -> Vec<String> {
    let width = header.map_or(0, |row| table.width(row)).max(table.commonest_width());
    (0..width).map(|column| header.map_or_else(String::new, |row| tidy(&table.text(row, column)))).collect()
}
