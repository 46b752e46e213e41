//! The state of the page: what the user gave (`ground`), what follows from it (`derived`), and the only functions that
//! change it (`actions`). Nothing here touches the browser: it runs natively, and is tested there.

pub mod actions;
pub mod booth;
pub mod decisions;
pub mod demos;
pub mod derived;
pub mod edits;
pub mod exclusions;
pub mod ground;
pub mod history;
pub mod keeping;
pub mod learning;
pub mod marks;
pub mod match_work;
pub mod opening;
pub mod plan_actions;
pub mod plan_history;
pub mod plan_late;
pub mod plan_list;
pub mod plan_numbers;
pub mod plan_power;
pub mod plan_short;
pub mod record;
pub mod report_details;
pub mod steps;
pub mod study_file;
pub mod tasting_files;
pub mod typing;
pub mod work;

#[cfg(test)]
mod booth_tests;
#[cfg(test)]
mod plan_tests;
#[cfg(test)]
mod tests;
#[cfg(test)]
mod tests_marks;
#[cfg(test)]
mod tests_match;
#[cfg(test)]
mod typing_tests;

pub use derived::{Derived, Shared};
pub use ground::{Ground, Message, PlanPart, View};
