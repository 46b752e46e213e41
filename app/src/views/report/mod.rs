//! The report: what is stated, read, printed and saved.

pub mod details;
pub mod report_view;
