//! Figures: from results to a [`Scene`], and from a scene to any plotters backend.
//!
//! A figure is a value. What is drawn, what can be pointed at, what is read out and the numbers behind it all come
//! from the same result, so that screen, SVG and report cannot disagree. Nothing here computes a statistic, measures
//! text through a browser, or reads a clock.

mod differences;
mod layout;
mod numbers;
mod paint;
mod parts;
mod regions;
mod scene;
mod spider;
mod svg;
mod text;
mod theme;

#[cfg(test)]
mod fixtures;
#[cfg(test)]
mod properties;

pub use differences::{DifferenceOrder, DifferencesOptions, differences};
pub use paint::{FONT_FAMILY, PaintSettings, paint};
pub use regions::{HitRegion, ReadingDirection, RegionShape};
pub use scene::{
    Align, Dash, FigureColumn, FigureTable, Label, Marker, Point, Primitive, Rectangle, Rotation, Scene, Stroke,
};
pub use spider::{SpiderOptions, spider};
pub use svg::to_svg;
pub use theme::{Color, SampleStyle, Theme, ThemeKind};
