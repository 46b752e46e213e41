//! The results workbook: one .xlsx file with a sheet for each kind of result, the scores and the record.
//!
//! Numbers are numbers with a format that suits them; text is written as text, so that no name becomes a formula. The
//! same study gives the same bytes: there is no clock in it, and numbers carry twelve digits.

mod book;
mod record;

use super::people;
use super::sentences::candidate_sentence;
use super::tidy::tidy_rows;
use crate::stats::StudyResults;
use crate::stats::study_bootstrap::StudyBootstrap;
use crate::study::Study;
use crate::tables;
use crate::tables::{ColumnKind, ResultCell, ResultColumn, ResultTable};
use book::Book;

/// Rows that a sheet holds below its header (Office Open XML has 1,048,576 in all).
const ROWS_AT_MOST: usize = 1_048_575;

/// The workbook as the bytes of an .xlsx file, with what was drawn from the same study.
///
/// # Errors
/// What the writer of the file says; none is known to happen with what stands here.
pub fn workbook_bytes(study: &Study, bootstrap: &StudyBootstrap) -> Result<Vec<u8>, String> {
    let study = people::as_shown(study);
    let found = StudyResults::of(&study);
    let analysis = &found.analysis;
    let mut book = Book::new(&study.title)?;
    book.sheet("Verdicts", &verdicts(&found))?;
    book.sheet("Differences", &tables::differences(analysis, None))?;
    if let Ok(distances) = &bootstrap.distances {
        book.sheet("Closeness", &tables::closeness(analysis, distances))?;
    }
    book.sheet("Means", &tables::means_long(analysis))?;
    book.sheet("ANOVA", &tables::variance(analysis))?;
    book.sheet("Panel", &tables::assessors(analysis, &found.panel))?;
    book.sheet("Panel by attribute", &tables::panel_attributes(analysis, &found.panel))?;
    book.sheet("Scores", &scores(&study))?;
    book.sheet("Left out", &record::exclusions(&study))?;
    book.sheet("Corrected", &record::edits(&study))?;
    book.sheet("Log", &record::log(&study, analysis))?;
    book.sheet("About", &record::about(&study, analysis))?;
    book.into_bytes()
}

/// The table of verdicts with the sentence of each.
fn verdicts(found: &StudyResults) -> ResultTable {
    let mut table = tables::verdicts(&found.analysis);
    table.columns.push(ResultColumn::plain("in words", ColumnKind::Words));
    for (row, candidate) in table.rows.iter_mut().zip(&found.analysis.candidates) {
        row.push(ResultCell::words(candidate_sentence(&found.analysis, candidate)));
    }
    table
}

/// One score a line.
fn scores(study: &Study) -> ResultTable {
    let words = |head| ResultColumn::plain(head, ColumnKind::Words);
    let count = |head| ResultColumn::plain(head, ColumnKind::Count);
    let or_empty = |value: Option<f64>| value.map_or_else(|| ResultCell::words(""), ResultCell::Number);
    let rows = tidy_rows(study).into_iter().take(ROWS_AT_MOST).map(|row| {
        vec![
            ResultCell::words(row.assessor),
            ResultCell::words(row.sample),
            ResultCell::Number(f64::from(row.replicate)),
            ResultCell::words(row.session.unwrap_or_default()),
            or_empty(row.position.map(f64::from)),
            ResultCell::words(row.label.unwrap_or_default()),
            ResultCell::words(row.attribute),
            or_empty(row.score),
            ResultCell::words(if row.excluded_because.is_empty() { "no" } else { "yes" }),
            ResultCell::words(row.excluded_because.join("; ")),
            ResultCell::words(row.file),
            ResultCell::words(row.sheet.unwrap_or_default()),
            ResultCell::Number(f64::from(row.row)),
            ResultCell::Number(f64::from(row.column)),
        ]
    });
    ResultTable {
        caption: String::new(),
        columns: vec![
            words("assessor"),
            words("sample"),
            count("replicate"),
            words("session"),
            count("position"),
            words("label"),
            words("attribute"),
            // As it was given, not as results are rounded.
            ResultColumn::plain("score", ColumnKind::AsGiven),
            words("left out"),
            words("reason"),
            words("source file"),
            words("source sheet"),
            count("source row"),
            count("source column"),
        ],
        rows: rows.collect(),
        notes: Vec::new(),
        scale_maximum: study.scale.maximum,
    }
}
