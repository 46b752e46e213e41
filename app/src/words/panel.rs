//! The words of Panel: whom to believe, who marks differently, and what hangs on whom.

use super::grouped;
use super::help::Help;
use likeness_core::run::Reached;
use likeness_core::stats::panel::form_faults::{Evidence, FormFaultKind, Suspicion};
use likeness_core::tables::panel::words::slip;
use likeness_core::text::numbers::{fixed, score};

pub const STOP: &str = "Stop";
pub const UNFINISHED_IN_PRINT: &str =
    "not finished when this page was printed. Wait until it is done, then print again.";

pub const GRID_FOLDED: &str = "Every assessor on every attribute";
pub const TABLES_FOLDED: &str = "All figures of the panel, as tables";
pub const MARKS: &str = "Marks";
pub const ASK: &str = "Ask";
pub const ASK_TITLE: &str = "Copies a question to put to this person";
pub const QUESTION_COPIED: &str = "The question is copied.";
pub const QUESTION_REFUSED: &str = "The browser refused the clipboard.";
pub const BELIEVED_INTRO: &str =
    "Click a square of the figure or a number of the tables below, and the very marks behind it are unfolded above.";
pub const LOOK_CLOSER: &str = "Which marks are behind it?";
pub const ASSESSOR: &str = "Assessor";
pub const ATTRIBUTE: &str = "Attribute";
pub const OPEN_IN_SCORES: &str = "Open these marks in Scores";

pub const DIFFERENT: &str = "Who marks differently?";
pub const DIFFERENT_INTRO: &str = "A page shifted by a line, a scale read the wrong way round, two forms under each other's sample: the marks as written are compared with the marks as they would stand. Nothing is changed: look at the sheet and ask the person.";
pub const SEE_THE_MARKS: &str = "See the marks";
pub const LEAVE_OUT_BECAUSE: &str = "Leave out, because";
pub const LEAVE_OUT: &str = "Leave out";

pub static MARKS_HELP: Help = Help {
    question: "What is shown here?",
    answers: &[
        "Every mark of one person on one attribute, sample by sample, as it came from the file, with its row and column. Below the line stand the other assessors' means, so that a form fault, a mirror or a wild mark can be seen with the naked eye.",
        "A mark far from the others may be an error, or the only one that is right. Look at the sheet before you correct or leave out anything.",
    ],
    source: "",
};

pub fn reached(reached: Reached) -> String {
    format!("{} of {}", grouped(reached.done), grouped(reached.wanted))
}

pub fn stopped(reached: Reached) -> String {
    format!("Stopped at {} of {}.", grouped(reached.done), grouped(reached.wanted))
}

/// The reason that is offered for leaving out what is suspected.
pub fn slip_reason(suspicion: &Suspicion) -> String {
    let where_from = suspicion.attribute.as_ref().map_or_else(String::new, |name| match suspicion.kind {
        FormFaultKind::ShiftedDown | FormFaultKind::ShiftedUp => format!(" from {name} on"),
        _ => format!(": {name}"),
    });
    format!("{}{where_from}, found in the marks", slip(suspicion.kind))
}

/// "typical misfit 18.2 as written, 6.1 as suspected; ..."
pub fn evidence(evidence: &Evidence, scale_maximum: f64, unit: &str) -> String {
    let r = |correlation: Option<f64>| correlation.map_or("none".to_owned(), |r| fixed(r, 2));
    let (written, suspected) = (&evidence.as_written, &evidence.as_suspected);
    format!(
        "Over {} marks: typical misfit {} {unit} as written, {} {unit} as suspected; correlation with what was expected {} and {}; 10^{} times likelier as suspected, where 10^{} was asked for.",
        grouped(evidence.n_marks),
        score(written.typical_misfit, scale_maximum),
        score(suspected.typical_misfit, scale_maximum),
        r(written.correlation),
        r(suspected.correlation),
        fixed(evidence.log10_times_likelier, 1),
        fixed(evidence.log10_threshold, 1)
    )
}

pub fn see_marks_of(name: &str) -> String {
    format!("See the marks of {name}")
}

/// "Gus on cooked".
pub fn marks_of(name: &str, attribute: &str) -> String {
    format!("{name} on {attribute}")
}

/// "without: Candidate A turns to off".
pub fn without(moved: &str) -> String {
    format!("without: {moved}")
}

/// What to ask somebody, with what was found.
pub fn question(name: &str, figures: &str) -> String {
    format!(
        "{name}, this is what your marks show. {figures}. Did anything get in the way: a cold, a hurried round, a line of the \
         ballot that slipped, an attribute that was not clear?"
    )
}

/// A length of a bar.
pub fn hundredths(share: f64) -> String {
    format!("{share:.1}%")
}
