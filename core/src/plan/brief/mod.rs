//! What is asked: the brief of a study, its attributes, the draft that is still being written.

pub mod assumed_scatter;
pub(in crate::plan) mod attribute_checks;
pub mod attributes;
pub mod draft;
pub(in crate::plan) mod example_attributes;
pub mod pasted_words;
pub mod study_brief;
