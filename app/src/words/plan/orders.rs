//! Words of the part with orders and codes.

use crate::words::counted;
use crate::words::help::Help;
use likeness_core::plan::orders::codes::CodeCheck;

pub const HEADING: &str = "Orders and codes";
pub const INTRO: &str = "Who tastes what, in which order, under which code. Made from the brief, the words and the seed: the same gives the same, to the last cup.";
pub const MAKE: &str = "Make the plan";
pub const MAKE_ANEW: &str = "Make the plan anew";
pub const MORE: &str = "More: seed, codes used before";
pub const SEED: &str = "Seed";
pub const ANOTHER_SEED: &str = "Another seed";
pub const USED_CODES: &str = "Codes of earlier studies not to be used again";
pub const USED_CODES_HINT: &str = "274 591";
pub const NOT_MADE: &str = "No plan has been made yet.";
pub const NOT_MADE_MORE: &str = "These lines say what is still missing. When nothing refuses any more, make the plan.";
pub const READY: &str = "Nothing is missing: make the plan.";
pub const DIFFERS: &str = "What you typed since differs from this plan. It counts only when you make the plan anew; then papers printed from this one are no longer valid. The same seed and the same numbers of samples, assessors and replicates keep orders and codes.";
pub const BEGUN: &str = "Cups were served from this plan. Use a late change below instead of making it anew, or what was served is no longer in the plan.";
pub const DESIGN: &str = "What is balanced";
pub const ORDERS: &str = "Serving orders";
pub const ORDERS_NOTE: &str =
    "Codes in the order of tasting. Say how many cups were served as you go: served cups never change.";
pub const SESSION: &str = "session";
pub const ASSESSOR: &str = "assessor";
pub const SERVED: &str = "served";
pub const SESSIONS: &str = "Sessions";
pub const WHEN: &str = "when";
pub const WHERE: &str = "where";
pub const ALL_SERVED: &str = "All served";
pub const LATE: &str = "Late changes";
pub const LATE_INTRO: &str = "Somebody is absent, or comes in addition. Cups that were served stay; the rest is laid out anew around them, under the same codes.";
pub const LATE_WHO: &str = "Assessor";
pub const LATE_NEW: &str = "Name of who comes in addition";
pub const FROM_SESSION: &str = "from session";
pub const IS_ABSENT: &str = "Is absent";
pub const IS_ADDED: &str = "Add";
pub const CODE_BOX: &str = "Check a code";
pub const CODE_BOX_INTRO: &str = "Type what stands on a cup or a page; the answer comes as you type.";
pub const CODE_BOX_EMPTY: &str = "Three digits.";
pub const KEY: &str = "The key";
pub const KEY_INTRO: &str =
    "Which code is which sample. Confidential: show it only where no assessor and no server can see this screen.";
pub const SHOW_KEY: &str = "Show the key";
pub const HIDE_KEY: &str = "Hide the key";
pub const CONFIDENTIAL: &str = "Confidential";
pub const TO_PRINTOUTS: &str = "Next: print the papers";
pub const TO_MISSING: &str = "Back to samples and people";
pub const LOG: &str = "Log of the plan";

pub static ORDERS_HELP: Help = Help {
    question: "How orders are made",
    answers: &[
        "In a Williams design each sample stands in each position equally often and follows each other sample equally often, so that neither the place of a cup nor what came before it speaks for or against a sample. Where the number of assessors doesn't allow that exactly, the orders that come nearest are chosen, and the tables of counts say how near.",
        "Each replicate is a session of its own with fresh orders and fresh codes, and nobody meets a sample in a position where they had it before, as far as that can be had.",
        "Codes carry a check digit while there are enough: a wrong digit or two swapped digits never make another code of the study.",
    ],
    source: "Williams (1949); check digit after Damm (2004).",
};

pub fn made(when: &str, seed: u64, assessors: usize, sessions: usize, cups: usize) -> String {
    format!(
        "Made {when} with seed {seed}: {}, {}, {}.",
        counted(assessors, "assessor", "assessors"),
        counted(sessions, "session", "sessions"),
        counted(cups, "cup", "cups")
    )
}

/// The answer of the code box.
pub fn code_answer(check: &CodeCheck) -> String {
    match check {
        CodeCheck::CanExist { code } => format!("{code} is a code of this study."),
        CodeCheck::CannotExist { .. } => check.sentence(),
    }
}

pub fn session(number: u32) -> String {
    format!("Session {number}")
}

pub fn cup(number: usize) -> String {
    format!("cup {number}")
}

pub fn of_session(what: &str, number: u32) -> String {
    format!("{what}, session {number}")
}

pub fn served_of(name: &str, session: u32) -> String {
    format!("Cups served to {name} in session {session}")
}

pub fn served_count(cups: usize, all: usize) -> String {
    format!("{cups} of {all}")
}

pub fn log_served(name: &str, session: u32, cups: usize) -> String {
    format!("{name} was served {} in session {session}.", counted(cups, "cup", "cups"))
}

pub fn log_session_served(session: u32) -> String {
    format!("All cups of session {session} were served.")
}

pub fn log_session(session: u32, when: Option<&str>, place: Option<&str>) -> String {
    let told: Vec<&str> = [when, place].into_iter().flatten().collect();
    format!("Session {session}: {}.", told.join(", "))
}

pub fn step_absent(name: &str) -> String {
    format!("{name} absent")
}

pub fn step_added(name: &str) -> String {
    format!("{name} added")
}

pub fn refused_seed(typed: &str) -> String {
    format!("\u{201c}{}\u{201d} is no seed: a whole number is needed.", typed.trim())
}
