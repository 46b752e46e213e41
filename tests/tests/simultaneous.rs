//! The laws of the studentised range and of Dunnett's comparison, held at the values they had before they were tabulated.

use likeness_core::numeric::simultaneous::{
    dunnett_two_sided, dunnett_two_sided_quantile, studentized_range_quantile, studentized_range_upper,
};
use likeness_tests::reference::{assert_close, rows};

/// Columns of both files: law, df, upper, quantile, point, p.
struct Held {
    law: String,
    df: f64,
    upper: f64,
    quantile: f64,
    point: f64,
    p: f64,
}

fn held(name: &str) -> Vec<Held> {
    let number = |cell: &String| cell.parse::<f64>().unwrap();
    let row = |row: &Vec<String>| Held {
        law: row[0].clone(),
        df: number(&row[1]),
        upper: number(&row[2]),
        quantile: number(&row[3]),
        point: number(&row[4]),
        p: number(&row[5]),
    };
    rows(name)[1..].iter().map(row).collect()
}

/// To how much of them the values held are right. Where their own error is larger than 1e-10 it was found by the independent
/// integrals of *_far.csv and *_many.csv: 96 nodes over a normal variable lose digits beyond 20 groups, and at 1e5 degrees of
/// freedom the constant of the density was the difference of two numbers of 5e5.
fn right_to(row: &Held) -> f64 {
    let many_groups = row.law.parse::<usize>().is_ok_and(|groups| groups > 20);
    match () {
        () if many_groups => 2e-8,
        () if (1e5..1e9).contains(&row.df) => 1e-9,
        () => 1e-10,
    }
}

/// Quantile and tail of each row as the values held.
fn check(name: &str, quantile: impl Fn(&Held) -> Option<f64>, upper: impl Fn(&Held) -> Option<f64>) {
    let all = held(name);
    assert!(all.len() > 600, "{name} has only {} rows", all.len());
    for row in &all {
        let what = format!("{name}: {}, df {}, upper {:e}", row.law, row.df, row.upper);
        assert_close(&what, quantile(row).unwrap(), row.quantile, right_to(row));
        assert_close(&format!("{what}, p"), upper(row).unwrap(), row.p, right_to(row));
    }
}

#[test]
fn the_studentised_range_keeps_its_values() {
    // studentized_range_held.csv: see tests/reference/SOURCE.md.
    let groups = |row: &Held| row.law.parse::<usize>().unwrap();
    check(
        "expected/studentized_range_held.csv",
        |row| studentized_range_quantile(row.upper, groups(row), row.df),
        |row| studentized_range_upper(row.point, groups(row), row.df),
    );
}

/// "4 equal": as many loadings of sqrt(1/2); else the loadings themselves.
fn loadings(row: &Held) -> Vec<f64> {
    match row.law.strip_suffix(" equal") {
        Some(count) => vec![0.5_f64.sqrt(); count.parse().unwrap()],
        None => row.law.split(' ').map(|loading| loading.parse().unwrap()).collect(),
    }
}

#[test]
fn dunnetts_law_keeps_its_values() {
    // dunnett_held.csv: see tests/reference/SOURCE.md.
    check(
        "expected/dunnett_held.csv",
        |row| dunnett_two_sided_quantile(row.upper, &loadings(row), row.df),
        |row| dunnett_two_sided(row.point, &loadings(row), row.df),
    );
}

#[test]
fn a_sample_of_them_is_scipys() {
    // scipy 1.17.1, stats.studentized_range.sf(q, groups, df): column p_scipy, whose own error is up to some 1e-13 absolutely.
    for row in &rows("expected/studentized_range_scipy.csv")[1..] {
        let number = |column: usize| row[column].parse::<f64>().unwrap();
        let got = studentized_range_upper(number(0), number(1) as usize, number(2)).unwrap();
        assert_close(&format!("{row:?}"), got, number(3), 1e-6);
    }
}

#[test]
fn far_tails_and_many_groups_by_independent_integrals() {
    // studentized_range_far.csv, studentized_range_many.csv: numpy 2.4.6, see tests/reference/SOURCE.md.
    for file in ["expected/studentized_range_far.csv", "expected/studentized_range_many.csv"] {
        for row in &rows(file)[1..] {
            let number = |column: usize| row[column].parse::<f64>().unwrap();
            let got = studentized_range_upper(number(0), number(1) as usize, number(2)).unwrap();
            assert_close(&format!("{row:?}"), got, number(3), 1e-10);
        }
    }
}

#[test]
fn a_sample_of_dunnetts_law_is_scipys() {
    // scipy 1.17.1, nested integrate.quad of special.ndtr over the shared variable (epsrel 1e-11) and over s (1e-9).
    for row in &rows("expected/dunnett_scipy.csv")[1..] {
        let number = |column: usize| row[column].parse::<f64>().unwrap();
        let loadings = vec![0.5_f64.sqrt(); number(1) as usize];
        assert_close(&format!("{row:?}"), dunnett_two_sided(number(0), &loadings, number(2)).unwrap(), number(3), 1e-7);
    }
}
