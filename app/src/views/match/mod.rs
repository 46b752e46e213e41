//! Match: the verdict on each candidate and what it stands on.

pub mod candidates;
mod chances;
mod choices;
pub mod closeness;
pub mod flavourist_brief;
pub mod integrated_attributes;
pub mod match_view;
pub mod power;
pub mod settings;
pub mod settle;
