//! What the spider plot is asked to show. It knows nothing of how.

use crate::figures::scene::theme::ThemeKind;

/// What to draw and how.
#[derive(Clone, Debug, PartialEq)]
pub struct SpiderOptions {
    /// Width of the whole figure, in CSS pixels.
    pub width_px: f64,
    /// Colours for screen, dark screen or paper.
    pub theme: ThemeKind,
    /// Whether the title stands in the figure.
    pub heading: bool,
    /// Candidates to draw beside the target; `None` for all.
    pub candidates: Option<Vec<String>>,
    /// Whether the 95 % interval of each mean is drawn.
    pub intervals: bool,
    /// Whether the outer ring is the end of the scale, instead of the first round value above all that is drawn.
    pub whole_scale: bool,
    /// A sample that is pointed at elsewhere: the others step back.
    pub highlight_sample: Option<String>,
    /// An attribute that is pointed at elsewhere: its spoke is underlaid.
    pub highlight_attribute: Option<String>,
    /// Unit to print instead of the analysis' own.
    pub unit: Option<String>,
}

impl Default for SpiderOptions {
    fn default() -> Self {
        SpiderOptions {
            width_px: 720.0,
            theme: ThemeKind::Light,
            heading: true,
            candidates: None,
            intervals: true,
            whole_scale: false,
            highlight_sample: None,
            highlight_attribute: None,
            unit: None,
        }
    }
}
