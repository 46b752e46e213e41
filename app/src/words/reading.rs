//! The words of opening a file.

use super::{UNKNOWN, grouped};
use likeness_core::read::{ColumnRole, Counts, DecimalMark, TableShape};

/// The roles in the order in which they are offered.
pub const ROLES: [ColumnRole; 14] = [
    ColumnRole::Assessor,
    ColumnRole::Sample,
    ColumnRole::Code,
    ColumnRole::Replicate,
    ColumnRole::Session,
    ColumnRole::Position,
    ColumnRole::Label,
    ColumnRole::AttributeScores,
    ColumnRole::Attribute,
    ColumnRole::Score,
    ColumnRole::AssessorScores,
    ColumnRole::SampleScores,
    ColumnRole::ReplicateScores,
    ColumnRole::Ignored,
];

pub fn separator(separator: Option<u8>) -> String {
    match separator {
        Some(b',') => "comma".to_owned(),
        Some(b';') => "semicolon".to_owned(),
        Some(b'\t') => "tab".to_owned(),
        Some(b'|') => "vertical bar".to_owned(),
        Some(other) => char::from(other).to_string(),
        None => UNKNOWN.to_owned(),
    }
}

pub fn decimal(mark: Option<DecimalMark>) -> String {
    match mark {
        Some(DecimalMark::Point) => "point".to_owned(),
        Some(DecimalMark::Comma) => "comma".to_owned(),
        None => "none: whole numbers".to_owned(),
    }
}

pub fn shape(shape: Option<TableShape>) -> String {
    match shape {
        Some(TableShape::Long) => "one row a score",
        Some(TableShape::Wide) => "one row a serving, one column an attribute",
        Some(TableShape::Transposed) => "one column a serving, attributes down the rows",
        Some(TableShape::AssessorsAcross) => "one column an assessor",
        Some(TableShape::SamplesAcross) => "one column a sample",
        Some(TableShape::ReplicatesAcross) => "one column a replicate",
        None => UNKNOWN,
    }
    .to_owned()
}

/// Counts with their words.
pub fn tally(counts: &Counts) -> Vec<(String, &'static str)> {
    let word =
        |count: usize, one: &'static str, many: &'static str| (grouped(count), if count == 1 { one } else { many });
    let mut tally = vec![
        word(counts.assessors, "assessor", "assessors"),
        word(counts.samples, "sample", "samples"),
        word(counts.attributes, "attribute", "attributes"),
        word(counts.replicates, "replicate", "replicates"),
    ];
    if counts.sessions > 0 {
        tally.push(word(counts.sessions, "session", "sessions"));
    }
    tally.push(word(counts.scores, "score", "scores"));
    tally.push(word(counts.missing, "score missing", "scores missing"));
    tally
}

pub fn role_of(header: &str, column: usize) -> String {
    format!("What column {} ({header}) holds", column + 1)
}

pub fn row_and_column(row: Option<u32>, column: Option<u32>) -> String {
    match (row, column) {
        (Some(row), Some(column)) => format!("row {row}, column {column}"),
        (Some(row), None) => format!("row {row}"),
        (None, Some(column)) => format!("column {column}"),
        (None, None) => String::new(),
    }
}

/// A saved study came together with other files.
pub const SAVED_STUDY_ALONE: &str = "Open the saved study alone, or the files of scores without it.";

pub fn saved_study_among_files(name: &str) -> String {
    format!("{name} is a saved study and can't be read together with other files.")
}
