//! Whether a candidate matches its target: differences, verdict, distance, what hangs on whom, what a panel can show.

pub mod calibrated;
pub mod differences;
pub mod distance;
pub mod distance_bootstrap;
pub mod distance_found;
pub mod distance_options;
mod drawn_distance;
pub mod integrated_attributes;
pub mod judged;
pub mod leave_one_out;
pub mod margins_to_come;
pub mod paired;
pub mod panel_chances;
pub mod panel_power;
pub mod power;
pub mod second_opinion;
pub mod sign_flip;
pub mod target_against_itself;
pub mod target_cups;
pub mod verdict_chances;
