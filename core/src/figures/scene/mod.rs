//! A figure as a value and what every figure is made of: primitives, themes, text widths, regions, painting.

pub(in crate::figures) mod layout;
pub(in crate::figures) mod paint;
pub(in crate::figures) mod primitives;
#[cfg(test)]
pub(in crate::figures) mod recorder;
pub(in crate::figures) mod regions;
pub(in crate::figures) mod svg;
pub(in crate::figures) mod text;
pub(in crate::figures) mod theme;
