//! The words of data entry from paper ballots. Prompts and reasons to stop are made in the engine.

use likeness_core::plan::data_entry::entry::{Entry, EntryCount, EntryPage};

pub const TITLE: &str = "Typing scores from paper";
pub const NEEDS_PLAN: &str =
    "Make or open the plan that the ballots were printed from: the pages to type follow from it.";
pub const BEGIN: &str = "Begin typing";
pub const BEGIN_ABOUT: &str = "Put the ballots in order: by session, then assessor, then cup. Lay the ruler so that its 0 is on the left end of the line, type the millimetres, press Enter. No mouse is needed.";
pub const OTHER_PLAN: &str = "What was typed before belongs to another plan.";
pub const OTHER_PLAN_HINT: &str =
    "Open that plan to go on with it, or begin with this one: the other typing is put aside, not lost.";
pub const CHANGED: &str = "The plan was changed since typing began.";
pub const CARRY_OVER: &str = "Take the typing over";
pub const BACK_TO_BEFORE: &str = "Go back to the typing that was put aside";
pub const PASSES: &str = "Who is typing";
pub const FIRST_PERSON: &str = "First person";
pub const SECOND_PERSON: &str = "Second person";
pub const SECOND_ABOUT: &str = "The second person types all pages again without seeing the first entries. Where the two differ by more than 1, the paper decides.";
pub const NEXT: &str = "Next";
pub const NO_SCORE: &str = "No mark";
pub const BACK: &str = "One row back";
pub const KEYS: &str = "Enter: next. - : no mark. Arrow up: one row back. g: go to another page.";
pub const GO_TO: &str = "Go to a page";
pub const GO: &str = "Go";
pub const ASSESSOR: &str = "Assessor";
pub const CODE: &str = "Code";
pub const CODE_NOT_YET: &str = "code: type it";
pub const WATCHING: &str = "Guards and sounds";
pub const ASK_CODE: &str = "Ask for the code printed on each page";
pub const CHECK_ROWS: &str = "Ask for the row number after every";
pub const CHECK_ROWS_UNIT: &str = "rows (0: never)";
pub const SOUNDS: &str = "Sounds: one high tone when a page is full, two low ones when something is not taken";
pub const PAGE_SO_FAR: &str = "This page";
pub const CONFIRMED: &str = "Right.";
pub const ALL_DONE: &str = "The last page is full.";
pub const LOOK_AGAIN: &str = "Look at the paper again";
pub const GO_TO_ROW: &str = "Go to that row";
pub const IS_RIGHT: &str = "The page is right as typed";
pub const DIFFERENCES: &str = "Where the two people differ";
pub const NO_DIFFERENCES: &str = "No mark typed twice differs by more than 1.";
pub const FIRST: &str = "first";
pub const SECOND: &str = "second";
pub const DECIDED: &str = "decided";
pub const OPEN: &str = "open: the first stands";
pub const OTHER_SCORE: &str = "another mark";
pub const USE: &str = "Use these scores";
pub const SAVE: &str = "Save the typing file";
pub const FILE_NAME: &str = "typing.likeness.json";
pub const SAVED: &str = "Kept in this browser at every Enter.";
pub const NOT_SAVED: &str = "This browser keeps nothing: save the typing file before you close the page.";
pub const SAVED_BROKEN: &str = "The typing that this browser had kept can't be read.";
pub const SAVED_BROKEN_HINT: &str = "Open the typing file, if you saved one.";
pub const DATA_ENTRY_UNTOUCHED: &str = "What was typed here is as it was.";

pub fn taken(row: usize, name: &str, text: &str) -> String {
    format!("{row}. {name}: {}", if text == "-" { NO_SCORE } else { text })
}

pub fn page_done(assessor: &str, code: &str) -> String {
    format!("Page full: {assessor}, {code}.")
}

pub fn back_to_before(marks: usize) -> String {
    format!("{BACK_TO_BEFORE} ({marks} marks)")
}

pub fn log_typed(marks: usize) -> String {
    format!("Opened {marks} scores typed from paper.")
}

pub fn opened(name: &str, marks: usize) -> String {
    format!("{name}: {marks} typed marks.")
}

pub fn other_plan(marks: usize) -> String {
    format!("{OTHER_PLAN} It holds {marks} marks.")
}

pub fn changed(marks: usize, left_behind: usize) -> String {
    match left_behind {
        0 => format!("{CHANGED} All {marks} typed marks have a place in it."),
        _ => format!(
            "{CHANGED} Of {marks} typed marks {left_behind} have no place in it any more; they stay in the typing that is put aside."
        ),
    }
}

pub fn progress(count: EntryCount) -> String {
    format!("{} of {} pages, {} of {} marks", count.pages_done, count.pages, count.typed, count.total)
}

pub fn cup(page: &EntryPage) -> String {
    format!("Session {}, cup {}", page.session, page.position)
}

pub fn page_in_words(page: &EntryPage) -> String {
    format!("{}, session {}, {}", page.assessor, page.session, page.code)
}

pub fn differences_open(open: usize, all: usize) -> String {
    format!("{DIFFERENCES}: {all}, of these {open} open")
}

/// What was typed, as it is shown in lists.
pub fn entry(entry: Entry) -> String {
    match entry {
        Entry::NotTyped => String::new(),
        Entry::NoMark => "no mark".to_owned(),
        Entry::Score(score) => crate::words::number(score),
    }
}
