//! What must hold for any study: identities of the model, over random studies from a seed.

use likeness_core::numeric::random::Random;
use likeness_core::stats::model::anova::{MethodChoice, ModelFit, ModelOptions, fit};
use likeness_core::stats::panel::replicate_effect::{ReplicateOptions, replicate_check};
use likeness_core::stats::samples::comparisons::{ComparisonOptions, many_to_one, pairwise};
use likeness_core::study::{AttributeScores, Observation};
use likeness_tests::reference::assert_close;

const STUDIES: usize = 150;

/// A random study: 2 to 9 assessors, 2 to 7 samples, 1 to 3 replicates, any size of each effect, also none; scores in
/// tenths as from a ruler. `kept` is the chance of a score to be there.
fn random_study(random: &mut Random, kept: f64) -> AttributeScores {
    let (assessors, samples, replicates) = (2 + random.below(8), 2 + random.below(6), 1 + random.below(3));
    let mut sizes = [0.0, 3.0, 12.0, 0.5];
    random.shuffle(&mut sizes);
    let [by_assessor, by_sample, by_cell, by_score] = sizes;
    let mut effects = |count: usize, size: f64| (0..count).map(|_| size * random.normal()).collect::<Vec<_>>();
    let of_assessor = effects(assessors, by_assessor);
    let of_sample = effects(samples, by_sample);
    let of_cell = effects(assessors * samples, by_cell);
    let of_score = effects(assessors * samples * replicates, by_score);
    let mut observations = Vec::new();
    for (number, noise) in of_score.iter().enumerate() {
        let (cell, replicate) = (number / replicates, number % replicates);
        let (assessor, sample) = (cell / samples, cell % samples);
        if random.unit() < kept {
            let score = 50.0 + of_assessor[assessor] + of_sample[sample] + of_cell[cell] + noise;
            observations.push(Observation {
                assessor: assessor as u32,
                sample: sample as u32,
                replicate: replicate as u32 + 1,
                session: None,
                position: None,
                score: (score * 10.0).round() / 10.0,
                serving: number as u32,
            });
        }
    }
    AttributeScores {
        attribute: "random".to_owned(),
        assessors: (0..assessors).map(|number| format!("assessor {number}")).collect(),
        samples: (0..samples).map(|number| format!("sample {number}")).collect(),
        observations,
        dropped: 0,
    }
}

/// Studies of all kinds: balanced, with few scores lost, with most scores lost.
fn random_studies(purpose: &str) -> Vec<AttributeScores> {
    let mut random = Random::seeded_for(20, purpose);
    (0..STUDIES).map(|number| random_study(&mut random, [1.0, 0.95, 0.7, 0.3][number % 4])).collect()
}

fn fitted(scores: &AttributeScores) -> ModelFit {
    fit(scores, &ModelOptions::default())
}

#[test]
fn sums_of_squares_add_up_in_balanced_studies() {
    for scores in random_studies("sums").iter().step_by(4) {
        let Ok(table) = fitted(scores).anova.and_then(|anova| anova.table) else { continue };
        let error = table.error.as_ref().map_or(0.0, |line| line.ss);
        let n = scores.observations.len() as f64;
        let mean = scores.observations.iter().map(|o| o.score - 50.0).sum::<f64>() / n;
        let total = scores.observations.iter().map(|o| (o.score - 50.0 - mean).powi(2)).sum::<f64>();
        let sum = table.assessor.ss + table.sample.ss + table.interaction.ss + error;
        assert_close("sum of squares", sum, total, 1e-11);
        let error_df = table.error.as_ref().map_or(0.0, |line| line.df);
        let df = table.assessor.df + table.sample.df + table.interaction.df + error_df;
        assert_close("degrees of freedom", df, n - 1.0, 1e-12);
        if let Ok(check) = replicate_check(scores, &ReplicateOptions::default()) {
            let lines = check.lines;
            assert_close("assessor", lines.assessor.ss, table.assessor.ss, 1e-9);
            let within = lines.round.ss + lines.assessor_by_round.ss + lines.sample_by_round.ss + lines.rest.ss;
            assert_close("error is what the replicate terms split", within, error, 1e-9);
        }
    }
}

#[test]
fn closed_form_and_newton_agree_on_random_balanced_studies() {
    let newton = ModelOptions { method: MethodChoice::AlwaysNewton, ..ModelOptions::default() };
    let mut compared = 0;
    for scores in random_studies("closed").iter().step_by(4) {
        let (closed, newton) = (fitted(scores), fit(scores, &newton));
        let (Ok(expected), Ok(got)) = (&closed.anova, &newton.anova) else { continue };
        compared += 1;
        // Where the interaction is hundreds of times below the error, rounding is magnified by their ratio.
        assert_close("F", got.f, expected.f, 1e-8);
        assert_close("df", got.error_df, expected.error_df, 1e-8);
        for (got, expected) in newton.means.iter().zip(&closed.means) {
            assert_close("mean", got.mean, expected.mean, 1e-11);
            let (Ok(got), Ok(expected)) = (&got.spread, &expected.spread) else { continue };
            assert_close("se", got.se, expected.se, 1e-8);
            assert_close("df", got.df, expected.df, 1e-8);
        }
    }
    assert!(compared > STUDIES / 6, "{compared}");
}

/// Same F, p and means, whatever the order of samples.
fn assert_same(what: &str, got: &ModelFit, expected: &ModelFit, scale: f64, shift: f64) {
    assert_eq!(got.anova.is_ok(), expected.anova.is_ok(), "{what}: {:?} {:?}", got.anova, expected.anova);
    if let (Ok(got), Ok(expected)) = (&got.anova, &expected.anova) {
        assert_close(&format!("{what} F"), got.f, expected.f, 1e-7);
        assert_close(&format!("{what} df"), got.error_df, expected.error_df, 1e-7);
        assert!((got.p - expected.p).abs() <= 1e-5 * expected.p, "{what} p {} {}", got.p, expected.p);
    }
    for mean in &expected.means {
        let found = got.means.iter().find(|other| other.sample == mean.sample).unwrap();
        assert!((found.mean - scale * mean.mean - shift).abs() < 1e-9 * (scale + shift.abs()), "{what} mean");
        assert_eq!(found.n, mean.n);
        if let (Ok(found), Ok(spread)) = (&found.spread, &mean.spread) {
            assert_close(&format!("{what} se"), found.se, scale * spread.se, 1e-7);
            assert_close(&format!("{what} mean df"), found.df, spread.df, 1e-6);
        }
    }
    if let (Ok(got), Ok(expected)) = (&got.model, &expected.model) {
        let total = expected.var_assessor + expected.var_error;
        assert!((got.var_error / scale / scale - expected.var_error).abs() <= 1e-7 * total, "{what} error variance");
        assert!((got.var_assessor / scale / scale - expected.var_assessor).abs() <= 1e-7 * total, "{what} assessor");
    }
}

#[test]
fn the_order_of_rows_assessors_and_samples_changes_nothing() {
    let mut random = Random::seeded_for(21, "orders");
    for scores in random_studies("orders") {
        let expected = fitted(&scores);
        let mut rows = scores.clone();
        random.shuffle(&mut rows.observations);
        assert_same("rows", &fitted(&rows), &expected, 1.0, 0.0);
        let (mut people, mut cups) =
            ((0..scores.assessors.len()).collect::<Vec<_>>(), (0..scores.samples.len()).collect::<Vec<_>>());
        random.shuffle(&mut people);
        random.shuffle(&mut cups);
        let mut moved = scores.clone();
        for (old, new) in people.iter().enumerate() {
            moved.assessors[*new] = scores.assessors[old].clone();
        }
        for (old, new) in cups.iter().enumerate() {
            moved.samples[*new] = scores.samples[old].clone();
        }
        for observation in &mut moved.observations {
            observation.assessor = people[observation.assessor as usize] as u32;
            observation.sample = cups[observation.sample as usize] as u32;
        }
        assert_same("names", &fitted(&moved), &expected, 1.0, 0.0);
    }
}

#[test]
fn another_unit_scales_what_is_in_mm_and_leaves_f() {
    for scores in random_studies("units") {
        let expected = fitted(&scores);
        for (scale, shift) in [(25.4, 0.0), (0.15, 0.0), (1.0, 1000.0), (0.1, -5.0)] {
            let mut other = scores.clone();
            other.observations.iter_mut().for_each(|o| o.score = scale * o.score + shift);
            assert_same(&format!("times {scale} plus {shift}"), &fitted(&other), &expected, scale, shift);
        }
    }
}

#[test]
fn every_figure_is_a_number_and_every_probability_lies_between_zero_and_one() {
    let mut defined = 0;
    for scores in random_studies("figures") {
        let fit = fitted(&scores);
        if let Ok(anova) = &fit.anova {
            defined += 1;
            assert!(anova.f.is_finite() && anova.f >= 0.0 && anova.error_df > 0.0 && (0.0..=1.0).contains(&anova.p));
        }
        if let Ok(model) = &fit.model {
            let interaction = model.var_interaction.clone().unwrap_or(0.0);
            assert!([model.var_assessor, interaction, model.var_error].iter().all(|v| v.is_finite() && *v >= 0.0));
        }
        for mean in &fit.means {
            assert!(mean.mean.is_finite() && mean.n > 0);
            if let Ok(spread) = &mean.spread {
                assert!(spread.se > 0.0 && spread.df > 0.0 && spread.lower < mean.mean && spread.upper > mean.mean);
            }
        }
        for sample in 0..scores.samples.len() {
            if let Ok(difference) = fit.difference(sample, 0) {
                assert!(sample > 0 && difference.se > 0.0 && difference.df > 0.0 && difference.estimate.is_finite());
            }
        }
    }
    assert!(defined > STUDIES / 2, "{defined}");
}

#[test]
fn adjusted_p_values_are_never_below_plain_ones() {
    for scores in random_studies("adjusted").iter().step_by(7) {
        let fit = fitted(scores);
        if let Ok(pairs) = pairwise(&fit, &ComparisonOptions::default()) {
            for pair in &pairs.comparisons {
                assert!(pair.p_tukey >= pair.p_unadjusted * (1.0 - 1e-9) && pair.p_tukey <= 1.0, "{pair:?}");
                assert!(pair.p_holm >= pair.p_benjamini_hochberg && pair.p_holm >= pair.p_unadjusted);
                assert!(pair.tukey_interval.lower <= pair.interval.lower + 1e-9 * pair.se);
                let excluded = pair.tukey_interval.excludes_zero();
                assert_eq!(excluded, pair.p_tukey < pairs.alpha, "interval and test must agree: {pair:?}");
            }
        }
        if let Ok(found) = many_to_one(&fit, 0, &ComparisonOptions::default()) {
            for candidate in &found.comparisons {
                assert!(candidate.p_adjusted >= candidate.p_unadjusted * (1.0 - 1e-9), "{candidate:?}");
            }
        }
    }
}
