//! Words of the short tests: pairs, triangle, nose clip, labels.

use crate::words::{counted, number};
use likeness_core::plan::tests::test_designs::TestKind;
use likeness_core::plan::tests::test_results::TestTally;
use likeness_core::stats::tests::discrimination::{DiscriminationResult, DiscriminationTest};
use likeness_core::stats::tests::similarity::{Similarity, SimilarityNumber};
use likeness_core::text::numbers::{p_value, whole_percent};

pub const HEADING: &str = "Short tests";
pub const INTRO: &str = "Tests with one question a set of cups: balanced orders, a sheet to serve from, answers ticked in here, and the result by the test that fits.";
pub const KIND: &str = "Test";
pub const SAMPLES: &str = "Samples, one a line";
pub const SAMPLES_HINT: &str = "Fresh mango\nCandidate A";
pub const PEOPLE: &str = "Assessors: names one a line, or how many";
pub const PEOPLE_HINT: &str = "24";
pub const SETS: &str = "Sets each";
pub const SETS_WHY: &str = "Who can tell tells again, so answers of one person go together. Every claim about people counts whole people: two sets of one person are one judgement. More people show more than more sets.";
pub const ALLOWED: &str = "Of 100 people, so many may be able to tell";
pub const THREE_AFC_ORDER: &str =
    "Name the sample that is expected to be stronger second: it is one of the three cups.";
pub const FIRST_LABEL: &str = "First label";
pub const SECOND_LABEL: &str = "Second label";
pub const CHARACTER: &str = "Character that is compared";
pub const CHARACTER_HINT: &str = "sweet";
pub const EXPECTED: &str = "Expected to be stronger, before anybody tastes";
pub const EXPECTED_NONE: &str = "not known: test both directions";
pub const SEED: &str = "Seed";
pub const MAKE: &str = "Lay out the test";
pub const MAKE_ANEW: &str = "Lay out anew";
pub const ANEW_LOSES: &str = "Laying out anew takes away the answers ticked in so far.";
pub const TASK: &str = "What assessors are asked";
pub const ORDERS: &str = "Orders used";
pub const WITH_KEY: &str = "Sheet with the samples, confidential";
pub const ANSWERS: &str = "Answers";
pub const ANSWERS_INTRO: &str = "Choose what each assessor named.";
pub const ANSWERS_NOSE: &str = "Choose what each assessor said that each cup was.";
pub const NO_ANSWER: &str = "no answer yet";
pub const RESULT: &str = "Result";
pub const NO_ANSWERS: &str = "No answers are ticked in yet.";
pub const METHOD: &str = "Method";
pub const DEBRIEF: &str = "To be read to the assessors afterwards";
pub const RATED: &str = "This test has ratings: save the score sheet, type the marks into it, and open it as a score file. The label is a column of its own, and each comparison is made within the assessor.";
pub const SCORE_SHEET: &str = "Score sheet";
pub const ASSESSOR: &str = "assessor";
pub const SET: &str = "set";
pub const CUPS: &str = "cups, left to right";
pub const ANSWER: &str = "answer";
pub const CAUTION: &str = "Telling assessors something untrue, as a label study does, needs the consent of your ethics board or the responsible person, and the text above read to everybody afterwards.";
pub const KINDS: [TestKind; 9] = [
    TestKind::Triangle,
    TestKind::Tetrad,
    TestKind::ThreeAfc,
    TestKind::TwoOfFive,
    TestKind::PairedStronger,
    TestKind::PairedPreference,
    TestKind::NoseClip,
    TestKind::LabelStudy,
    TestKind::BlindThenNamed,
];

pub fn kind(kind: TestKind) -> &'static str {
    match kind {
        TestKind::Triangle => "triangle: which of three is the odd one",
        TestKind::Tetrad => "tetrad: two pairs of like cups, which is like the first",
        TestKind::ThreeAfc => "three cups: which is strongest in a character (3-AFC)",
        TestKind::TwoOfFive => "two out of five: which two are of one kind",
        TestKind::PairedStronger => "pair: which is stronger in a character",
        TestKind::PairedPreference => "pair: which is preferred (consumers)",
        TestKind::NoseClip => "nose clip: name each cup, with the clip and without",
        TestKind::LabelStudy => "labels: the same cup under two labels",
        TestKind::BlindThenNamed => "blind first, then named",
    }
}

pub fn order_count(order: &str, count: usize) -> String {
    format!("{order} {count}\u{d7}")
}

pub fn answer_of(name: &str, set: u32) -> String {
    format!("Answer of {name}, set {set}")
}

pub fn said_of(name: &str, code: &str) -> String {
    format!("What {name} said that {code} is")
}

pub fn cup(code: &str, condition: &str) -> String {
    if condition.is_empty() { code.to_owned() } else { format!("{code} ({condition})") }
}

pub fn no_result(because: &str) -> String {
    format!("No result: {because}.")
}

pub fn laid_out(when: &str, people: usize, seed: u64) -> String {
    format!("Laid out {when} for {} with seed {seed}.", counted(people, "assessor", "assessors"))
}

/// The result of a count in words; the first sentence says what was found.
pub fn result(result: &DiscriminationResult, character: &str, samples: &[String], stronger: &str) -> Vec<String> {
    let p = p_in_words(result.p);
    let count = format!("{} of {}", result.correct, result.n);
    let mut lines = vec![match (result.test, result.difference_shown) {
        (DiscriminationTest::Triangle, true) => format!("A difference is shown: {count} named the odd cup, {p}."),
        (DiscriminationTest::Triangle, false) => {
            format!("No difference is shown: {count} named the odd cup, {p}. That does not show that they are alike.")
        }
        (DiscriminationTest::Preference, true) => format!("A preference is shown: {count} chose {stronger}, {p}."),
        (DiscriminationTest::Preference, false) => {
            format!("No preference is shown: at most {count} chose one of them, {p}.")
        }
        (DiscriminationTest::Tetrad, shown) => named_rightly(shown, &count, "named the cup that is like the first", &p),
        (DiscriminationTest::ThreeAfc, shown) => named_rightly(shown, &count, "named the stronger cup", &p),
        (DiscriminationTest::TwoOfFive, shown) => named_rightly(shown, &count, "named the two", &p),
        (DiscriminationTest::TwoAfc, false) => format!(
            "{stronger} is not shown to be stronger{}: {count} chose it, {p}. The test looked in this direction only, as it was named beforehand; it says nothing of the other.",
            in_character(character)
        ),
        (_, true) => format!("{stronger} is shown to be stronger{}: {count} chose it, {p}.", in_character(character)),
        (_, false) => format!(
            "Neither {} is shown to be stronger{}: {count}, {p}.",
            samples.join(" nor "),
            in_character(character)
        ),
    }];
    if let Ok(least) = &result.minimum_correct {
        lines.push(format!("With {} answers it takes {least} to show it at alpha {}.", result.n, number(result.alpha)));
    }
    if let Ok(tell) = &result.distinguishers {
        lines.push(format!(
            "Share of people who really tell the difference, guessing taken off: {} (95 % interval {} to {}).",
            whole_percent(tell.share.max(0.0)),
            whole_percent(tell.exact_interval95.lower.max(0.0)),
            whole_percent(tell.exact_interval95.upper)
        ));
    }
    if let Ok(similarity) = &result.similarity {
        lines.push(similarity_in_words(similarity));
    }
    if result.n_assessors < result.n {
        lines.push(format!(
            "{} answers by {}: every claim about people counts whole people.",
            result.n,
            counted(result.n_assessors as usize, "person", "people")
        ));
    }
    lines
}

fn named_rightly(is_shown: bool, count: &str, what: &str, p: &str) -> String {
    if is_shown {
        format!("A difference is shown: {count} {what}, {p}.")
    } else {
        format!("No difference is shown: {count} {what}, {p}. That does not show that they are alike.")
    }
}

fn similarity_in_words(similarity: &Similarity) -> String {
    let verdict = if similarity.similarity_shown { "Similarity is shown" } else { "Similarity is not shown" };
    format!(
        "{verdict}: at most {} can tell, with {} confidence, where {} are allowed.",
        whole_percent(similarity.most_distinguishers),
        whole_percent(1.0 - similarity.beta),
        whole_percent(similarity.distinguishers_allowed)
    )
}

/// How many judgements show that few can tell.
pub fn similarity_needs(allowed_in_100: u32, needed: &SimilarityNumber) -> String {
    format!(
        "To show that fewer than {allowed_in_100} of 100 people can tell takes {}, one a person (from {} on any number will do): {} right or fewer show it. Alpha and beta 0.05.",
        counted(needed.n as usize, "judgement", "judgements"),
        needed.n_for_certain,
        needed.maximum_correct
    )
}

pub fn similarity_needs_not(because: &str) -> String {
    format!("How many judgements would show that few can tell: {because}.")
}

pub fn refused_allowed(typed: &str) -> String {
    format!("\u{201c}{typed}\u{201d} is not a whole number from 1 to 99.")
}

pub fn nose_clip(tally: &TestTally, changed: Option<&DiscriminationResult>) -> Vec<String> {
    let TestTally::NoseClip {
        right_with_clip,
        answers_with_clip,
        right_without,
        answers_without,
        only_with_clip,
        only_without,
    } = tally
    else {
        return Vec::new();
    };
    let mut lines = vec![format!(
        "Named rightly: {right_with_clip} of {answers_with_clip} with the clip on, {right_without} of {answers_without} with it off."
    )];
    lines.push(match changed {
        Some(result) if result.difference_shown => format!(
            "The clip makes a difference: {only_without} cups were named rightly only without it, {only_with_clip} only with it, {}.",
            p_in_words(result.p)
        ),
        Some(result) => format!(
            "No difference by the clip is shown: {only_without} cups were named rightly only without it, {only_with_clip} only with it, {}.",
            p_in_words(result.p)
        ),
        None => "No cup was named rightly in one condition only, so there is nothing to test yet.".to_owned(),
    });
    lines
}

fn in_character(character: &str) -> String {
    if character.trim().is_empty() { String::new() } else { format!(" in \u{201c}{}\u{201d}", character.trim()) }
}

fn p_in_words(p: f64) -> String {
    let text = p_value(p);
    if text.starts_with('<') { format!("p {text}") } else { format!("p = {text}") }
}

pub const SAVED_BROKEN: &str = "The short test that this browser had kept can't be read.";
pub const SAVED_BROKEN_HINT: &str = "Lay it out again; the same seed gives the same orders and codes.";

/// A layout that was made for another kind of test than the one chosen now.
pub fn void_layout(made_at: &str, was: TestKind, answers: usize) -> String {
    let answers = match answers {
        0 => String::new(),
        count => format!(" Its {} stay until then.", counted(count, "answer", "answers")),
    };
    format!(
        "What was laid out {made_at} is for another test ({}) and void for this one. Lay the test out anew, or choose that \
         one again.{answers}",
        kind(was)
    )
}
