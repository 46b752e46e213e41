//! The study file, opened: one JSON document that holds a whole study. `write::study_file` makes it.
//!
//! A file of an older form opens; one of a newer form is refused, because what this program doesn't know would be lost
//! on saving; a damaged one says where.

use crate::notice::{Notice, Place, Severity};
use crate::study::{LogEntry, LogKind, STUDY_FILE_FORMAT, STUDY_FILE_VERSION, Study};
use serde::Deserialize;
use std::fmt;

/// Why a study file does not open.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum StudyFileError {
    /// No sound JSON, or a field that is not what it must be. Line and character from 1.
    Damaged { line: usize, column: usize, what: String },
    /// Sound JSON, but no study.
    SomethingElse,
    /// Written by a program that knows more.
    Newer { version: u64, known: u32 },
    /// The parts do not fit together.
    Incomplete { what: String },
}

/// The first fields of the file; the rest is left aside.
#[derive(Deserialize)]
struct Head {
    #[serde(default)]
    format: Option<String>,
    #[serde(default)]
    version: u64,
}

#[derive(Deserialize)]
struct Whole {
    study: Study,
}

/// What a JSON object begins with.
const OPENING_BRACE: u8 = 0x7b;

/// Whether bytes look like a saved study rather than a table.
pub fn looks_like_study_file(bytes: &[u8]) -> bool {
    let text = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    text.iter().find(|byte| !byte.is_ascii_whitespace()) == Some(&OPENING_BRACE)
}

/// The study in a file.
///
/// # Errors
/// Why there is none; the open study need not be touched.
pub fn study_in(text: &str) -> Result<Study, StudyFileError> {
    let text = text.trim_start_matches('\u{feff}');
    let head: Head = serde_json::from_str(text).map_err(|why| damaged(&why))?;
    if head.format.as_deref() != Some(STUDY_FILE_FORMAT) {
        return Err(StudyFileError::SomethingElse);
    }
    if head.version > u64::from(STUDY_FILE_VERSION) {
        return Err(StudyFileError::Newer { version: head.version, known: STUDY_FILE_VERSION });
    }
    let Whole { mut study } = serde_json::from_str(text).map_err(|why| damaged(&why))?;
    study.log.iter_mut().for_each(tell_late_by_words);
    if head.version < RULE_OF_TODAY_SINCE {
        tell_of_the_rule(&mut study);
        tell_late_by_time(&mut study);
    }
    match study.faults().as_slice() {
        [] => Ok(study),
        [first, ..] => Err(StudyFileError::Incomplete { what: first.clone() }),
    }
}

/// The form of the file since which verdicts are reached by the rule of today.
const RULE_OF_TODAY_SINCE: u64 = 3;

/// Says, on the page and in the record, that verdicts shown earlier were reached by another rule.
fn tell_of_the_rule(study: &mut Study) {
    let what = "This study was saved when each attribute was judged by itself; a sample that does not differ was then often \
                called off.";
    let hint = "Verdicts are now reached over all deciding attributes together, and may differ from those in earlier \
                reports. Whether a sample matches as a whole is judged by the usual profile margin, which was not settled \
                before that tasting.";
    study.log.push(LogEntry::new("", LogKind::Read, format!("{what} {hint}")));
    study.notices.push(Notice::new(Severity::Check, Place::default(), what, hint));
}

/// Exclusions and corrections of older files are late where they were made after the verdict was shown, by their times.
fn tell_late_by_time(study: &mut Study) {
    let Some(shown) = study.decided_at.clone().filter(|shown| !shown.is_empty()) else { return };
    study.exclusions.iter_mut().for_each(|exclusion| exclusion.late = exclusion.when > shown);
    study.edits.iter_mut().for_each(|edit| edit.late = edit.when > shown);
}

/// What lines about late decisions said, in English, in every program that kept no kinds of lines.
const LATE_IN_OLDER_FILES: [&str; 2] = ["after the scores were loaded", "after the verdict was seen"];

/// Gives a line of an older file the kind it would have today, so that its late decisions stay on record. This is the
/// only place that reads the words of a record, and only where no kind was kept.
fn tell_late_by_words(entry: &mut LogEntry) {
    let is_late = LATE_IN_OLDER_FILES.iter().any(|words| entry.what.contains(words));
    if entry.kind == LogKind::Unknown && is_late {
        let about_margin = entry.what.to_lowercase().contains("margin");
        entry.kind = if about_margin { LogKind::MarginDecided } else { LogKind::Decided };
        entry.late = true;
    }
}

fn damaged(why: &serde_json::Error) -> StudyFileError {
    let text = why.to_string();
    // The place is told in our own words.
    let what = text.split(" at line ").next().unwrap_or_default().to_owned();
    StudyFileError::Damaged { line: why.line(), column: why.column(), what }
}

impl fmt::Display for StudyFileError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            StudyFileError::Damaged { line, column, what } => {
                write!(out, "The study file is damaged at line {line}, character {column}: {what}.")
            }
            StudyFileError::SomethingElse => out.write_str("It holds something else than a study saved here."),
            StudyFileError::Newer { version, known } => write!(
                out,
                "It was saved by a newer version of Likeness (form {version}; this one knows up to {known})."
            ),
            StudyFileError::Incomplete { what } => write!(out, "The study in it doesn't hang together: {what}."),
        }
    }
}
