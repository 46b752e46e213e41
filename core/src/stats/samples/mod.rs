//! What samples are like and which of them differ: means, comparisons, letters, adjusted p-values. It knows no target's margin.

pub mod comparisons;
pub mod each_attribute;
pub(in crate::stats) mod letters;
pub mod means;
pub mod multiplicity;
pub mod profiles;
