//! The words about saved studies.

use super::{counted, grouped};

pub const SAVED: &str = "Kept studies";
pub const SAVED_INTRO: &str = "Kept in this browser, on this machine only. Whoever uses this browser can open them: they may hold names of people. Save a file of what must not be lost.";
pub const OPEN: &str = "Open";
pub const IS_OPEN: &str = "open now";
pub const RENAME: &str = "Rename";
pub const RENAME_DONE: &str = "Keep the name";
pub const SAVE_FILE: &str = "Save as file";
pub const DELETE: &str = "Delete";
pub const UNDO_DELETE: &str = "Undo";
pub const NEW_NAME: &str = "New name";
pub const FULL: &str = "This browser has no room left to keep the study.";
pub const FULL_HINT: &str = "Nothing is lost while this page stays open. Save the study as a file now (Report), or delete kept studies that you have as files.";
pub const REFUSED: &str = "This browser doesn't keep studies for this page.";
pub const REFUSED_HINT: &str =
    "Nothing is lost while this page stays open. Save the study as a file before you close it (Report).";
pub const GONE: &str = "The kept study is no longer there.";
pub const GONE_HINT: &str = "Another window may have deleted it. Open its file instead.";
pub const CANNOT_OPEN_HINT: &str =
    "It stays kept as it is: save it as a file, and open it with the version of Likeness that made it.";
pub const NO_TARGET: &str = "no target";

/// "Fresh mango · 12 assessors · 5 samples · 15 attributes · 1800 scores".
pub fn about(target: Option<&str>, assessors: usize, samples: usize, attributes: usize, scores: usize) -> String {
    [
        target.unwrap_or(NO_TARGET).to_owned(),
        counted(assessors, "assessor", "assessors"),
        counted(samples, "sample", "samples"),
        counted(attributes, "attribute", "attributes"),
        counted(scores, "score", "scores"),
    ]
    .join(" \u{b7} ")
}

/// "2026-03-14 09:26, 39 kB".
pub fn when_and_size(when: &str, bytes: usize) -> String {
    format!("{when}, {}\u{a0}kB", grouped(bytes.div_ceil(1000)))
}

/// On a wide screen, and on a phone.
pub fn saved_count(count: usize) -> [String; 2] {
    [format!("{SAVED} ({count})"), format!("Kept ({count})")]
}

pub fn deleted(title: &str) -> String {
    format!("Deleted: {title}.")
}

pub fn log_opened(title: &str) -> String {
    format!("Opened the kept study {title}.")
}

pub fn cannot_open(title: &str, why: &str) -> String {
    format!("The kept study {title} was not opened. {why}")
}

/// "Open Nectar round 2": what a button does, for those who hear it alone.
pub fn button_label(what: &str, title: &str) -> String {
    format!("{what}: {title}")
}

/// A name for the file of a study: letters, digits and hyphens of its title.
pub fn file_name(title: &str) -> String {
    let kept: String = title.chars().map(|letter| if letter.is_alphanumeric() { letter } else { '-' }).collect();
    let parts: Vec<&str> = kept.split('-').filter(|part| !part.is_empty()).collect();
    let stem: String = parts.join("-").chars().take(60).collect();
    format!("{}.likeness.json", if stem.is_empty() { "study" } else { &stem })
}
