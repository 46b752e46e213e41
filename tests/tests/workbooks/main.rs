//! Workbooks and several files: every shape gives the same study, and every oddity its exact notice.
//! All panels here are invented; all workbooks are made by the test itself.

mod broken;
mod cells;
mod keys;
mod other_programs;
mod same_study;
mod sessions;
mod sheets;

use likeness_core::notice::Severity;
use likeness_core::read::{GivenFile, ReadOptions, Reading, read_file, read_files};
use likeness_tests::studies::PANEL;
use std::sync::Arc;

fn read(bytes: &[u8]) -> Reading {
    read_file("panel.xlsx", bytes, &ReadOptions::default())
}

fn read_with(bytes: &[u8], change: impl FnOnce(&mut ReadOptions)) -> Reading {
    let mut options = ReadOptions::default();
    change(&mut options);
    read_file("panel.xlsx", bytes, &options)
}

/// Several text files, each with its name.
fn given(files: &[(&str, &str)]) -> Vec<GivenFile> {
    let file =
        |(name, text): &(&str, &str)| GivenFile { name: (*name).to_owned(), bytes: Arc::new(text.as_bytes().to_vec()) };
    files.iter().map(file).collect()
}

fn read_many(files: &[(&str, &str)]) -> Reading {
    read_files(&given(files), &ReadOptions::default())
}

/// Everything told that is more than how the files were understood.
fn told(reading: &Reading) -> Vec<String> {
    let told = reading.notices.iter().filter(|notice| notice.severity > Severity::Understood);
    told.map(|notice| notice.to_string().replacen("panel.xlsx, ", "", 1)).collect()
}

/// What was understood, as sentences with their places.
fn understood(reading: &Reading) -> Vec<String> {
    let told = reading.notices.iter().filter(|notice| notice.severity == Severity::Understood);
    told.map(|notice| notice.to_string().replacen("panel.xlsx, ", "", 1)).collect()
}

/// The reading loads, and exactly these things are told.
#[track_caller]
fn check(reading: Reading, expected: &[&str]) -> Reading {
    assert_eq!(told(&reading), expected);
    assert!(reading.study.is_some(), "{:#?} {:#?}", reading.notices, reading.questions);
    reading
}

/// Nothing is loaded, and exactly these things are told.
#[track_caller]
fn refuse(reading: Reading, expected: &[&str]) -> Reading {
    assert_eq!(told(&reading), expected);
    assert!(reading.study.is_none());
    reading
}

/// The rows of the panel that fit, with the header.
fn rows_where(keep: impl Fn(&[&str]) -> bool) -> String {
    rows_of(PANEL, keep)
}

fn rows_of(table: &str, keep: impl Fn(&[&str]) -> bool) -> String {
    let lines = table.lines().enumerate();
    let kept = lines.filter(|(number, line)| *number == 0 || keep(&line.split(',').collect::<Vec<_>>()));
    kept.fold(String::new(), |text, (_, line)| text + line + "\n")
}

/// The table without some of its columns, counted from 0.
fn without(table: &str, columns: &[usize]) -> String {
    let line = |line: &str| {
        let cells = line.split(',').enumerate().filter(|(column, _)| !columns.contains(column));
        cells.map(|(_, cell)| cell).collect::<Vec<_>>().join(",") + "\n"
    };
    table.lines().map(line).collect()
}
