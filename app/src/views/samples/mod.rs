//! What each sample is like, and which differ.

pub mod comparisons;
pub mod samples_view;
