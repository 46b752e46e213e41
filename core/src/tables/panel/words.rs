//! What the tables of the panel say.

use crate::stats::panel::form_faults::FormFaultKind;
use crate::tables::words::grouped;

pub(super) const ASSESSORS: &str = "Assessors, all attributes together";
pub(super) const TELLS_APART: &str = "tells samples apart";
pub(super) const REPEATS: &str = "repeats";
pub(super) const AGREES: &str = "agrees with the others";
pub(super) const ATTRIBUTES: &str = "attributes";
pub(super) const FAILED: &str = "failed";
pub(super) const MEAN_R: &str = "mean r";
pub(super) const SCATTER: &str = "scatter";
pub(super) const NONE: &str = "none";
pub(super) const ASSESSORS_HOW: &str = "Failures count only attributes on which the panel as a whole finds sample differences; the small figures are the exact 95 % interval of each share. With many tests some failures come by chance: look at the interval before you look at the person.";
pub(super) const NEVER_LEFT_OUT: &str = "Disagreeing is no reason to leave anyone out. Leave out only what has a reason of its own, and compare the verdict with and without.";

pub(super) const PANEL_ON_ATTRIBUTES: &str = "The panel on each attribute";
pub(super) const P_SAMPLES: &str = "p, samples differ";
pub(super) const DISAGREEMENT: &str = "disagreement";
pub(super) const REPEATABILITY: &str = "scatter between replicates";
pub(super) const INTRACLASS: &str = "intraclass r, panel mean";
pub(super) const PANEL_HOW: &str = "Disagreement is the mean square of assessor \u{d7} sample over that between replicates: a small p means that assessors see the samples differently, by more than they scatter. The intraclass correlation is that of the panel mean, differences of level forgiven.";
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
pub(super) const ORDER_HOW: &str = "Positions and samples before are weighed together with the samples themselves; p is after Holm's correction over the positions or samples before. Positions come from the file and are never made up from the order of its rows.";
pub(super) const LABELS: &str = "What a label did";
pub(super) const LABELS_HOW: &str =
    "The same sample, the same assessor, under two labels; exact sign-flip test over assessors.";

pub(super) const ROUNDS: &str = "Shifts between rounds";
pub(super) const WHOLE_PANEL: &str = "whole panel shifts";
pub(super) const ASSESSORS_SHIFT: &str = "assessors shift";
pub(super) const SAMPLES_CHANGE: &str = "samples change";
pub(super) const SAMPLES_DIFFER: &str = "samples differ";
pub(super) const P_WITH: &str = "p with rounds";
pub(super) const P_WITHOUT: &str = "p without";
pub(super) const ROUNDS_HOW: &str = "A round is a replicate, or a session where there is one replicate only. Assessors who each shift their own way between rounds swell the error of the usual model; the last columns show whether that changes the answer.";

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

pub(super) fn percent_span(lower: &str, upper: &str) -> String {
    format!("{lower} to {upper} %")
}

pub(super) fn grid_detail(agrees: &str, repeats: &str) -> String {
    format!("r {agrees}, s {repeats}")
}

pub(super) fn grid_how(unit: &str) -> String {
    format!(
        "Large figure: F of this assessor over samples, against the own scatter between replicates. Small figures: r, the \
         correlation with the mean of the others over samples, and s, the own scatter in {unit}."
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
