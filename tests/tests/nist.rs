//! NIST's certified analyses of variance, read from NIST's own files, through the sums of squares that every analysis
//! here stands on. NIST StRD, public domain.

use likeness_core::self_check::of_nist;
use likeness_core::stats::model::cells::CellTable;
use likeness_core::stats::model::variance_closed_form::textbook_lines;
use likeness_tests::reference::{expected, number, text};

/// Digits that agree, as NIST counts them: -log10 of the relative error, 15 at most.
fn digits(got: f64, certified: f64) -> f64 {
    let error = ((got - certified) / certified).abs();
    if error > 0.0 { (-error.log10()).min(15.0) } else { 15.0 }
}

fn check(name: &str) {
    let reference = &expected("nist_anova.json")["sets"][name];
    let scores = of_nist(name, &text(&format!("data/nist/{name}.dat")));
    assert_eq!(scores.observations.len() as f64, number(&reference["n"]));
    let replicates = scores.observations.len() / scores.samples.len();
    let lines = textbook_lines(&CellTable::new(&scores), replicates);
    let error = lines.error.unwrap();
    assert_eq!((lines.sample.df, error.df), (number(&reference["df_between"]), number(&reference["df_within"])));
    let got = digits(lines.sample.ms / error.ms, number(&reference["F"]));
    // A method that shifts by the first score and then takes two passes reaches this many; a tenth for its rounding.
    let reachable = number(&reference["LRE"]["shift_by_first_then_two_pass"]);
    assert!(got >= reachable - 0.1, "{name}: {got:.2} digits of F, {reachable} can be had");
}

#[test]
fn f_of_every_nist_set_to_the_digits_that_float64_reaches() {
    for name in
        ["AtmWtAg", "SiRstv", "SmLs01", "SmLs02", "SmLs03", "SmLs04", "SmLs05", "SmLs06", "SmLs07", "SmLs08", "SmLs09"]
    {
        check(name);
    }
}
