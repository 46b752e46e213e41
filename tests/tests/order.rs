//! Order, carry-over, drift and label effects; scale use; influence of one assessor; integrated words.

use likeness_core::numeric::random::Random;
use likeness_core::stats::r#match::integrated_attributes::integrated_explained;
use likeness_core::stats::r#match::leave_one_out::{InfluenceRun, influence};
use likeness_core::stats::panel::scale_use::scale_use;
use likeness_core::stats::panel::serving_order::{OrderEffects, label_effects, order_effects};
use likeness_core::stats::{Verdict, analyse};
use likeness_core::study::{AttributeKind, Exclusion, ExclusionScope, Scale, ScoreAddress, Study, StudyBuilder};
use likeness_tests::studies::{RandomStudy, close, wide};

/// Williams' square for four samples: every sample in every place, after every other, equally often (Williams 1949).
const WILLIAMS: [[usize; 4]; 4] = [[0, 1, 3, 2], [1, 2, 0, 3], [2, 3, 1, 0], [3, 0, 2, 1]];
const NAMES: [&str; 4] = ["A", "B", "C", "D"];

/// What is built into an ordered study, in mm.
#[derive(Clone, Copy, Default)]
struct Built {
    first_position: f64,
    after_d: f64,
    drift: f64,
    noise: f64,
}

fn ordered(assessors: usize, replicates: u32, built: Built, seed: u64) -> Study {
    let mut random = Random::seeded_for(seed, "ordered");
    let mut builder = StudyBuilder::new(Scale::default());
    for assessor in 0..assessors {
        let level = 50.0 + 8.0 * random.normal();
        for replicate in 1..=replicates {
            let order = WILLIAMS[(assessor + replicate as usize) % 4];
            for (place, sample) in order.into_iter().enumerate() {
                let mut score =
                    level + 7.0 * sample as f64 + built.drift * place as f64 + built.noise * random.normal();
                score += if place == 0 { built.first_position } else { 0.0 };
                score += if place > 0 && order[place - 1] == 3 { built.after_d } else { 0.0 };
                let name = format!("J{assessor}");
                let address = ScoreAddress {
                    assessor: &name,
                    sample: NAMES[sample],
                    replicate,
                    position: Some(place as u32 + 1),
                    ..ScoreAddress::default()
                };
                builder.add(address, "green", score).unwrap();
            }
        }
    }
    builder.finish("ordered")
}

fn only(study: &Study) -> OrderEffects {
    order_effects(study).unwrap().remove(0)
}

#[test]
fn what_was_built_in_comes_out() {
    // Hardly any noise: position 1 + 8 mm, after D - 6 mm. Against the mean of all: 8 - 2 = 6 and -2 for positions;
    // -6 + 1.5 = -4.5 and + 1.5 for the sample before.
    let built = Built { first_position: 8.0, after_d: -6.0, noise: 1e-4, ..Built::default() };
    let got = only(&ordered(12, 2, built, 1));
    let carry = got.carry_over.unwrap();
    for (effect, wanted) in carry.effects.iter().zip([1.5, 1.5, 1.5, -4.5]) {
        close(effect.estimate, wanted, 1e-3, &effect.what);
    }
    assert_eq!(carry.effects[3].what, "after sample D");
    assert!(carry.p_any < 1e-10);
    let built = Built { first_position: 8.0, noise: 1e-4, ..Built::default() };
    let position = only(&ordered(12, 2, built, 2)).position.unwrap();
    for (effect, wanted) in position.effects.iter().zip([6.0, -2.0, -2.0, -2.0]) {
        close(effect.estimate, wanted, 1e-3, &effect.what);
    }
    let drift = only(&ordered(12, 2, Built { drift: -1.5, noise: 1e-4, ..Built::default() }, 3)).drift.unwrap();
    close(drift.estimate, -1.5, 1e-3, "drift");
    close(drift.df, 11.0, 1e-15, "df");
}

#[test]
fn in_a_balanced_order_position_effects_are_plain_means() {
    let study = ordered(8, 1, Built { noise: 5.0, ..Built::default() }, 4);
    let got = only(&study).position.unwrap();
    let scores = study.attribute_scores(0);
    let grand = scores.observations.iter().map(|o| o.score).sum::<f64>() / 32.0;
    for (place, effect) in (1..).zip(&got.effects) {
        let here = scores.observations.iter().filter(|o| o.position == Some(place)).map(|o| o.score).sum::<f64>() / 8.0;
        close(effect.estimate, here - grand, 1e-9, &effect.what);
    }
    close(got.effects.iter().map(|effect| effect.estimate).sum::<f64>(), 0.0, 1e-9, "effects add up to nothing");
}

#[test]
fn intervals_hold_what_is_there_as_often_as_they_say() {
    // 400 studies: 95 % intervals should hold in 380, standard error 4.4.
    let (mut drift_held, mut position_held, mut alarms) = (0, 0, 0);
    for seed in 0..400 {
        let built = Built { drift: 1.0, noise: 6.0, ..Built::default() };
        let got = only(&ordered(12, 1, built, 100 + seed));
        let drift = got.drift.unwrap();
        drift_held += usize::from(drift.interval95.lower <= 1.0 && 1.0 <= drift.interval95.upper);
        let first = got.position.unwrap().effects.remove(0);
        position_held += usize::from(first.interval95.lower <= -1.5 && -1.5 <= first.interval95.upper);
        alarms += usize::from(got.carry_over.unwrap().p_any < 0.05);
    }
    assert!((366..=394).contains(&drift_held), "{drift_held}");
    assert!((366..=394).contains(&position_held), "{position_held}");
    assert!(alarms <= 34, "no carry-over was there, yet {alarms} of 400 claimed one");
}

#[test]
fn a_file_without_positions_turns_the_check_off() {
    let study = RandomStudy::default().draw(1);
    let because = order_effects(&study).unwrap_err().because;
    assert_eq!(because, "the file has no serving positions; the check is off");
    let mut study = ordered(4, 1, Built { noise: 1.0, ..Built::default() }, 1);
    study.servings[3].position = None;
    assert!(order_effects(&study).unwrap_err().because.contains("some servings have no position"));
}

#[test]
fn one_order_for_all_cannot_tell_position_from_sample() {
    let mut study = ordered(6, 1, Built { noise: 1.0, ..Built::default() }, 1);
    for serving in &mut study.servings {
        serving.position = Some(serving.sample + 1);
    }
    let got = only(&study);
    assert!(got.position.unwrap_err().because.contains("position and sample go together"));
    assert!(got.drift.unwrap_err().because.contains("position and sample go together"));
    assert!(got.carry_over.is_err());
}

#[test]
fn a_label_effect_is_a_paired_difference() {
    let mut builder = StudyBuilder::new(Scale::default());
    for (place, assessor) in ["Ada", "Ben", "Cyd", "Dan", "Eve", "Fay"].into_iter().enumerate() {
        for (replicate, label, gain) in [(1, "own brand", 0.0), (2, "organic", 9.0 + place as f64)] {
            let address =
                ScoreAddress { assessor, sample: "A", replicate, label: Some(label), ..ScoreAddress::default() };
            builder.add(address, "fresh", 40.0 + 3.0 * place as f64 + gain).unwrap();
        }
    }
    let study = builder.finish("label");
    let got = label_effects(&study).unwrap();
    assert_eq!((got.len(), got[0].n_assessors), (1, 6));
    assert_eq!((got[0].label.as_str(), got[0].against.as_str()), ("own brand", "organic"));
    close(got[0].difference, -11.5, 1e-12, "mean of -9 to -14");
    // All six lean the same way: 2 of 2^6 arrangements.
    close(got[0].test.as_ref().unwrap().p, 2.0 / 64.0, 1e-12, "p");
    let none = label_effects(&RandomStudy::default().draw(1)).unwrap_err().because;
    assert_eq!(none, "the file does not name two labels or more");
}

#[test]
fn scale_use_on_a_real_panel() {
    // R 4.2.2 on lmerTest::TVbo 3.1-3, regressions of the assessors' centred means on the panel's: Coloursaturation
    // slopes, scaling 50.861 (7), disagreement 103.408 (70), F 4.919, sample F 11.19 -> 15.17; Sharpness 11.81 -> 11.61.
    let study = wide("tvbo8_wide.csv");
    let of = |name: &str| scale_use(&study.attribute_scores(study.attribute_index(name).unwrap()), 0.05).unwrap();
    let colour = of("Coloursaturation");
    for (got, wanted) in colour.slopes.iter().zip([0.789, 0.278, 1.555, 1.302, 1.546, 1.122, 0.390, 1.017]) {
        assert!((got.slope - wanted).abs() <= 5e-4, "{got:?} {wanted}");
    }
    assert!((colour.scaling.ss - 50.861).abs() < 5e-4 && (colour.disagreement.ss - 103.408).abs() < 5e-4);
    assert!((colour.scaling.df - 7.0).abs() < 1e-12 && (colour.disagreement.df - 70.0).abs() < 1e-12);
    assert!((colour.scaling_test.f - 4.919).abs() < 5e-4);
    assert!((colour.plain.f - 11.19).abs() < 5e-3 && (colour.corrected.f - 15.17).abs() < 5e-3);
    assert!(colour.helps, "{}", colour.advice);
    let sharp = of("Sharpness");
    assert!((sharp.plain.f - 11.81).abs() < 5e-3 && (sharp.corrected.f - 11.61).abs() < 5e-3);
    assert!(!sharp.helps && sharp.advice.contains("no gain"), "{}", sharp.advice);
}

#[test]
fn scale_use_identities() {
    for seed in 0..6 {
        let study = RandomStudy { attributes: 1, ..RandomStudy::default() }.draw(seed);
        let got = scale_use(&study.attribute_scores(0), 0.05).unwrap();
        let mean = got.slopes.iter().map(|one| one.slope).sum::<f64>() / got.slopes.len() as f64;
        close(mean, 1.0, 1e-10, "slopes average to 1");
        let table = analyse(&study).attributes[0].anova.as_ref().unwrap().table.clone().unwrap();
        close((got.scaling.ss + got.disagreement.ss) / table.interaction.ss, 1.0, 1e-10, "parts of the interaction");
        close(got.plain.f, table.sample.ms / table.interaction.ms, 1e-10, "the plain test");
    }
    let holes = RandomStudy { missing: 0.2, ..RandomStudy::default() }.draw(1);
    assert!(scale_use(&holes.attribute_scores(0), 0.05).unwrap_err().because.contains("equally often"));
    let two = RandomStudy { samples: 2, ..RandomStudy::default() }.draw(1);
    assert!(scale_use(&two.attribute_scores(0), 0.05).unwrap_err().because.contains("three samples"));
}

#[test]
fn setting_an_assessor_aside_equals_excluding_them() {
    let mut study = RandomStudy { sd_error: 4.0, missing: 0.03, ..RandomStudy::default() }.draw(12);
    study.settings.target = Some("S1".to_owned());
    study.settings.deciding = vec!["k1".to_owned(), "k2".to_owned()];
    let got = influence(&study).unwrap();
    let whole = |study: &Study| -> Vec<(String, Verdict)> {
        analyse(study).candidates.into_iter().map(|one| (one.sample, one.verdict)).collect()
    };
    let listed: Vec<_> = got.everybody.iter().map(|one| (one.sample.clone(), one.verdict)).collect();
    assert_eq!(listed, whole(&study));
    assert_eq!(got.without.len(), 8);
    let mut changes = 0;
    for (index, without) in got.without.iter().enumerate() {
        let mut less = study.clone();
        let scope = ExclusionScope::Assessor(index);
        less.exclusions.push(Exclusion { scope, reason: "test".to_owned(), when: String::new(), late: false });
        let listed: Vec<_> = without.candidates.iter().map(|one| (one.sample.clone(), one.verdict)).collect();
        assert_eq!(listed, whole(&less));
        let moved = got.everybody.iter().zip(&without.candidates).filter(|(a, b)| a.verdict != b.verdict).count();
        assert_eq!(moved, without.changed.len());
        changes += without.attributes.len();
        assert!(without.attributes.iter().all(|one| one.with != one.without));
    }
    assert!(changes > 0, "with eight assessors and noise some verdict hangs on somebody");
    study.settings.target = None;
    assert_eq!(influence(&study).unwrap_err().because, "no target is named");
}

/// Identity: how the work is cut into pieces does not show in the result.
#[test]
fn influence_in_slices_is_influence_at_once() {
    let mut study = RandomStudy { sd_error: 4.0, missing: 0.03, ..RandomStudy::default() }.draw(12);
    study.settings.target = Some("S1".to_owned());
    let at_once = influence(&study).unwrap();
    for pieces in [1, 5, 1000] {
        let mut run = InfluenceRun::start(&study).unwrap();
        assert_eq!(run.wanted(), study.assessors.len() + 1);
        while !run.is_done() {
            run.advance(pieces);
        }
        assert_eq!(run.done(), run.wanted());
        assert_eq!(run.finish(), at_once, "{pieces} pieces a slice");
    }
    assert_eq!(InfluenceRun::start(&study).unwrap().finish(), at_once, "finishing does what is left");
}

/// "true to fruit" is 60 - cooked + a little of the assessor's own; "sweet" is nothing to it.
fn integrated_study(seed: u64) -> Study {
    let mut random = Random::seeded_for(seed, "integrated study");
    let mut builder = StudyBuilder::new(Scale::default());
    for assessor in 0..9 {
        for (sample, cooked) in [("A", 10.0), ("B", 25.0), ("C", 45.0), ("D", 30.0), ("E", 60.0), ("F", 15.0)] {
            let name = format!("J{assessor}");
            let address = ScoreAddress { assessor: &name, sample, replicate: 1, ..ScoreAddress::default() };
            let own = cooked + 6.0 * random.normal() + 2.0 * f64::from(assessor);
            builder.add(address, "cooked", own).unwrap();
            builder.add(address, "sweet", 50.0 + 6.0 * random.normal()).unwrap();
            builder.add(address, "true to fruit", 80.0 - own + 5.0 * random.normal()).unwrap();
        }
    }
    let mut study = builder.finish("integrated");
    study.attributes[2].kind = AttributeKind::Integrated;
    study
}

#[test]
fn an_integrated_word_is_associated_with_what_moves_along() {
    let got = integrated_explained(&integrated_study(1)).unwrap();
    assert_eq!((got.len(), got[0].attribute.as_str()), (1, "true to fruit"));
    let first = &got[0].associations[0];
    assert_eq!(first.attribute, "cooked");
    assert!(first.correlation < -0.85 && first.is_steady && first.same_sign > 0.999, "{first:?}");
    assert!((first.slope + 1.0).abs() < 0.2, "{first:?}");
    assert!(*first.between_samples.as_ref().unwrap() < -0.95);
    assert!(*first.within_samples.as_ref().unwrap() < -0.4);
    assert!(
        first.sentence.starts_with("More “cooked” goes with less “true to fruit”")
            && first.sentence.contains("not a cause")
    );
    assert_eq!(got, integrated_explained(&integrated_study(1)).unwrap(), "the seed fixes everything");
}

#[test]
fn a_word_that_does_not_move_along_is_seldom_called_steady() {
    // "sweet" is nothing to "true to fruit": 5 of 100 at most are claimed, three standard errors are 6.5 more.
    let steady = (0..100)
        .filter(|seed| {
            let got = integrated_explained(&integrated_study(50 + seed)).unwrap();
            got[0].associations.iter().any(|one| one.attribute == "sweet" && one.is_steady)
        })
        .count();
    assert!(steady <= 11, "{steady} of 100");
}

#[test]
fn below_five_samples_nothing_is_said() {
    let mut study = integrated_study(1);
    for sample in [4, 5] {
        let (reason, when) = ("test".to_owned(), String::new());
        let scope = likeness_core::study::ExclusionScope::Sample(sample);
        study.exclusions.push(likeness_core::study::Exclusion { scope, reason, when, late: false });
    }
    for one in &integrated_explained(&study).unwrap()[0].associations {
        assert!(!one.is_steady && one.over_samples.as_ref().unwrap_err().because.contains("fewer than five samples"));
        assert!(one.sentence.contains("can't be said"), "{}", one.sentence);
    }
}

#[test]
fn without_integrated_words_there_is_nothing_to_explain() {
    let because = integrated_explained(&RandomStudy::default().draw(1)).unwrap_err().because;
    assert_eq!(because, "no attribute is marked as a word for the whole");
    let mut study = integrated_study(1);
    study.attributes.iter_mut().for_each(|attribute| attribute.kind = AttributeKind::Integrated);
    assert!(integrated_explained(&study).unwrap_err().because.contains("no analytic attribute"));
}
