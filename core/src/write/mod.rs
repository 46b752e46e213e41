//! Results as text: sentences, numbers, JSON. Sees results, never how they were computed or where they are shown.

pub mod brief;
pub mod json;
pub mod numbers;
pub mod plain;
pub mod report_text;
pub mod sentences;
pub mod study_file;
