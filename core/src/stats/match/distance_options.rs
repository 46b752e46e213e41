//! What the drawing of panels for distances is told: how often, at which level, from which seed.

use crate::study::Study;

/// What to draw, and how often.
#[derive(Clone, Debug, PartialEq)]
pub struct ResamplingOptions {
    /// Draws; 2000 or more for an interval at 95 %.
    pub draws: usize,
    pub seed: u64,
    /// Level of the intervals, such as 0.95.
    pub level: f64,
    /// Name of a sample that is the target again under another code, where the study has one.
    pub blind_duplicate: Option<String>,
}

impl Default for ResamplingOptions {
    fn default() -> Self {
        ResamplingOptions { draws: 2000, seed: 20_260_101, level: 0.95, blind_duplicate: None }
    }
}

impl ResamplingOptions {
    /// By the settings of a study; the level goes with its alpha.
    pub fn of(study: &Study) -> Self {
        let settings = &study.settings;
        ResamplingOptions {
            seed: settings.seed,
            level: 1.0 - settings.alpha,
            blind_duplicate: settings.blind_duplicate.clone(),
            ..ResamplingOptions::default()
        }
    }
}
