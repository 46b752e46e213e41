//! The results workbook: one .xlsx file with a sheet for each kind of result, the scores and the record.
//!
//! Numbers are numbers with a format that suits them; text is written as text, so that no name becomes a formula. The
//! same study gives the same bytes: there is no clock in it, and numbers carry twelve digits.

mod book;
mod record;

use super::people;
use super::tidy::{TidyRow, tidy_rows};
use crate::catalogue::Results;
use crate::study::Study;
use crate::table::{Cell, Column, Format, Table};
use book::Book;

/// Rows that a sheet holds below its header (Office Open XML has 1,048,576 in all).
const ROWS_AT_MOST: usize = 1_048_575;

/// The workbook as the bytes of an .xlsx file. `results` are those of the study as it is shown on paper.
///
/// # Errors
/// What the writer of the file says; none is known to happen with what stands here.
pub fn workbook_bytes(study: &Study, results: &Results) -> Result<Vec<u8>, String> {
    let study = people::as_shown(study);
    let analysis = &results.given.analysis;
    let mut book = Book::new(&study.title)?;
    for (entry, found) in results.iter() {
        let sheets = found.as_ref().map_or_else(|_| Vec::new(), |found| entry.sheets(&results.given, found));
        sheets.iter().try_for_each(|table| book.sheet(&table.sheet(), table))?;
    }
    book.sheet("Scores", &scores(&study))?;
    if study.from_pictures.is_some() {
        book.sheet("Read from pictures", &record::pictures(&study))?;
    }
    book.sheet("Left out", &record::exclusions(&study))?;
    book.sheet("Corrected", &record::edits(&study))?;
    book.sheet("Log", &record::log(&study, analysis))?;
    book.sheet("About", &record::about(&study, results))?;
    book.into_bytes()
}

/// One score a line.
fn scores(study: &Study) -> Table {
    let rows = tidy_rows(study).into_iter().take(ROWS_AT_MOST).map(score_row);
    Table::new("scores", "", score_columns(), study.scale.maximum).with_rows(rows)
}

fn score_columns() -> Vec<Column> {
    let words = |head| Column::of(head, Format::Words, "");
    let count = |head| Column::of(head, Format::Count, "");
    vec![
        words("assessor"),
        words("sample"),
        count("replicate"),
        words("session"),
        count("position"),
        words("label"),
        words("attribute"),
        // As it was given, not as results are rounded.
        Column::of("score", Format::AsGiven, ""),
        words("left out"),
        words("reason"),
        words("source file"),
        words("source sheet"),
        count("source row"),
        count("source column"),
    ]
}

fn score_row(row: TidyRow<'_>) -> Vec<Cell> {
    let or_empty = |value: Option<f64>| value.map_or_else(|| Cell::words(""), Cell::number);
    vec![
        Cell::words(row.assessor),
        Cell::words(row.sample),
        Cell::number(f64::from(row.replicate)),
        Cell::words(row.session.unwrap_or_default()),
        or_empty(row.position.map(f64::from)),
        Cell::words(row.label.unwrap_or_default()),
        Cell::words(row.attribute),
        or_empty(row.score),
        Cell::words(if row.excluded_because.is_empty() { "no" } else { "yes" }),
        Cell::words(row.excluded_because.join("; ")),
        Cell::words(row.file),
        Cell::words(row.sheet.unwrap_or_default()),
        Cell::number(f64::from(row.row)),
        Cell::number(f64::from(row.column)),
    ]
}
