//! A saved study, opened again: the file that the report view saves and that the browser keeps.

use likeness_core::read::study_file;
use likeness_core::study::Study;

pub use likeness_core::read::study_file::looks_like_study_file as looks_like_one;

/// The study in a file, or why there is none, as one sentence.
pub fn study_in(text: &str) -> Result<Study, String> {
    study_file::study_in(text).map_err(|why| why.to_string())
}
