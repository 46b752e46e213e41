//! The state of the page: what the user gave (`app_state`), what follows from it (`derived`), and the only functions that
//! change it (`actions`). Nothing here touches the browser: it runs natively, and is tested there.

pub mod actions;
pub mod app_state;
pub mod context;
pub mod derived;
pub mod learning;
pub mod long_run;
pub mod page;
pub mod plan;
pub mod session;
pub mod steps;
pub mod study;
pub mod tab_state;
pub mod tabs;
#[cfg(test)]
mod tests_scores;
pub mod undo;

#[cfg(test)]
mod tests;
#[cfg(test)]
mod tests_match;

pub use crate::shared::Shared;
pub use app_state::AppState;
pub use context::AppContext;
pub use derived::Derived;
pub use page::{Message, PlanPart, View};
