//! The day of the tasting and the scores that come back: data entry, on-screen ballots, the session record.

pub mod data_entry;
pub mod data_entry_state;
#[cfg(test)]
pub mod data_entry_tests;
pub mod demo_plan;
pub mod joining;
pub mod on_screen_ballot;
#[cfg(test)]
pub mod on_screen_ballot_tests;
pub mod on_screen_state;
pub mod picture_reader;
pub mod scan_desk;
#[cfg(test)]
pub mod scan_desk_tests;
pub mod scan_state;
pub mod session_record;
pub mod tasting_files;
