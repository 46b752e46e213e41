//! The map of samples and attributes, and how firmly samples lie on it.

pub mod ellipses;
pub mod product_map;
