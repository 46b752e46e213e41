//! The words of Scores: the table of scores, its filters, corrections, leaving out.

use super::{counted, grouped, number};
use likeness_core::study::{Edit, Scale};

pub const EVERY_SCORE: &str = "Every mark";
pub const GRID_LABEL: &str = "Every mark: a row a page of the score sheet, a column an attribute. Arrow keys move, Enter opens a mark or sorts by a column.";
pub const GRID_KEYS: &str = "Click a mark, or move with the arrow keys and press Enter, to see where it came from, to correct it or to leave it out. A click on a head sorts.";
pub const ALL: &str = "all";
pub const FILTERS: &str = "What is shown";
pub const CONDITIONS: &str = "Only pages with marks that are";
pub const ANY: &str = "any";
pub const SHOW_ALL: &str = "Show everything";
pub const NOTHING_FITS: &str = "No page fits what was chosen.";
pub const CORRECTED: &str = "Corrected";
pub const NOTHING_CORRECTED: &str = "No mark is corrected.";
pub const SEE_SCORE: &str = "See the mark";
pub const ON_READING: &str = "What was said on reading";
pub const DONE: &str = "What was done";
pub const NOTHING_DONE: &str = "Nothing yet.";
pub const LATEST_FIRST: &str = "The latest stands first; the whole record prints with the report.";

pub const NO_SCORE_CHOSEN: &str = "No mark is chosen yet.";
pub const SCORE: &str = "mark";
pub const NO_SCORE: &str = "no mark";
pub const AS_IT_CAME: &str = "as it came";
pub const CAME_FROM: &str = "came from";
pub const TYPED: &str = "typed into this page";
pub const WHOLE_PAGE: &str = "the whole page";
pub const IS_LEFT_OUT: &str = "left out";
pub const IS_TO_CHECK: &str = "to check";
pub const IS_CORRECTED: &str = "corrected";
pub const IS_MISSING: &str = "missing";
pub const REPLICATE_SHORT: &str = "rep.";
pub const POSITION_SHORT: &str = "pos.";
pub const LABEL: &str = "label";
pub const WAS_SAID: &str = "said on reading";
pub const REASON: &str = "Reason (needed)";
pub const REASON_PLACEHOLDER: &str = "sheet read again; blocked nose; spilt cup";
pub const NEW_SCORE: &str = "Correct it to";
pub const NEW_SCORE_HINT: &str = "empty: there is no mark";
pub const CORRECT: &str = "Correct";
pub const LEAVE_OUT: &str = "Leave out";
pub const LEAVE_OUT_WHAT: &str = "What to leave out";
pub const BACK_TO_TABLE: &str = "Back to the table";
pub const REFUSED_SAME_SCORE: &str = "That is the mark that stands there already.";

pub const THIS_SCORE: &str = "this mark";
pub const THIS_PAGE: &str = "the whole page";

/// Stands where there is no score.
pub const NONE: &str = "\u{2013}";
pub const SIGN_CORRECTED: &str = "\u{270e}";
pub const SIGN_LEFT_OUT: &str = "\u{2715}";
pub const SIGN_TO_CHECK: &str = "!";
pub const KEY_TO_SIGNS: [(&str, &str); 4] = [
    (SIGN_CORRECTED, "corrected by hand"),
    (SIGN_LEFT_OUT, "left out"),
    (SIGN_TO_CHECK, "to check, by a notice"),
    (NONE, "no mark"),
];

/// "24 of 120 pages, 360 marks".
pub fn pages_shown(shown: usize, all: usize) -> String {
    if shown == all {
        counted(all, "page", "pages")
    } else {
        format!("{} of {}", grouped(shown), counted(all, "page", "pages"))
    }
}

pub fn score_with_unit(score: Option<f64>, unit: &str) -> String {
    score.map_or_else(|| NO_SCORE.to_owned(), |score| format!("{} {unit}", number(score)))
}

pub fn change_in_words(edit: &Edit, unit: &str) -> String {
    format!("{} \u{2192} {}", score_with_unit(edit.before, unit), score_with_unit(edit.after, unit))
}

/// "Corrected the mark for green of Anna, A, replicate 1: 34 mm to 43 mm: sheet read again."
pub fn log_corrected(what: &str, edit: &Edit, unit: &str) -> String {
    format!(
        "Corrected {what} from {} to {}: {}.",
        score_with_unit(edit.before, unit),
        score_with_unit(edit.after, unit),
        edit.reason
    )
}

/// The same for the record, where the reason is set apart.
pub fn correction(what: &str, edit: &Edit, unit: &str) -> String {
    format!("{what}: {}: {}", change_in_words(edit, unit), edit.reason)
}

pub fn refused_off_scale(scale: &Scale) -> String {
    format!("A mark must lie on the line, from {} to {}.", number(scale.minimum), number(scale.maximum))
}
