//! How every task of the shell program shows quantities and reasons.

use super::Outcome;
use likeness_core::stats::{Defined, NotDefined};
use serde_json::Value;

/// A reason as a message of its own.
pub fn because(reason: &NotDefined) -> String {
    format!("There is no result, because {}.", reason.because)
}

/// "Name: value", or why there is none.
pub fn defined_line<T>(name: &str, quantity: &Defined<T>, show: impl Fn(&T) -> String) -> String {
    match quantity {
        Ok(value) => format!("{name}: {}", show(value)),
        Err(reason) => format!("{name}: {reason}"),
    }
}

pub fn json_text(value: &Value) -> Outcome {
    serde_json::to_string_pretty(value).map_err(|error| error.to_string())
}
