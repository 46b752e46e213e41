//! The words of the plan view: brief, attribute list, orders, printouts. Sentences about orders and codes are made in the
//! engine.

pub mod attributes;
pub mod brief;
pub mod chances;
pub mod kept;
pub mod orders;
pub mod parts;
pub mod printouts;
pub mod short_tests;

// From the start screen and around the view.
pub const START: &str = "Plan a tasting";
pub const GO_ON: &str = "Go on with the plan";
pub const START_ABOUT: &str = "Question, attribute list, serving orders, codes, ballots and sheets to print; its scores then come back with no mapping.";
pub const SHORT_TEST: &str = "Or a short test: pairs, triangle, labels";
pub const NEEDS_SCORES: &str = "Needs scores: open a score file, or type the scores of a planned tasting.";
pub const OPEN_SCORES_OR_PLAN: &str = "Open scores or a plan";
pub const TO_START: &str = "Start page";
pub const PARTS: &str = "Steps of the plan";
pub const DONE: &str = "done";
pub const BRIEF: &str = "Question";
pub const SAMPLES: &str = "Samples and people";
pub const ATTRIBUTES: &str = "Attributes";
pub const ORDERS: &str = "Orders and codes";
pub const PRINTOUTS: &str = "Ballots";
pub const SHORT_TESTS: &str = "Short tests";
pub const SESSION_RECORD: &str = "Tasting day";
pub const DATA_ENTRY: &str = "Scores back: typed";
pub const ON_SCREEN: &str = "Scores back: screens";
pub const PICTURES: &str = "Scores back: filled pages";
pub const SAVE_PLAN: &str = "Save the plan file";
pub const NO_SCORES_YET: &str = "plan, no scores yet";
pub const WITH_ITS_PLAN: &str = "with its plan";
pub const PLAN_FILE_NAME: &str = "plan.likeness.json";
pub const BEGIN_ANEW: &str = "Begin another plan";
pub const OPEN_PLAN_UNTOUCHED: &str = "The plan you had open is as it was. Open an undamaged copy of the plan file.";
pub const RESTORED: &str = "Your plan is as you left it.";
pub const RESTORED_HINT: &str = "This browser kept it; it is in the Plan view.";
pub const SAVED_BROKEN: &str = "The plan that this browser had kept can't be read.";
pub const SAVED_BROKEN_HINT: &str = "Open the plan file, if you saved one.";
pub const PLAN_SAVED: &str = "Kept in this browser at every change.";
pub const PLAN_NOT_SAVED: &str = "This browser does not keep the plan: save the plan file before you close the page.";

// Steps, as undo names them.
pub const STEP_MADE: &str = "making the plan";
pub const STEP_OPENED: &str = "opening a plan file";
pub const STEP_BEGUN_ANEW: &str = "beginning another plan";

/// "3 Attributes"; what is no step of a plan has no number.
pub fn step(number: Option<u8>, name: &str) -> String {
    number.map_or_else(|| name.to_owned(), |number| format!("{number} {name}"))
}

/// A plan that is open beside a study that is not its own.
pub fn beside_plan(title: &str) -> String {
    format!("beside the plan \u{201c}{title}\u{201d}")
}

pub fn log_made_anew(before: &str) -> String {
    format!("Made anew in place of the plan of {before}: papers printed from that plan are no longer valid.")
}

pub fn refused_count(typed: &str, lowest: usize, highest: usize) -> String {
    match typed.trim() {
        "" => format!("Give a whole number from {lowest} to {highest}."),
        typed => format!("\u{201c}{typed}\u{201d} is not a whole number from {lowest} to {highest}."),
    }
}

pub fn refused_share(typed: &str) -> String {
    format!("\u{201c}{typed}\u{201d} is not a share between 0 and 1, such as 0.7.")
}

pub fn refused_length(typed: &str) -> String {
    match typed.trim() {
        "" => "Give a length in mm.".to_owned(),
        typed => format!("\u{201c}{typed}\u{201d} is not a length between 0 and 100 mm."),
    }
}

pub const NO_ASSESSORS: &str = "Nobody is named who tastes.";
pub const NO_ASSESSORS_HINT: &str = "Name the assessors, one a line.";
pub const NAMED_TWICE_HINT: &str = "Give each assessor a name or a code of their own.";

pub fn named_twice(name: &str) -> String {
    format!("\u{201c}{name}\u{201d} stands twice among the assessors.")
}
