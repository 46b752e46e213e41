//! The calibrated verdict: every reference figure to 1e-9.

use likeness_core::stats::Verdict;
use likeness_core::stats::r#match::calibrated::{
    AttributeFigures, BoundParts, CalibratedVerdict, Differences, MatchRule, OffTestBy, VerdictOptions, judge,
    typical_difference,
};
use likeness_tests::reference::{number, text};
use serde_json::Value;

/// One case of `tests/reference/verdict/reference.json` (see `tests/reference/SOURCE.md`).
struct Case {
    name: String,
    differences: Differences,
    options: VerdictOptions,
    expected: Value,
}

fn cases() -> Vec<Case> {
    let all: Value = serde_json::from_str(&text("verdict/reference.json")).expect("the reference is JSON");
    let cases = all["cases"].as_array().expect("there are cases");
    assert_eq!(cases.len(), 5);
    cases.iter().map(case).collect()
}

fn case(case: &Value) -> Case {
    let rows: Vec<Vec<Option<f64>>> =
        list(&case["d"]).iter().map(|row| list(row).iter().map(Value::as_f64).collect()).collect();
    let margins = numbers(&case["margin"]);
    // The reference states its profile margin in mm, beside margins of one size.
    let profile_share = number(&case["profile_margin"]) / margins[0];
    let (alpha, guard) = (number(&case["alpha"]), number(&case["guard"]));
    // All patterns also for twenty assessors, as the reference has them.
    let options = VerdictOptions { alpha, guard, profile_share, exact_up_to: 20, ..VerdictOptions::default() };
    Case {
        name: case["name"].as_str().expect("a name").to_owned(),
        differences: Differences::from_rows(&rows, &margins).expect("a table"),
        options,
        expected: case["expected"].clone(),
    }
}

fn list(value: &Value) -> &[Value] {
    value.as_array().expect("a list")
}

fn numbers(value: &Value) -> Vec<f64> {
    list(value).iter().map(number).collect()
}

/// Within 1e-9 of the expected value, relative to it where it is above 1.
#[track_caller]
fn near(what: &str, got: f64, expected: &Value) {
    let expected = number(expected);
    let error = (got - expected).abs() / expected.abs().max(1.0);
    assert!(error <= 1e-9, "{what}: got {got:e}, expected {expected:e}");
}

#[track_caller]
fn near_each(what: &str, got: &[f64], expected: &Value) {
    let expected = list(expected);
    assert_eq!(got.len(), expected.len(), "{what}");
    for (index, (got, expected)) in got.iter().zip(expected).enumerate() {
        near(&format!("{what} {index}"), *got, expected);
    }
}

fn figures(verdict: &CalibratedVerdict, of: impl Fn(&AttributeFigures) -> f64) -> Vec<f64> {
    verdict.attributes.iter().map(|attribute| of(attribute.figures.as_ref().expect("figures"))).collect()
}

fn in_the_words_of_the_reference(verdict: &CalibratedVerdict) -> &'static str {
    match (verdict.verdict, verdict.rule) {
        (Verdict::Off, _) => "OFF",
        (Verdict::Match, Some(MatchRule::Profile)) => "PROFILE MATCH",
        (Verdict::Match, _) => "MATCH",
        (Verdict::NotShown, _) => "NOT SHOWN",
    }
}

#[test]
fn every_verdict_and_figure_of_the_attributes() {
    for Case { name, differences, options, expected } in cases() {
        let got = judge(&differences, &options).expect("a verdict");
        assert_eq!(in_the_words_of_the_reference(&got), expected["whole"], "{name}");
        let how = if got.test.by == OffTestBy::HolmOnT { "Holm on t" } else { "sign flips" };
        assert!(expected["how"].as_str().is_some_and(|wanted| wanted.starts_with(how)), "{name}: {how}");
        assert!(got.test.exact, "{name}");
        let means: Vec<f64> = got.attributes.iter().map(|attribute| attribute.mean_mm).collect();
        near_each(&name, &means, &expected["mean"]);
        near_each(&name, &figures(&got, |one| one.se_mm), &expected["se"]);
        near_each(&name, &figures(&got, |one| one.reach_mm), &expected["reach"]);
        near_each(&name, &figures(&got, |one| one.statistic.unwrap_or(f64::INFINITY)), &expected["stat"]);
        near_each(&name, &figures(&got, |one| one.p_off), &expected["p_off"]);
        near_each(&name, &figures(&got, |one| one.p_beyond), &expected["p_beyond"]);
        near(&name, got.alike_within_mm.as_ref().expect("a width").within, &expected["alike_within"]);
        near(&name, got.alike_multiple.as_ref().expect("a width").within, &expected["alike_multiple"]);
        for (index, attribute) in got.attributes.iter().enumerate() {
            assert_eq!(attribute.verdict == Verdict::Off, expected["off"][index], "{name} {index} off");
            assert_eq!(attribute.verdict == Verdict::Match, expected["inside"][index], "{name} {index} inside");
            assert_eq!(attribute.beyond, expected["beyond"][index], "{name} {index} beyond");
        }
    }
}

#[test]
fn every_figure_of_the_typical_difference() {
    for Case { name, differences, options, expected } in cases() {
        let got = typical_difference(&differences, options.alpha).expect("a bound");
        let expected = &expected["rms"];
        near(&name, got.bound, &expected["bound"]);
        near(&name, got.least_bound, &expected["least"]);
        near(&name, got.raw, &expected["raw"]);
        near(&name, got.estimate, &expected["estimate"]);
        near(&name, got.noise, &expected["noise"]);
        let parts = got.parts.expect("there is scatter");
        let root = (differences.n_attributes() as f64).sqrt();
        for (field, value) in by_reference_names(&parts, root) {
            near(&format!("{name} {field}"), value, &expected[field]);
        }
        // Nothing that the reference states is left out.
        let named = by_reference_names(&parts, root).len() + 5;
        assert_eq!(named, expected.as_object().expect("figures").len(), "{name}");
    }
}

fn by_reference_names(parts: &BoundParts, root: f64) -> Vec<(&'static str, f64)> {
    vec![
        ("whole", parts.whole / root),
        ("split", parts.split / root),
        ("D2", parts.squared_length),
        ("T1", parts.noise),
        ("T2", parts.noise_squares),
        ("l1", parts.first),
        ("l2", parts.second),
        ("q", parts.noise_squares_reduced),
        ("lam", parts.largest),
        ("f", parts.rest_df),
        ("L", parts.rest_lower_end),
        ("R1", parts.length),
        ("t", parts.t),
        ("nu", parts.df),
        ("a", parts.along_first),
        ("Tr", parts.other.noise),
        ("qr", parts.other.noise_squares),
        ("lam2", parts.other.largest),
        ("r1", parts.other.length),
        ("fr", parts.other.rest_df),
        ("Lr", parts.other.rest_lower_end),
        ("ua", parts.along_first_bound),
        ("ub", parts.other.bound),
    ]
}

#[test]
fn a_seeded_sample_of_patterns_is_near_all_of_them() {
    // Four standard errors of a share out of 10,000: .02 at most.
    let case = cases().pop().expect("the last case has twenty assessors");
    let all = judge(&case.differences, &case.options).expect("a verdict");
    let drawn = judge(&case.differences, &VerdictOptions { exact_up_to: 18, ..case.options }).expect("a verdict");
    assert!(!drawn.test.exact && drawn.test.patterns == 10_000 && all.test.patterns == 1 << 19);
    for (one, other) in figures(&all, |one| one.p_off).iter().zip(figures(&drawn, |one| one.p_off)) {
        assert!((one - other).abs() < 0.02, "{one} {other}");
    }
}
