//! The plan of a tasting as it is written, made and changed.

pub mod attribute_list;
pub mod chances;
pub mod late_changes;
pub mod missing;
pub mod part_states;
pub mod plan_history;
#[cfg(test)]
pub mod plan_tests;
pub mod planning;
pub mod short_tests;
pub mod typed_numbers;
