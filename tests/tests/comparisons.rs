//! Simultaneous tests and comparisons against outside figures: quadrature tables, R 4.2.2, and print.

use likeness_core::numeric::simultaneous::{
    dunnett_one_sided, dunnett_one_sided_quantile, dunnett_two_sided, dunnett_two_sided_quantile,
    studentized_range_quantile, studentized_range_upper,
};
use likeness_core::stats::model::anova::{MethodChoice, ModelFit, ModelOptions, fit};
use likeness_core::stats::samples::comparisons::{
    ComparisonOptions, ErrorTerm, ManyToOneMethod, PairComparison, Pairwise, SampleLetters, many_to_one, pairwise,
};
use likeness_core::stats::samples::multiplicity::{adjust_over_attributes, benjamini_hochberg, holm};
use likeness_core::study::Study;
use likeness_tests::reference::{assert_close, expected, long_study, number, rows, wide_study};
use serde_json::Value;

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

const ON_INTERACTION: ComparisonOptions = ComparisonOptions { alpha: 0.05, error: ErrorTerm::Interaction };

fn fitted(study: &Study, attribute: &str) -> ModelFit {
    fit(&study.attribute_scores(study.attribute_index(attribute).unwrap()), &ModelOptions::default())
}

/// Compares all pairs of an attribute with rows of a *_pairwise.csv file.
fn check_pairs(study: &Study, attribute: &str, table: &[Vec<String>]) {
    let found = pairwise(&fitted(study, attribute), &ON_INTERACTION).unwrap();
    let of_attribute = table.iter().filter(|row| row[0] == attribute).collect::<Vec<_>>();
    assert_eq!(found.comparisons.len(), of_attribute.len());
    for row in of_attribute {
        let pair = found.comparisons.iter().find(|pair| pair.sample == row[1] && pair.reference == row[2]).unwrap();
        check_pair(pair, row);
    }
    check_letters(&found);
}

fn check_pair(pair: &PairComparison, row: &[String]) {
    for (column, got, relative) in [
        (3, pair.difference, 1e-10),
        (4, pair.se, 1e-12),
        (5, pair.df, 1e-12),
        (6, pair.t, 1e-10),
        (7, pair.p_unadjusted, 1e-9),
        (12, pair.p_holm, 1e-9),
        (13, pair.p_benjamini_hochberg, 1e-9),
    ] {
        assert_close(&format!("{row:?} column {column}"), got, cell(row, column), relative);
    }
    // The reference quadrature is good to 4e-10 of the probability, absolutely; far out it may lose more of p.
    let error = (pair.p_tukey - cell(row, 8)).abs();
    assert!(error < 1e-9, "{row:?}: p {} error {error:e}", pair.p_tukey);
    // The intervals of the file stand on R's qtukey, which is good to about 5 digits; HSD is checked tightly elsewhere.
    assert!((pair.tukey_interval.lower - cell(row, 10)).abs() < 1e-5 * pair.se, "{row:?}");
    assert!((pair.tukey_interval.upper - cell(row, 11)).abs() < 1e-5 * pair.se, "{row:?}");
}

/// Two samples share a letter if and only if they are not shown to differ.
fn check_letters(found: &Pairwise) {
    let of = |list: &[SampleLetters], sample: &str| {
        list.iter().find(|entry| entry.sample == sample).unwrap().letters.clone()
    };
    let share = |a: &str, b: &str| a.chars().any(|letter| b.contains(letter));
    for pair in &found.comparisons {
        let (a, b) = (of(&found.letters_tukey, &pair.sample), of(&found.letters_tukey, &pair.reference));
        assert_eq!(share(&a, &b), pair.p_tukey >= found.alpha, "{pair:?} {a} {b}");
        let (a, b) = (of(&found.letters_lsd, &pair.sample), of(&found.letters_lsd, &pair.reference));
        assert_eq!(share(&a, &b), pair.p_unadjusted >= found.alpha, "{pair:?} {a} {b}");
    }
}

#[test]
fn all_pairs_of_a_real_panel() {
    // R 4.2.2, TukeyHSD(aov(ybar ~ assessor + sample)) on cell means, and quadrature; file tvbo8_pairwise.csv.
    let study = wide_study("tvbo8_wide.csv");
    let table = rows("expected/tvbo8_pairwise.csv");
    for attribute in &study.attributes {
        check_pairs(&study, &attribute.name, &table);
    }
}

#[test]
fn all_pairs_where_no_variance_is_zero() {
    let table = rows("expected/boundary_case_none_pairwise.csv");
    check_pairs(&wide_study("boundary_wide.csv"), "case_none", &table);
}

#[test]
fn at_a_boundary_the_model_pools_and_the_classical_error_does_not() {
    // lmerTest 3.1-3 on R 4.2.2, file boundary_reml_highprec.json: the pooled error has 148 df; MS interaction has 40.
    let fit = fitted(&wide_study("boundary_wide.csv"), "case_interaction_zero");
    let pooled = pairwise(&fit, &ComparisonOptions::default()).unwrap();
    let classical = pairwise(&fit, &ON_INTERACTION).unwrap();
    assert_close("pooled df", pooled.comparisons[0].df, 148.0, 1e-12);
    assert_close("classical df", classical.comparisons[0].df, 40.0, 1e-12);
    // Standard errors: sqrt(2 MS / 27) with MS 77.2986753420087 pooled and 57.2030987654321 not.
    assert_close("pooled se", pooled.comparisons[0].se, (2.0 * 77.2986753420087_f64 / 27.0).sqrt(), 1e-12);
    assert_close("classical se", classical.comparisons[0].se, (2.0 * 57.2030987654321_f64 / 27.0).sqrt(), 1e-12);
}

#[test]
fn least_and_honest_differences_and_dunnett_of_a_real_panel() {
    // R 4.2.2: qt, quadrature (q05), glht(mcp(sample = "Dunnett")) and quadrature; file tvbo8.json.
    let study = wide_study("tvbo8_wide.csv");
    for (attribute, entry) in expected("tvbo8.json")["attributes"].as_object().unwrap() {
        let fit = fitted(&study, attribute);
        let pairs = pairwise(&fit, &ON_INTERACTION).unwrap();
        assert_close("LSD", pairs.lsd.unwrap(), number(&entry["pairwise"]["LSD05"]), 1e-12);
        assert_close("HSD", pairs.hsd.unwrap(), number(&entry["pairwise"]["HSD05"]), 1e-9);
        check_dunnett(&study, &fit, &entry["dunnett"]);
    }
}

fn check_dunnett(study: &Study, fit: &ModelFit, reference: &Value) {
    let target = study.sample_index(reference["target"].as_str().unwrap()).unwrap();
    let found = many_to_one(fit, target, &ON_INTERACTION).unwrap();
    assert_eq!(found.method, ManyToOneMethod::Dunnett);
    assert_close("critical", found.critical.unwrap(), number(&reference["crit05_two_sided"]), 1e-11);
    let entries = reference["comparisons"].as_array().unwrap();
    assert_eq!(found.comparisons.len(), entries.len());
    for (got, entry) in found.comparisons.iter().zip(entries) {
        assert_eq!(entry["sample"], got.sample.as_str());
        assert_close("t", got.t.abs(), number(&entry["t"]).abs(), 1e-10);
        // The reference is 1 less a probability, good to about 3e-14 absolutely.
        assert!((got.p_adjusted - number(&entry["p_two_sided"])).abs() < 1e-13, "{got:?}");
        assert!((got.simultaneous_interval.lower - number(&entry["lower"])).abs() < 1e-10);
        assert!((got.simultaneous_interval.upper - number(&entry["upper"])).abs() < 1e-10);
    }
}

#[test]
fn tukey_on_one_score_a_cell() {
    // R 4.2.2, TukeyHSD(aov(effort ~ Type + Subject)) on nlme::ergoStool; R's ptukey is good to about 5 digits.
    let found = pairwise(&fitted(&long_study("ergostool_long.csv"), "effort"), &ComparisonOptions::default()).unwrap();
    let entries = expected("published.json")["ergoStool"]["tukey"].as_array().unwrap().clone();
    for entry in &entries {
        let name = entry["_row"].as_str().unwrap();
        let same = |pair: &&PairComparison| format!("{}-{}", pair.sample, pair.reference) == name;
        let pair = found.comparisons.iter().find(same).unwrap();
        assert_close(name, pair.difference, number(&entry["diff"]), 1e-12);
        assert_close(name, pair.tukey_interval.lower, number(&entry["lwr"]), 1e-6);
        assert_close(name, pair.p_tukey, number(&entry["p adj"]), 1e-5);
    }
}

#[test]
fn in_unbalanced_data_holm_stands_in_for_dunnett_and_tukey_is_called_approximate() {
    let study = wide_study("unbal_A_tvbo8_wide.csv");
    let fit = fitted(&study, "Sharpness");
    let found = many_to_one(&fit, 0, &ComparisonOptions::default()).unwrap();
    assert_eq!(found.method, ManyToOneMethod::Holm);
    assert!(found.critical.is_err());
    let plain = found.comparisons.iter().map(|candidate| candidate.p_unadjusted).collect::<Vec<_>>();
    let adjusted = found.comparisons.iter().map(|candidate| candidate.p_adjusted).collect::<Vec<_>>();
    assert_eq!(adjusted, holm(&plain));
    let pairs = pairwise(&fit, &ComparisonOptions::default()).unwrap();
    assert!(pairs.tukey_method.starts_with("Tukey-Kramer: approximate"));
    assert!(pairs.lsd.is_err() && pairs.hsd.is_err());
    assert!(pairwise(&fit, &ON_INTERACTION).is_err());
    check_letters(&pairs);
}

#[test]
fn nearly_balanced_data_give_nearly_the_balanced_answer() {
    // The same balanced data by the closed form and by Newton: Tukey-Kramer must then be Tukey.
    let study = wide_study("tvbo8_wide.csv");
    let scores = study.attribute_scores(study.attribute_index("Noise").unwrap());
    let newton = ModelOptions { method: MethodChoice::AlwaysNewton, ..ModelOptions::default() };
    let exact = pairwise(&fit(&scores, &ModelOptions::default()), &ComparisonOptions::default()).unwrap();
    let kramer = pairwise(&fit(&scores, &newton), &ComparisonOptions::default()).unwrap();
    for (a, b) in exact.comparisons.iter().zip(&kramer.comparisons) {
        assert_close("p", b.p_tukey, a.p_tukey, 1e-7);
        assert!((b.tukey_interval.lower - a.tukey_interval.lower).abs() < 1e-8);
    }
}

#[test]
fn a_fixed_model_of_three_groups_as_published() {
    // R 4.2.2, datasets::PlantGrowth: MS error .388595925925926 on 27 df, ten plants a group; glht Dunnett, TukeyHSD.
    let reference = &expected("published.json")["PlantGrowth"];
    let se = (2.0 * 0.388595925925926_f64 / 10.0).sqrt();
    for (t, p) in reference["t"].as_array().unwrap().iter().zip(reference["p_quad"].as_array().unwrap()) {
        let loadings = [0.5_f64.sqrt(); 2];
        assert_close("Dunnett", dunnett_two_sided(number(t).abs(), &loadings, 27.0).unwrap(), number(p), 1e-12);
    }
    for entry in reference["tukey"].as_array().unwrap() {
        let q = number(&entry["diff"]).abs() / se * 2.0_f64.sqrt();
        let p = studentized_range_upper(q, 3, 27.0).unwrap();
        assert_close("Tukey", p, number(&entry["p adj"]), 1e-6);
    }
}

#[test]
fn the_example_of_warp_breaks() {
    // R 4.2.2, ?TukeyHSD: tension M-L -10.000 (-19.353, -.647), p .0336; MS error 134.957777777778 on 50 df, 18 a level.
    let reference = &expected("published.json")["warpbreaks"];
    let se = (134.957777777778_f64 / 18.0).sqrt();
    let quantile = studentized_range_quantile(0.05, 3, 50.0).unwrap();
    for entry in reference["tukey_tension"].as_array().unwrap() {
        let difference = number(&entry["diff"]);
        let p = studentized_range_upper(difference.abs() / se, 3, 50.0).unwrap();
        assert_close("p", p, number(&entry["p adj"]), 1e-6);
        assert!((difference - quantile * se - number(&entry["lwr"])).abs() < 1e-5);
    }
}

#[test]
fn adjusted_p_values_as_published() {
    // R 4.2.2 p.adjust; and the 15 p-values of Benjamini & Hochberg 1995, section 4.1.
    let reference = &expected("published.json")["p_adjust"];
    let list = |name: &str| reference[name].as_array().unwrap().iter().map(number).collect::<Vec<_>>();
    for (p, by_holm, by_share) in [("p", "holm", "BH"), ("p2", "holm2", "BH2")] {
        let (got_holm, got_share) = (holm(&list(p)), benjamini_hochberg(&list(p)));
        for (got, expected) in got_holm.iter().chain(&got_share).zip(list(by_holm).iter().chain(&list(by_share))) {
            assert_close(p, *got, *expected, 1e-14);
        }
    }
}

#[test]
fn sample_effects_adjusted_over_attributes() {
    // R 4.2.2: p.adjust over the 8 attributes; file tvbo8.json.
    let study = wide_study("tvbo8_wide.csv");
    let reference = expected("tvbo8.json")["adjust_over_attributes"].as_array().unwrap().clone();
    let tests =
        reference.iter().map(|row| fitted(&study, row["attribute"].as_str().unwrap()).anova.map(|anova| anova.p));
    for (got, row) in adjust_over_attributes(&tests.collect::<Vec<_>>()).iter().zip(&reference) {
        let got = got.as_ref().unwrap();
        assert_close("holm", got.holm, number(&row["holm"]), 1e-9);
        assert_close("BH", got.benjamini_hochberg, number(&row["BH"]), 1e-9);
    }
}
