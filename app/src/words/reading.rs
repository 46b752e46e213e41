//! The words of opening a file.

use super::opening::UNKNOWN;
use super::{counted, grouped};
use likeness_core::notice::Place;
use likeness_core::read::{CellMap, ColumnRole, Counts, DecimalMark, PreviewSheet, SheetUse, TableShape};

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

/// Row and column of a place, with the sheet, and the file where there are several.
pub fn place(place: &Place, is_one_file: bool) -> String {
    if is_one_file { Place { file: None, ..place.clone() }.to_string() } else { place.to_string() }
}

pub const SHEETS: &str = "Sheets and files";
pub const SHEET: &str = "Sheet or file";
pub const SHEET_USED_FOR: &str = "Used for";
pub const SHEET_ROWS: &str = "Rows";
pub const SHEET_WHY: &str = "Why";
pub const FROM: &str = "From";
pub const ASSESSOR: &str = "Assessor";
pub const CELL_MAP: &str = "What is there";
pub const CELL_MAP_KEY: &str =
    "A filled square: all scores are there. Half filled: some are missing. Empty: none came.";

/// What a sheet may be used for, in the order in which it is offered.
pub const SHEET_USES: [SheetUse; 3] = [SheetUse::Scores, SheetUse::Key, SheetUse::LeftOut];

pub fn sheet_use(sheet_use: SheetUse) -> &'static str {
    match sheet_use {
        SheetUse::Scores => "scores",
        SheetUse::Key => "key of codes",
        SheetUse::LeftOut => "left out",
    }
}

pub fn sheet_name(sheet: &PreviewSheet) -> String {
    match &sheet.sheet {
        Some(name) => format!("{name} ({})", sheet.file),
        None => sheet.file.clone(),
    }
}

pub fn use_of(name: &str) -> String {
    format!("What {name} is used for")
}

/// Where a row of the preview stands, among several sheets or files.
pub fn line_of(sheet: &PreviewSheet, line: u32) -> String {
    format!("{}, {line}", sheet.sheet.as_ref().unwrap_or(&sheet.file))
}

pub fn scores_of(scores: usize, full: usize) -> String {
    format!("{scores} of {full}")
}

pub fn cell_map_summary(map: &CellMap) -> String {
    let cells = map.full_cells + map.part_cells + map.empty_cells;
    if map.full_cells == cells {
        return format!("Every assessor scored every sample in full: {} scores in each of {cells} cells.", map.full);
    }
    format!(
        "Of {} of assessors and samples, {} full ({} scores), {} in part, {} empty.",
        counted(cells, "pair", "pairs"),
        map.full_cells,
        map.full,
        map.part_cells,
        map.empty_cells
    )
}

/// A saved study came together with other files.
pub const SAVED_STUDY_ALONE: &str = "Open the saved study alone, or the files of scores without it.";

pub fn saved_study_among_files(name: &str) -> String {
    format!("{name} is a saved study and can't be read together with other files.")
}
