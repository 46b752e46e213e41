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

/// Quantile and tail of each row to 1e-10 of the values held: that is where the quadrature's own error and what rounding
/// takes of it end.
fn check(name: &str, quantile: impl Fn(&Held) -> Option<f64>, upper: impl Fn(&Held) -> Option<f64>) {
    let all = held(name);
    assert!(all.len() > 600, "{name} has only {} rows", all.len());
    for row in &all {
        let what = format!("{name}: {}, df {}, upper {:e}", row.law, row.df, row.upper);
        assert_close(&what, quantile(row).unwrap(), row.quantile, 1e-10);
        assert_close(&format!("{what}, p"), upper(row).unwrap(), row.p, 1e-10);
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
    // scipy 1.17.1, stats.studentized_range.sf(q, groups, df): column p_scipy, whose own error is about 1e-8 of p.
    for row in &rows("expected/studentized_range_scipy.csv")[1..] {
        let number = |column: usize| row[column].parse::<f64>().unwrap();
        let got = studentized_range_upper(number(0), number(1) as usize, number(2)).unwrap();
        assert_close(&format!("{row:?}"), got, number(3), 1e-7);
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
