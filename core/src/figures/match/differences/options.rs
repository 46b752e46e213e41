//! What the figure of differences is asked to show. It knows nothing of how.

use crate::figures::scene::theme::ThemeKind;

/// Order of the rows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum DifferenceOrder {
    /// From the largest excess over the target down to the largest lack.
    #[default]
    ExcessFirst,
    /// From the largest difference in either direction down to the smallest.
    LargestFirst,
    /// As on the ballot.
    Ballot,
}

/// What to draw and how.
#[derive(Clone, Debug, PartialEq)]
pub struct DifferencesOptions {
    /// Width of the whole figure, in CSS pixels.
    pub width_px: f64,
    /// Colours for screen, dark screen or paper.
    pub theme: ThemeKind,
    /// Whether the title stands in the figure.
    pub heading: bool,
    /// Candidates to draw, side by side where there is room; `None` for all.
    pub candidates: Option<Vec<String>>,
    /// Order of the rows.
    pub order: DifferenceOrder,
    /// The candidate whose differences order the rows; the first drawn one if `None`.
    pub order_by: Option<String>,
    /// Whether intervals are drawn.
    pub intervals: bool,
    /// A candidate that is pointed at elsewhere.
    pub highlight_sample: Option<String>,
    /// An attribute that is pointed at elsewhere: its row is underlaid.
    pub highlight_attribute: Option<String>,
    /// Unit to print instead of the analysis' own.
    pub unit: Option<String>,
}

impl Default for DifferencesOptions {
    fn default() -> Self {
        DifferencesOptions {
            width_px: 760.0,
            theme: ThemeKind::Light,
            heading: true,
            candidates: None,
            order: DifferenceOrder::ExcessFirst,
            order_by: None,
            intervals: true,
            highlight_sample: None,
            highlight_attribute: None,
            unit: None,
        }
    }
}
