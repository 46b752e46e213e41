//! The words of Panel: whom to believe, who marks differently, and what hangs on whom.

use super::help::Help;
use super::{grouped, listed};
use crate::state::study::work::Reached;
use likeness_core::stats::panel::form_faults::{Evidence, FormFaultKind, Suspicion};
use likeness_core::text::numbers::{fixed, score};

pub const STOP: &str = "Stop";
pub const UNFINISHED_IN_PRINT: &str =
    "not finished when this page was printed. Wait until it is done, then print again.";

pub const BELIEVED: &str = "Can this panel be believed?";
pub const BELIEVED_INTRO: &str =
    "Click a square of the figure or a number of the tables below, and the very marks behind it stand here.";
pub const LOOK_CLOSER: &str = "Which marks are behind it?";
pub const ASSESSOR: &str = "Assessor";
pub const ATTRIBUTE: &str = "Attribute";
pub const OPEN_IN_SCORES: &str = "Open these marks in Scores";

pub const DIFFERENT: &str = "Who marks differently?";
pub const DIFFERENT_INTRO: &str = "A page shifted by a line, a scale read the wrong way round, two forms under each other's sample: the marks as written are compared with the marks as they would stand. Nothing is changed: look at the sheet and ask the person.";
pub const SEARCHING: &str = "Looking for slips:";
pub const SEARCH: &str = "Look for slips";
pub const SEE_THE_MARKS: &str = "See the marks";
pub const LEAVE_OUT_BECAUSE: &str = "Leave out, because";
pub const LEAVE_OUT: &str = "Leave out";
pub const FORCED: &str =
    "Nobody is left out because they disagree: a slip is a reason when the sheet or the person confirms it.";

pub const HANGS: &str = "Does a verdict hang on one person?";
pub const SETTING_ASIDE: &str = "Setting each assessor aside in turn:";
pub const SET_ASIDE: &str = "Set each assessor aside in turn";
pub const EVERYBODY: &str = "everybody";
pub const HANGS_CAPTION: &str = "Verdicts with everybody and without each assessor";
pub const WITHOUT: &str = "without";
pub const ATTRIBUTES_CHANGED: &str = "attributes whose verdict moves";
pub const HANGS_HOW: &str = "Nobody is left out by this: it shows what would change. A verdict that hangs on one person is worth another tasting, and is no reason to leave that person out.";

pub const LINE_USE: &str = "Who stretches or squeezes the line?";
pub const COMPARING_LINES: &str = "Comparing how the line is used:";
pub const COMPARE_LINES: &str = "Compare how the line is used";
pub const LINE_USE_CAPTION: &str = "Slope of each assessor on the panel's means";
pub const STRETCHING: &str = "stretching";
pub const LINE_USE_HOW: &str = "1 is the panel's own use of the line; above 1 an assessor stretches it, below 1 squeezes it, below 0 turns it round. Where it says so, taking the stretching out of the error sharpens the test of the samples.";

pub const ORDER: &str = "Did the order of serving leave its mark?";
pub const LOOKING_AT_ORDER: &str = "Looking at positions and at samples before:";
pub const LOOK_AT_ORDER: &str = "Look at the order of serving";
pub const ORDER_CAPTION: &str = "Effects of the order of serving";
pub const DRIFT: &str = "drift a position";
pub const POSITION: &str = "position";
pub const CARRY_OVER: &str = "sample before";
pub const LARGEST: &str = "largest";
pub const ANY: &str = "p, any at all";
pub const ORDER_HOW: &str = "Positions and samples before are weighed together with the samples themselves; p is after Holm's correction over the positions or samples before. Positions come from the file and are never made up from the order of its rows.";
pub const LABELS_CAPTION: &str = "What a label did";
pub const LABEL_DIFFERENCE: &str = "difference";
pub const LABELS_HOW: &str =
    "The same sample, the same assessor, under two labels; exact sign-flip test over assessors.";

pub const ROUNDS: &str = "Does the panel hold from round to round?";
pub const COMPARING_ROUNDS: &str = "Comparing the rounds:";
pub const COMPARE_ROUNDS: &str = "Compare the rounds";
pub const ROUNDS_CAPTION: &str = "Shifts between rounds";
pub const WHOLE_PANEL: &str = "whole panel shifts";
pub const ASSESSORS_SHIFT: &str = "assessors shift";
pub const SAMPLES_CHANGE: &str = "samples change";
pub const SAMPLES_DIFFER: &str = "samples differ";
pub const P_WITH: &str = "p with rounds";
pub const P_WITHOUT: &str = "p without";
pub const ROUNDS_HOW: &str = "A round is a replicate, or a session where there is one replicate only. Assessors who each shift their own way between rounds swell the error of the usual model; the last columns show whether that changes the answer.";

pub const SESSIONS: &str = "Session by session";
pub const COMPARING_SESSIONS: &str = "Comparing the sessions:";
pub const COMPARE_SESSIONS: &str = "Compare the sessions";
pub const SESSIONS_CAPTION: &str = "The panel in each session by itself";
pub const SESSION: &str = "session";
pub const ASSESSORS: &str = "assessors";
pub const SAMPLES: &str = "samples";
pub const PAGES: &str = "pages";
pub const TOLD_APART_ON: &str = "samples told apart on";
pub const AGREEMENT: &str = "agreement, mean r";
pub const SESSIONS_HOW: &str = "Each session is judged as if it were the whole study: on how many attributes the panel told its samples apart, how marks of the same sample scattered within it, how assessors agreed. A session with few samples gives rough figures.";

pub static SESSIONS_HELP: Help = Help {
    question: "What do sessions show?",
    answers: &[
        "A panel that tires, or drifts apart after training, shows it here: fewer attributes told apart, more scatter, less agreement from one session to the next. So does a panel that still learns, the other way round.",
        "It can't say why. Other samples in a session, or fewer of them, change the figures as well: compare sessions with the same samples.",
    ],
    source: "ISO 11132, the words for discrimination, agreement and repeatability, named from memory.",
};

pub fn no_sessions(because: &str) -> String {
    format!("Sessions can't be compared, because {because}.")
}

pub fn mean_mark(unit: &str) -> String {
    format!("mean mark, {unit}")
}

pub static MARKS_HELP: Help = Help {
    question: "What is shown here?",
    answers: &[
        "Every mark of one person on one attribute, sample by sample, as it came from the file, with its row and column. Below the line stand the other assessors' means, so that a slip, a mirror or a wild mark can be seen with the naked eye.",
        "A mark far from the others may be an error, or the only one that is right. Look at the sheet before you correct or leave out anything.",
    ],
    source: "",
};

pub static SLIPS_HELP: Help = Help {
    question: "How is a slip suspected, and how sure is it?",
    answers: &[
        "For every mark the other assessors' mean and this person's own level say what to expect. The marks as written are weighed against the marks as they would stand had the slip happened; only where the second is far likelier is it said.",
        "The bar is set so that a panel without any slip raises a false suspicion in 5 studies of 100 at most, all checks together. A true slip among samples that hardly differ can't be seen.",
    ],
    source: "Likelihood ratio with misfits by Student's law, 5 degrees of freedom; the threshold is the number of pages, pairs or scales looked at over the allowed chance of a false alarm.",
};

pub static HANGS_HELP: Help = Help {
    question: "What does setting aside show?",
    answers: &[
        "The whole verdict is reached again without each assessor in turn, by the same margin and the same deciding attributes. With one person fewer intervals grow wider, so a match may turn into not shown for that reason alone.",
    ],
    source: "",
};

pub static LINE_HELP: Help = Help {
    question: "Is stretching the line a fault?",
    answers: &[
        "No: people use a line differently, and the verdict compares each assessor with themselves. It costs sensitivity where it is strong.",
        "It is told only where the samples differ strongly; elsewhere a slope on the panel's means is noise.",
    ],
    source: "Brockhoff, Schlich & Skovgaard (2015), Food Quality and Preference 39, 156-166.",
};

pub static ORDER_HELP: Help = Help {
    question: "What can the order of serving do?",
    answers: &[
        "The first cup is often marked higher, palates tire, and a strong sample colours the next. Orders that are balanced keep this from favouring a sample, but it still adds noise.",
        "Standard errors come from leaving out each assessor in turn: assessors are the people, servings are not.",
    ],
    source: "Least squares with a jackknife over assessors; Holm (1979).",
};

pub static ROUNDS_HELP: Help = Help {
    question: "What is a shift between rounds?",
    answers: &[
        "A whole panel that marks higher on the second day shifts together, which harms nothing. Assessors who shift each their own way make the usual error too large, and a difference between samples may hide in it.",
        "Samples that change for everybody from round to round are the serious case: the cups may not have been the same.",
    ],
    source: "Three-way analysis with assessors random; balanced data only.",
};

pub fn reached(reached: Reached) -> String {
    format!("{} of {}", grouped(reached.done), grouped(reached.wanted))
}

pub fn stopped(reached: Reached) -> String {
    format!("Stopped at {} of {}.", grouped(reached.done), grouped(reached.wanted))
}

/// All names where they are few, else the first two and how many more.
pub fn first_of(names: &[String]) -> String {
    match names {
        [first, second, _, _, ..] => format!("{first}, {second} and {} more", grouped(names.len() - 2)),
        few => listed(few),
    }
}

pub fn no_slips(pages: usize) -> String {
    format!("No slip is suspected on any of {} pages.", grouped(pages))
}

pub fn slip(kind: FormFaultKind) -> &'static str {
    match kind {
        FormFaultKind::ShiftedDown | FormFaultKind::ShiftedUp => "shifted page",
        FormFaultKind::MirroredAttribute => "scale turned round",
        FormFaultKind::MirroredAssessor => "all scales turned round",
        FormFaultKind::SwappedForms => "forms swapped",
    }
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

pub fn no_influence(because: &str) -> String {
    format!("Setting aside shows nothing yet, because {because}.")
}

pub fn not_compared(because: &str) -> String {
    format!("There is nothing to compare, because {because}.")
}

pub fn order_off(because: &str) -> String {
    format!("The order of serving can't be looked at, because {because}.")
}

pub fn verdict_changes(candidates: &[String]) -> String {
    format!("changes {}", listed(candidates))
}

pub fn labels_against(label: &str, against: &str) -> String {
    format!("\u{201c}{label}\u{201d} against \u{201c}{against}\u{201d}")
}
