//! Label studies, pairs, triangles: sides and orders are balanced, codes tell all cups apart.

use likeness_core::plan::brief::attributes::AttributeList;
use likeness_core::plan::tests::test_designs::{TestKind, TestPlan, TestRequest, plan_test};
use likeness_core::plan::tests::test_results::{TestAnswer, TestTally};
use likeness_core::stats::panel::serving_order::label_effects;
use likeness_core::study::Scale;
use std::collections::{BTreeMap, BTreeSet};

fn request(kind: TestKind, samples: usize, assessors: usize, sets: usize, seed: u64) -> TestRequest {
    let labels =
        if kind == TestKind::LabelStudy { vec!["natural".to_owned(), "synthetic".to_owned()] } else { Vec::new() };
    TestRequest {
        kind,
        samples: (1..=samples).map(|number| format!("Sample {number}")).collect(),
        labels,
        assessors,
        sets,
        used_codes: Vec::new(),
        seed,
    }
}

fn planned(request: &TestRequest) -> TestPlan {
    plan_test(request).unwrap_or_else(|error| panic!("{request:?}: {error}"))
}

fn samples_in_order(plan: &TestPlan, row: usize) -> String {
    plan.rows[row].cups.iter().map(|cup| char::from(b'A' + cup.sample as u8)).collect()
}

#[test]
fn the_six_orders_of_a_triangle_are_balanced() {
    for assessors in 1..=40 {
        for sets in 1..=4 {
            let plan = planned(&request(TestKind::Triangle, 2, assessors, sets, assessors as u64));
            let mut counts: BTreeMap<String, usize> = BTreeMap::new();
            let mut of_assessor: BTreeSet<(usize, String)> = BTreeSet::new();
            for row in 0..plan.rows.len() {
                *counts.entry(samples_in_order(&plan, row)).or_default() += 1;
                of_assessor.insert((plan.rows[row].assessor, samples_in_order(&plan, row)));
            }
            let all = assessors * sets;
            assert_eq!(counts.len(), all.min(6));
            let (low, high) = (counts.values().min().unwrap(), counts.values().max().unwrap());
            assert!(high - low <= 1, "{assessors} {sets}: {counts:?}");
            assert_eq!(of_assessor.len(), all, "{assessors} assessors, {sets} sets: somebody has an order twice");
            let stated: BTreeMap<String, usize> =
                plan.order_counts.iter().map(|count| (count.order.clone(), count.count)).collect();
            assert_eq!(stated, counts);
        }
    }
}

#[test]
fn the_odd_cup_is_named_and_all_three_codes_differ() {
    let plan = planned(&request(TestKind::Triangle, 2, 24, 2, 3));
    for row in &plan.rows {
        let codes: BTreeSet<&String> = row.cups.iter().map(|cup| &cup.code).collect();
        assert_eq!(codes.len(), 3);
        let odd = row.cups.iter().find(|cup| Some(&cup.code) == row.odd_code.as_ref()).expect("an odd cup");
        assert_eq!(row.cups.iter().filter(|cup| cup.sample == odd.sample).count(), 1);
    }
    // A code never stands for two samples, and the sets share none.
    let mut meaning: BTreeMap<&String, (usize, u32)> = BTreeMap::new();
    for row in &plan.rows {
        for cup in &row.cups {
            assert_eq!(*meaning.entry(&cup.code).or_insert((cup.sample, row.set)), (cup.sample, row.set));
        }
    }
}

#[test]
fn orders_of_the_other_tests_with_a_right_cup_are_balanced_and_the_right_answer_can_be_given() {
    // How many orders there are, counted by hand: 4! / (2! 2!), three places for the stronger cup, 2 * 5! / (2! 3!).
    for (kind, orders, cups, choices) in
        [(TestKind::Tetrad, 6, 4, 3), (TestKind::ThreeAfc, 3, 3, 3), (TestKind::TwoOfFive, 20, 5, 10)]
    {
        for assessors in [1, 7, 20, 41] {
            let plan = planned(&request(kind, 2, assessors, 2, 8));
            let counts: Vec<usize> = plan.order_counts.iter().map(|count| count.count).collect();
            assert_eq!(counts.len(), (2 * assessors).min(orders), "{kind:?}");
            assert!(counts.iter().max().unwrap() - counts.iter().min().unwrap() <= 1, "{kind:?} {counts:?}");
            for row in &plan.rows {
                let codes: BTreeSet<&String> = row.cups.iter().map(|cup| &cup.code).collect();
                assert_eq!(codes.len(), cups, "{kind:?}");
                let offered = row.choices(kind);
                assert_eq!(offered.iter().collect::<BTreeSet<_>>().len(), choices, "{kind:?}");
                assert!(offered.contains(row.odd_code.as_ref().expect("one answer is right")), "{kind:?} {row:?}");
            }
        }
    }
    let plan = planned(&request(TestKind::Tetrad, 2, 6, 1, 8));
    for row in &plan.rows {
        let like_first = row.cups[1..].iter().find(|cup| cup.sample == row.cups[0].sample).expect("two of each");
        assert_eq!(row.odd_code.as_ref(), Some(&like_first.code));
    }
    let plan = planned(&request(TestKind::ThreeAfc, 2, 6, 1, 8));
    let is_second = |row: &likeness_core::plan::tests::test_designs::TestRow| {
        row.cups.iter().any(|cup| cup.sample == 1 && Some(&cup.code) == row.odd_code.as_ref())
    };
    assert!(plan.rows.iter().all(is_second), "the second sample is the one expected to be stronger");
}

#[test]
fn sides_of_a_pair_are_balanced_and_change_for_each_assessor() {
    for kind in [TestKind::PairedStronger, TestKind::PairedPreference] {
        for assessors in 1..=30 {
            let plan = planned(&request(kind, 2, assessors, 2, 5));
            for set in 1..=2 {
                let first = plan.rows.iter().filter(|row| row.set == set && row.cups[0].sample == 0).count();
                assert!(first.abs_diff(assessors - first) <= 1);
            }
            for assessor in 0..assessors {
                let first: BTreeSet<usize> =
                    plan.rows.iter().filter(|row| row.assessor == assessor).map(|row| row.cups[0].sample).collect();
                assert_eq!(first.len(), 2, "{assessors} assessors");
            }
        }
    }
}

#[test]
fn a_label_study_gives_each_sample_under_both_labels_with_sides_balanced() {
    for (samples, assessors) in [(1, 12), (3, 11), (4, 20)] {
        let plan = planned(&request(TestKind::LabelStudy, samples, assessors, 1, 9));
        assert!(plan.debrief.contains("“natural” and “synthetic” held the same sample"));
        let mut first_label = 0;
        for row in &plan.rows {
            assert_eq!(row.cups.len(), 2 * samples);
            let pairs: BTreeSet<(usize, &str)> =
                row.cups.iter().map(|cup| (cup.sample, cup.shown_label.as_deref().expect("labelled"))).collect();
            assert_eq!(pairs.len(), 2 * samples);
            let once: BTreeSet<usize> = row.cups[..samples].iter().map(|cup| cup.sample).collect();
            assert_eq!(once.len(), samples, "no sample returns before all were met");
            first_label += usize::from(row.cups[0].shown_label.as_deref() == Some("natural"));
        }
        assert!(first_label.abs_diff(assessors - first_label) <= 1);
    }
}

#[test]
fn blind_comes_before_named_and_the_clip_before_the_open_nose() {
    for (kind, first, second) in
        [(TestKind::BlindThenNamed, "blind", "named"), (TestKind::NoseClip, "nose clip on", "nose clip off")]
    {
        let plan = planned(&request(kind, 5, 10, 1, 2));
        assert_eq!(plan.debrief, "");
        for row in &plan.rows {
            let conditions: Vec<&str> = row.cups.iter().map(|cup| cup.condition.as_str()).collect();
            assert_eq!(conditions, [[first; 5], [second; 5]].concat());
            for cup in &row.cups {
                let told = (cup.condition == "named").then(|| plan.request.samples[cup.sample].clone());
                assert_eq!(cup.shown_label, told);
            }
        }
    }
}

#[test]
fn a_blind_serving_sheet_does_not_name_the_samples() {
    let plan = planned(&request(TestKind::Triangle, 2, 6, 1, 2));
    let names: Vec<String> = (1..=6).map(|number| format!("Assessor {number}")).collect();
    let blind = plan.serving_sheet(&names, false);
    assert!(!blind.confidential && !blind.to_csv().contains("Sample "));
    let kitchen = plan.serving_sheet(&names, true);
    assert!(kitchen.confidential && kitchen.to_csv().contains("Sample 2"));
    assert_eq!(kitchen.rows.len(), 18);
}

#[test]
fn what_does_not_fit_the_kind_is_refused() {
    let mut labelled = request(TestKind::Triangle, 2, 6, 1, 2);
    labelled.labels = vec!["a".to_owned()];
    let cases = [
        (request(TestKind::Triangle, 3, 6, 1, 2), "3 samples can't be ordered. Give 2 samples."),
        (request(TestKind::NoseClip, 5, 0, 1, 2), "0 assessors can't be planned for. Give 1 to 400 assessors."),
        (
            labelled,
            "A label study needs two different labels, and no other test has labels. Give the two labels, or choose another \
             kind of test.",
        ),
    ];
    for (request, message) in cases {
        assert_eq!(plan_test(&request).expect_err(message).to_string(), message);
    }
}

#[test]
fn answers_are_counted_for_the_right_test() {
    let plan = planned(&request(TestKind::Triangle, 2, 12, 1, 2));
    let answer = |row: usize, right: bool| {
        let row = &plan.rows[row];
        let chosen = row.cups.iter().find(|cup| (Some(&cup.code) == row.odd_code.as_ref()) == right).expect("a cup");
        TestAnswer { assessor: row.assessor, set: row.set, code: chosen.code.clone(), said: None }
    };
    let answers: Vec<TestAnswer> = (0..12).map(|row| answer(row, row < 7)).collect();
    assert_eq!(plan.tally(&answers), Ok(TestTally::RightCup { right: 7, answers: 12 }));

    let twice = vec![answers[0].clone(), answers[0].clone()];
    assert_eq!(
        plan.tally(&twice).expect_err("twice").to_string(),
        "Assessor 1 answered twice in set 1. Keep one answer."
    );
    let strange = TestAnswer { code: "275".to_owned(), ..answers[0].clone() };
    assert_eq!(
        plan.tally(&[strange]).expect_err("no such cup").to_string(),
        "Assessor 1 got no cup 275 in set 1. Check the code against the serving sheet."
    );

    let pair = planned(&request(TestKind::PairedPreference, 2, 10, 1, 2));
    let left: Vec<TestAnswer> = pair
        .rows
        .iter()
        .map(|row| TestAnswer { assessor: row.assessor, set: 1, code: row.cups[0].code.clone(), said: None })
        .collect();
    // Whoever always takes the left cup prefers neither: sides are balanced.
    assert_eq!(pair.tally(&left), Ok(TestTally::Pair { chose_first_sample: 5, answers: 10 }));
}

#[test]
fn nose_clip_answers_are_paired_by_sample() {
    let plan = planned(&request(TestKind::NoseClip, 3, 4, 1, 2));
    let mut answers = Vec::new();
    for row in &plan.rows {
        for cup in &row.cups {
            // With the clip everybody names sample 0 whatever it is; without it all are right but the first assessor.
            let said = if cup.condition == "nose clip on" || row.assessor == 0 { 0 } else { cup.sample };
            answers.push(TestAnswer { assessor: row.assessor, set: 1, code: cup.code.clone(), said: Some(said) });
        }
    }
    assert_eq!(
        plan.tally(&answers),
        Ok(TestTally::NoseClip {
            right_with_clip: 4,
            answers_with_clip: 12,
            right_without: 10,
            answers_without: 12,
            only_with_clip: 0,
            only_without: 6,
        })
    );
}

#[test]
fn ratings_under_labels_open_with_the_label_test() {
    for (kind, labels) in
        [(TestKind::LabelStudy, ["natural", "synthetic"]), (TestKind::BlindThenNamed, ["blind", "named"])]
    {
        let plan = planned(&request(kind, 3, 9, 1, 4));
        let names: Vec<String> = (1..=9).map(|number| format!("Assessor {number}")).collect();
        let list = AttributeList::mango_nectar_example();
        let mut study = plan.study_skeleton("labels", &names, &list, &Scale::default(), "2026-03-09").expect("a study");
        assert_eq!(study.servings.len(), 9 * 6);
        // The second label adds 7 mm for everybody but for noise that cancels within a pair of assessors.
        for serving in 0..study.servings.len() {
            let second = study.servings[serving].label.as_deref() == Some(labels[1]);
            let wobble = f64::from(study.servings[serving].assessor % 3) - 1.0;
            study.set_score(serving, 0, Some(if second { 57.0 + wobble } else { 50.0 }));
        }
        let effects = label_effects(&study).expect("two labels");
        let effect = effects.iter().find(|effect| effect.attribute == "ripe flesh").expect("scored");
        assert_eq!([effect.label.as_str(), effect.against.as_str()], [labels[1], labels[0]]);
        assert!((effect.difference - 7.0).abs() < 1e-9, "{effect:?}");
    }
    let triangle = planned(&request(TestKind::Triangle, 2, 6, 1, 2));
    assert!(triangle.study_skeleton("t", &[], &AttributeList::default(), &Scale::default(), "").is_err());
}
