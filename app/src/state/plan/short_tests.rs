//! Short tests: what a leader types, lays out and ticks in, and the result by the right test. Joins the plan of a test
//! with the engine's exact tests.

use super::planning::seed_from;
use crate::state::app_state::{AppState, Message};
use crate::words::plan::short_tests as say;
use leptos::prelude::*;
use likeness_core::plan::PlanError;
use likeness_core::plan::tests::short_test::ShortTest;
use likeness_core::plan::tests::test_designs::TestKind;
use likeness_core::plan::tests::test_results::TestTally;
use likeness_core::stats::tests::discrimination::{
    DiscriminationOptions, DiscriminationResult, DiscriminationTest, evaluate,
};

/// What the answers say.
#[derive(Clone, Debug, PartialEq)]
pub enum ShortResult {
    /// One count against chance.
    Count(Box<DiscriminationResult>),
    /// Cups named with and without the clip, and the exact test on those that changed.
    NoseClip { tally: TestTally, changed: Option<Box<DiscriminationResult>> },
}

/// Changes what is typed; a first one gets its seed from the clock.
pub fn type_into(app: AppState, change: impl FnOnce(&mut ShortTest)) {
    let now = app.now();
    app.short_test.update(|test| {
        if test.seed == 0 {
            test.seed = seed_from(&now);
        }
        change(test);
    });
}

/// Lays the test out.
///
/// # Errors
/// What the plan refuses.
pub fn make(app: AppState) -> Result<(), PlanError> {
    let mut test = app.short_test.get_untracked();
    if test.seed == 0 {
        test.seed = seed_from(&app.now());
    }
    test.make(&app.now())?;
    app.short_test.set(test);
    Ok(())
}

/// The test as text for the browser's store; `None` while nothing was typed.
pub fn text_to_keep(test: &ShortTest) -> Option<String> {
    if *test == ShortTest::default() { None } else { serde_json::to_string(test).ok() }
}

/// Puts back what the browser had kept; a text that can't be read is left out with a message.
pub fn restore(app: AppState, text: Option<&str>) {
    match text.map(serde_json::from_str::<ShortTest>) {
        Some(Ok(test)) => app.short_test.set(test),
        Some(Err(_)) => app.message.set(Some(Message::refused(say::KEPT_BROKEN, say::KEPT_BROKEN_HINT))),
        None => {}
    }
}

/// The result of the answers so far.
///
/// # Errors
/// A sentence: no answers yet, or why there is no result.
pub fn result_of(test: &ShortTest) -> Result<ShortResult, String> {
    let tally = test.tally().map_err(|why| why.to_string())?;
    let counted = |which: DiscriminationTest, answers: usize, right: usize| {
        evaluate(which, answers as u64, right as u64, DiscriminationOptions::default())
            .map(Box::new)
            .map_err(|why| say::no_result(&why.because))
    };
    match tally {
        TestTally::Triangle { answers: 0, .. } | TestTally::Pair { answers: 0, .. } => Err(say::NO_ANSWERS.to_owned()),
        TestTally::Triangle { right, answers } => {
            Ok(ShortResult::Count(counted(DiscriminationTest::Triangle, answers, right)?))
        }
        TestTally::Pair { chose_first_sample, answers } => {
            let kind = test.plan.as_ref().map(|plan| plan.request.kind);
            let (which, right) = match (kind, test.expected_stronger) {
                (Some(TestKind::PairedStronger), Some(0)) => (DiscriminationTest::TwoAfc, chose_first_sample),
                (Some(TestKind::PairedStronger), Some(_)) => (DiscriminationTest::TwoAfc, answers - chose_first_sample),
                (Some(TestKind::PairedStronger), None) => (DiscriminationTest::Paired, chose_first_sample),
                _ => (DiscriminationTest::Preference, chose_first_sample),
            };
            Ok(ShortResult::Count(counted(which, answers, right)?))
        }
        TestTally::NoseClip { answers_with_clip: 0, answers_without: 0, .. } => Err(say::NO_ANSWERS.to_owned()),
        TestTally::NoseClip { only_with_clip, only_without, .. } => {
            // McNemar's exact test is the two-sided binomial test on the cups that changed.
            let both = only_with_clip + only_without;
            let changed = counted(DiscriminationTest::Paired, both, only_without).ok();
            Ok(ShortResult::NoseClip { tally, changed: changed.filter(|_| both > 0) })
        }
    }
}

/// The name of the sample that was chosen more often in a pair; of the expected one where a direction was named.
pub fn chosen_most(test: &ShortTest) -> String {
    let name = |index: usize| {
        let samples = test.plan.as_ref().map(|plan| plan.request.samples.as_slice()).unwrap_or_default();
        samples.get(index).cloned().unwrap_or_default()
    };
    match (test.tally(), test.expected_stronger) {
        (Ok(TestTally::Pair { .. }), Some(expected))
            if test.plan.as_ref().is_some_and(|plan| plan.request.kind == TestKind::PairedStronger) =>
        {
            name(expected)
        }
        (Ok(TestTally::Pair { chose_first_sample, answers }), _) => name(usize::from(2 * chose_first_sample < answers)),
        _ => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answered(kind: TestKind, expected: Option<usize>, first_of_20: usize) -> ShortTest {
        let mut test = ShortTest {
            kind,
            samples_typed: "Fresh mango\nCandidate A".to_owned(),
            assessors_typed: "20".to_owned(),
            expected_stronger: expected,
            seed: 9,
            ..ShortTest::default()
        };
        test.make("2026-03-14 09:26").expect("a sound request");
        let rows = test.plan.clone().expect("laid out").rows;
        for (index, row) in rows.iter().enumerate() {
            let wanted = usize::from(index >= first_of_20);
            let cup = row.cups.iter().find(|cup| cup.sample == wanted).expect("both samples are there");
            test.set_answer(row.assessor, row.set, &cup.code, None, true);
        }
        test
    }

    fn p_of(test: &ShortTest) -> (DiscriminationTest, f64) {
        match result_of(test).expect("a result") {
            ShortResult::Count(result) => (result.test, result.p),
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn the_direction_decides_between_one_side_and_two() {
        // 15 of 20 against 1/2: upper tail .020695 (by hand: sum of C(20, k) for k = 15 to 20 over 2^20 = 21700 / 1048576).
        let tail = 21_700.0 / 1_048_576.0;
        let (which, p) = p_of(&answered(TestKind::PairedStronger, Some(0), 15));
        assert!(which == DiscriminationTest::TwoAfc && (p - tail).abs() < 1e-9, "{p}");
        let (which, p) = p_of(&answered(TestKind::PairedStronger, None, 15));
        assert!(which == DiscriminationTest::Paired && (p - 2.0 * tail).abs() < 1e-9, "{p}");
        let (which, p) = p_of(&answered(TestKind::PairedPreference, Some(0), 15));
        assert!(which == DiscriminationTest::Preference && (p - 2.0 * tail).abs() < 1e-9, "{p}");
        // Expected the other way round: 5 of 20 right, lower tail taken away from one (identity).
        let (_, p) = p_of(&answered(TestKind::PairedStronger, Some(1), 15));
        assert!(p > 0.99, "{p}");
    }

    #[test]
    fn nothing_answered_is_said_and_not_tested() {
        let mut test = answered(TestKind::Triangle, None, 0);
        test.answers.clear();
        assert_eq!(result_of(&test), Err(say::NO_ANSWERS.to_owned()));
    }
}
