//! Identity: one panel in every shape gives the same scores and the same numbers of the analysis.

use super::*;
use likeness_core::read::{Answer, PartsMean};
use likeness_core::stats::analyse;
use likeness_core::study::Study;
use likeness_core::write::json::analysis_json;
use likeness_tests::workbooks::{Cell, Sheet, ods, xlsx};
use serde_json::Value;
use std::collections::BTreeMap;

const DEMO: &str = include_str!("../../../public/demo/invented-mango-nectar.csv");
const TARGET: &str = "Fresh mango";

type Scores = BTreeMap<(String, String, u32, String), String>;

/// Every score under the names of what it belongs to.
fn scores_of(study: &Study) -> Scores {
    let mut scores = Scores::new();
    for (index, serving) in study.servings.iter().enumerate() {
        for (attribute, named) in study.attributes.iter().enumerate() {
            let Some(score) = study.score(index, attribute) else { continue };
            let assessor = study.assessors[serving.assessor as usize].name.clone();
            let sample = study.samples[serving.sample as usize].name.clone();
            scores.insert((assessor, sample, serving.replicate, named.name.clone()), score.to_string());
        }
    }
    scores
}

fn numbers_of(mut study: Study) -> Value {
    study.settings.target = Some(TARGET.to_owned());
    analysis_json(&analyse(&study), &[])
}

/// Equal but for rounding: sums may run over the servings in another order.
fn assert_alike(found: &Value, expected: &Value, path: &str) {
    match (found, expected) {
        (Value::Number(a), Value::Number(b)) => {
            let (a, b) = (a.as_f64().unwrap(), b.as_f64().unwrap());
            assert!((a - b).abs() <= 1e-9 * b.abs().max(1.0), "{path}: {a} is not {b}");
        }
        (Value::Array(a), Value::Array(b)) => {
            assert_eq!(a.len(), b.len(), "{path}");
            a.iter().zip(b).enumerate().for_each(|(index, (a, b))| assert_alike(a, b, &format!("{path}[{index}]")));
        }
        (Value::Object(a), Value::Object(b)) => {
            assert_eq!(a.keys().collect::<Vec<_>>(), b.keys().collect::<Vec<_>>(), "{path}");
            a.iter().for_each(|(key, value)| assert_alike(value, &b[key], &format!("{path}.{key}")));
        }
        (a, b) => assert_eq!(a, b, "{path}"),
    }
}

#[track_caller]
fn same_as_text(reading: Reading, expected: &Study) {
    let questions = reading.questions.clone();
    let study = reading.study.unwrap_or_else(|| panic!("{:#?} {questions:#?}", reading.notices));
    assert_eq!(study.faults(), Vec::<String>::new());
    assert!(scores_of(&study) == scores_of(expected), "other scores");
    assert_alike(&numbers_of(study), &numbers_of(expected.clone()), "");
}

/// The rows of the demo with only these columns, in this order.
fn demo_columns(columns: &[usize]) -> String {
    let line = |line: &str| {
        let cells: Vec<&str> = line.split(',').collect();
        columns.iter().map(|column| cells[*column]).collect::<Vec<_>>().join(",") + "\n"
    };
    DEMO.lines().map(line).collect()
}

fn samples() -> Vec<&'static str> {
    let mut samples: Vec<&str> = Vec::new();
    for sample in DEMO.lines().skip(1).filter_map(|line| line.split(',').nth(5)) {
        if !samples.contains(&sample) {
            samples.push(sample);
        }
    }
    samples
}

#[test]
fn one_panel_is_the_same_study_in_every_shape() {
    let as_text = read_file("demo.csv", DEMO.as_bytes(), &ReadOptions::default()).study.expect("the demo loads");
    assert_eq!(as_text.score_count(), 1800);
    same_as_text(read(&xlsx(&[Sheet::of("Scores", DEMO)])), &as_text);
    same_as_text(read(&ods(&[Sheet::of("Scores", DEMO)])), &as_text);
    let by_sample: Vec<Sheet> = samples()
        .into_iter()
        .map(|sample| Sheet::of(sample, &without(&rows_of(DEMO, |cells| cells[5] == sample), &[4, 5])))
        .collect();
    same_as_text(read(&xlsx(&by_sample)), &as_text);
    same_as_text(read(&ods(&by_sample)), &as_text);
}

#[test]
fn one_sheet_a_sample_with_its_codes_is_asked_and_then_the_same_study() {
    let as_text = read_file("demo.csv", DEMO.as_bytes(), &ReadOptions::default()).study.expect("the demo loads");
    let sheet = |sample: &str| Sheet::of(sample, &without(&rows_of(DEMO, |cells| cells[5] == sample), &[5]));
    let book = xlsx(&samples().into_iter().map(sheet).collect::<Vec<_>>());
    let reading = read(&book);
    assert!(reading.study.is_none());
    let first = &reading.questions[0].choices[0];
    assert_eq!(first.label, "Each sheet is a sample");
    let reading = read_with(&book, |options| *options = options.clone().answered(&first.answer));
    assert!(reading.study.as_ref().is_some_and(|study| study.samples[0].codes.contains(&"354".to_owned())));
    same_as_text(reading, &as_text);
}

#[test]
fn one_sheet_an_assessor_is_the_same_study() {
    let as_text = read_file("demo.csv", DEMO.as_bytes(), &ReadOptions::default()).study.expect("the demo loads");
    let sheets: Vec<Sheet> = as_text
        .assessors
        .iter()
        .map(|assessor| Sheet::of(&assessor.name, &without(&rows_of(DEMO, |cells| cells[2] == assessor.name), &[2, 4])))
        .collect();
    let reading = read(&xlsx(&sheets));
    assert_eq!(
        told(&reading),
        [
            "panel.xlsx: No column names the assessor, so each of 12 sheets was read as one assessor. Confirm it, or say \
          what tells the sheets apart."
        ]
    );
    same_as_text(reading, &as_text);
}

#[test]
fn codes_joined_to_their_key_are_the_same_study() {
    let as_text = read_file("demo.csv", DEMO.as_bytes(), &ReadOptions::default()).study.expect("the demo loads");
    let coded = without(DEMO, &[5]);
    let key = demo_columns(&[0, 2, 4, 5]);
    let sheets = [Sheet::of("Scores", &coded), Sheet::of("Key", &key)];
    same_as_text(read(&xlsx(&sheets)), &as_text);
    same_as_text(read(&ods(&sheets)), &as_text);
    same_as_text(read_many(&[("scores.csv", &coded), ("key.csv", &key)]), &as_text);
}

#[test]
fn two_header_rows_are_the_same_study() {
    let as_text = read_file("demo.csv", DEMO.as_bytes(), &ReadOptions::default()).study.expect("the demo loads");
    let samples = samples();
    let attributes: Vec<&str> = DEMO.lines().next().expect("a header").split(',').skip(6).collect();
    let mut rows: BTreeMap<(usize, &str), BTreeMap<&str, Vec<&str>>> = BTreeMap::new();
    let order: Vec<String> = as_text.assessors.iter().map(|assessor| assessor.name.clone()).collect();
    for line in DEMO.lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let assessor = order.iter().position(|name| name == cells[2]).expect("an assessor");
        rows.entry((assessor, cells[1])).or_default().insert(cells[5], cells[6..].to_vec());
    }
    // The name of a group stands in its first cell alone, as merged cells are saved.
    let gap = ",".repeat(attributes.len() - 1);
    let upper: String = samples.iter().map(|sample| format!(",{sample}{gap}")).collect();
    let lower: String = samples.iter().map(|_| format!(",{}", attributes.join(","))).collect();
    let mut table = format!(",{upper}\nassessor,replicate{lower}\n");
    for ((assessor, replicate), scores) in &rows {
        let cells: Vec<String> = samples.iter().map(|sample| scores[sample].join(",")).collect();
        table.push_str(&format!("{},{replicate},{}\n", order[*assessor], cells.join(",")));
    }
    for reading in [read(&xlsx_wide(&table)), read_file("panel.csv", table.as_bytes(), &ReadOptions::default())] {
        assert_eq!(reading.preview.counts.scores, 1800, "{:#?}", reading.notices);
        same_as_text(reading, &as_text);
    }
}

/// A workbook of more columns than there are letters.
fn xlsx_wide(table: &str) -> Vec<u8> {
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet();
    for (row, line) in table.lines().enumerate() {
        for (column, cell) in line.split(',').enumerate().filter(|(_, cell)| !cell.is_empty()) {
            let (row, column) = (row as u32, column as u16);
            match cell.parse::<f64>() {
                Ok(number) => sheet.write_number(row, column, number).expect("a cell"),
                Err(_) => sheet.write_string(row, column, cell).expect("a cell"),
            };
        }
    }
    book.save_to_buffer().expect("a workbook")
}

#[test]
fn files_of_two_sessions_hold_the_scores_of_both() {
    let as_text = read_file("demo.csv", DEMO.as_bytes(), &ReadOptions::default()).study.expect("the demo loads");
    let day = |wanted: &str| rows_of(DEMO, |cells| cells[0] == wanted);
    let reading = read_many(&[("one.csv", &day("Day 1")), ("two.csv", &day("Day 2"))]);
    let answered = ReadOptions::default().answered(&Answer::FilesMean(PartsMean::Nothing));
    let confirmed = read_files(&given(&[("one.csv", &day("Day 1")), ("two.csv", &day("Day 2"))]), &answered);
    assert_eq!(told(&confirmed), Vec::<String>::new());
    assert_eq!(reading.study.as_ref().map(|study| study.sessions.clone()), Some(as_text.sessions.clone()));
    same_as_text(reading, &as_text);
    same_as_text(confirmed, &as_text);
}

#[test]
fn cells_of_a_sheet_know_their_places() {
    let book = xlsx(&[Sheet::of("Day 1", PANEL).with(1, 3, Cell::Number(145.0))]);
    check(
        read(&book),
        &["sheet Day 1, row 2, column D (green): 145 is outside the scale 0 to 100; it was read as missing. Was 14.5 \
           meant? Put the score right in the file."],
    );
}
