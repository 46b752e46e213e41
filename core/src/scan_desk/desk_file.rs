//! The desk as text for a store, and back. It knows nothing of where it is stored.
//!
//! Form, version 2 (in 1 no picture says that it is a test page): the envelope of `file_envelope` with format
//! `likeness-reading` and part `reading`, which is `ScanDesk` as serde writes it. Strips stand apart (`KeptStrips`): they are large and change less often.

use super::desk::{Decision, PictureSays, ScanDesk};
use crate::plan::PlanError;
use crate::plan::file_envelope::FileKind;
use serde::{Deserialize, Serialize};

/// The kind of this text.
pub const READING_FILE: FileKind =
    FileKind { format: "likeness-reading", version: 2, part: "reading", called: "reading file" };

#[derive(Serialize, Deserialize)]
struct DeskFile {
    reading: ScanDesk,
}

impl ScanDesk {
    /// The same text for the same desk.
    pub fn to_text(&self) -> String {
        READING_FILE.text_of(&DeskFile { reading: self.clone() })
    }

    /// Opens the text of a desk.
    ///
    /// # Errors
    /// Text that is something else, a newer version, damage, parts that don't fit each other.
    pub fn from_text(text: &str) -> Result<ScanDesk, PlanError> {
        let DeskFile { reading } = READING_FILE.content_of(text)?;
        if reading.is_sound() {
            return Ok(reading);
        }
        let what = "Its rows don't fit its own pages.".to_owned();
        let hint = "It was changed outside this program; read the pictures again.".to_owned();
        Err(PlanError::Incomplete { what, hint })
    }

    /// Nothing may point outside its own lists, and every place lies on the line.
    fn is_sound(&self) -> bool {
        let on_line = |mark: Option<f64>| mark.is_none_or(|mark| (0.0..=100.0).contains(&mark));
        let rows_fit = self.rows().all(|(_, row)| {
            let decided = match row.decided.as_ref().map(|decided| decided.what) {
                Some(Decision::Put { mark_mm }) => on_line(Some(mark_mm)),
                _ => true,
            };
            decided
                && on_line(row.suggested_mm)
                && row.looked_again.as_ref().is_none_or(|looked| on_line(looked.mark_mm))
        });
        let pages_fit = self.pages.iter().all(|page| page.picture < self.pictures.len());
        let says_fit = self.pictures.iter().flat_map(|picture| &picture.found).all(|says| match says {
            PictureSays::Read { page, .. } | PictureSays::Again { page, .. } => *page < self.pages.len(),
            PictureSays::Failed { .. } | PictureSays::Test { .. } => true,
        });
        let steps_fit = self.steps.iter().flatten().all(|place| self.row(*place).is_some());
        rows_fit && pages_fit && says_fit && steps_fit
    }
}
