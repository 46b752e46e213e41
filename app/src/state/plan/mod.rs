//! The plan of a tasting as it is written, made and changed.

pub mod attribute_list;
pub mod chances;
pub mod kept_keys;
pub mod kept_plans;
pub mod late_changes;
pub mod missing;
pub mod part_states;
pub mod part_steps;
pub mod plan_history;
#[cfg(test)]
pub mod plan_tests;
pub mod planning;
pub mod printed;
pub mod short_tests;
pub mod typed_numbers;
