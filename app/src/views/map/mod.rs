//! The map of samples and attributes.

pub mod map_view;
