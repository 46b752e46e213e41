//! What each part of the plan holds so far: the few words under its name. It must not know the plan, only the facts that it
//! is handed.

use crate::words::counted;

/// For parts that follow from a plan while none is made.
pub const NEEDS_PLAN: &str = "needs a plan";
pub const NOT_ASKED_YET: &str = "not written down";
pub const NO_TITLE_YET: &str = "no title yet";
pub const ASKED: &str = "written down";
pub const NOT_MADE_YET: &str = "not made yet";
pub const PRINTOUTS_ARE: &str = "ballots, sheets, labels";
pub const SHORT_TESTS_ARE: &str = "pairs, triangle, labels";
pub const NOTHING_NOTED: &str = "nothing noted";
pub const NOT_BEGUN: &str = "not begun";
pub const OF_ANOTHER_PLAN: &str = "of another plan";
pub const PLAN_CHANGED: &str = "the plan was changed";
pub const NOTHING_BACK: &str = "nothing came back";
pub const NO_PICTURES: &str = "no pictures yet";
pub const LAID_OUT: &str = "laid out";

/// Of a brief that lacks something.
pub fn missing(count: usize) -> String {
    format!("{count} still missing")
}

pub fn brief(samples: usize, assessors: usize) -> String {
    format!("{}, {}", counted(samples, "sample", "samples"), counted(assessors, "assessor", "assessors"))
}

pub fn attributes(listed: usize, to_check: usize) -> String {
    let lines = counted(listed, "attribute", "attributes");
    if to_check == 0 { lines } else { format!("{lines}, {to_check} to check") }
}

pub fn made(when: &str) -> String {
    format!("made {when}")
}

pub fn answered(answers: usize, of: usize) -> String {
    format!("{answers} of {of} answered")
}

pub fn session_runs(number: u32) -> String {
    format!("session {number} runs")
}

pub fn noted(entries: usize) -> String {
    format!("{entries} noted")
}

pub fn typed(scores: usize, of: usize) -> String {
    format!("{scores} of {of} typed")
}

/// Of pages read from pictures.
pub fn pages_read(read: usize, open: usize) -> String {
    let pages = format!("{} read", counted(read, "page", "pages"));
    if open == 0 { pages } else { format!("{pages}, {open} to decide") }
}

pub fn sheets_back(arrived: usize, of: usize) -> String {
    format!("{arrived} of {of} sheets")
}
