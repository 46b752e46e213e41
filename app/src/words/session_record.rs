//! The words of the day of the tasting: the fair-test record.

use likeness_core::plan::session::session_record::RecordKind;

pub const TITLE: &str = "The day of the tasting";
pub const NEEDS_PLAN: &str = "Make or open a plan first: the record belongs to it.";
pub const INTRO: &str = "Note what happens when it happens. A reason that is older than the result is the only good reason to leave scores out later; it is offered there.";
pub const CAUTION: &str =
    "Note only what bears on the scores. Health is personal: “blocked nose” is enough, no diagnosis.";
pub const SESSION: &str = "Session";
pub const START: &str = "Session starts now";
pub const END: &str = "Session ends now";
pub const NOTE: &str = "Note, if any";
pub const CUP: &str = "Cup";
pub const WHICH_CUP: &str = "choose the cup";
pub const RECORD: &str = "The record so far";
pub const NOTHING: &str = "Nothing is noted yet.";
pub const STRIKE: &str = "Strike";
pub const NOT_STARTED: &str = "not started";
pub const NEEDS_CUP: &str = "Choose the cup first.";
pub const OTHER_NEEDS_NOTE: &str = "Write what happened into the note first.";
/// Heading in the record of a study.
pub const NOTED: &str = "Noted at the tasting";
pub const FROM_THE_RECORD: &str = "Noted at the tasting:";

/// What the button says that notes it.
pub fn button(kind: RecordKind) -> &'static str {
    match kind {
        RecordKind::SessionStarted => START,
        RecordKind::SessionEnded => END,
        RecordKind::Absent => "Absent",
        RecordKind::BlockedNose => "Blocked nose",
        RecordKind::SpiltSample => "Spilt",
        RecordKind::OrderDeviation => "Other order",
        RecordKind::Other => "Something else",
    }
}

/// A name for hooks of tests.
pub fn hook(kind: RecordKind) -> &'static str {
    match kind {
        RecordKind::SessionStarted => "start",
        RecordKind::SessionEnded => "end",
        RecordKind::Absent => "absent",
        RecordKind::BlockedNose => "blocked-nose",
        RecordKind::SpiltSample => "spilt",
        RecordKind::OrderDeviation => "order",
        RecordKind::Other => "other",
    }
}

pub fn session(number: u32) -> String {
    format!("Session {number}")
}

pub fn cup(position: u32, code: &str) -> String {
    format!("{code} (cup {position})")
}

pub fn started(when: &str) -> String {
    format!("started {when}")
}

pub fn ended(when: &str) -> String {
    format!("ended {when}")
}

pub fn log_noted(what: &str) -> String {
    format!("Noted: {what}.")
}

pub fn log_struck(what: &str) -> String {
    format!("Struck from the record: {what}.")
}

/// "sample spilt, 412: on the tray", as it stands in the row of an assessor.
pub fn in_row(what: &str, code: Option<&str>, note: &str) -> String {
    let code = code.map(|code| format!(", {code}")).unwrap_or_default();
    let note = if note.is_empty() { String::new() } else { format!(": {note}") };
    format!("{what}{code}{note}")
}
