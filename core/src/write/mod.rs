//! Results as text: sentences, numbers, JSON, the report, the workbook. Sees results, never where they are shown.

pub mod brief;
pub mod file_name;
pub mod json;
pub mod people;
pub mod picture_words;
pub mod report_html;
pub mod report_text;
pub mod study_file;
pub mod study_words;
pub mod tidy;
pub mod workbook;
