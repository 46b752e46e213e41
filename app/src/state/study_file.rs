//! A saved study, opened again: the file that the report view saves and that the browser keeps.

use crate::words;
use likeness_core::study::{STUDY_FILE_FORMAT, STUDY_FILE_VERSION, Study};
use serde_json::Value;

/// Whether bytes look like a saved study rather than a table.
pub fn looks_like_one(bytes: &[u8]) -> bool {
    let text = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    text.iter().find(|byte| !byte.is_ascii_whitespace()) == Some(&b'{')
}

/// The study in a file, or why there is none, as one sentence.
pub fn study_in(text: &str) -> Result<Study, String> {
    let text = text.trim_start_matches('\u{feff}');
    let mut file: Value =
        serde_json::from_str(text).map_err(|why| words::study_file_damaged(why.line(), why.column()))?;
    if file["format"] != STUDY_FILE_FORMAT {
        return Err(words::STUDY_FILE_OTHER.to_owned());
    }
    let version = file["version"].as_u64().unwrap_or(0);
    if version > u64::from(STUDY_FILE_VERSION) {
        return Err(words::study_file_newer(version, STUDY_FILE_VERSION));
    }
    let study: Study =
        serde_json::from_value(file["study"].take()).map_err(|why| words::study_file_incomplete(&why.to_string()))?;
    match study.faults().as_slice() {
        [] => Ok(study),
        [first, ..] => Err(words::study_file_incomplete(first)),
    }
}
