//! `likeness plan orders` as a shell runs it: what it prints, what it refuses, and with which exit code.

use serde_json::Value;
use std::collections::BTreeSet;
use std::process::{Command, Output};

fn likeness(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_likeness")).args(arguments).output().expect("the program runs")
}

fn orders(arguments: &str) -> Value {
    let all: Vec<&str> = ["plan", "orders", "--json"].into_iter().chain(arguments.split_whitespace()).collect();
    let output = likeness(&all);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).expect("JSON")
}

fn numbers(value: &Value) -> Vec<u64> {
    value.as_array().expect("a list").iter().map(|number| number.as_u64().expect("a number")).collect()
}

#[test]
fn five_samples_twelve_assessors_two_replicates() {
    let plan = orders("--samples 5 --assessors 12 --replicates 2 --seed 7");
    let rows = plan["rows"].as_array().expect("rows");
    assert_eq!(rows.len(), 24);
    let mut position = vec![vec![0_u64; 5]; 5];
    let mut code_of: BTreeSet<(u64, u64, String)> = BTreeSet::new();
    for row in rows {
        let order = numbers(&row["order"]);
        let mut sorted = order.clone();
        sorted.sort_unstable();
        assert_eq!(sorted, [1, 2, 3, 4, 5]);
        let codes = row["codes"].as_array().expect("codes");
        for (place, sample) in order.iter().enumerate() {
            position[*sample as usize - 1][place] += 1;
            let code = codes[place].as_str().expect("codes are text").to_owned();
            code_of.insert((row["replicate"].as_u64().expect("a number"), *sample, code));
        }
    }
    // One code a sample and replicate, and no code twice.
    let codes: BTreeSet<&String> = code_of.iter().map(|(_, _, code)| code).collect();
    assert_eq!((code_of.len(), codes.len()), (10, 10));
    let stated: Vec<Vec<u64>> = plan["position_counts"].as_array().expect("lines").iter().map(numbers).collect();
    assert_eq!(stated, position);
    assert!(position.iter().flatten().all(|count| (4..=5).contains(count)), "{position:?}");
    let after: u64 = plan["predecessor_counts"].as_array().expect("lines").iter().flat_map(numbers).sum();
    assert_eq!(after, 24 * 4);
}

#[test]
fn the_same_seed_prints_the_same_bytes() {
    let run = |seed: &str| {
        likeness(&["plan", "orders", "--samples", "6", "--assessors", "9", "--seed", seed, "--json"]).stdout
    };
    assert_eq!(run("7"), run("7"));
    assert_ne!(run("7"), run("8"));
}

#[test]
fn incomplete_blocks_come_with_their_concurrences() {
    let plan = orders("--samples 7 --assessors 7 --per-session 3");
    let lines = plan["concurrence_counts"].as_array().expect("lines");
    for (row, line) in lines.iter().enumerate() {
        let expected: Vec<u64> = (0..7).map(|column| u64::from(column != row)).collect();
        assert_eq!(numbers(line), expected);
    }
}

#[test]
fn text_says_what_design_it_is() {
    let output = likeness(&["plan", "orders", "--samples", "4", "--assessors", "6"]);
    let text = String::from_utf8_lossy(&output.stdout);
    assert!(
        text.starts_with(
            "Williams design for 4 samples (4 orders), each order once in each replicate and the best-balanced 2 once \
             more.\n"
        ),
        "{text}"
    );
}

#[test]
fn what_cannot_be_planned_exits_with_2_and_a_message() {
    let cases = [
        (vec!["--samples", "1", "--assessors", "6"], "1 sample can't be ordered. Give 2 to 40 samples.\n"),
        (
            vec!["--samples", "7", "--assessors", "6", "--per-session", "3", "--target", "0"],
            "There is no sample 0. Samples are numbered from 1.\n",
        ),
        (
            vec!["--samples", "4", "--assessors", "6", "--used-codes", "27"],
            "“27” is not a code of three digits. Correct the list of codes used before.\n",
        ),
    ];
    for (arguments, message) in cases {
        let all: Vec<&str> = ["plan", "orders"].into_iter().chain(arguments).collect();
        let output = likeness(&all);
        assert_eq!(output.status.code(), Some(2));
        assert_eq!(String::from_utf8_lossy(&output.stderr), message);
        assert!(output.stdout.is_empty());
    }
}
