//! All text of the page in one place, ready for another language. Sentences about results are made in the engine.
//! Nothing here computes.

pub mod data_entry;
pub mod help;
pub mod learning;
pub mod licences;
pub mod matching;
pub mod numerals;
pub mod on_screen_ballot;
pub mod opening;
pub mod panel;
pub mod plan;
pub mod profile;
pub mod reading;
pub mod report;
pub mod saved_studies;
pub mod scan_pages;
pub mod scores;
pub mod session_record;
pub mod start;
pub mod tabs;
pub mod views;

use likeness_core::notice::Severity;
use likeness_core::stats::Verdict;
use likeness_core::study::{AttributeKind, MarginOrigin, Study};
use likeness_core::text::lists::plural;

pub use likeness_core::text::lists::listed;
pub use likeness_core::text::numbers::{grouped, typed as number};

// The page as a whole.
pub const NAME: &str = "Likeness";
pub const JOB: &str = "Does the candidate match its target, and which characters are off?";
pub const SKIP: &str = "Skip to the study";
pub const UNDO: &str = "Undo";
pub const REDO: &str = "Redo";
pub const UNDO_KEY: &str = "Ctrl+Z";
pub const REDO_KEY: &str = "Ctrl+Shift+Z";
// What stands on a wide screen, and on a phone.
pub const OPEN_ANOTHER: [&str; 2] = ["Open another file", "Open"];
pub const VIEWS: &str = "Views of the study";
pub const STATE_OF_STUDY: &str = "State of the study";
pub const PUT_AWAY: &str = "Close this message";
pub const NOTHING_LEAVES: &str = "Everything is computed on this machine. Nothing you open leaves the page.";
pub const DROP_HERE: &str = "Drop the score file here";
pub const NOT_SAVED: &str = "not kept by this browser: export the study file";

// Settings.
pub const SETTINGS: &str = "What is judged";
pub const TARGET: &str = "Target";
pub const NO_TARGET: &str = "choose the target";
pub const MARGIN: &str = "Margin";
pub const PLUS_MINUS: &str = "\u{b1}";
pub const ORIGIN: &str = "The margin comes from";
pub const ORIGIN_OTHER_LABEL: &str = "In your words";
pub const ALPHA: &str = "Chance of a wrong claim";
pub const DECIDING: &str = "Deciding attributes";
pub const DECIDING_INTRO: &str = "The verdict on a whole sample comes from these: off if any of them is off; a match if each lies inside its margin, or all of them together as a whole. A margin of its own may be given to any attribute.";
pub const OWN_MARGIN: &str = "own \u{b1}";
pub const KIND_ANALYTIC: &str = "one character";
pub const KIND_INTEGRATED: &str = "sums up several";
pub const REFUSED_NO_DECIDING: &str = "At least one attribute must decide.";
pub const REFUSED_NO_REASON: &str = "A reason is needed: it stands in the record.";

// Views.
pub const VERDICT: &str = "Verdict";
pub const TO_VERDICT: &str = "Read the verdict";
pub const NAME_THE_TARGET: &str = "Name the target and the verdict appears here.";
pub const DISTANCE_HEADING: &str = "distance";
pub const PANEL: &str = "Panel";
pub const PROFILE: &str = "Profile";
pub const SAMPLES_SHOWN: &str = "Samples shown";
pub const NOTICES: &str = "Notices";
pub const NO_NOTICES: &str = "Nothing to report.";
pub const ALL_NOTICES: &str = "all";
pub const SCORES: &str = "Scores";
pub const LEFT_OUT: &str = "Left out";
pub const NOTHING_LEFT_OUT: &str = "Nothing is left out.";
pub const LEAVE_OUT: &str = "Leave out";
pub const TAKE_BACK: &str = "Take back in";
pub const REASON: &str = "Reason";
pub const REASON_PLACEHOLDER: &str = "blocked nose, spilt cup, page slipped by a line";
pub const RECORD: &str = "Record";
pub const LOG: &str = "What was done";
pub const REPAIRS: &str = "What was repaired or flagged on reading";
pub const SOURCES: &str = "Files";
pub const PRINT: &str = "Print";
pub const SAVE_STUDY: &str = "Save the study file";
pub const SAVE_JSON: &str = "Results as JSON";
pub const COPY_TABLE: &str = "Copy";
pub const SAVE_CSV: &str = "CSV";
pub const SAVE_SVG: &str = "SVG";
pub const SAVE_PNG: &str = "PNG";
pub const COPIED: &str = "Copied.";
pub const COPY_REFUSED: &str = "The browser refused the clipboard: the table was saved as a file instead.";
pub const NUMBERS: &str = "The numbers of this figure";
pub const FIGURE_KEYS: &str = "Arrow keys read the values one by one; Escape stops.";
pub const NOT_DEFINED: &str = "not defined";

// When something breaks.
pub const PANIC_TITLE: &str = "Something went wrong in this page.";
pub const PANIC_TEXT: &str = "Your study is as the browser last kept it. Load the page again to go on. If it happens again, this line tells the makers where:";
pub const LOG_RESTORED: &str = "Restored what this browser had kept.";
pub const STEP_CLOSED: &str = "closing the study";
pub const RESTORED_TITLE: &str = "This is the study you had open last time.";
pub const RESTORED_HINT: &str = "This browser kept it. Close the study to see all that is kept, or to start anew.";
pub const CLOSE_STUDY: [&str; 2] = ["Close the study", "Close"];

pub fn verdict_mark(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Match => "match",
        Verdict::Off => "off",
        Verdict::NotShown => "not shown",
    }
}

pub const STILL_NEEDED: &str = "still needed";

pub fn severity(severity: Severity) -> &'static str {
    match severity {
        Severity::Understood => "understood",
        Severity::Repaired => "repaired",
        Severity::Check => "to check",
        Severity::Refused => "refused",
    }
}

pub fn kind(kind: AttributeKind) -> &'static str {
    match kind {
        AttributeKind::Analytic => KIND_ANALYTIC,
        AttributeKind::Integrated => KIND_INTEGRATED,
    }
}

pub fn origin(origin: &MarginOrigin) -> String {
    likeness_core::write::study_words::margin_origin(origin)
}

/// "12 assessors": a count with its word, long counts with their digits in groups.
pub fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{} {}", grouped(count), plural(count, one, many))
}

pub fn undo_what(what: &str) -> String {
    format!("Undo: {what}")
}

pub fn redo_what(what: &str) -> String {
    format!("Redo: {what}")
}

/// A step with the key that does it: "Undo: margin from 10 to 8 mm (Ctrl+Z)".
pub fn with_key(what: &str, key: &str) -> String {
    format!("{what} ({key})")
}

pub fn log_undone(what: &str) -> String {
    format!("Undone: {what}")
}

pub fn log_redone(what: &str) -> String {
    format!("Done again: {what}")
}

pub fn log_loaded(file: &str, scores: usize) -> String {
    format!("Loaded {} from {file}.", counted(scores, "score", "scores"))
}

pub fn log_excluded(what: &str, reason: &str) -> String {
    format!("Left out {what}: {reason}.")
}

pub fn log_included(what: &str) -> String {
    format!("Taken back in: {what}.")
}

pub fn assessor_named(name: &str) -> String {
    format!("assessor {name}")
}

pub fn sample_named(name: &str) -> String {
    format!("sample {name}")
}

pub fn attribute_named(name: &str) -> String {
    format!("attribute {name}")
}

pub fn serving_named(serving: &str) -> String {
    format!("the page of {serving}")
}

pub fn score_named(attribute: &str, serving: &str) -> String {
    format!("the mark for {attribute} of {serving}")
}

pub fn serving_in_words(assessor: &str, sample: &str, replicate: u32) -> String {
    format!("{assessor}, {sample}, replicate {replicate}")
}

pub fn refused_margin_range(scale_maximum: f64) -> String {
    format!("The margin must lie above 0 and below {}.", number(scale_maximum))
}

pub fn refused_margin_no_number(typed: &str) -> String {
    format!("\u{201c}{}\u{201d} is not a number.", typed.trim())
}

pub fn refused_scale(typed: &str) -> String {
    format!("\u{201c}{}\u{201d} can't be the end of a scale: a number above 0 is needed.", typed.trim())
}

pub fn and_more(count: usize) -> String {
    format!("and {} more", grouped(count))
}

pub fn figure_label(title: &str, summary: &str) -> String {
    format!("{title}. {summary} {FIGURE_KEYS}")
}

pub const JOB_MORE: &str = "Open the scores of a tasting panel, name the target, state how far off is still alike, and read which candidates match.";
pub const FILE_KINDS: &str =
    ".csv,.tsv,.txt,.tab,.dat,.xlsx,.xlsm,.ods,.xls,.json,text/csv,text/plain,text/tab-separated-values";

pub fn study_counts(assessors: usize, samples: usize, attributes: usize, replicates: usize) -> String {
    [
        counted(assessors, "assessor", "assessors"),
        counted(samples, "sample", "samples"),
        counted(attributes, "attribute", "attributes"),
        counted(replicates, "replicate", "replicates"),
    ]
    .join(" \u{b7} ")
}

pub fn left_out(count: usize) -> String {
    match count {
        0 => "nothing left out".to_owned(),
        count => format!("{} left out", grouped(count)),
    }
}

pub fn flagged(count: usize) -> String {
    match count {
        0 => "nothing to check".to_owned(),
        count => format!("{} to check", grouped(count)),
    }
}

pub const ORIGIN_OTHER: &str = "something else, in your words";

pub fn some_of(some: usize, all: usize) -> String {
    if some == all { format!("all {all}") } else { format!("{some} of {all}") }
}

pub fn own_margin_for(attribute: &str) -> String {
    format!("Margin of its own for {attribute}")
}

pub const ASSESSOR: &str = "assessor";
pub const SAMPLE: &str = "sample";
pub const REPLICATE: &str = "replicate";
pub const SESSION: &str = "session";
pub const CHOOSE: &str = "choose";
pub const REFUSED_NOTHING_CHOSEN: &str = "Choose what to leave out.";
pub const DECISIONS: &str = "What was decided";
pub const STUDY_FILE_NAME: &str = "study.likeness.json";
pub const JSON_FILE_NAME: &str = "results.json";

pub fn file_in_words(length_bytes: u64, fingerprint: &str) -> String {
    format!("({} bytes, fingerprint {fingerprint})", grouped(length_bytes as usize))
}

/// The decisions that stand, one a line.
pub fn decisions(study: &Study) -> Vec<String> {
    let settings = &study.settings;
    let unit = &study.scale.unit;
    let mut lines = vec![
        format!("Target: {}.", settings.target.as_deref().unwrap_or("none named")),
        format!("Margin: {} {unit}, from {}.", number(settings.margin.width_mm), origin(&settings.margin.origin)),
    ];
    let own: Vec<String> =
        settings.margin.by_attribute.iter().map(|(name, width)| format!("{name} {} {unit}", number(*width))).collect();
    if !own.is_empty() {
        lines.push(format!("Margins of their own: {}.", listed(&own)));
    }
    lines.push(match settings.deciding.as_slice() {
        [] => "Deciding attributes: all.".to_owned(),
        names => format!("Deciding attributes: {}.", listed(names)),
    });
    lines.push(format!("Chance of a wrong claim: {}.", number(settings.alpha)));
    lines.push(format!("Scale: {} to {} {unit}.", number(study.scale.minimum), number(study.scale.maximum)));
    lines
}

/// How far a candidate is from the target, in one line.
pub fn distance(adjusted: &str, distance: &str, unit: &str) -> String {
    format!("distance {distance}\u{a0}{unit}, {adjusted} with the scatter taken off")
}

pub fn distance_not_defined(because: &str) -> String {
    format!("{DISTANCE_HEADING} {NOT_DEFINED}: {because}")
}

pub fn resampling(done: usize, wanted: usize) -> String {
    format!("Drawing panels again: {} of {}.", grouped(done), grouped(wanted))
}

pub fn closeness_not_defined(because: &str) -> String {
    format!("Which candidate is closest is {NOT_DEFINED}, because {because}.")
}

pub const STUDY_FILE_HINT: &str = "Open the score file, or an undamaged copy of the study file.";
pub const SAVED_HERE: &str = "The open study is kept in this browser until you delete it.";

pub fn log_opened_study(file: &str) -> String {
    format!("Opened the saved study {file}.")
}

pub const MAP: &str = "Map";
pub const MAP_ATTRIBUTES: &str = "Which attributes does this map show, and which badly?";
pub const AXIS_ACROSS: &str = "Axis across";
pub const AXIS_UP: &str = "Axis up";
pub const BY_CORRELATION: &str = "all attributes count alike";
pub const WITH_ASSESSORS: &str = "show each assessor";

pub fn map_not_defined(because: &str) -> String {
    format!("A map is {NOT_DEFINED}, because {because}.")
}
