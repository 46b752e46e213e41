//! The study file: one JSON document with the raw scores, settings, exclusions and log. `read::study_file` opens it.
//!
//! Form, version 1: `{"format": "likeness-study", "version": 1, "program": "0.1.0", "study": {...}}`, where `study` is
//! the `Study` type as serde writes it. A change that older programs cannot read raises `STUDY_FILE_VERSION`.

use crate::study::{STUDY_FILE_FORMAT, STUDY_FILE_VERSION, Study};
use serde::Serialize;

#[derive(Serialize)]
struct StudyFile<'a> {
    format: &'static str,
    version: u32,
    program: &'static str,
    study: &'a Study,
}

/// The study as the bytes of a study file, UTF-8, the same for the same study.
pub fn study_file_text(study: &Study) -> String {
    let file =
        StudyFile { format: STUDY_FILE_FORMAT, version: STUDY_FILE_VERSION, program: env!("CARGO_PKG_VERSION"), study };
    // Strings, numbers and lists cannot fail to be written; an empty text would be refused on opening.
    serde_json::to_string(&file).unwrap_or_default()
}
