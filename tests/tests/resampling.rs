//! Distance by resampling: what must hold, and how often its intervals hold the truth.

use likeness_core::numeric::random::Random;
use likeness_core::stats::r#match::distance_bootstrap::{DistanceResampling, DistanceRun, ResamplingOptions};
use likeness_core::stats::r#match::target_against_itself::replicate_floor;
use likeness_core::stats::{Defined, analyse};
use likeness_core::study::{Scale, ScoreAddress, Study, StudyBuilder};
use likeness_tests::studies::{RandomStudy, close, wide};

fn options(draws: usize) -> ResamplingOptions {
    ResamplingOptions { draws, seed: 42, ..ResamplingOptions::default() }
}

fn run(study: &Study, target: &str, draws: usize) -> DistanceResampling {
    DistanceRun::start(study, target, options(draws)).unwrap().finish()
}

#[test]
fn any_slicing_gives_the_same_result() {
    let study = wide("tvbo8_wide.csv");
    let whole = run(&study, "TV1:1", 500);
    for slice in [1, 37, 499] {
        let mut sliced = DistanceRun::start(&study, "TV1:1", options(500)).unwrap();
        while !sliced.is_done() {
            sliced.advance(slice);
        }
        assert_eq!(sliced.draws_done(), 500);
        assert_eq!(whole, sliced.finish());
    }
    let other_seed = ResamplingOptions { seed: 43, ..options(500) };
    let other = DistanceRun::start(&study, "TV1:1", other_seed).unwrap().finish();
    assert_ne!(whole.candidates[0].interval, other.candidates[0].interval, "the seed matters");
}

#[test]
fn distances_are_those_of_the_analysis() {
    for missing in [0.0, 0.1] {
        let mut study = RandomStudy { missing, replicates: 3, ..RandomStudy::default() }.draw(7);
        study.settings.target = Some("S1".to_owned());
        let analysis = analyse(&study);
        let got = run(&study, "S1", 200);
        assert_eq!(got.candidates.len(), 4);
        for (one, other) in got.candidates.iter().zip(&analysis.candidates) {
            let distance = other.distance.as_ref().unwrap();
            assert_eq!((&one.sample, one.n_attributes), (&other.sample, distance.n_attributes));
            close(one.distance, distance.distance, 1e-10, "distance");
            close(one.distance_adjusted, distance.distance_adjusted, 1e-9, "adjusted distance");
        }
    }
}

#[test]
fn shares_of_pairs_add_up_to_one_and_ranks_go_from_close_to_far() {
    let got = run(&wide("tvbo8_wide.csv"), "TV2:2", 2000);
    let share = |a: &str, b: &str| -> f64 {
        *got.closer.iter().find(|pair| pair.sample == a && pair.than == b).unwrap().share.as_ref().unwrap()
    };
    for pair in &got.closer {
        close(share(&pair.sample, &pair.than) + share(&pair.than, &pair.sample), 1.0, 1e-12, "both ways");
    }
    assert_eq!(got.ranking.len(), 11);
    assert!(got.ranking.windows(2).all(|two| two[0].distance_adjusted <= two[1].distance_adjusted));
    assert!(got.ranking.iter().enumerate().all(|(place, one)| one.rank == place + 1));
    let closest: f64 = got.ranking.iter().map(|one| *one.share_closest.as_ref().unwrap()).sum();
    close(closest, 1.0, 1e-12, "somebody is the closest in every draw");
    // The first is closer than the last beyond doubt: their distances are far apart.
    assert!(share(&got.ranking[0].sample, &got.ranking[10].sample) > 0.99);
    for one in &got.candidates {
        let interval = one.interval.as_ref().unwrap();
        assert!(interval.lower <= interval.upper && interval.lower >= 0.0);
        assert!(interval.lower <= one.distance_adjusted && one.distance_adjusted <= interval.upper, "{one:?}");
        assert!(one.sign_flip.as_ref().unwrap().exact);
    }
}

/// A target T scored as `[attribute][assessor][replicate]` says, and a candidate C beside it.
fn target_in_replicates(attributes: &[&[&[Option<f64>]]]) -> Study {
    let mut builder = StudyBuilder::new(Scale::default());
    for (number, assessors) in attributes.iter().enumerate() {
        for (assessor, replicates) in assessors.iter().enumerate() {
            for (replicate, score) in replicates.iter().enumerate() {
                let name = format!("J{assessor}");
                let address = |sample| ScoreAddress {
                    assessor: &name,
                    sample,
                    replicate: replicate as u32 + 1,
                    ..ScoreAddress::default()
                };
                let attribute = format!("k{number}");
                builder.add(address("C"), &attribute, 50.0).unwrap();
                if let Some(score) = score {
                    builder.add(address("T"), &attribute, *score).unwrap();
                }
            }
        }
    }
    builder.finish("replicates")
}

#[test]
fn the_target_against_itself_is_the_distance_between_its_halves() {
    // By hand. Two attributes, three assessors, two replicates: first minus second is 2, 4, 6 and 0, -3, -6. The candidate
    // beside it does not change, so the mean over both samples is half of that; what is left is the other half, times the
    // root of 2: means 2 root 2 and -1.5 root 2, squares 8 + 4.5. Whole means of two cups scatter by half the variance.
    let two = target_in_replicates(&[
        &[&[Some(12.0), Some(10.0)], &[Some(24.0), Some(20.0)], &[Some(36.0), Some(30.0)]],
        &[&[Some(50.0), Some(50.0)], &[Some(50.0), Some(53.0)], &[Some(50.0), Some(56.0)]],
    ]);
    let floor = replicate_floor(&two, "T").unwrap();
    close(floor.distance, 12.5_f64.sqrt(), 1e-12, "halves");
    close(floor.distance_of_means, 2.5, 1e-12, "whole means");
    assert_eq!((floor.n_attributes, floor.n_replicates), (2, 2));
    // Three replicates, one assessor without the second: odd mean 15 less even 9 is 6 and counts alone. Variances:
    // halves 1/2 + 1, whole means 2/3; the ratio is 4/9. Half of 6 times the root of 2 is the root of 18, and then of 8.
    let three = target_in_replicates(&[&[&[Some(10.0), Some(9.0), Some(20.0)], &[Some(1.0), None, Some(90.0)]]]);
    let floor = replicate_floor(&three, "T").unwrap();
    close(floor.distance, 18.0_f64.sqrt(), 1e-12, "halves of three");
    close(floor.distance_of_means, 8.0_f64.sqrt(), 1e-12, "whole means of three");
    let once = target_in_replicates(&[&[&[Some(10.0)], &[Some(11.0)]]]);
    assert_eq!(
        replicate_floor(&once, "T").unwrap_err().because,
        "no assessor scored the target and another sample more than once"
    );
    assert!(replicate_floor(&two, "X").unwrap_err().because.contains("no sample called"));
}

/// Identity: what changes from round to round for all samples alike lies in no distance to a candidate, and in no floor.
#[test]
fn a_shift_of_a_whole_round_leaves_the_floor_as_it_is() {
    let study = RandomStudy::default().draw(3);
    let mut shifted = study.clone();
    for (serving, one) in study.servings.iter().enumerate().filter(|(_, one)| one.replicate == 2) {
        for attribute in 0..study.attributes.len() {
            let level = 5.0 + f64::from(one.assessor);
            shifted.set_score(serving, attribute, study.score(serving, attribute).map(|score| score + level));
        }
    }
    let (before, after) = (replicate_floor(&study, "S2").unwrap(), replicate_floor(&shifted, "S2").unwrap());
    close(after.distance, before.distance, 1e-9, "floor");
}

#[test]
fn one_scale_for_another_scales_distances_and_leaves_shares() {
    let study = RandomStudy::default().draw(3);
    let mut scaled = study.clone();
    for serving in 0..study.servings.len() {
        for attribute in 0..study.attributes.len() {
            scaled.set_score(serving, attribute, study.score(serving, attribute).map(|score| score * 0.25));
        }
    }
    let (mm, points) = (run(&study, "S2", 400), run(&scaled, "S2", 400));
    assert_eq!(mm.closer, points.closer);
    for (one, two) in mm.candidates.iter().zip(&points.candidates) {
        close(0.25 * one.distance, two.distance, 1e-12, "distance");
        close(0.25 * one.interval.as_ref().unwrap().upper, two.interval.as_ref().unwrap().upper, 1e-10, "upper end");
        assert_eq!(one.sign_flip, two.sign_flip);
    }
}

/// A study of one candidate, with true differences `shift` on every attribute, and a blind duplicate of the target.
fn candidate_study(assessors: usize, attributes: usize, shift: f64, random: &mut Random) -> Study {
    let mut builder = StudyBuilder::new(Scale::default());
    for assessor in 1..=assessors {
        for attribute in 1..=attributes {
            for (sample, truth) in [("target", 50.0), ("candidate", 50.0 + shift), ("twin", 50.0)] {
                let score = truth + 8.0 * random.normal();
                let name = format!("J{assessor}");
                let address = ScoreAddress { assessor: &name, sample, replicate: 1, ..ScoreAddress::default() };
                builder.add(address, &format!("k{attribute}"), score).unwrap();
            }
        }
    }
    builder.finish("candidate")
}

#[test]
fn intervals_hold_the_true_distance_about_as_often_as_they_say() {
    // 12 assessors, 10 attributes, 300 studies each: the standard error of a share near .95 is .013. Measured .997, .950
    // and .943 when written; asked for is 95 % less three standard errors.
    let mut random = Random::seeded_for(2024, "coverage");
    for (shift, least) in [(0.0, 0.91), (3.0, 0.91), (8.0, 0.91)] {
        let truth = shift * 10.0_f64.sqrt();
        let held = (0..300)
            .filter(|_| {
                let study = candidate_study(12, 10, shift, &mut random);
                let got = run(&study, "target", 500);
                let interval = got.candidates[0].interval.as_ref().unwrap();
                interval.lower <= truth + 1e-9 && truth <= interval.upper + 1e-9
            })
            .count();
        let share = held as f64 / 300.0;
        assert!(share >= least, "shift {shift}: the interval held the truth in {share}");
    }
}

#[test]
fn the_sign_flip_test_keeps_its_level() {
    // 1000 studies without a difference: p <= .05 in 5 %, standard error .7 %.
    let mut random = Random::seeded_for(77, "level");
    let rejected = (0..1000)
        .filter(|_| {
            let study = candidate_study(8, 4, 0.0, &mut random);
            let got = run(&study, "target", 0);
            got.candidates[0].sign_flip.as_ref().unwrap().p <= 0.05
        })
        .count();
    assert!((28..=72).contains(&rejected), "{rejected}");
}

#[test]
fn a_blind_duplicate_sets_the_noise_floor() {
    let mut random = Random::seeded(5);
    let study = candidate_study(10, 8, 12.0, &mut random);
    let wanted = ResamplingOptions { blind_duplicate: Some("twin".to_owned()), ..options(1000) };
    let got = DistanceRun::start(&study, "target", wanted).unwrap().finish();
    let floor = got.noise_floor.unwrap().unwrap();
    assert_eq!(floor.duplicate.sample, "twin");
    assert!(floor.duplicate.distance > 0.0, "two cups of the same are never quite the same");
    assert_eq!(floor.within_noise.len(), 1);
    assert!(*floor.within_noise[0].share.as_ref().unwrap() < 0.01);
    let wrong = ResamplingOptions { blind_duplicate: Some("nobody".to_owned()), ..options(10) };
    let got = DistanceRun::start(&study, "target", wrong).unwrap().finish();
    assert!(got.noise_floor.unwrap().unwrap_err().because.contains("nobody"));
}

#[test]
fn too_little_says_why() {
    let study = RandomStudy { assessors: 2, ..RandomStudy::default() }.draw(1);
    let because = |result: Defined<DistanceRun>| result.map(|_| ()).unwrap_err().because;
    assert!(because(DistanceRun::start(&study, "S1", options(10))).contains("three assessors"));
    let study = RandomStudy::default().draw(1);
    assert!(because(DistanceRun::start(&study, "none", options(10))).contains("no sample called"));
    let study = RandomStudy { samples: 1, ..RandomStudy::default() }.draw(1);
    assert!(because(DistanceRun::start(&study, "S1", options(10))).contains("no candidate"));
}

#[test]
fn candidates_on_other_attributes_are_not_compared() {
    let mut study = RandomStudy::default().draw(2);
    let last = study.sample_index("S5").unwrap() as u32;
    for serving in 0..study.servings.len() {
        if study.servings[serving].sample == last {
            study.set_score(serving, 0, None);
        }
    }
    let got = run(&study, "S1", 100);
    let pair = got.closer.iter().find(|pair| pair.sample == "S5" && pair.than == "S2").unwrap();
    assert!(pair.share.as_ref().unwrap_err().because.contains("same attributes"));
    assert!(got.ranking[0].share_closest.is_err());
    assert!(got.candidates.iter().all(|one| one.interval.is_ok()));
}
