//! Figures: from results to a [`Scene`], and from a scene to any plotters backend.
//!
//! A figure is a value. What is drawn, what can be pointed at, what is read out and the numbers behind it all come
//! from the same result, so that screen, SVG and report cannot disagree. Nothing here computes a statistic, measures
//! text through a browser, or reads a clock.

pub mod map;
pub mod r#match;
pub mod panel;
mod parts;
pub mod planning;
pub mod samples;
pub mod scene;

#[cfg(test)]
mod fixtures;
#[cfg(test)]
mod properties;

pub use map::sample_map::{SampleMapOptions, sample_map};
pub use r#match::differences::{DifferenceOrder, DifferencesOptions, differences};
pub use r#match::verdict_strip::{VerdictStripOptions, verdict_strip};
pub use panel::overview::{PanelGridOptions, panel_grid};
pub use panel::raw_scores::{RawScoresOptions, raw_score_plot};
pub use planning::verdict_chances::{VerdictChancesOptions, verdict_chances};
pub use samples::difference_grid::{DifferenceGridOptions, difference_grid};
pub use samples::means::{MeansOptions, MeansOrder, means};
pub use samples::spider::{SpiderOptions, spider};
pub use scene::paint::{FONT_FAMILY, PaintSettings, paint};
pub use scene::primitives::{
    Align, Dash, FigureColumn, FigureTable, Label, Marker, Point, Primitive, Rectangle, Rotation, Scene, Stroke,
};
pub use scene::regions::{HitRegion, ReadingDirection, RegionShape};
pub use scene::svg::{PX_PER_MM, to_svg, to_svg_at_true_size};
pub use scene::text::wrap;
pub use scene::theme::{Color, SampleStyle, Theme, ThemeKind};
