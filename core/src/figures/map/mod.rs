//! The figure of the map.

pub(in crate::figures) mod sample_map;
