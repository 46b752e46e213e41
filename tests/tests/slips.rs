//! Form faults put into clean seeded panels are found; clean panels stay quiet as often as promised.

use likeness_core::numeric::random::Random;
use likeness_core::stats::panel::form_faults::{
    FALSE_ALARM, FormFaultKind, FormFaultReport, FormFaultSearch, Suspicion, suspected_form_faults,
};
use likeness_core::study::{Scale, ScoreAddress, Study, StudyBuilder};

const ASSESSORS: usize = 10;
const SAMPLES: usize = 5;
const ATTRIBUTES: usize = 12;

/// A clean panel: sample profiles, assessor levels, disagreement, a generous or stingy mood for each page, and noise;
/// rounded to mm and kept on the line as real marks are.
fn clean(seed: u64) -> Study {
    let mut random = Random::seeded_for(seed, "clean panel");
    let mut draw = |n: usize, sd: f64| -> Vec<f64> { (0..n).map(|_| sd * random.normal()).collect() };
    let typical: Vec<f64> = draw(ATTRIBUTES, 16.0).iter().map(|x| 45.0 + x).collect();
    let profiles: Vec<Vec<f64>> = (0..SAMPLES).map(|_| draw(ATTRIBUTES, 12.0)).collect();
    let mut builder = StudyBuilder::new(Scale::default());
    for assessor in 1..=ASSESSORS {
        let levels = draw(ATTRIBUTES, 8.0);
        for (sample, profile) in profiles.iter().enumerate() {
            let disagreement = draw(ATTRIBUTES, 5.0);
            for replicate in [1, 2] {
                let mood = draw(1, 4.0)[0];
                for (attribute, noise) in draw(ATTRIBUTES, 8.0).iter().enumerate() {
                    let mark = typical[attribute] + profile[attribute] + levels[attribute] + disagreement[attribute];
                    let (assessor, sample) = (format!("J{assessor}"), format!("S{}", sample + 1));
                    let address =
                        ScoreAddress { assessor: &assessor, sample: &sample, replicate, ..ScoreAddress::default() };
                    let score = (mark + mood + noise).clamp(0.0, 100.0).round();
                    builder.add(address, &format!("line {}", attribute + 1), score).unwrap();
                }
            }
        }
    }
    builder.finish("clean")
}

fn page(study: &Study, assessor: &str, sample: &str, replicate: u32) -> usize {
    let found = study.servings.iter().position(|serving| {
        study.assessors[serving.assessor as usize].name == assessor
            && study.samples[serving.sample as usize].name == sample
            && serving.replicate == replicate
    });
    found.unwrap()
}

/// Moves the marks of a page one line down from line `from` (0 is the first) on; that line stays empty.
fn shift_down(study: &mut Study, serving: usize, from: usize) {
    for line in (from + 1..ATTRIBUTES).rev() {
        let above = study.score(serving, line - 1);
        study.set_score(serving, line, above);
    }
    study.set_score(serving, from, None);
}

fn shift_up(study: &mut Study, serving: usize, from: usize) {
    for line in from..ATTRIBUTES - 1 {
        let below = study.score(serving, line + 1);
        study.set_score(serving, line, below);
    }
    study.set_score(serving, ATTRIBUTES - 1, None);
}

fn of_kind(report: &FormFaultReport, kind: FormFaultKind) -> Vec<&Suspicion> {
    report.suspicions.iter().filter(|suspicion| suspicion.kind == kind).collect()
}

#[test]
fn clean_panels_stay_quiet() {
    // Promised: any suspicion in 5 % of clean studies at most, so 10 of 200. Measured when written: 1.
    let alarms: Vec<u64> =
        (0..200).filter(|seed| !suspected_form_faults(&clean(*seed)).suspicions.is_empty()).collect();
    assert!(alarms.len() as f64 <= 200.0 * FALSE_ALARM, "{} of 200 raised an alarm: seeds {alarms:?}", alarms.len());
}

#[test]
fn pages_shifted_by_one_line_are_found_and_placed() {
    // 40 studies, one page shifted from the third line on, among marks that scatter by 10 mm. Measured when written: 33
    // found, none named wrongly, 23 placed to within a line. Asked for: three in four, half of them placed.
    let (mut found, mut placed) = (0, 0);
    for seed in 0..40 {
        let mut study = clean(1000 + seed);
        let serving = page(&study, "J4", "S2", 1);
        let down = seed % 2 == 0;
        if down {
            shift_down(&mut study, serving, 2)
        } else {
            shift_up(&mut study, serving, 2)
        };
        let report = suspected_form_faults(&study);
        let kind = if down { FormFaultKind::ShiftedDown } else { FormFaultKind::ShiftedUp };
        if let Some(one) = of_kind(&report, kind).first() {
            found += 1;
            assert_eq!((one.assessor.as_str(), one.samples[0].as_str(), one.replicate), ("J4", "S2", Some(1)));
            assert_eq!(one.servings, [serving as u32]);
            assert!(one.evidence.as_suspected.typical_misfit < one.evidence.as_written.typical_misfit);
            assert!(one.evidence.log10_times_likelier > one.evidence.log10_threshold);
            let line: usize = one.attribute.as_ref().unwrap().trim_start_matches("line ").parse().unwrap();
            // The first wrong line is the fourth (down: the third is empty) or the third (up).
            placed += usize::from(line.abs_diff(if down { 4 } else { 3 }) <= 1);
        }
    }
    assert!(found >= 30 && 2 * placed >= found, "found {found}, placed {placed}");
}

#[test]
fn swapped_forms_are_found() {
    let mut found = 0;
    for seed in 0..40 {
        let mut study = clean(2000 + seed);
        let (one, two) = (page(&study, "J7", "S1", 2), page(&study, "J7", "S4", 2));
        for line in 0..ATTRIBUTES {
            let (a, b) = (study.score(one, line), study.score(two, line));
            study.set_score(one, line, b);
            study.set_score(two, line, a);
        }
        let report = suspected_form_faults(&study);
        if let Some(first) = of_kind(&report, FormFaultKind::SwappedForms).first() {
            found += usize::from(first.assessor == "J7" && first.samples == ["S1", "S4"]);
            assert!(first.sentence.contains("swapped"));
        }
    }
    // Measured when written: 33.
    assert!(found >= 30, "{found} of 40");
}

#[test]
fn scales_turned_round_are_found() {
    let (mut whole, mut single) = (0, 0);
    for seed in 0..40 {
        let study = clean(3000 + seed);
        let turn = |lines: &[usize]| {
            let mut turned = study.clone();
            for serving in 0..study.servings.len() {
                if study.assessors[study.servings[serving].assessor as usize].name == "J3" {
                    for line in lines {
                        turned.set_score(serving, *line, study.score(serving, *line).map(|mark| 100.0 - mark));
                    }
                }
            }
            suspected_form_faults(&turned)
        };
        let all: Vec<usize> = (0..ATTRIBUTES).collect();
        let report = turn(&all);
        whole += usize::from(of_kind(&report, FormFaultKind::MirroredAssessor).iter().any(|one| one.assessor == "J3"));
        // The attribute on which the samples differ most is the one where turning it round can be seen.
        let spread = |line: &usize| {
            let means: Vec<f64> = (0..SAMPLES)
                .map(|sample| {
                    let marks = study.servings.iter().enumerate().filter(|(_, s)| s.sample as usize == sample);
                    marks.filter_map(|(index, _)| study.score(index, *line)).sum::<f64>() / 20.0
                })
                .collect();
            means.iter().copied().fold(f64::MIN, f64::max) - means.iter().copied().fold(f64::MAX, f64::min)
        };
        let widest = (0..ATTRIBUTES).max_by(|a, b| spread(a).total_cmp(&spread(b))).unwrap();
        let report = turn(&[widest]);
        let name = format!("line {}", widest + 1);
        single += usize::from(
            of_kind(&report, FormFaultKind::MirroredAttribute).iter().any(|one| one.attribute.as_ref() == Some(&name)),
        );
    }
    // Measured when written: 40 and 37.
    assert!(whole >= 38, "{whole} of 40 whole");
    assert!(single >= 32, "{single} of 40 single");
}

#[test]
fn too_little_turns_checks_off_in_words() {
    let mut study = clean(1);
    for assessor in 3..ASSESSORS {
        study.exclusions.push(likeness_core::study::Exclusion {
            scope: likeness_core::study::ExclusionScope::Assessor(assessor),
            reason: "test".to_owned(),
            when: String::new(),
            late: false,
        });
    }
    let report = suspected_form_faults(&study);
    assert!(report.suspicions.is_empty() && report.off[0].contains("four assessors") && report.n_pages == 0);
    let empty = suspected_form_faults(&StudyBuilder::new(Scale::default()).finish("empty"));
    assert_eq!((empty.n_pages, empty.suspicions.len(), empty.off.len()), (0, 0, 1));
}

/// Identity: how the search is cut into pieces does not show in what it finds.
#[test]
fn a_search_in_slices_finds_what_a_search_at_once_finds() {
    let mut study = clean(3);
    let shifted = page(&study, "J4", "S2", 1);
    shift_down(&mut study, shifted, 3);
    let at_once = suspected_form_faults(&study);
    assert!(!at_once.suspicions.is_empty());
    for pieces in [1, 7, 64] {
        let mut search = FormFaultSearch::start(&study);
        // 100 pages, 10 assessors x 2 replicates x 10 pairs of 5 samples, 12 scales: by hand.
        assert_eq!(search.wanted(), 100 + 200 + 12);
        let mut slices = 0;
        while !search.is_done() {
            search.advance(pieces);
            slices += 1;
            assert_eq!(search.done(), (slices * pieces).min(search.wanted()));
        }
        assert_eq!(search.finish(), at_once, "{pieces} pieces a slice");
    }
    assert_eq!(FormFaultSearch::start(&study).finish(), at_once, "finishing does what is left");
}
