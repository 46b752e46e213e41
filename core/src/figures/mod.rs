//! Figures: from results to a [`Scene`], and from a scene to any plotters backend.
//!
//! A figure is a value. What is drawn, what can be pointed at, what is read out and the numbers behind it all come
//! from the same result, so that screen, SVG and report cannot disagree. Nothing here computes a statistic, measures
//! text through a browser, or reads a clock.

mod difference_grid;
mod differences;
mod layout;
mod marks;
mod means;
mod numbers;
mod paint;
mod panel_grid;
mod parts;
mod regions;
mod sample_map;
mod scene;
mod spider;
mod svg;
mod text;
mod theme;
mod verdicts;

#[cfg(test)]
mod fixtures;
#[cfg(test)]
mod properties;
#[cfg(test)]
mod recorder;

pub use difference_grid::{DifferenceGridOptions, difference_grid};
pub use differences::{DifferenceOrder, DifferencesOptions, differences};
pub use marks::{MarksOptions, marks};
pub use means::{MeansOptions, MeansOrder, means};
pub use paint::{FONT_FAMILY, PaintSettings, paint};
pub use panel_grid::{PanelGridOptions, panel_grid};
pub use regions::{HitRegion, ReadingDirection, RegionShape};
pub use sample_map::{SampleMapOptions, sample_map};
pub use scene::{
    Align, Dash, FigureColumn, FigureTable, Label, Marker, Point, Primitive, Rectangle, Rotation, Scene, Stroke,
};
pub use spider::{SpiderOptions, spider};
pub use svg::{escape, to_svg};
pub use text::wrap;
pub use theme::{Color, SampleStyle, Theme, ThemeKind};
pub use verdicts::{VerdictStripOptions, verdict_strip};
