//! The words of the Map view.

use likeness_core::text::numbers::percent_fixed;

pub const AXES: &str = "How much does each axis show?";
pub const AXIS: &str = "axis";
pub const SHARE: &str = "share of all differences";
pub const CUMULATIVE: &str = "with the axes before it";
pub const VARIANCE: &str = "variance";
pub const ATTRIBUTES_SHOWN: &str = "Which attributes does this map show, and which badly? Worst first";
pub const SHARE_SHOWN: &str = "shown on these axes";

pub fn axis(number: usize) -> String {
    format!("axis {number}")
}

pub fn percent(share: f64) -> String {
    percent_fixed(share, 1)
}

pub fn correlation_with(axis: usize) -> String {
    format!("r with axis {axis}")
}

pub fn left_out(what: &str, because: &str) -> String {
    format!("{what} takes no part: {because}.")
}
