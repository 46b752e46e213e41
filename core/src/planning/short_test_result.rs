//! What the answers to a short test say: which exact test is the right one for what was planned, and its result. The
//! count comes from `plan::tests`, the test from `stats::tests`. It must not know how the result is put in words.

use crate::plan::PlanError;
use crate::plan::tests::short_test::ShortTest;
use crate::plan::tests::test_designs::TestKind;
use crate::plan::tests::test_results::TestTally;
use crate::stats::tests::discrimination::{DiscriminationOptions, DiscriminationResult, DiscriminationTest, evaluate};
use crate::stats::tests::similarity::{SimilarityAsked, SimilarityNumber, similarity_number};
use crate::stats::{Defined, NotDefined};

/// What the answers say.
#[derive(Clone, Debug, PartialEq)]
pub enum ShortResult {
    /// One count against chance.
    Count(Box<DiscriminationResult>),
    /// Cups named with and without the clip, and the exact test on those that changed; `None` where none did.
    NoseClip { tally: TestTally, changed: Option<Box<DiscriminationResult>> },
}

/// Why there is no result.
#[derive(Clone, Debug, PartialEq)]
pub enum NoShortResult {
    /// Nothing was answered yet, so there is nothing to test.
    NoAnswers,
    /// The answers can't be counted.
    NotCounted(PlanError),
    /// The test refuses the count.
    NotDefined(NotDefined),
}

/// The result of the answers so far, by the exact test that fits what was planned.
///
/// # Errors
/// No answers yet, answers that can't be counted, or why the test is not defined.
pub fn result_of(test: &ShortTest) -> Result<ShortResult, NoShortResult> {
    match test.tally().map_err(NoShortResult::NotCounted)? {
        TestTally::RightCup { answers: 0, .. } | TestTally::Pair { answers: 0, .. } => Err(NoShortResult::NoAnswers),
        TestTally::NoseClip { answers_with_clip: 0, answers_without: 0, .. } => Err(NoShortResult::NoAnswers),
        TestTally::RightCup { right, answers } => {
            counted(test, test_of_right_cup(kind_of(test)), answers, right).map(ShortResult::Count)
        }
        TestTally::Pair { chose_first_sample, answers } => {
            let (which, right) = test_of_pair(test, chose_first_sample, answers);
            counted(test, which, answers, right).map(ShortResult::Count)
        }
        tally @ TestTally::NoseClip { only_with_clip, only_without, .. } => {
            Ok(ShortResult::NoseClip { tally, changed: test_of_changes(only_with_clip, only_without) })
        }
    }
}

/// The name of the sample that was chosen more often in a pair; of the expected one where a direction was named.
pub fn chosen_most(test: &ShortTest) -> String {
    let chosen = match (test.tally(), expected_in(test)) {
        (Ok(TestTally::Pair { .. }), Some(expected)) => Some(expected),
        (Ok(TestTally::Pair { chose_first_sample, answers }), None) => {
            Some(usize::from(2 * chose_first_sample < answers))
        }
        _ => None,
    };
    let samples = test.plan.as_ref().map(|plan| plan.request.samples.as_slice()).unwrap_or_default();
    chosen.and_then(|index| samples.get(index)).cloned().unwrap_or_default()
}

/// One-sided where a direction was named before anybody tasted, two-sided where none was; a preference has none. With it
/// how many answers count as right.
fn test_of_pair(test: &ShortTest, chose_first: usize, answers: usize) -> (DiscriminationTest, usize) {
    match (kind_of(test), test.expected_stronger) {
        (Some(TestKind::PairedStronger), Some(0)) => (DiscriminationTest::TwoAfc, chose_first),
        (Some(TestKind::PairedStronger), Some(_)) => (DiscriminationTest::TwoAfc, answers - chose_first),
        (Some(TestKind::PairedStronger), None) => (DiscriminationTest::Paired, chose_first),
        _ => (DiscriminationTest::Preference, chose_first),
    }
}

fn test_of_right_cup(kind: Option<TestKind>) -> DiscriminationTest {
    match kind {
        Some(TestKind::Tetrad) => DiscriminationTest::Tetrad,
        Some(TestKind::ThreeAfc) => DiscriminationTest::ThreeAfc,
        Some(TestKind::TwoOfFive) => DiscriminationTest::TwoOfFive,
        _ => DiscriminationTest::Triangle,
    }
}

/// How many judgements it takes to show that fewer can tell than are allowed; alpha and beta .05.
///
/// # Errors
/// A test that can't show similarity, or a share out of range.
pub fn similarity_number_for(test: &ShortTest) -> Defined<SimilarityNumber> {
    let which = match (test.kind, test.expected_stronger) {
        (TestKind::PairedStronger, Some(_)) => DiscriminationTest::TwoAfc,
        (kind, _) if kind.has_right_cup() => test_of_right_cup(Some(kind)),
        _ => return Err(NotDefined::because("similarity is shown by tests with a right answer only")),
    };
    let distinguishers_allowed = f64::from(test.allowed_in_100) / 100.0;
    similarity_number(which, SimilarityAsked { distinguishers_allowed, beta: LEVEL, power: 1.0 - LEVEL })
}

/// Chance of either wrong claim in a short test.
const LEVEL: f64 = 0.05;

/// McNemar's exact test is the two-sided binomial test on the cups that changed.
fn test_of_changes(only_with_clip: usize, only_without: usize) -> Option<Box<DiscriminationResult>> {
    let changed = only_with_clip + only_without;
    let result =
        evaluate(DiscriminationTest::Paired, changed as u64, only_without as u64, DiscriminationOptions::default());
    result.ok().map(Box::new)
}

fn counted(
    test: &ShortTest,
    which: DiscriminationTest,
    answers: usize,
    right: usize,
) -> Result<Box<DiscriminationResult>, NoShortResult> {
    let options = DiscriminationOptions {
        alpha: LEVEL,
        beta: LEVEL,
        distinguishers_allowed: f64::from(test.allowed_in_100) / 100.0,
        n_assessors: Some(test.people_who_answered() as u64),
    };
    evaluate(which, answers as u64, right as u64, options).map(Box::new).map_err(NoShortResult::NotDefined)
}

fn kind_of(test: &ShortTest) -> Option<TestKind> {
    test.plan.as_ref().map(|plan| plan.request.kind)
}

/// The sample that was expected to be stronger, where the test asks which one is.
fn expected_in(test: &ShortTest) -> Option<usize> {
    test.expected_stronger.filter(|_| kind_of(test) == Some(TestKind::PairedStronger))
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
    fn several_sets_of_one_person_count_as_whole_people() {
        let mut test = answered(TestKind::Triangle, None, 0);
        (test.sets, test.assessors_typed) = (2, "10".to_owned());
        test.make("2026-03-14 09:26").expect("a sound request");
        let rows = test.plan.clone().expect("laid out").rows;
        // All 20 name the right cup but three: 17 of 20 by 10 people are 8.5 people.
        for (index, row) in rows.iter().enumerate() {
            let right = row.odd_code.clone().expect("one is right");
            let wrong = row.choices(TestKind::Triangle).into_iter().find(|code| *code != right).expect("two are wrong");
            test.set_answer(row.assessor, row.set, if index < 3 { &wrong } else { &right }, None, true);
        }
        let Ok(ShortResult::Count(result)) = result_of(&test) else { panic!("no count") };
        assert_eq!((result.n, result.correct, result.n_assessors), (20, 17, 10));
        // Clopper-Pearson for 8 and 9 of 10, scipy 1.17.1, stats.beta.ppf(.025, 8, 3) and (.975, 10, 1).
        let (low, high) = (result.share_interval95.lower, result.share_interval95.upper);
        assert!(
            (low - 0.443_904_537_692_358_5).abs() < 1e-10 && (high - 0.997_471_421_455_538_2).abs() < 1e-10,
            "{low} {high}"
        );
    }

    #[test]
    fn every_test_with_a_right_cup_takes_its_own_chance() {
        for (kind, which, chance) in [
            (TestKind::Triangle, DiscriminationTest::Triangle, 1.0 / 3.0),
            (TestKind::Tetrad, DiscriminationTest::Tetrad, 1.0 / 3.0),
            (TestKind::ThreeAfc, DiscriminationTest::ThreeAfc, 1.0 / 3.0),
            (TestKind::TwoOfFive, DiscriminationTest::TwoOfFive, 0.1),
        ] {
            let mut test = answered(kind, None, 0);
            test.answers.clear();
            let rows = test.plan.clone().expect("laid out").rows;
            for row in &rows[..3] {
                test.set_answer(row.assessor, row.set, row.odd_code.as_deref().expect("one is right"), None, true);
            }
            let (found, p) = p_of(&test);
            // Three right of three: chance to the third power, by hand.
            assert!(found == which && (p - chance * chance * chance).abs() < 1e-12, "{kind:?} {p}");
            assert!(similarity_number_for(&test).is_ok(), "{kind:?}");
        }
        assert!(similarity_number_for(&answered(TestKind::PairedPreference, None, 9)).is_err());
    }

    #[test]
    fn nothing_answered_is_said_and_not_tested() {
        let mut test = answered(TestKind::Triangle, None, 0);
        test.answers.clear();
        assert_eq!(result_of(&test), Err(NoShortResult::NoAnswers));
    }

    #[test]
    fn the_sample_named_in_words_is_the_expected_one_or_the_one_chosen_more_often() {
        assert_eq!(chosen_most(&answered(TestKind::PairedStronger, Some(1), 15)), "Candidate A");
        assert_eq!(chosen_most(&answered(TestKind::PairedStronger, None, 15)), "Fresh mango");
        // A preference has no expected direction, whatever was typed for an earlier kind of test.
        assert_eq!(chosen_most(&answered(TestKind::PairedPreference, Some(0), 5)), "Candidate A");
    }

    #[test]
    fn what_was_never_laid_out_is_not_counted() {
        assert!(matches!(result_of(&ShortTest::default()), Err(NoShortResult::NotCounted(_))));
    }

    #[test]
    fn only_cups_that_changed_speak_about_the_clip() {
        assert_eq!(test_of_changes(0, 0), None);
        // 8 of 8 one way: two-sided binomial 2 / 2^8 = .0078125 (by hand).
        let found = test_of_changes(0, 8).expect("cups changed");
        assert!(found.test == DiscriminationTest::Paired && (found.p - 2.0 / 256.0).abs() < 1e-12, "{}", found.p);
    }
}
