//! The study file: one JSON document with the raw scores, settings, exclusions and log. `read::study_file` opens it.
//!
//! DEVELOPERS.md tells its form field by field. A change that older programs cannot read, or would lose on saving, raises
//! `STUDY_FILE_VERSION`.

use crate::study::{STUDY_FILE_FORMAT, STUDY_FILE_VERSION, STUDY_FILE_VERSION_WITHOUT_PICTURES, Study};
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
    let has_pictures = study.from_pictures.is_some();
    let version = if has_pictures { STUDY_FILE_VERSION } else { STUDY_FILE_VERSION_WITHOUT_PICTURES };
    let file = StudyFile { format: STUDY_FILE_FORMAT, version, program: env!("CARGO_PKG_VERSION"), study };
    // Strings, numbers and lists cannot fail to be written; an empty text would be refused on opening.
    serde_json::to_string(&file).unwrap_or_default()
}
