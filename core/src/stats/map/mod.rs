//! The map of samples and attributes, and how firmly samples lie on it.

pub mod apart;
mod drawn_axes;
pub mod ellipses;
pub mod product_map;
