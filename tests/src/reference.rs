//! Reference data and expected figures as the tests read them. It reads plain comma tables without quoting in them and
//! does not go through the reader that ships, so that a fault there cannot hide a fault in the statistics.

use likeness_core::study::{Scale, ScoreAddress, Study, StudyBuilder};
use serde_json::Value;
use std::path::PathBuf;

/// A file below `tests/reference`.
pub fn path(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("reference").join(name)
}

/// Text of a file below `tests/reference`.
pub fn text(name: &str) -> String {
    std::fs::read_to_string(path(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// Expected figures below `tests/reference/expected`.
pub fn expected(name: &str) -> Value {
    serde_json::from_str(&text(&format!("expected/{name}"))).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// Rows of a comma table, the header first; quotes around a cell are taken off.
pub fn rows(name: &str) -> Vec<Vec<String>> {
    let split = |line: &str| line.split(',').map(|cell| cell.trim_matches('"').to_owned()).collect();
    text(name).lines().filter(|line| !line.is_empty()).map(split).collect()
}

/// A study from a wide table: assessor, sample, replicate, then one column an attribute.
pub fn wide_study(name: &str) -> Study {
    let rows = rows(&format!("data/{name}"));
    let mut builder = StudyBuilder::new(Scale::default());
    for row in &rows[1..] {
        for (attribute, score) in rows[0].iter().zip(row).skip(3) {
            add(&mut builder, row, attribute, score);
        }
    }
    builder.finish(name)
}

/// A study from a long table: assessor, sample, replicate, attribute, score.
pub fn long_study(name: &str) -> Study {
    let mut builder = StudyBuilder::new(Scale::default());
    for row in &rows(&format!("data/{name}"))[1..] {
        add(&mut builder, row, &row[3], &row[4]);
    }
    builder.finish(name)
}

fn add(builder: &mut StudyBuilder, row: &[String], attribute: &str, score: &str) {
    let replicate = row[2].parse().expect("replicate");
    let address = ScoreAddress { assessor: &row[0], sample: &row[1], replicate, ..ScoreAddress::default() };
    builder.add(address, attribute, score.parse().expect("score")).expect("two scores for one cell");
}

/// A number in an expected file.
pub fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("not a number: {value}"))
}

/// Fails unless `got` equals `expected` to `relative`, measured against `expected`.
#[track_caller]
pub fn assert_close(what: &str, got: f64, expected: f64, relative: f64) {
    let error = (got - expected).abs();
    assert!(
        error <= relative * expected.abs(),
        "{what}: got {got:e}, expected {expected:e}, relative error {:e}",
        error / expected.abs()
    );
}
