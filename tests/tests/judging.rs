//! The verdict on a study: which marks it stands on, which cups of the target, and how often it is wrong on studies whose
//! truth is known.

use likeness_core::numeric::random::Random;
use likeness_core::read::study_file::study_in;
use likeness_core::stats::r#match::calibrated::MatchRule;
use likeness_core::stats::r#match::second_opinion::opinion_on;
use likeness_core::stats::r#match::target_cups::TargetCups;
use likeness_core::stats::{Analysis, CandidateAnalysis, Verdict, analyse};
use likeness_core::study::{ExclusionScope, Scale, ScoreAddress, Study, StudyBuilder};
use likeness_core::tables;
use likeness_core::tables::r#match::reasons::{cautions, cups_sentence};
use likeness_core::tables::r#match::{alarm, headline, late_sentence};
use likeness_core::write::brief::flavourist_brief;
use likeness_core::write::json::analysis_json;
use likeness_core::write::report_html::report_html;
use likeness_core::write::report_text::analysis_text;
use likeness_core::write::study_file::study_file_text;
use likeness_tests::studies::{close, invented_nectar};

/// One serving: sample, session, position, label, and what it adds to an assessor's level.
#[derive(Clone, Copy)]
struct Cup {
    sample: &'static str,
    replicate: u32,
    session: &'static str,
    position: u32,
    label: Option<&'static str>,
    adds: f64,
}

const CUP: Cup = Cup { sample: "T", replicate: 1, session: "day 1", position: 1, label: None, adds: 0.0 };

/// Assessors who taste the same cups, their marks scattering by so much about their own level.
fn tasted(assessors: usize, attributes: usize, scatter: f64, cups: &[Cup], random: &mut Random) -> Study {
    let mut builder = StudyBuilder::new(Scale::default());
    for assessor in 0..assessors {
        let name = format!("J{assessor}");
        for attribute in 0..attributes {
            let level = 45.0 + 6.0 * random.normal();
            for (place, cup) in cups.iter().enumerate() {
                // Positions of all but the first cup go round, so that no other cup always stands at one place.
                let position = if place == 0 { cup.position } else { (place + assessor) as u32 % 5 + 2 };
                let address = ScoreAddress {
                    assessor: &name,
                    sample: cup.sample,
                    replicate: cup.replicate,
                    session: Some(cup.session),
                    position: Some(position),
                    label: cup.label,
                };
                let score = (level + cup.adds + scatter * random.normal()).clamp(0.0, 100.0);
                builder.add(address, &format!("k{attribute}"), score).expect("every cell is new");
            }
        }
    }
    let mut study = builder.finish("made up");
    study.settings.target = Some("T".to_owned());
    study
}

fn of<'a>(analysis: &'a Analysis, sample: &str) -> &'a CandidateAnalysis {
    analysis.candidates.iter().find(|one| one.sample == sample).expect("a candidate")
}

/// Target and candidate, twice each, on 34 attributes; nothing differs.
fn duplicate(random: &mut Random) -> Study {
    let of = |sample, replicate| Cup { sample, replicate, position: replicate, ..CUP };
    tasted(12, 34, 10.0, &[of("T", 1), of("T", 2), of("A", 1), of("A", 2)], random)
}

#[test]
fn the_very_target_under_another_code_is_seldom_called_off() {
    // 60 studies of 12 assessors, 34 attributes, 2 replicates, seed 31. By the binomial law with chance .05 more than 8 come
    // about in 2 of 1,000 such tests; by the earlier rule 48 of 60 were called off.
    let mut random = Random::seeded_for(31, "judging duplicates");
    let (mut off, mut shown) = (0, 0);
    for _ in 0..60 {
        let analysis = analyse(&duplicate(&mut random));
        let verdict = of(&analysis, "A").verdict;
        off += usize::from(verdict == Verdict::Off);
        shown += usize::from(verdict == Verdict::Match);
    }
    assert!(off <= 8, "{off} of 60 called off");
    // Asked: not shown in 40 of 100 at most; more than 30 of 60 has a chance below 1 in 10 even then.
    assert!(shown >= 30, "{shown} of 60 shown to match");
}

#[test]
fn a_candidate_of_one_day_is_held_against_the_target_of_that_day() {
    // Everything lies 20 mm higher on the second day; the candidate was tasted on that day only and does not differ.
    let day2 = Cup { session: "day 2", adds: 20.0, ..CUP };
    let cups = [CUP, Cup { replicate: 2, ..day2 }, Cup { sample: "A", ..day2 }, Cup { sample: "B", ..CUP }];
    let study = tasted(10, 3, 2.0, &cups, &mut Random::seeded_for(5, "days"));
    let analysis = analyse(&study);
    for sample in ["A", "B"] {
        for attribute in &analysis.attributes {
            let difference = attribute.difference_of(sample).expect("scored").difference;
            assert!(difference.abs() < 4.0, "{sample} {difference}");
        }
        assert_eq!(of(&analysis, sample).verdict, Verdict::Match, "{sample}");
        assert!(analysis.notices.iter().any(|notice| notice.what.contains(sample) && notice.what.contains("sessions")));
    }
    let elsewhere = Cup { sample: "C", session: "day 3", ..CUP };
    let apart = analyse(&tasted(10, 3, 2.0, &[CUP, elsewhere], &mut Random::seeded_for(5, "days")));
    assert!(apart.notices.iter().any(|notice| notice.what.contains("never served in the same session")));
}

#[test]
fn a_named_or_always_first_target_is_held_against_by_its_blind_cup() {
    // The known cup reads 6 mm high; candidate and blind cup are the same food.
    let known = Cup { adds: 6.0, ..CUP };
    let blind = Cup { sample: "again", position: 3, ..CUP };
    let candidate = Cup { sample: "A", position: 4, ..CUP };
    let named = Cup { label: Some("the target"), position: 2, ..known };
    for (first, says) in [(known, "always served first"), (named, "named to the assessors")] {
        let mut study = tasted(10, 4, 3.0, &[first, blind, candidate], &mut Random::seeded_for(6, "cups"));
        study.settings.blind_duplicate = Some("again".to_owned());
        study.settings.both_cups = true;
        let analysis = analyse(&study);
        let TargetCups::Blind { because } = &analysis.cups else { panic!("{:?}", analysis.cups) };
        assert!(because.contains(says), "{because}");
        assert!(cups_sentence(&analysis).expect("it is said").contains(says));
        let of_target = |sample: &str| analysis.attributes[0].mean_of(sample).expect("scored");
        let difference = analysis.attributes[0].difference_of("A").expect("scored").difference;
        close(difference, of_target("A") - of_target("again"), 1e-9, "blind with blind");
        assert_eq!(of(&analysis, "A").verdict, Verdict::Match);
    }
}

#[test]
fn both_cups_make_the_mean_of_the_target_where_that_is_asked_for() {
    let cup = |sample, position| Cup { sample, position, ..CUP };
    let mut study = tasted(9, 4, 6.0, &[cup("T", 2), cup("again", 3), cup("A", 4)], &mut Random::seeded_for(7, "both"));
    study.settings.blind_duplicate = Some("again".to_owned());
    let one = analyse(&study);
    study.settings.both_cups = true;
    let both = analyse(&study);
    let mean = |sample: &str| both.attributes[2].mean_of(sample).expect("scored");
    let difference = |analysis: &Analysis| analysis.attributes[2].difference_of("A").expect("scored").difference;
    close(difference(&one), mean("A") - mean("T"), 1e-9, "one cup");
    close(difference(&both), mean("A") - 0.5 * (mean("T") + mean("again")), 1e-9, "both cups");
    // The second cup itself is held against the first in either case, and is no candidate.
    let again = |analysis: &Analysis| analysis.attributes[2].difference_of("again").expect("scored").difference;
    close(again(&both), mean("again") - mean("T"), 1e-9, "the cups");
    assert!(!headline(&both).contains("again") && headline(&both).contains('A'));
}

#[test]
fn the_alarm_is_raised_where_the_target_differs_from_itself_and_not_else() {
    let cup = |sample, position, adds| Cup { sample, position, adds, ..CUP };
    let study = |adds: f64| {
        let cups = [cup("T", 2, 0.0), cup("again", 3, adds), cup("A", 4, 0.0)];
        let mut study = tasted(10, 4, 3.0, &cups, &mut Random::seeded_for(8, "alarm"));
        study.settings.blind_duplicate = Some("again".to_owned());
        study
    };
    assert_eq!(alarm(&analyse(&study(0.0))), None);
    let said = alarm(&analyse(&study(25.0))).expect("an alarm");
    assert!(said.contains("differs from itself") && said.contains("5 of 100"), "{said}");
}

#[test]
fn taken_together_candidates_share_one_chance_of_error() {
    let mut study = invented_nectar();
    let p_off = |study: &Study| -> Vec<f64> {
        let analysis = analyse(study);
        let all = analysis.attributes.iter().flat_map(|attribute| &attribute.versus_target);
        all.map(|found| *found.p_off.as_ref().expect("tested")).collect()
    };
    let each = p_off(&study);
    study.settings.candidates_together = true;
    let together = p_off(&study);
    // Identity: a larger family never makes an adjusted p smaller by more than a step of the patterns.
    assert!(each.iter().zip(&together).all(|(each, together)| *together >= each - 1e-12));
    assert!(each.iter().zip(&together).any(|(each, together)| together > each));
}

#[test]
fn attributes_that_do_not_decide_never_touch_the_whole() {
    let mut study = invented_nectar();
    study.settings.deciding = vec!["citrus".to_owned(), "sour".to_owned()];
    let analysis = analyse(&study);
    let a = of(&analysis, "Candidate A").judged.as_ref().expect("judged");
    assert_eq!((a.attributes.len(), analysis.deciding().len()), (2, 2));
    let alone = {
        let mut study = study.clone();
        study.settings.deciding.clear();
        for index in 0..study.attributes.len() {
            if !["citrus", "sour"].contains(&study.attributes[index].name.as_str()) {
                let scope = ExclusionScope::Attribute(index);
                let reason = "test".to_owned();
                study.exclusions.push(likeness_core::study::Exclusion {
                    scope,
                    reason,
                    when: String::new(),
                    late: false,
                });
            }
        }
        analyse(&study)
    };
    for candidate in &analysis.candidates {
        let other = of(&alone, &candidate.sample);
        assert_eq!((candidate.verdict, candidate.rule()), (other.verdict, other.rule()), "{}", candidate.sample);
    }
}

#[test]
fn few_assessors_and_marks_piled_up_at_an_end_are_told_beside_the_verdict() {
    let cup = |sample, position| Cup { sample, position, ..CUP };
    let few = analyse(&tasted(5, 3, 1.0, &[cup("T", 2), cup("A", 3)], &mut Random::seeded_for(9, "few")));
    let said = cautions(&few, of(&few, "A")).join(" ");
    assert!(said.contains("Only 5 assessors") && said.contains("first impression"), "{said}");
    let low = |sample, position| Cup { sample, position, adds: -44.0, ..CUP };
    let piled = analyse(&tasted(10, 3, 1.0, &[low("T", 2), low("A", 3)], &mut Random::seeded_for(9, "piled")));
    assert!(piled.attributes[0].share_at_end > 0.3);
    assert_eq!(of(&piled, "A").rule(), Some(MatchRule::EachAttribute));
    assert!(cautions(&piled, of(&piled, "A")).join(" ").contains("pile up at an end of the line"));
}

#[test]
fn with_one_candidate_and_disagreeing_assessors_the_second_opinion_is_the_first() {
    // Identity: two samples in balanced data make the model's difference that of the assessors' own differences, as long as
    // the interaction is not pooled.
    let random = &mut Random::seeded_for(10, "second opinion");
    let mut builder = StudyBuilder::new(Scale::default());
    for assessor in 0..8 {
        let (level, view) = (40.0 + 5.0 * random.normal(), 15.0 * random.normal());
        for (sample, adds) in [("T", 0.0), ("A", 4.0 + view)] {
            for replicate in 1..=2 {
                let name = format!("J{assessor}");
                let address = ScoreAddress { assessor: &name, sample, replicate, ..ScoreAddress::default() };
                builder.add(address, "k", level + adds + random.normal()).expect("every cell is new");
            }
        }
    }
    let mut study = builder.finish("two samples");
    study.settings.target = Some("T".to_owned());
    let analysis = analyse(&study);
    let own = analysis.attributes[0].difference_of("A").expect("scored").test.as_ref().expect("tested");
    let opinion = opinion_on(&study, 0).candidates[0].found.clone().expect("defined");
    close(opinion.interval.lower, own.match_interval.lower, 1e-9, "lower");
    close(opinion.interval.upper, own.match_interval.upper, 1e-9, "upper");
    close(opinion.df, own.df, 1e-9, "df");
}

#[test]
fn what_is_left_out_or_corrected_when_the_verdict_was_seen_stands_beside_it_everywhere() {
    let mut study = invented_nectar();
    let chiyo = study.assessors.iter().position(|one| one.name == "Chiyo").expect("she tasted");
    let scope = ExclusionScope::Assessor(chiyo);
    // Before the verdict was seen, nothing is said.
    let mut early = study.clone();
    early.decided_at = None;
    early.leave_out(scope, "a cold", "2026-03-14 08:00");
    early.decided_at = study.decided_at.clone();
    assert_eq!(late_sentence(&analyse(&early)), None);
    study.leave_out(scope, "a cold", "2026-03-14 10:00");
    let serving = study.servings.iter().position(|one| one.assessor as usize != chiyo).expect("somebody else");
    study.correct_score(serving, 0, Some(50.0), "read wrongly", "2026-03-14 10:01").expect("a correction");
    let analysis = analyse(&study);
    let said = late_sentence(&analysis).expect("it came late");
    assert!(said.starts_with("Without assessor Chiyo, left out after the verdict was seen"), "{said}");
    assert!(said.contains("with 1 score corrected after the verdict was seen"), "{said}");
    // With everything as it stood, the verdicts are those of the study that ships.
    let before = analyse(&invented_nectar());
    let verdicts = |analysis: &Analysis| -> Vec<(String, Verdict)> {
        analysis.candidates.iter().map(|one| (one.sample.clone(), one.verdict)).collect()
    };
    assert_eq!(analysis.late.as_ref().expect("late").verdicts_before, verdicts(&before));
    for (sample, verdict) in verdicts(&before) {
        let moved = of(&analysis, &sample).verdict != verdict;
        assert_eq!(said.contains(&format!("{sample} {}", verdict.in_words())), moved, "{said}");
    }
    assert!(verdicts(&before) != verdicts(&analysis), "one person carries a verdict in this study: {said}");
    let brief = flavourist_brief(&analysis, of(&analysis, "Candidate A"));
    assert!(brief.sentences[0].contains("left out after the verdict was seen"), "{brief:?}");
    assert!(report_html(&study).contains(&said) && analysis_text(&analysis, &[]).contains(&said));
    let json = analysis_json(&analysis, &[]);
    assert_eq!(json["late_changes"]["left_out"][0], "assessor Chiyo");
    assert!(tables::r#match::verdicts_in_words(&analysis).notes.contains(&said), "the workbook's sheet has it");
    // A file keeps it; one of an earlier form tells it by the times.
    let opened = study_in(&study_file_text(&study)).expect("a sound file");
    assert_eq!(opened, study);
    let old = study_file_text(&study).replace("\"version\":3", "\"version\":2").replace(",\"late\":true}", "}");
    let opened = study_in(&old).expect("an older file opens");
    assert_eq!((opened.late_exclusions().count(), opened.late_edits().count()), (1, 1));
}
