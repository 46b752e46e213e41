//! Differences to the target and their verdicts against outside figures.

use likeness_core::read::{ReadOptions, read_text};
use likeness_core::stats::{Analysis, Verdict, analyse};
use likeness_core::study::Study;
use likeness_tests::reference::{expected, path, text};
use serde_json::Value;

fn study(name: &str) -> Study {
    let bytes = std::fs::read(path(&format!("data/{name}"))).expect("the reference data are in the repository");
    read_text(name, &bytes, &ReadOptions::default()).study.expect("the reference data can be read")
}

fn judged(name: &str, target: &str, margin: f64) -> Analysis {
    let mut study = study(name);
    study.settings.target = Some(target.to_owned());
    study.settings.margin.width_mm = margin;
    analyse(&study)
}

fn close(got: f64, expected: &Value, what: &str) {
    let expected = expected.as_f64().expect("the expected figure is a number");
    assert!((got - expected).abs() <= 1e-9 * expected.abs().max(1e-3), "{what}: got {got}, expected {expected}");
}

/// Compares every candidate on every attribute with paired t tests of R.
///
/// R 4.2.2: t.test(x, mu = -m, alternative = "greater"), t.test(x, mu = m, alternative = "less"), and
/// t.test(x)$conf.int at .95 and .90, where x are the differences of the assessors' means.
fn check_against_r(data: &str, figures: &str) {
    let expected = expected(figures);
    let mut compared = 0;
    for (name, attribute) in expected["attributes"].as_object().expect("attributes by name") {
        let tost = &attribute["tost"];
        let analysis = judged(data, tost["target"].as_str().unwrap(), tost["margin"].as_f64().unwrap());
        let got = analysis.attributes.iter().find(|got| got.attribute == *name).expect("the attribute was read");
        for row in tost["comparisons"].as_array().unwrap() {
            let sample = row["sample"].as_str().unwrap();
            let difference = got.difference_of(sample).unwrap();
            let test = difference.test.as_ref().unwrap();
            let what = format!("{name}, {sample}");
            close(difference.difference, &row["mean_diff"], &what);
            close(test.se, &row["se"], &what);
            close(test.df, &row["df"], &what);
            close(test.p_lower, &row["p_lower"], &what);
            close(test.p_upper, &row["p_upper"], &what);
            close(test.p_difference, &row["paired_p"], &what);
            close(test.interval90.lower, &row["ci90_lower"], &what);
            close(test.interval90.upper, &row["ci90_upper"], &what);
            close(test.interval95.lower, &row["ci95_lower"], &what);
            close(test.interval95.upper, &row["ci95_upper"], &what);
            let equivalent = row["equivalent_at_05"].as_bool().unwrap();
            assert_eq!(difference.verdict == Verdict::Match, equivalent, "{what}");
            compared += 1;
        }
    }
    assert!(compared > 0, "nothing was compared");
}

#[test]
fn tests_against_the_target_equal_paired_tests_of_r_on_a_real_panel() {
    check_against_r("tvbo8_wide.csv", "tvbo8.json");
}

#[test]
fn tests_against_the_target_equal_paired_tests_of_r_at_the_boundary() {
    check_against_r("boundary_wide.csv", "boundary.json");
}

#[test]
fn renaming_and_reordering_people_changes_no_verdict() {
    let text = text("data/tvbo8_wide.csv");
    let (header, rows) = text.split_once('\n').unwrap();
    let mut rows: Vec<&str> = rows.lines().collect();
    rows.reverse();
    rows.rotate_left(17);
    let shuffled = format!("{header}\n{}\n", rows.join("\n"));
    let mut again = read_text("shuffled.csv", shuffled.as_bytes(), &ReadOptions::default()).study.unwrap();
    again.settings.target = Some("TV1:1".to_owned());
    again.settings.margin.width_mm = 1.5;
    let (first, second) = (judged("tvbo8_wide.csv", "TV1:1", 1.5), analyse(&again));
    for candidate in &first.candidates {
        let other = second.candidates.iter().find(|other| other.sample == candidate.sample).unwrap();
        assert_eq!(
            (candidate.verdict, candidate.n_match, candidate.n_off),
            (other.verdict, other.n_match, other.n_off)
        );
        let (one, two) = (candidate.distance.as_ref().unwrap(), other.distance.as_ref().unwrap());
        assert!((one.distance_adjusted - two.distance_adjusted).abs() < 1e-10);
    }
}
