//! What happened at the tasting, noted at the time, so that a page left out later has a reason that is older than the
//! result. It knows nothing of scores.

use serde::{Deserialize, Serialize};

/// What kind of thing happened.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum RecordKind {
    SessionStarted,
    SessionEnded,
    Absent,
    BlockedNose,
    SpiltSample,
    OrderDeviation,
    Other,
}

/// One line of the record.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct RecordEntry {
    /// Local date and time as given by the caller.
    pub when: String,
    pub session: u32,
    pub kind: RecordKind,
    /// Index into the plan's assessors, where it concerns one.
    pub assessor: Option<usize>,
    /// Code of the cup, where it concerns one.
    pub code: Option<String>,
    pub note: String,
}

impl RecordKind {
    /// All kinds, in the order in which they are offered.
    pub const ALL: [RecordKind; 7] = [
        RecordKind::SessionStarted,
        RecordKind::SessionEnded,
        RecordKind::Absent,
        RecordKind::BlockedNose,
        RecordKind::SpiltSample,
        RecordKind::OrderDeviation,
        RecordKind::Other,
    ];

    /// The kind as people write it.
    pub fn in_words(self) -> &'static str {
        match self {
            RecordKind::SessionStarted => "session started",
            RecordKind::SessionEnded => "session ended",
            RecordKind::Absent => "absent",
            RecordKind::BlockedNose => "blocked nose",
            RecordKind::SpiltSample => "sample spilt",
            RecordKind::OrderDeviation => "tasted in another order",
            RecordKind::Other => "other",
        }
    }
}

impl RecordEntry {
    /// Start and end of a session bear on no score.
    pub fn is_about_scores(&self) -> bool {
        !matches!(self.kind, RecordKind::SessionStarted | RecordKind::SessionEnded)
    }

    /// The reason to offer when the assessor or the cup is to be left out; `None` where the entry is about neither.
    pub fn exclusion_reason(&self) -> Option<String> {
        let about_somebody = self.assessor.is_some() || self.code.is_some();
        (self.is_about_scores() && about_somebody).then(|| {
            let note = if self.note.is_empty() { String::new() } else { format!(": {}", self.note) };
            format!("{}{note} (noted in session {}, {})", self.kind.in_words(), self.session, self.when)
        })
    }
}
