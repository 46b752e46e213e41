//! What the parts of the figure of differences share: what is drawn, for whom, and sizes that must agree.

use super::data::DifferencesData;
use super::options::DifferencesOptions;
use crate::figures::scene::theme::Theme;
use crate::stats::Analysis;

/// What every part of the figure is drawn from.
pub struct Drawing<'a> {
    /// Rows, range and words.
    pub data: &'a DifferencesData,
    /// What was asked for.
    pub options: &'a DifferencesOptions,
    /// Colours.
    pub theme: &'a Theme,
    /// Where styles and counts of verdicts come from.
    pub analysis: &'a Analysis,
}

/// Size of names and values.
pub const NAME_SIZE_PX: f64 = 12.5;
/// Size of the values of an axis and of heads over columns.
pub const AXIS_SIZE_PX: f64 = 11.0;
/// Room between candidates that stand side by side.
pub const PANEL_GAP_PX: f64 = 18.0;
