//! Panel performance against outside figures, and what must hold for any study.

use likeness_core::read::{ReadOptions, read_text};
use likeness_core::stats::panel::outcomes::{Outcome, OutcomeCounts, Outcomes};
use likeness_core::stats::panel::performance::{PanelPerformance, TestCounts, performance};
use likeness_core::stats::panel::sessions::{session_performance, sessions_known};
use likeness_core::stats::{Defined, NotDefined, analyse};
use likeness_core::study::{Scale, ScoreAddress, Study, StudyBuilder};
use likeness_tests::studies::{RandomStudy, close, expected, wide};

fn sample_p(study: &Study) -> Vec<Defined<f64>> {
    analyse(study).sample_p()
}

fn perform(study: &Study) -> PanelPerformance {
    performance(study, &sample_p(study))
}

#[test]
fn every_assessor_of_a_real_panel_on_every_attribute() {
    // R 4.2.2 on lmerTest::TVbo 3.1-3, per assessor: anova(lm(y ~ sample)), cor() and lm() on the mean of the others;
    // figures in tests/reference/expected/tvbo8.json under "assessors".
    let expected = expected("tvbo8.json");
    let got = perform(&wide("tvbo8_wide.csv"));
    assert_eq!(got.attributes.len(), 8);
    let mut ranks_that_differ = 0;
    for attribute in &got.attributes {
        let table = &expected["attributes"][&attribute.attribute];
        for (one, wanted) in attribute.assessors.iter().zip(table["assessors"].as_array().unwrap()) {
            let number = |name: &str| wanted[name].as_f64().unwrap();
            assert_eq!(one.assessor, wanted["assessor"].as_str().unwrap());
            let f = one.discrimination.as_ref().unwrap();
            close(f.f, number("F"), 1e-11, "F");
            close(f.p / number("p"), 1.0, 1e-10, "p");
            close(one.repeatability.as_ref().unwrap().sd, number("repeat_sd"), 1e-12, "repeatability");
            let agreement = one.agreement.as_ref().unwrap();
            close(agreement.correlation, number("r_with_rest"), 1e-12, "r");
            let rank = (agreement.rank_correlation - number("spearman_with_rest")).abs();
            ranks_that_differ += usize::from(rank > 1e-12);
            assert!(rank < 0.025);
            close(agreement.slope, number("slope_on_rest"), 1e-12, "slope");
            let range = one.scale_use.as_ref().unwrap();
            close(range.level, number("mean"), 1e-13, "level");
            close(range.lowest, number("min"), 1e-13, "lowest");
            close(range.highest, number("max"), 1e-13, "highest");
            close(range.sd_of_scores.unwrap(), number("sd_raw"), 1e-12, "sd of scores");
            close(range.sd_of_sample_means.unwrap(), number("sd_of_sample_means"), 1e-12, "sd of means");
            close(*one.interaction_share.as_ref().unwrap(), number("interaction_share"), 1e-11, "share");
        }
        let lines = &table["anova"];
        let interaction = attribute.interaction.as_ref().unwrap();
        close(interaction.f, lines["interaction"]["F"].as_f64().unwrap(), 1e-11, "interaction F");
        close(interaction.p / lines["interaction"]["p"].as_f64().unwrap(), 1.0, 1e-9, "interaction p");
        let pooled = attribute.repeatability.as_ref().unwrap();
        close(pooled.sd, lines["error"]["MS"].as_f64().unwrap().sqrt(), 1e-12, "pooled repeatability");
        // In a balanced panel the consistency of the panel mean is 1 - 1 / F with the right denominator.
        let f = lines["sample"]["MS"].as_f64().unwrap() / lines["interaction"]["MS"].as_f64().unwrap();
        close(attribute.intraclass.as_ref().unwrap().consistency_mean, 1.0 - 1.0 / f, 1e-12, "consistency");
    }
    // R ranks means by their last bit, so that means equal on paper are untied there; the next test ranks whole numbers.
    assert_eq!(ranks_that_differ, 9);
}

#[test]
fn rank_correlations_of_a_real_panel_in_whole_numbers() {
    // TVbo has one decimal and full cells, so ten times the sums are whole numbers and ties are exact.
    let study = wide("tvbo8_wide.csv");
    let got = perform(&study);
    for (index, attribute) in got.attributes.iter().enumerate() {
        let mut sums = vec![vec![0_i64; study.samples.len()]; study.assessors.len()];
        for (serving, place) in study.servings.iter().enumerate() {
            let tenths = (study.score(serving, index).unwrap() * 10.0).round() as i64;
            sums[place.assessor as usize][place.sample as usize] += tenths;
        }
        for (assessor, one) in attribute.assessors.iter().enumerate() {
            let others: Vec<i64> = (0..study.samples.len())
                .map(|sample| sums.iter().map(|row| row[sample]).sum::<i64>() - sums[assessor][sample])
                .collect();
            let wanted = rank_correlation(&others, &sums[assessor]);
            close(one.agreement.as_ref().unwrap().rank_correlation, wanted, 1e-12, "rank r");
        }
    }
}

/// Spearman's correlation from whole numbers: rank = how many are smaller + half of how many are equal.
fn rank_correlation(x: &[i64], y: &[i64]) -> f64 {
    let ranks = |values: &[i64]| -> Vec<f64> {
        let rank = |one: &i64| values.iter().map(|other| f64::from((one.cmp(other) as i8 + 1) as u8) / 2.0).sum();
        values.iter().map(rank).collect()
    };
    let (x, y) = (ranks(x), ranks(y));
    let middle = x.len() as f64 / 2.0;
    let sum = |x: &[f64], y: &[f64]| x.iter().zip(y).map(|(x, y)| (x - middle) * (y - middle)).sum::<f64>();
    sum(&x, &y) / (sum(&x, &x) * sum(&y, &y)).sqrt()
}

#[test]
fn summaries_of_a_real_panel() {
    // The same R run, "assessor_summary" in tvbo8.json.
    let expected = expected("tvbo8.json");
    let got = perform(&wide("tvbo8_wide.csv"));
    for (one, wanted) in got.assessors.iter().zip(expected["assessor_summary"].as_array().unwrap()) {
        assert_eq!(one.assessor, wanted["assessor"].as_str().unwrap());
        assert_eq!(one.n_discriminating as u64, wanted["n_discriminating_05"].as_u64().unwrap());
        let number = |name: &str| wanted[name].as_f64().unwrap();
        close(*one.mean_correlation.as_ref().unwrap(), number("mean_r_with_rest"), 1e-12, "mean r");
        close(*one.repeatability_sd.as_ref().unwrap(), number("pooled_repeat_sd"), 1e-12, "pooled sd");
        // The panel discriminates on all 8 attributes, so failures and successes make 8.
        let failures = one.fails_to_discriminate.as_ref().unwrap();
        assert_eq!((failures.tested, failures.failed + one.n_discriminating), (8, 8));
        assert!(failures.interval95.lower <= failures.share && failures.share <= failures.interval95.upper);
    }
}

#[test]
fn sharpness_to_three_digits() {
    // R 4.2.2, TVbo Sharpness, assessors 1 to 8.
    let got = perform(&wide("tvbo8_wide.csv"));
    let sharpness = got.attributes.iter().find(|attribute| attribute.attribute == "Sharpness").unwrap();
    let f = [3.57, 4.74, 1.97, 7.08, 8.02, 2.48, 10.07, 14.29];
    let sd = [0.949, 0.872, 2.080, 1.232, 1.256, 1.422, 0.912, 0.688];
    let r = [0.770, 0.912, 0.729, 0.627, 0.660, 0.620, 0.844, 0.871];
    for (index, one) in sharpness.assessors.iter().enumerate() {
        assert!((one.discrimination.as_ref().unwrap().f - f[index]).abs() <= 0.005);
        assert!((one.repeatability.as_ref().unwrap().sd - sd[index]).abs() <= 0.0005);
        assert!((one.agreement.as_ref().unwrap().correlation - r[index]).abs() <= 0.0005);
    }
}

#[test]
fn order_of_assessors_and_samples_changes_nothing() {
    let shape = RandomStudy { missing: 0.08, ..RandomStudy::default() };
    for seed in 0..4 {
        let study = shape.draw(seed);
        let mut turned = StudyBuilder::new(Scale::default());
        for (index, serving) in study.servings.iter().enumerate().rev() {
            for (attribute, name) in study.attributes.iter().enumerate() {
                if let Some(score) = study.score(index, attribute) {
                    let address = ScoreAddress {
                        assessor: &study.assessors[serving.assessor as usize].name,
                        sample: &study.samples[serving.sample as usize].name,
                        replicate: serving.replicate,
                        ..ScoreAddress::default()
                    };
                    turned.add(address, &name.name, score).unwrap();
                }
            }
        }
        let (here, there) = (perform(&study), perform(&turned.finish("turned")));
        for attribute in &here.attributes {
            let other = there.attributes.iter().find(|other| other.attribute == attribute.attribute).unwrap();
            let (f, g) = (attribute.interaction.as_ref().unwrap(), other.interaction.as_ref().unwrap());
            close(f.f, g.f, 1e-7, "interaction F");
            close(f.df1, g.df1, 1e-15, "df");
            for one in &attribute.assessors {
                let two = other.assessors.iter().find(|two| two.assessor == one.assessor).unwrap();
                close(one.discrimination.as_ref().unwrap().f, two.discrimination.as_ref().unwrap().f, 1e-10, "F");
                let (x, y) = (one.agreement.as_ref().unwrap(), two.agreement.as_ref().unwrap());
                close(x.correlation, y.correlation, 1e-8, "r");
                close(x.slope, y.slope, 1e-8, "slope");
            }
        }
    }
}

#[test]
fn ten_times_the_scale_scales_mm_and_leaves_tests_alone() {
    let study = RandomStudy::default().draw(11);
    let mut scaled = study.clone();
    for serving in 0..study.servings.len() {
        for attribute in 0..study.attributes.len() {
            scaled.set_score(serving, attribute, study.score(serving, attribute).map(|score| 0.1 * score + 3.0));
        }
    }
    let (mm, points) = (perform(&study), perform(&scaled));
    for (x, y) in mm.attributes.iter().zip(&points.attributes) {
        close(x.interaction.as_ref().unwrap().f, y.interaction.as_ref().unwrap().f, 1e-9, "F");
        close(0.1 * x.repeatability.as_ref().unwrap().sd, y.repeatability.as_ref().unwrap().sd, 1e-10, "sd");
        for (one, two) in x.assessors.iter().zip(&y.assessors) {
            close(one.discrimination.as_ref().unwrap().f, two.discrimination.as_ref().unwrap().f, 1e-9, "F");
            close(one.agreement.as_ref().unwrap().slope, two.agreement.as_ref().unwrap().slope, 1e-9, "slope");
        }
    }
}

#[test]
fn interaction_of_an_unbalanced_study_is_that_of_least_squares() {
    // Two assessors, three samples, by hand: cells (2 replicates) 1 3 | 5 7 | none and 2 4 | 6 6 | 10 12. With one cell
    // empty the four others decide the interaction: contrast (2 - 6) - (3 - 6) = -1, variance 4 * sigma^2 / 2, so
    // SS = 1 / (4 / 2) = .5 on 1 df; within SS = 2 + 2 + 2 + 0 + 2 = 8 on 5 df: F = .5 / 1.6 = .3125.
    let mut builder = StudyBuilder::new(Scale::default());
    let cells = [
        ("a", "x", [1.0, 3.0]),
        ("a", "y", [5.0, 7.0]),
        ("b", "x", [2.0, 4.0]),
        ("b", "y", [6.0, 6.0]),
        ("b", "z", [10.0, 12.0]),
    ];
    for (assessor, sample, scores) in cells {
        for (replicate, score) in (1..).zip(scores) {
            builder.add(ScoreAddress { assessor, sample, replicate, ..ScoreAddress::default() }, "k", score).unwrap();
        }
    }
    let got = performance(&builder.finish("by hand"), &[Err(NotDefined::because("not asked"))]);
    let f = got.attributes[0].interaction.as_ref().unwrap();
    close(f.f, 0.3125, 1e-9, "F");
    close(f.df1, 1.0, 1e-15, "df1");
    close(f.df2, 5.0, 1e-15, "df2");
}

#[test]
fn a_flat_assessor_a_single_replicate_and_a_single_assessor_say_why() {
    let mut builder = StudyBuilder::new(Scale::default());
    let mut put = |assessor, sample, replicate, score| {
        builder.add(ScoreAddress { assessor, sample, replicate, ..ScoreAddress::default() }, "green", score).unwrap();
    };
    for (place, sample) in ["A", "B", "C", "D"].into_iter().enumerate() {
        let place = place as f64;
        for replicate in [1, 2] {
            put("flat", sample, replicate, 40.0);
            put("keen", sample, replicate, 20.0 * place + f64::from(replicate) + 0.3 * place * f64::from(replicate));
        }
        put("once", sample, 1, 18.0 * place);
    }
    let study = builder.finish("odd");
    let got = performance(&study, &[Ok(0.001)]);
    let by_name = |name: &str| got.attributes[0].assessors.iter().find(|one| one.assessor == name).unwrap();
    assert!(by_name("flat").discrimination.as_ref().unwrap_err().because.contains("same score throughout"));
    assert!(by_name("flat").agreement.as_ref().unwrap_err().because.contains("same mean"));
    assert!(by_name("once").discrimination.as_ref().unwrap_err().because.contains("no replicates"));
    assert!(by_name("once").agreement.is_ok());
    let flat = got.assessors.iter().find(|one| one.assessor == "flat").unwrap();
    assert_eq!(flat.fails_to_discriminate.as_ref().unwrap().failed, 1, "a flat line is a failure, not a blank");
    assert_eq!(flat.fails_to_agree.as_ref().unwrap().failed, 1);
    // Marks that are all equal are repeated, whatever else they lack.
    assert_eq!(by_name("flat").outcomes.repeatability, Some(Outcome::Shown));
    let none = performance(&study, &[Ok(0.5)]);
    assert_eq!(none.attributes[0].assessors[0].outcomes, Outcomes::default(), "nobody is judged where nothing differs");
    let because = &none.assessors[0].fails_to_discriminate.as_ref().unwrap_err().because;
    assert!(because.contains("on no attribute the panel finds differences"), "{because}");
    let empty = performance(&StudyBuilder::new(Scale::default()).finish("empty"), &[]);
    assert!(empty.attributes.is_empty() && empty.assessors.is_empty());
}

#[test]
fn a_session_is_judged_as_if_it_were_the_whole_study() {
    // Identity: the real panel, 8 assessors x 12 samples x 2 replicates, as one of two sessions gives what it gives alone.
    let path = likeness_tests::reference::path("data/tvbo8_wide.csv");
    let text = std::fs::read_to_string(path).expect("the reference is there");
    let mut lines = text.lines();
    let mut both = format!("session,{}\n", lines.next().expect("a header"));
    let rows: Vec<&str> = lines.collect();
    rows.iter().for_each(|row| both += &format!("first,{row}\n"));
    // The second session: three assessors, one replicate.
    let of_few = |row: &&&str| ["1,", "2,", "3,"].iter().any(|who| row.starts_with(who));
    rows.iter().filter(of_few).step_by(2).for_each(|row| both += &format!("second,{row}\n"));
    let reading = read_text("both.csv", both.as_bytes(), &ReadOptions::default());
    let study = reading.study.unwrap_or_else(|| panic!("{:?} {:?}", reading.questions, reading.notices));
    let alone = wide("tvbo8_wide.csv");
    let expected = perform(&alone);
    let first = session_performance(&study, 0);
    assert_eq!((first.session.as_str(), first.n_assessors, first.n_samples, first.n_pages), ("first", 8, 12, 192));
    assert_eq!(first.n_tested, 8);
    assert_eq!(first.n_discriminated, expected.attributes.iter().filter(|one| one.panel_discriminates).count());
    let sds: Vec<f64> = expected.attributes.iter().map(|one| one.repeatability.as_ref().unwrap().sd).collect();
    let root_mean = (sds.iter().map(|sd| sd * sd).sum::<f64>() / sds.len() as f64).sqrt();
    close(*first.repeatability_sd.as_ref().unwrap(), root_mean, 1e-12, "scatter");
    let r: Vec<f64> = expected.assessors.iter().map(|one| *one.mean_correlation.as_ref().unwrap()).collect();
    close(*first.mean_correlation.as_ref().unwrap(), r.iter().sum::<f64>() / 8.0, 1e-12, "agreement");
    let second = session_performance(&study, 1);
    assert_eq!((second.n_assessors, second.n_tested), (3, 8));
    assert!(second.repeatability_sd.unwrap_err().because.contains("marked twice within the session"));
    assert!(sessions_known(&alone).unwrap_err().because.contains("no sessions"));
}

#[test]
fn who_sees_the_samples_upside_down_fails_and_counts_add_up() {
    let shape = RandomStudy { assessors: 12, samples: 10, attributes: 4, sd_sample: 20.0, ..RandomStudy::default() };
    let mut study = shape.draw(5);
    for serving in 0..study.servings.len() {
        if study.servings[serving].assessor == 0 {
            (0..4).for_each(|at| study.set_score(serving, at, study.score(serving, at).map(|score| 100.0 - score)));
        }
    }
    let got = perform(&study);
    for attribute in &got.attributes {
        assert_eq!(attribute.assessors[0].outcomes.agreement, Some(Outcome::Fails), "{}", attribute.attribute);
        let interval = attribute.assessors[1].agreement.as_ref().unwrap();
        let ends = interval.correlation_interval95.unwrap();
        assert!(ends.lower < interval.correlation && interval.correlation < ends.upper);
        let slope = interval.slope_interval95.unwrap();
        // The interval of the slope leaves out zero exactly where the two-sided p of the correlation is below .05.
        assert_eq!(slope.lower > 0.0, interval.p < 0.025, "{interval:?}");
    }
    // Every count over assessors is the count of all; a test is shown exactly where it is not "not shown".
    let picks: [fn(&TestCounts) -> OutcomeCounts; 3] =
        [|counts| counts.discrimination, |counts| counts.agreement, |counts| counts.repeatability];
    for pick in picks {
        let sum: usize = got.assessors.iter().map(|one| pick(&one.counts).fails).sum();
        assert_eq!(pick(&got.all).fails, sum);
    }
    for one in &got.assessors {
        let missed = one.fails_to_agree.as_ref().unwrap();
        assert_eq!(one.counts.agreement.shown, missed.tested - missed.failed);
        assert_eq!(one.counts.agreement.fails + one.counts.agreement.too_few_cups, missed.failed);
    }
}
