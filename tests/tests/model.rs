//! The mixed model against outside figures: lmerTest 3.1-3 on R 4.2.2, an independent dense Newton REML, and print.

use likeness_core::stats::ModelMethod;
use likeness_core::stats::model::anova::{MethodChoice, ModelFit, ModelOptions, fit};
use likeness_core::stats::panel::replicate_effect::{ReplicateOptions, replicate_check};
use likeness_core::study::{Scale, ScoreAddress, Study, StudyBuilder};
use likeness_tests::reference::{assert_close, expected, long_study, number, wide_study};
use serde_json::Value;

/// What the references carry: they were solved to about 1e-12, and their sums round in other orders.
const RELATIVE: f64 = 1e-8;

fn fitted(study: &Study, attribute: &str, method: MethodChoice) -> ModelFit {
    let index = study.attribute_index(attribute).unwrap();
    fit(&study.attribute_scores(index), &ModelOptions { method, ..ModelOptions::default() })
}

/// Compares a fit with an entry of a *_reml_highprec.json file.
fn check_fit(what: &str, fit: &ModelFit, expected: &Value, relative: f64) {
    let anova = fit.anova.as_ref().unwrap();
    assert_close(&format!("{what} F"), anova.f, number(&expected["F"]), relative);
    assert_close(&format!("{what} sample df"), anova.sample_df, number(&expected["num_df"]), 0.0);
    let error_df = number(&expected["den_df_lmerTest_doolittle"]);
    assert_close(&format!("{what} error df"), anova.error_df, error_df, relative);
    // A relative error in F becomes up to some 50 times that in a far tail.
    assert_close(&format!("{what} p"), anova.p, number(&expected["p"]), 50.0 * relative);
    let model = fit.model.as_ref().unwrap();
    let total = model.var_error + model.var_assessor;
    for (name, got) in [
        ("var_error", model.var_error),
        ("var_assessor", model.var_assessor),
        ("var_interaction", model.var_interaction.clone().unwrap()),
    ] {
        let error = (got - number(&expected[name])).abs();
        assert!(error <= relative * total, "{what} {name}: got {got}, expected {}", expected[name]);
    }
    for mean in &fit.means {
        let means = expected["emmeans"].as_array().unwrap();
        let entry = means.iter().find(|entry| entry["sample"] == mean.sample.as_str()).unwrap();
        let spread = mean.spread.as_ref().unwrap();
        let name = |part: &str| format!("{what} {} {part}", mean.sample);
        assert_close(&name("mean"), mean.mean, number(&entry["emmean"]), relative);
        assert_close(&name("se"), spread.se, number(&entry["se"]), relative);
        assert_close(&name("df"), spread.df, number(&entry["df"]), relative);
        assert_close(&name("lower"), spread.lower, number(&entry["lower"]), relative);
        assert_close(&name("upper"), spread.upper, number(&entry["upper"]), relative);
    }
}

fn check_study(data: &str, reference: &str, method: MethodChoice, shows: ModelMethod) {
    let study = wide_study(data);
    let reference = expected(reference);
    let attributes = reference["attributes"].as_object().unwrap();
    assert_eq!(attributes.len(), study.attributes.len());
    for (attribute, entry) in attributes {
        let fit = fitted(&study, attribute, method);
        assert_eq!(fit.model.as_ref().unwrap().method, shows);
        check_fit(&format!("{data} {attribute}"), &fit, entry, RELATIVE);
    }
}

#[test]
fn a_real_balanced_panel_in_closed_form() {
    check_study("tvbo8_wide.csv", "tvbo8_reml_highprec.json", MethodChoice::ByBalance, ModelMethod::ClosedForm);
}

#[test]
fn a_real_balanced_panel_by_newton() {
    check_study("tvbo8_wide.csv", "tvbo8_reml_highprec.json", MethodChoice::AlwaysNewton, ModelMethod::Reml);
}

#[test]
fn a_real_panel_with_seven_servings_lost() {
    check_study("unbal_A_tvbo8_wide.csv", "unbal_A_reml_highprec.json", MethodChoice::ByBalance, ModelMethod::Reml);
}

#[test]
fn variances_at_every_boundary_in_closed_form() {
    check_study("boundary_wide.csv", "boundary_reml_highprec.json", MethodChoice::ByBalance, ModelMethod::ClosedForm);
}

#[test]
fn variances_at_every_boundary_by_newton() {
    check_study("boundary_wide.csv", "boundary_reml_highprec.json", MethodChoice::AlwaysNewton, ModelMethod::Reml);
}

#[test]
fn variances_at_every_boundary_in_unbalanced_data() {
    let reference = "boundary_unbal_reml_highprec.json";
    check_study("boundary_unbal_wide.csv", reference, MethodChoice::ByBalance, ModelMethod::Reml);
}

#[test]
fn closed_form_and_newton_are_one_answer_on_balanced_data() {
    for data in ["tvbo8_wide.csv", "boundary_wide.csv"] {
        let study = wide_study(data);
        for attribute in &study.attributes {
            let closed = fitted(&study, &attribute.name, MethodChoice::ByBalance);
            let newton = fitted(&study, &attribute.name, MethodChoice::AlwaysNewton);
            assert_same_fit(&attribute.name, &newton, &closed);
        }
    }
}

fn assert_same_fit(what: &str, newton: &ModelFit, closed: &ModelFit) {
    let (got, expected) = (newton.anova.as_ref().unwrap(), closed.anova.as_ref().unwrap());
    assert_close(what, got.f, expected.f, 1e-9);
    assert_close(what, got.error_df, expected.error_df, 1e-9);
    for (got, expected) in newton.means.iter().zip(&closed.means) {
        let (got_spread, spread) = (got.spread.as_ref().unwrap(), expected.spread.as_ref().unwrap());
        assert_close(what, got.mean, expected.mean, 1e-12);
        assert_close(what, got_spread.se, spread.se, 1e-9);
        assert_close(what, got_spread.df, spread.df, 1e-9);
    }
    let (got, expected) = (newton.difference(1, 0).unwrap(), closed.difference(1, 0).unwrap());
    assert_close(what, got.se, expected.se, 1e-9);
    assert_close(what, got.df, expected.df, 1e-9);
}

#[test]
fn the_textbook_table_of_a_real_panel() {
    // R 4.2.2: aov(y ~ sample + Error(assessor/sample)) and anova(lm(y ~ assessor * sample)); file tvbo8.json.
    let study = wide_study("tvbo8_wide.csv");
    for (attribute, entry) in expected("tvbo8.json")["attributes"].as_object().unwrap() {
        let anova = fitted(&study, attribute, MethodChoice::ByBalance).anova.unwrap();
        let table = anova.table.unwrap();
        let error = table.error.unwrap();
        for (term, line) in [
            ("assessor", table.assessor),
            ("sample", table.sample),
            ("interaction", table.interaction),
            ("error", error),
        ] {
            let reference = &entry["anova"][term];
            assert_close(&format!("{attribute} {term} df"), line.df, number(&reference["df"]), 0.0);
            assert_close(&format!("{attribute} {term} ss"), line.ss, number(&reference["SS"]), 1e-11);
            assert_close(&format!("{attribute} {term} ms"), line.ms, number(&reference["MS"]), 1e-11);
        }
        let reference = &entry["anova"];
        assert_close("total", table.total_ss, number(&reference["total"]["SS"]), 1e-12);
        let wrong = number(&reference["sample"]["F_if_tested_on_error_WRONG"]);
        assert_close("wrong F", table.f_on_error_wrong.unwrap(), wrong, 1e-11);
        let interaction = table.interaction_f.unwrap();
        assert_close("interaction F", interaction.f, number(&reference["interaction"]["F"]), 1e-11);
        assert_close("interaction p", interaction.p, number(&reference["interaction"]["p"]), 1e-10);
    }
}

#[test]
fn three_brands_of_machines_as_printed() {
    // Milliken & Johnson; Pinheiro & Bates 2000 p. 21-27: standard deviations 4.7811, 3.7295, .9616. F on the right
    // and on the wrong denominator: R 4.2.2, file published.json.
    let fit = fitted(&long_study("machines_long.csv"), "score", MethodChoice::ByBalance);
    let model = fit.model.unwrap();
    for (variance, printed) in
        [(model.var_assessor, 4.7811), (model.var_interaction.unwrap(), 3.7295), (model.var_error, 0.9616)]
    {
        assert!((variance.sqrt() - printed).abs() < 0.00006, "{} is not {printed}", variance.sqrt());
    }
    let anova = fit.anova.unwrap();
    assert_close("F", anova.f, 20.5760829640744, 1e-13);
    assert_close("p", anova.p, 0.000285548485771284, 1e-12);
    assert_close("wrong F", anova.table.unwrap().f_on_error_wrong.unwrap(), 949.171039455236, 1e-12);
}

#[test]
fn machines_with_ten_scores_lost() {
    // Pinheiro & Bates 2000 p. 25; lmerTest 3.1-3, R 4.2.2, file published.json. lmer's optimiser leaves some 1e-6.
    let fit = fitted(&long_study("machines_unbal_long.csv"), "score", MethodChoice::ByBalance);
    let reference = &expected("published.json")["Machines_unbalanced"];
    let anova = fit.anova.unwrap();
    assert_close("F", anova.f, number(&reference["F"]), 1e-5);
    assert_close("df", anova.error_df, number(&reference["den_df"]), 1e-5);
    let model = fit.model.unwrap();
    assert_close("assessor", model.var_assessor.sqrt(), number(&reference["sd_worker"]), 1e-5);
    let interaction = model.var_interaction.unwrap().sqrt();
    assert_close("interaction", interaction, number(&reference["sd_worker_machine"]), 1e-5);
    assert_close("error", model.var_error.sqrt(), number(&reference["sd_residual"]), 1e-5);
    for (mean, entry) in fit.means.iter().zip(reference["emmeans"].as_array().unwrap()) {
        let spread = mean.spread.as_ref().unwrap();
        assert_eq!(entry["sample"], mean.sample.as_str());
        assert_close("mean", mean.mean, number(&entry["emmean"]), 1e-6);
        assert_close("se", spread.se, number(&entry["SE"]), 1e-5);
        assert_close("df", spread.df, number(&entry["df"]), 1e-5);
    }
}

#[test]
fn one_score_a_cell_tests_on_the_interaction() {
    // Pinheiro & Bates 2000 p. 12-20 (ergoStool); R 4.2.2 aov and emmeans 1.8.4-1, file published.json.
    let study = long_study("ergostool_long.csv");
    let reference = &expected("published.json")["ergoStool"];
    for method in [MethodChoice::ByBalance, MethodChoice::AlwaysNewton] {
        let fit = fitted(&study, "effort", method);
        let anova = fit.anova.unwrap();
        assert_close("F", anova.f, number(&reference["block_anova"][1]["F value"]), 1e-9);
        assert_close("p", anova.p, number(&reference["block_anova"][1]["Pr(>F)"]), 1e-8);
        let model = fit.model.unwrap();
        assert!(model.var_interaction.is_err());
        assert_close("subject", model.var_assessor.sqrt(), number(&reference["sd_subject"]), 1e-6);
        assert_close("residual", model.var_error.sqrt(), number(&reference["sd_residual"]), 1e-7);
        for (mean, entry) in fit.means.iter().zip(reference["emmeans"].as_array().unwrap()) {
            let spread = mean.spread.as_ref().unwrap();
            assert_close("mean", mean.mean, number(&entry["emmean"]), 1e-12);
            assert_close("se", spread.se, number(&entry["SE"]), 1e-6);
            assert_close("df", spread.df, number(&entry["df"]), 1e-6);
        }
    }
}

/// The demo case of many checks: six assessors, four samples, two replicates, with made-up scatter.
fn made_up(keep: impl Fn(usize, usize, usize) -> bool) -> Study {
    let mut builder = StudyBuilder::new(Scale::default());
    for assessor in 0..6 {
        for sample in 0..4 {
            for replicate in 0..2 {
                let scatter = ((assessor * 37 + sample * 61 + replicate * 89 + assessor * sample * 13) % 29) as f64;
                let score = 30.0 + 4.0 * assessor as f64 + 6.0 * sample as f64 + 0.7 * scatter;
                let (assessor_name, sample_name) = (format!("assessor {assessor}"), format!("sample {sample}"));
                let address = ScoreAddress {
                    assessor: &assessor_name,
                    sample: &sample_name,
                    replicate: replicate as u32 + 1,
                    ..ScoreAddress::default()
                };
                builder.add(address, "unfiltered", score).unwrap();
                if keep(assessor, sample, replicate) {
                    builder.add(address, "filtered", score).unwrap();
                }
            }
        }
    }
    builder.finish("made up")
}

#[test]
fn an_absent_assessor_leaves_the_rest_balanced() {
    let study = made_up(|assessor, _, _| assessor != 2);
    let fit = fitted(&study, "filtered", MethodChoice::ByBalance);
    assert_eq!(fit.model.unwrap().method, ModelMethod::ClosedForm);
    assert_close("error df", fit.anova.unwrap().error_df, 12.0, 1e-12);
}

#[test]
fn an_empty_cell_and_a_lost_replicate_are_fitted_by_newton() {
    for (what, study) in [
        ("empty cell", made_up(|assessor, sample, _| (assessor, sample) != (1, 2))),
        ("lost replicate", made_up(|assessor, sample, replicate| (assessor, sample, replicate) != (4, 0, 1))),
        ("assessor with one sample", made_up(|assessor, sample, _| assessor != 3 || sample == 1)),
        ("no replicates, one cell empty", made_up(|a, s, replicate| replicate == 0 && (a, s) != (0, 3))),
    ] {
        let fit = fitted(&study, "filtered", MethodChoice::ByBalance);
        let model = fit.model.as_ref().unwrap();
        assert_eq!(model.method, ModelMethod::Reml, "{what}");
        let anova = fit.anova.as_ref().unwrap();
        assert!(anova.f > 0.0 && anova.p > 0.0 && anova.p < 1.0 && anova.error_df > 2.0, "{what}: {anova:?}");
        assert!(anova.table.is_err());
        assert_eq!(fit.means.len(), 4);
        assert!(fit.means.iter().all(|mean| mean.spread.is_ok()), "{what}");
        let contrast = fit.contrast(&[1.0, -1.0, 0.0, 0.0]).unwrap();
        let difference = fit.difference(0, 1).unwrap();
        assert_close(what, contrast.estimate, difference.estimate, 1e-10);
        assert_close(what, contrast.se, difference.se, 1e-12);
        assert_close(what, contrast.df, difference.df, 1e-10);
    }
}

#[test]
fn samples_that_no_assessor_joins_are_compared_and_it_is_said() {
    let study = made_up(|assessor, sample, _| (assessor < 3) == (sample < 2));
    let fit = fitted(&study, "filtered", MethodChoice::ByBalance);
    let words = fit.anova.as_ref().unwrap().model.clone();
    assert!(words.contains("the samples fall into 2 groups that no assessor joins"), "{words}");
    // Samples of one group are compared within assessors, so more surely than samples of different groups.
    assert!(fit.difference(0, 1).unwrap().se < fit.difference(0, 2).unwrap().se);
}

#[test]
fn what_cannot_be_told_apart_is_said() {
    let study = made_up(|assessor, sample, _| assessor % 4 == sample);
    let fit = fitted(&study, "filtered", MethodChoice::ByBalance);
    let because = fit.anova.unwrap_err().because;
    assert!(because.starts_with("the scores are too thinly spread over assessors and samples"), "{because}");
    assert!(fit.means.iter().all(|mean| mean.spread.is_err()));
}

#[test]
fn a_sample_without_scores_has_no_mean_and_the_others_do() {
    let study = made_up(|_, sample, _| sample != 1);
    let fit = fitted(&study, "filtered", MethodChoice::ByBalance);
    assert_eq!(
        fit.means.iter().map(|mean| mean.sample.as_str()).collect::<Vec<_>>(),
        ["sample 0", "sample 2", "sample 3"]
    );
    assert_eq!(fit.difference(1, 0).unwrap_err().because, "sample 1 has no score");
    let of_two = fit.means[1].mean - fit.means[0].mean;
    assert_close("difference", fit.difference(2, 0).unwrap().estimate, of_two, 1e-12);
}

#[test]
fn the_three_way_table_of_a_real_panel_and_of_machines() {
    // R 4.2.2: anova(lm(y ~ (assessor + sample + replicate)^2)); "three_way_SS" of tvbo8.json and published.json.
    let published = expected("published.json");
    check_three_way(&long_study("machines_long.csv"), "score", &published["Machines"]["full"]["three_way_SS"]);
    let study = wide_study("tvbo8_wide.csv");
    for (attribute, entry) in expected("tvbo8.json")["attributes"].as_object().unwrap() {
        check_three_way(&study, attribute, &entry["three_way_SS"]);
    }
}

fn check_three_way(study: &Study, attribute: &str, reference: &Value) {
    let scores = study.attribute_scores(study.attribute_index(attribute).unwrap());
    let found = replicate_check(&scores, &ReplicateOptions::default()).unwrap();
    let lines = found.lines;
    for (term, line) in [
        ("assessor", lines.assessor),
        ("sample", lines.sample),
        ("replicate", lines.round),
        ("assessor:sample", lines.assessor_by_sample),
        ("assessor:replicate", lines.assessor_by_round),
        ("sample:replicate", lines.sample_by_round),
        ("Residuals", lines.rest),
    ] {
        let entry = reference.as_array().unwrap().iter().find(|entry| entry["term"] == term).unwrap();
        assert_close(&format!("{attribute} {term} df"), line.df, number(&entry["df"]), 0.0);
        // lm leaves some 1e-14 of the total in each line: the smallest lines carry 12 digits.
        assert_close(&format!("{attribute} {term} ss"), line.ss, number(&entry["SS"]), 1e-9);
    }
    let ms = |term: &str| number(&reference.as_array().unwrap().iter().find(|e| e["term"] == term).unwrap()["MS"]);
    let shift = ms("assessor:replicate") / ms("Residuals");
    assert_close("assessor x replicate", found.assessor_by_round.f, shift, 1e-9);
    assert_close("whole panel", found.round_effect.f, ms("replicate") / ms("assessor:replicate"), 1e-9);
}

#[test]
fn cells_that_leave_no_freedom_for_an_interaction_are_not_tested() {
    // Found by random studies: F was 6281532 in mm and another number in inches, since the error slid towards zero.
    let scored = [(0, 0), (0, 2), (1, 0), (1, 3), (4, 3), (5, 2), (3, 1), (2, 2)];
    let study = made_up(|assessor, sample, replicate| replicate == 0 && scored.contains(&(assessor, sample)));
    let fit = fitted(&study, "filtered", MethodChoice::ByBalance);
    assert!(fit.anova.unwrap_err().because.starts_with("the scores are too thinly spread"));
}
