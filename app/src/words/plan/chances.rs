//! Words of the chances of the whole verdict, told before anybody tastes. Nothing here computes.

use crate::words::{counted, number};
use likeness_core::catalogue::help::Help;
use likeness_core::planning::draft_chances::DraftChances;
use likeness_core::stats::r#match::calibrated::{Chances, Truth};
use likeness_core::stats::r#match::verdict_chances::{CURVE, STANDARD_ERROR, STUDIES, VerdictChances};
use likeness_core::text::numbers::fixed;

pub const HEADING: &str = "Chances of the verdict";
pub const DOING: &str = "Judging made-up studies:";
pub const ASK: &str = "Work the chances out";
pub const CURVE_DOING: &str = "Judging made-up studies for other numbers of assessors:";
pub const CURVE_ASK: &str = "Show them for 8 to 24 assessors";
pub const CORRELATION: &str = "correlation between attributes";
// Simulated by `likeness power --assessors 12 --attributes 8 --sd-difference 12 --correlation R`, seed 1, standard error 2 at most.
pub const CORRELATION_WHY: &str = "The correlation is an assumption: how far an assessor who sees one character stronger in the candidate sees the others stronger too. 0.3 stands in where nothing is known. The higher it is, the harder a match is to show as a profile: 12 assessors, eight attributes and differences that scatter by 12 mm show a duplicate to match 92, 76 and 53 times in 100 at 0, 0.3 and 0.6.";

pub static HELP: Help = Help {
    question: "Where these chances come from",
    answers: &[
        "Studies are made up in which the truth is known: the target under another code, one character off by 15 mm and the rest like the target, all characters off by 3 mm. Each is judged by the very rule that will judge the real one, over all deciding attributes at once.",
        "\u{201c}Off\u{201d} for a duplicate is a false alarm, and comes about alpha of the time. \u{201c}Shown to match\u{201d} takes both kinds together: each attribute inside its margin, or a profile whose typical difference stays within the profile margin.",
        "They hold for the scatter and the correlation that are assumed, the same on every attribute. A panel that scatters more has less.",
    ],
    source: "Simulation of the calibrated verdict with normal scatter; the seed is that of the plan.",
};

/// What the planned panel will show: the first line says how often what is true is found, the next what else comes out.
pub fn sentences(draft: &DraftChances, found: &VerdictChances) -> Vec<String> {
    let Some(at) = found.with(draft.assessors) else { return Vec::new() };
    let people = counted(draft.assessors, "assessor", "assessors");
    let people = if draft.assessors_are_named { people } else { format!("{people} (none named yet)") };
    let found: Vec<String> = at.truths.iter().filter_map(found_as_it_is).collect();
    let otherwise: Vec<String> = at.truths.iter().filter_map(otherwise).collect();
    let capital = |text: String| text[..1].to_uppercase() + &text[1..];
    vec![
        format!("With {people}: {}.", found.join("; ")),
        format!("{}.", capital(otherwise.join("; "))),
        simulated(draft),
    ]
}

/// How often what is true is found, where the truth is plain.
fn found_as_it_is(chances: &Chances) -> Option<String> {
    let what = chances.truth.in_words("mm");
    match chances.truth {
        Truth::Duplicate => Some(format!("{what} is shown to match {}", times(chances.matched()))),
        Truth::OneOff { .. } => Some(format!("{what} is found {}", times(chances.share(chances.off)))),
        Truth::AllOff { .. } => None,
    }
}

/// False alarms, and what comes of a small difference everywhere.
fn otherwise(chances: &Chances) -> Option<String> {
    let what = chances.truth.in_words("mm");
    let off = times(chances.share(chances.off));
    match chances.truth {
        Truth::Duplicate => Some(format!("{what} is called off {off}")),
        Truth::OneOff { .. } => None,
        Truth::AllOff { .. } => {
            Some(format!("with {what} a candidate is called off {off} and a match {}", times(chances.matched())))
        }
    }
}

/// What the figures stand on, with their error.
fn simulated(draft: &DraftChances) -> String {
    let attributes = counted(draft.planned.margins_mm.len(), "deciding attribute", "deciding attributes");
    let assumed = if draft.attributes_are_listed { "" } else { " (assumed: none listed yet)" };
    format!(
        "{attributes}{assumed}; {STUDIES} made-up studies for each, so a figure is right to about \u{b1} {} in 100 (standard error {} or less).",
        fixed(200.0 * STANDARD_ERROR, 0),
        fixed(100.0 * STANDARD_ERROR, 0)
    )
}

/// What a panel too small for the calibrated rule is told.
pub fn few(assessors: usize) -> Option<&'static str> {
    (assessors < 6).then_some(
        "With fewer than 6 assessors the rule rests on normal scatter, and its chances of error are not calibrated.",
    )
}

pub fn correlation_shown(correlation: f64) -> String {
    number(correlation)
}

/// What is offered beside the planned number.
pub fn curve_about() -> String {
    format!("{} to {} assessors, all else as it is.", CURVE[0], CURVE[CURVE.len() - 1])
}

pub fn why_not(because: &str) -> String {
    format!("No chances can be given: {because}.")
}

fn times(share: f64) -> String {
    format!("{} times in 100", fixed(100.0 * share, 0))
}
