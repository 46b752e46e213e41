//! Results as tables, one function a table: page, report, workbook and text show the same one. It knows results and
//! words, no format of files (`export` writes a table as text for other programs) and no page.

pub mod export;
pub mod map;
pub mod r#match;
pub mod panel;
pub mod samples;
pub mod scores;
pub mod words;

/// Stands for the scale in tables that hold nothing in its unit.
const ANY_SCALE: f64 = 100.0;
