//! The bad-input table: one case a row, each with everything that is told beyond how the file was understood.
//! All panels here are invented.

mod cells;
mod clean;
mod column_roles;
mod duplicates_and_replicates;
mod files;
mod headers;
mod names_and_codes;
mod rows;
mod scales;
mod separators_and_decimals;
mod shapes;
mod small_studies;

use likeness_core::notice::Severity;
use likeness_core::read::{
    Answer, ColumnRole, ColumnRoles, DecimalMark, DuplicateChoice, PartsMean, ReadOptions, Reading, TableShape,
    read_text,
};
use likeness_tests::studies::PANEL;

fn read(input: &str) -> Reading {
    read_text("panel.csv", input.as_bytes(), &ReadOptions::default())
}

fn read_with(input: &str, change: impl FnOnce(&mut ReadOptions)) -> Reading {
    let mut options = ReadOptions::default();
    change(&mut options);
    read_text("panel.csv", input.as_bytes(), &options)
}

/// Everything told that is more than how the file was understood, without the file's name.
fn told(reading: &Reading) -> Vec<String> {
    let told = reading.notices.iter().filter(|notice| notice.severity > Severity::Understood);
    told.map(|notice| notice.to_string().replacen("panel.csv, ", "", 1).replacen("panel.csv: ", "", 1)).collect()
}

/// The file loads, and exactly these things are told.
#[track_caller]
fn check(input: &str, expected: &[&str]) -> Reading {
    let reading = read(input);
    assert_eq!(told(&reading), expected);
    assert!(reading.study.is_some(), "{:?} {:?}", reading.notices, reading.questions);
    reading
}

/// Nothing is loaded, and exactly these things are told.
#[track_caller]
fn refuse(input: &str, expected: &[&str]) -> Reading {
    let reading = read(input);
    assert_eq!(told(&reading), expected);
    assert!(reading.study.is_none());
    reading
}

/// Among what was understood is this sentence.
#[track_caller]
fn understood(reading: &Reading, expected: &str) {
    let all: Vec<String> = reading.notices.iter().map(|notice| notice.what.clone()).collect();
    assert!(all.iter().any(|what| what == expected), "{all:#?}");
}

#[track_caller]
fn score(reading: &Reading, serving: usize, attribute: usize, expected: Option<f64>) {
    let study = reading.study.as_ref().expect("the file loads");
    let found = study.score(serving, attribute);
    let same = match (found, expected) {
        (Some(found), Some(expected)) => (found - expected).abs() < 1e-12,
        (found, expected) => found.is_none() && expected.is_none(),
    };
    assert!(same, "{found:?} is not {expected:?}");
}

const ROLES_HINT: &str = "A table of panel scores has a column that names the assessor, one that names the sample, \
     and either one column per attribute or an attribute column beside a score column. Means over assessors can't be \
     judged, since the spread between assessors is what tells a difference from chance.";
const READABLE: &str = "Likeness reads workbooks (.xlsx, .ods) and text tables: .csv, .tsv or .txt with a comma, \
     semicolon, tab or bar between the cells.";
