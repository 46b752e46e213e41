//! Words that tables of several topics share, and small phrases made of numbers. It knows no result.

pub use crate::text::lists::listed;
pub use crate::text::numbers::{grouped, percent};

pub const ATTRIBUTE: &str = "attribute";
pub const ASSESSOR: &str = "assessor";
pub const CANDIDATE: &str = "candidate";
pub const SAMPLE: &str = "sample";
pub const VERDICT: &str = "verdict";
pub const MARGIN: &str = "margin";
pub const DIFFERENCE: &str = "difference";
pub const FROM: &str = "from";
pub const TO: &str = "to";
pub const INTERVAL_95: &str = "95 % interval";
pub const INTERVAL_90: &str = "90 % interval";
pub const F: &str = "F";
pub const P: &str = "p";
pub const DF: &str = "df";
pub const NOT_DECIDING: &str = "does not decide";
pub const NO_SCORES: &str = "there are no scores";
/// What marks the target under another code.
pub const TARGET_AGAIN: &str = "the target again";

/// "9.0 to 19.0".
pub fn span(lower: &str, upper: &str) -> String {
    format!("{lower} to {upper}")
}

/// "3 of 8".
pub fn count_of(count: usize, all: usize) -> String {
    format!("{count} of {all}")
}

/// All names where they are few, else the first two and how many more.
pub fn first_of(names: &[String]) -> String {
    match names {
        [first, second, _, _, ..] => format!("{first}, {second} and {} more", grouped(names.len() - 2)),
        few => listed(few),
    }
}
