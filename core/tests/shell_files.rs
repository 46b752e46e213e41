//! The shell program with several files: the same study as from one, and what it asks where only the person can tell.

use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

const DEMO: &str = include_str!("../../public/demo/invented-mango-nectar.csv");

fn likeness(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_likeness")).args(arguments).output().expect("the shell program runs")
}

/// A file in the build's own folder for the rows that fit, without the columns named.
fn written(name: &str, keep: impl Fn(&[&str]) -> bool, left_out: &[usize]) -> PathBuf {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let mut text = String::new();
    for (number, line) in DEMO.lines().enumerate() {
        let cells: Vec<&str> = line.split(',').collect();
        if number == 0 || keep(&cells) {
            let kept = cells.iter().enumerate().filter(|(column, _)| !left_out.contains(column));
            text.push_str(&(kept.map(|(_, cell)| *cell).collect::<Vec<_>>().join(",") + "\n"));
        }
    }
    std::fs::write(&path, text).expect("a file can be written");
    path
}

fn candidates(files: &[&PathBuf], more: &[&str]) -> Value {
    let mut arguments = vec!["analyse"];
    arguments.extend(files.iter().map(|path| path.to_str().expect("a plain path")));
    arguments.extend(["--target", "Fresh mango", "--draws", "100", "--json"]);
    arguments.extend(more);
    let output = likeness(&arguments);
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    let printed: Value = serde_json::from_slice(&output.stdout).expect("the shell prints JSON");
    printed["candidates"].clone()
}

#[test]
fn the_files_of_two_sessions_and_a_key_give_the_verdicts_of_one_table() {
    let whole = written("whole.csv", |_| true, &[]);
    let expected = candidates(&[&whole], &[]);
    assert_eq!(expected.as_array().map(Vec::len), Some(4));
    let days = ["Day 1", "Day 2"].map(|day| written(&format!("{day}.csv"), |cells| cells[0] == day, &[]));
    assert_eq!(candidates(&[&days[0], &days[1]], &[]), expected);
    let coded = written("coded.csv", |_| true, &[5]);
    let scores: Vec<usize> = (6..21).chain([1, 3]).collect();
    let key = written("key.csv", |_| true, &scores);
    assert_eq!(candidates(&[&coded, &key], &[]), expected);
}

#[test]
fn what_the_shell_asks_names_the_option_that_answers() {
    let day = |day: &str| written(&format!("bare {day}.csv"), |cells| cells[0] == day, &[0, 1]);
    let (one, two) = (day("Day 1"), day("Day 2"));
    let paths = [one.to_str().expect("a plain path"), two.to_str().expect("a plain path")];
    let output = likeness(&["analyse", paths[0], paths[1], "--target", "Fresh mango", "--files-are", "one-table"]);
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(said.contains("Answer with --replicates-in-file-order"), "{said}");
    let output = likeness(&["analyse", paths[0], "--sheets", "Scores", "--target", "Fresh mango"]);
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(said.contains("There is no sheet called “Scores”. Choose from:"), "{said}");
}
