//! What the tables of the panel say.

use crate::stats::Verdict;
use crate::stats::panel::form_faults::FormFaultKind;
use crate::tables::words::grouped;
use crate::text::lists::{counted, plural};
use crate::text::numbers::{statistic, typed};

pub(super) const PEOPLE: &str = "Each person beside the others";
pub(super) const BESIDE_OTHERS: &str = "beside the others";
pub(super) const TELLS_APART_F: &str = "tells samples apart, F";
pub(super) const AGREES_R: &str = "agrees with the others, r";
pub(super) const LIKE_THE_OTHERS: &str = "like the others";
pub(super) const UNLIKE_THE_OTHERS: &str = "unlike the others";
pub(super) const TOO_FEW_CUPS: &str = "too few cups to tell";
pub(super) const PEOPLE_HOW: &str = "All attributes together: the scatter between replicates, the F over samples, and the correlation with the mean of the others; the last two on attributes on which the panel finds differences. Small figures are the span of the others. Unlike the others: farther from them than equal people come, and as if scattering half as much again (simulated: somebody is named in 1 of 100 panels of equal people at most, in 2 to 6 of 100 where whole pages move with a mood wider than the scatter). Too few cups: somebody who scatters twice as widely, or sees nothing, would not be named.";

pub(super) const ASSESSORS: &str = "Assessors, all attributes together";
pub(super) const TELLS_APART: &str = "tells samples apart";
pub(super) const REPEATS: &str = "repeats";
pub(super) const AGREES: &str = "agrees with the others";
pub(super) const ATTRIBUTES: &str = "attributes";
pub(super) const NOTHING_TO_JUDGE: &str = "on no attribute the panel finds differences that this could be tested on";
pub(super) const SHOWN_OR_NOT: &str = "shown / fails / too few cups";
pub(super) const ALL_ASSESSORS: &str = "all assessors";
pub(super) const MEAN_R: &str = "mean r";
pub(super) const SCATTER: &str = "scatter";
pub(super) const NONE: &str = "none";
pub(super) const ASSESSORS_HOW: &str = "Only attributes on which the panel as a whole finds sample differences count. A test that shows nothing fails nobody by itself: with few samples it misses sound assessors too. It fails somebody only where it would show a sound assessor in 80 of 100 cases, and where a sound one would do as badly in 5 of 100 at most; else there were too few cups to tell. Repeating fails who is shown to scatter more than half as much again as the others. The small figures say how many failures sound assessors would have by chance, at most; on made-up panels it was 2 of 100 tests at most.";
pub(super) const NEVER_LEFT_OUT: &str = "Disagreeing is no reason to leave anyone out. Leave out only what has a reason of its own, and compare the verdict with and without.";

pub(super) const PANEL_ON_ATTRIBUTES: &str = "The panel on each attribute";
pub(super) const P_SAMPLES: &str = "p, samples differ";
pub(super) const DISAGREEMENT: &str = "disagreement";
pub(super) const REPEATABILITY: &str = "scatter between replicates";
pub(super) const INTRACLASS: &str = "intraclass r, panel mean";
pub(super) const PANEL_HOW: &str = "Disagreement is the mean square of assessor \u{d7} sample over that between replicates: a small p means that assessors see the samples differently, by more than they scatter. The intraclass correlation is that of the panel mean, differences of level forgiven; small figures are 95 % intervals, of scatter by chi-squared, of the correlation by F (Shrout & Fleiss 1979), both for normal marks.";
pub(super) const PANEL_SEES_NO_DIFFERENCE: &str = "the panel finds none";
pub(super) const GRID: &str = "Every assessor on every attribute";

pub(super) const LINE_USE: &str = "Slope of each assessor on the panel's means";
pub(super) const STRETCHING: &str = "stretching";
pub(super) const LINE_USE_HOW: &str = "1 is the panel's own use of the line; above 1 an assessor stretches it, below 1 squeezes it, below 0 turns it round. Where it says so, taking the stretching out of the error sharpens the test of the samples.";

pub(super) const ORDER: &str = "Effects of the order of serving";
pub(super) const DRIFT: &str = "drift a position";
pub(super) const POSITION: &str = "position";
pub(super) const CARRY_OVER: &str = "sample before";
pub(super) const LARGEST: &str = "largest";
pub(super) const ANY: &str = "p, any at all";
pub(super) const ADJUSTED: &str = "p, all attributes together";
pub(super) const NOT_ADJUSTED: &str = "there is nothing to adjust";
pub(super) const ORDER_HOW: &str = "Positions and samples before are weighed together with the samples themselves; p is after Holm's correction over the positions or samples before; the p beside it counts all attributes together as well, and only that one shows an effect. Positions come from the file and are never made up from the order of its rows.";
pub(super) const LABELS: &str = "What a label did";
pub(super) const LABELS_HOW: &str =
    "The same sample, the same assessor, under two labels; exact sign-flip test over assessors.";

pub(super) const ROUNDS: &str = "Shifts between rounds";
pub(super) const WHOLE_PANEL: &str = "whole panel shifts";
pub(super) const ASSESSORS_SHIFT: &str = "assessors shift";
pub(super) const SAMPLES_CHANGE: &str = "samples change";
pub(super) const ROUND_SHIFTS: &str = "Does the difference to the target hold from round to round?";
pub(super) const SHIFT: &str = "shift of the difference";
pub(super) const SHIFTS_HOW: &str = "Where everybody is served from one pot a round, a difference between pots is inside the difference between samples and in no interval. Each assessor's own difference to the target is compared between rounds, all attributes counted together by Holm; only shifts that are shown stand here. Where pots do not differ, 3 to 6 candidates of 100 have any (simulated).";
pub(super) const NO_SHIFT: &str = "No difference to the target is shown to shift between rounds.";
pub(super) const SAMPLES_DIFFER: &str = "samples differ";
pub(super) const P_WITH: &str = "p with rounds";
pub(super) const P_WITHOUT: &str = "p without";
pub(super) const ROUNDS_HOW: &str = "A round is a replicate, or a session where there is one replicate only. Assessors who each shift their own way between rounds swell the error of the usual model; the last columns show whether that changes the answer. Samples that change from round to round for everybody alike may come from pots that differ; their p is given for the attribute alone and for all attributes together.";

pub(super) const SESSIONS: &str = "The panel in each session by itself";
pub(super) const SESSION: &str = "session";
pub(super) const N_ASSESSORS: &str = "assessors";
pub(super) const N_SAMPLES: &str = "samples";
pub(super) const N_PAGES: &str = "pages";
pub(super) const TOLD_APART_ON: &str = "samples told apart on";
pub(super) const AGREEMENT: &str = "agreement, mean r";
pub(super) const MEAN_MARK: &str = "mean mark";
pub(super) const SESSIONS_HOW: &str = "Each session is judged as if it were the whole study: on how many attributes the panel told its samples apart, how marks of the same sample scattered within it, how assessors agreed. A session with few samples gives rough figures.";

pub(super) const FORM_FAULTS: &str = "Who marks differently? The strongest evidence first";
pub(super) const SUSPECTED: &str = "suspected";
pub(super) const IN_WORDS: &str = "in words";
pub(super) const MARKS_COMPARED: &str = "marks compared";
pub(super) const TYPICAL_MISFIT: &str = "typical misfit";
pub(super) const CORRELATION_EXPECTED: &str = "correlation with what was expected";
pub(super) const AS_WRITTEN: &str = "as written";
pub(super) const AS_SUSPECTED: &str = "as suspected";
pub(super) const TIMES_LIKELIER: &str = "times likelier as suspected, power of ten";
pub(super) const REACHED: &str = "reached";
pub(super) const ASKED_FOR: &str = "asked for";
pub(super) const DOES_NOT_VARY: &str = "marks or expectation do not vary";
/// What is said wherever somebody might be left out because of how they mark.
pub const FORCED: &str =
    "Nobody is left out because they disagree: a form fault is a reason when the sheet or the person confirms it.";

/// "by chance 0.4 at most".
pub(super) fn by_chance(count: &str) -> String {
    format!("by chance {count} at most")
}

/// ".72 (.31 to .90)"; the value alone where there is no interval.
pub(super) fn with_interval(value: &str, ends: Option<(String, String)>) -> String {
    ends.map_or_else(|| value.to_owned(), |(lower, upper)| format!("{value} ({lower} to {upper})"))
}

/// "interval 31 to 90".
pub(super) fn interval_detail(lower: &str, upper: &str) -> String {
    format!("{lower} to {upper}")
}

pub(super) fn grid_detail(agrees: &str, slope: &str, repeats: &str) -> String {
    format!("r {agrees}, slope {slope}, s {repeats}")
}

pub(super) fn grid_how(unit: &str) -> String {
    format!(
        "Large figure: F of this assessor over samples, against the own scatter between replicates. Small figures: r, the \
         correlation with the mean of the others over samples, its slope on them, and s, the own scatter in {unit}, each with \
         its 95 % interval: of r by Fisher's z, approximate and from five samples on, of the slope by t, of s by chi-squared."
    )
}

pub(super) fn labels_against(label: &str, against: &str) -> String {
    format!("\u{201c}{label}\u{201d} against \u{201c}{against}\u{201d}")
}

pub fn no_slips(pages: usize) -> String {
    format!("No form fault is suspected on any of {} pages.", grouped(pages))
}

/// What may have happened, in two or three words.
pub fn slip(kind: FormFaultKind) -> &'static str {
    match kind {
        FormFaultKind::ShiftedDown | FormFaultKind::ShiftedUp => "shifted page",
        FormFaultKind::MirroredAttribute => "scale turned round",
        FormFaultKind::MirroredAssessor => "all scales turned round",
        FormFaultKind::SwappedForms => "forms swapped",
    }
}

/// "others 5 to 7".
pub(super) fn others_span(lower: &str, upper: &str) -> String {
    if lower == upper { format!("others {lower}") } else { format!("others {lower} to {upper}") }
}

/// "R-231 becomes a match".
pub(super) fn becomes(sample: &str, verdict: Verdict) -> String {
    let now = match verdict {
        Verdict::Match => "becomes a match",
        Verdict::Off => "turns to off",
        Verdict::NotShown => "is no longer shown either way",
    };
    format!("{sample} {now}")
}

/// Whether the panel can be believed, by the attributes on which it finds differences.
pub(super) fn believed(told: usize, all: usize) -> String {
    match told {
        0 => format!(
            "Nothing shows that this panel can be believed: it tells the samples apart on none of {}.",
            counted(all, "attribute", "attributes")
        ),
        told => format!("This panel can be believed on {told} of {all} attributes: there it tells the samples apart."),
    }
}

pub(super) fn look_at_people(count: usize) -> String {
    match count {
        1 => "Look at one person:".to_owned(),
        count => format!("Look at {count} people:"),
    }
}

/// What is said where nobody is unlike the others.
pub(super) fn nobody_unlike(few: usize, all: usize) -> String {
    match few {
        0 => "Nobody is unlike the others.".to_owned(),
        few if few == all => "Nobody is shown to be unlike the others; there are too few cups to tell.".to_owned(),
        few => format!(
            "Nobody is shown to be unlike the others; of {few} {} there are too few cups to tell.",
            plural(few, "person", "people")
        ),
    }
}

pub(super) const REPEATS_WORSE: &str = "repeats worse";
pub(super) const TELLS_LESS: &str = "tells the samples apart less";
pub(super) const AGREES_LESS: &str = "agrees less";

/// "repeats 4 times worse".
pub(super) fn times_worse(times: f64) -> String {
    format!("repeats {} times worse", statistic(times, 1))
}

pub(super) fn without_them(name: &str, moved: &str) -> String {
    format!("; without {name} {moved}")
}

pub(super) const HANGS_ON_NOBODY: &str = "No verdict on a sample hangs on one person.";
pub(super) const NO_ROUND_SHIFT: &str = "No shift of assessors between rounds is shown.";
pub(super) const NO_ORDER_EFFECT: &str = "No effect is shown.";
pub(super) const NO_GAIN: &str = "Nothing is gained by taking it out, on any attribute.";

/// "2 suspected: Gus and Ivo."
pub(super) fn suspected(count: usize, names: &str) -> String {
    format!("{} suspected: {names}.", grouped(count))
}

pub(super) fn without_one(name: &str, moved: &str) -> String {
    format!("Without {name} {moved}")
}

pub(super) fn told_in_session(session: &str, count: &str) -> String {
    format!("{count} in {session}")
}

pub(super) fn told_apart_in(all: &str) -> String {
    format!("Attributes on which samples were told apart: {all}.")
}

pub(super) fn not_told(because: &str) -> String {
    format!("Not told, because {because}.")
}

pub(super) fn shift_without_consequence(names: &str) -> String {
    format!("Assessors shift on {names}; it changes no answer.")
}

pub(super) fn shift_changes(names: &str) -> String {
    format!("Shifts change whether samples differ on {names}.")
}

pub(super) fn shown_on(names: &str) -> String {
    format!("An effect is shown on {names}.")
}

pub(super) fn labels_below(count: &str, alpha: f64) -> String {
    format!("{count} comparisons have a p below {}, each by itself.", typed(alpha))
}

pub(super) fn gain_on(names: &str) -> String {
    format!("Taking it out sharpens the test on {names}.")
}
