//! Words of the chances of the whole verdict, told before anybody tastes. Nothing here computes.

use crate::words::{counted, number};
use likeness_core::catalogue::help::Help;
use likeness_core::figures::planning::verdict_chances::truth_in_words;
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
pub const CORRELATION_WHY: &str = "The correlation is an assumption: how far an assessor who sees one character stronger in the candidate sees the others stronger too. 0.3 is common; 0 is hardest on a profile match.";

pub static HELP: Help = Help {
    question: "Where these chances come from",
    answers: &[
        "Studies are made up in which the truth is known: the target under another code, one character off by 15 mm and the rest like the target, all characters off by 3 mm. Each is judged by the very rule that will judge the real one, over all deciding attributes at once.",
        "\u{201c}Off\u{201d} for a duplicate is a false alarm, and comes about alpha of the time. \u{201c}Shown to match\u{201d} takes both kinds together: each attribute inside its margin, or a profile whose typical difference stays within the profile margin.",
        "They hold for the scatter and the correlation that are assumed, the same on every attribute. A panel that scatters more has less.",
    ],
    source: "Simulation of the calibrated verdict with normal scatter; the seed is that of the plan.",
};

/// The first sentence: what the planned panel will show.
pub fn sentence(draft: &DraftChances, found: &VerdictChances) -> Vec<String> {
    let Some(at) = found.with(draft.assessors) else { return Vec::new() };
    let people = counted(draft.assessors, "assessor", "assessors");
    let people = if draft.assessors_are_named { people } else { format!("{people} (none named yet)") };
    let first = match at.truths.iter().map(said).collect::<Vec<_>>().as_slice() {
        [first, rest @ ..] if !rest.is_empty() => format!("With {people}: {first}; {}.", rest.join("; ")),
        _ => String::new(),
    };
    vec![first, simulated(draft)]
}

fn said(chances: &Chances) -> String {
    let what = truth_in_words(chances.truth);
    let (matched, off) = (chances.matched(), chances.share(chances.off));
    match chances.truth {
        Truth::Duplicate => format!("{what} is shown to match {}, and called off {}", times(matched), times(off)),
        Truth::OneOff { .. } => format!("{what} is found {}", times(off)),
        Truth::AllOff { .. } => {
            format!("with {what} it is called off {}, a match {}", times(off), times(matched))
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
