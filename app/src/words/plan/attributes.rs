//! Words of the attribute list: what it says about itself, its columns, its offers.

use crate::words::counted;
use likeness_core::study::AttributeKind;

pub const HEADING: &str = "The words the panel uses";
pub const INTRO: &str = "One line of the ballot an attribute. Definitions and references are what makes two assessors mean the same by a word.";
pub const KEYS: &str = "Enter goes to the next line (and adds one at the end); Alt with arrow up or down moves a line.";
pub const LIST_NAME: &str = "Name of the list";
pub const LIST_NAME_HINT: &str = "Nectars, panel B";
pub const EMPTY: &str = "No words yet.";
pub const EMPTY_MORE: &str = "Add them one by one, bring a CSV file, or start from an invented example and change it.";
pub const ADD: &str = "Add a word";
pub const USE_EXAMPLE: &str = "Start from the invented mango nectar list";
pub const IMPORT: &str = "Bring a list from CSV";
pub const EXPORT: &str = "Save the list as CSV";
pub const CSV_NAME: &str = "attributes.csv";
pub const CSV_KINDS: &str = ".csv,.tsv,.txt,text/csv,text/plain";
pub const ATTRIBUTE: &str = "attribute";
pub const DEFINITION: &str = "definition";
pub const LOW_END: &str = "left end";
pub const HIGH_END: &str = "right end";
pub const REFERENCE: &str = "reference, as a recipe";
pub const ORDER: &str = "perceived";
pub const ORDER_MORE: &str = "order of perception: 1 first; equal numbers are perceived together";
pub const KIND: &str = "kind";
pub const REMOVE: &str = "Take out";
pub const UP: &str = "up";
pub const DOWN: &str = "down";
pub const TO_ORDERS: &str = "Next: orders and codes";
pub const CAUTION: &str = "References are tasted or smelled: only food-grade material at permitted doses is tasted; what is to be smelled only says so in its recipe, and neat chemicals are diluted under a hood. Local rules and the responsible professional decide.";
pub const READ_NOTICES: &str = "What was understood of the file";
pub const STEP_EXAMPLE: &str = "the invented list";
pub const STEP_IMPORT: &str = "a list from a file";
pub const STEP_MOVED: &str = "moving a word";

pub const PASTE: &str = "Paste a list";
pub const PASTE_FIELD: &str =
    "One word a line; behind it, parted by tabs or semicolons, its definition, left end, right end and reference";
pub const PASTE_TAKE: &str = "Take these words";
pub const STEP_PASTED: &str = "pasting words";

/// What came of pasting.
pub fn pasted(new: usize, known: &[String]) -> String {
    let added = match new {
        0 => "No word was added.".to_owned(),
        count => format!("{} added.", counted(count, "word", "words")),
    };
    match known {
        [] => added,
        known => format!("{added} In the list already: {}.", known.join(", ")),
    }
}

pub fn version(version: u32, count: usize) -> String {
    format!("Version {version}, {}.", counted(count, "word", "words"))
}

pub fn step_removed(name: &str) -> String {
    format!("taking out {}", if name.trim().is_empty() { "a word" } else { name })
}

pub fn kind(kind: AttributeKind) -> &'static str {
    crate::words::kind(kind)
}

pub fn cell_of(column: &str, row: usize) -> String {
    format!("{column}, line {}", row + 1)
}

pub fn move_line(row: usize, way: &str) -> String {
    format!("Move line {} {way}", row + 1)
}

pub fn remove_line(row: usize) -> String {
    format!("Take out line {}", row + 1)
}

pub const NO_TEXT: &str = "The file holds no text.";
pub const NO_TEXT_HINT: &str = "Save the list as CSV and bring that.";
