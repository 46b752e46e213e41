//! Words that tables of several topics share, and small phrases made of numbers. It knows no result.

use crate::text::numbers::statistic;

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

/// "95 %".
pub fn percent(share: f64) -> String {
    format!("{} %", statistic(100.0 * share, 1))
}

/// "9.0 to 19.0".
pub fn span(lower: &str, upper: &str) -> String {
    format!("{lower} to {upper}")
}

/// "3 of 8".
pub fn count_of(count: usize, all: usize) -> String {
    format!("{count} of {all}")
}

/// 12 000 with a thin space, as ISO 80000-1 groups digits.
pub fn grouped(count: usize) -> String {
    let digits = count.to_string();
    let mut out = String::new();
    for (index, digit) in digits.chars().enumerate() {
        if index > 0 && (digits.len() - index).is_multiple_of(3) && digits.len() > 4 {
            out.push('\u{202f}');
        }
        out.push(digit);
    }
    out
}

/// "A, B and C".
pub fn listed(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [only] => only.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// All names where they are few, else the first two and how many more.
pub fn first_of(names: &[String]) -> String {
    match names {
        [first, second, _, _, ..] => format!("{first}, {second} and {} more", grouped(names.len() - 2)),
        few => listed(few),
    }
}
