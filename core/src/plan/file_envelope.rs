//! The envelope of the plan's smaller files: which format, which version, and a check that tells a damaged copy. It
//! knows nothing of what is inside.
//!
//! Form: `{"format": NAME, "version": N, "program": "0.1.0", "check": "16 hexadecimal digits", PART: {...}}`. The check
//! is FNV-1a with 64 bits (RFC 9923) over the part as JSON without spaces and with its keys sorted, so that a file which
//! was only laid out anew still opens. It tells damage, and is no seal against forgery.

use super::PlanError;
use crate::numeric::hash::{fnv_1a, in_hexadecimal};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

/// What tells one kind of file from another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FileKind {
    /// Value of the field `format`.
    pub format: &'static str,
    /// Newest version that this program writes and opens.
    pub version: u32,
    /// Name of the field that holds the content.
    pub part: &'static str,
    /// What people call the file.
    pub called: &'static str,
}

impl FileKind {
    /// The text of a file, the same bytes for the same content.
    pub fn text_of<T: Serialize>(&self, content: &T) -> String {
        // Strings, numbers and lists can't fail to be written; an empty text would be refused on opening.
        let body = serde_json::to_string(content).unwrap_or_default();
        let check = serde_json::from_str::<Value>(&body).map(|value| check_of(&value)).unwrap_or_default();
        let FileKind { format, version, part, .. } = self;
        let program = env!("CARGO_PKG_VERSION");
        format!(
            "{{\"format\":\"{format}\",\"version\":{version},\"program\":\"{program}\",\"check\":\"{check}\",\"{part}\":{body}}}"
        )
    }

    /// The content of a file.
    ///
    /// # Errors
    /// Text that is something else, a file of a newer program, a damaged file.
    pub fn content_of<T: DeserializeOwned>(&self, text: &str) -> Result<T, PlanError> {
        let text = text.trim_start_matches('\u{feff}');
        let mut file: Value = serde_json::from_str(text).map_err(|error| self.broken(&error))?;
        if file["format"] != self.format {
            return Err(refused(format!("It is no {}.", self.called), "Open it where it belongs."));
        }
        let version = file["version"].as_u64().unwrap_or(0);
        if version > u64::from(self.version) {
            let what = format!("It was saved in version {version} and this program reads up to {}.", self.version);
            return Err(refused(what, "Open it with a newer program."));
        }
        let body = file[self.part].take();
        if file["check"] != check_of(&body) {
            let what = "Its check doesn't fit: it was damaged on its way or changed outside this program.".to_owned();
            return Err(refused(what, "Save it again where it was made, and open that copy."));
        }
        serde_json::from_value(body).map_err(|error| {
            refused(format!("A part of it is missing or wrong ({error})."), "Save it again where it was made.")
        })
    }

    fn broken(&self, error: &serde_json::Error) -> PlanError {
        let (line, column) = (error.line(), error.column());
        let what = format!("The {} is damaged at line {line}, column {column}: it may have been cut off.", self.called);
        refused(what, "Save it again where it was made, and open that copy.")
    }
}

/// Which of these kinds a file claims to be. It looks at the beginning only, so that a file that was cut off is known.
pub fn kind_of<'a>(bytes: &[u8], kinds: &'a [FileKind]) -> Option<&'a FileKind> {
    let start = String::from_utf8_lossy(&bytes[..bytes.len().min(200)]);
    let said: String = start.chars().filter(|letter| !letter.is_whitespace()).collect();
    kinds.iter().find(|kind| said.contains(&format!("\"format\":\"{}\"", kind.format)))
}

pub(in crate::plan) fn refused(what: String, hint: &str) -> PlanError {
    PlanError::Incomplete { what, hint: hint.to_owned() }
}

fn check_of(value: &Value) -> String {
    in_hexadecimal(fnv_1a(value.to_string().as_bytes()))
}

#[cfg(test)]
mod tests {
    use super::*;

    const KIND: FileKind = FileKind { format: "likeness-try", version: 2, part: "try", called: "trial file" };

    fn why(text: &str) -> String {
        KIND.content_of::<Vec<f64>>(text).expect_err("refused").to_string()
    }

    #[test]
    fn what_is_written_is_read_laid_out_anew_too() {
        let text = KIND.text_of(&vec![47.3, 0.1, 100.0]);
        assert_eq!(KIND.content_of(&text), Ok(vec![47.3, 0.1, 100.0]));
        let spaced = text.replace(',', ",\n  ");
        assert_eq!(KIND.content_of(&spaced), Ok(vec![47.3, 0.1, 100.0]));
        assert_eq!(kind_of(spaced.as_bytes(), &[KIND]), Some(&KIND));
        assert_eq!(kind_of(b"sample,score", &[KIND]), None);
    }

    #[test]
    fn every_kind_of_damage_is_said() {
        let text = KIND.text_of(&vec![47.3, 12.0]);
        assert!(why(&text.replace("47.3", "47.8")).starts_with("Its check doesn't fit"));
        assert!(why(&text[..text.len() - 4]).starts_with("The trial file is damaged at line 1"));
        assert!(why(&text.replace("\"version\":2", "\"version\":3")).contains("version 3"));
        assert!(why(&text.replace("likeness-try", "likeness-other")).contains("no trial file"));
        assert!(why("[]").contains("no trial file"));
        assert!(why(&KIND.text_of(&"words")).starts_with("A part of it is missing or wrong"));
    }
}
