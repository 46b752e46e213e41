//! Simultaneous tests and comparisons against outside figures: quadrature tables, R 4.2.2, and print.

use likeness_core::numeric::simultaneous::{
    dunnett_one_sided, dunnett_one_sided_quantile, dunnett_two_sided, dunnett_two_sided_quantile,
    studentized_range_quantile, studentized_range_upper,
};
use likeness_tests::reference::{assert_close, rows};

fn cell(row: &[String], column: usize) -> f64 {
    if row[column] == "Inf" { f64::INFINITY } else { row[column].parse().unwrap() }
}

#[test]
fn quantiles_of_the_studentised_range() {
    // Column q of studentized_range_even_k.csv: independent double Gauss-Legendre quadrature.
    for row in &rows("expected/studentized_range_even_k.csv")[1..] {
        let (alpha, df, groups, q) = (cell(row, 0), cell(row, 1), cell(row, 2) as usize, cell(row, 3));
        let got = studentized_range_quantile(alpha, groups, df).unwrap();
        assert_close(&format!("{row:?}"), got, q, 1e-8);
        assert_close(&format!("{row:?} back"), studentized_range_upper(got, groups, df).unwrap(), alpha, 1e-10);
    }
}

#[test]
fn quantiles_of_dunnett_one_and_two_sided() {
    // Column d of dunnett_odd_m.csv: independent double Gauss-Legendre quadrature.
    for row in &rows("expected/dunnett_odd_m.csv")[1..] {
        let (sided, alpha, df) = (cell(row, 0), cell(row, 1), cell(row, 2));
        let (loadings, d) = (vec![0.5_f64.sqrt(); cell(row, 3) as usize], cell(row, 4));
        let (quantile, back) = if sided < 1.5 {
            let quantile = dunnett_one_sided_quantile(alpha, &loadings, df).unwrap();
            (quantile, dunnett_one_sided(quantile, &loadings, df).unwrap())
        } else {
            let quantile = dunnett_two_sided_quantile(alpha, &loadings, df).unwrap();
            (quantile, dunnett_two_sided(quantile, &loadings, df).unwrap())
        };
        assert_close(&format!("{row:?}"), quantile, d, 1e-8);
        assert_close(&format!("{row:?} back"), back, alpha, 1e-10);
    }
}
