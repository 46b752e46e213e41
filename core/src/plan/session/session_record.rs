//! What happened at the tasting, noted at the time, so that a page left out later has a reason that is older than the
//! result. It knows nothing of scores.

use crate::notice::{Notice, Place, Severity};
use crate::plan::tasting_plan::{PlannedServing, TastingPlan};
use crate::study::{RecordedEvent, recorded_line};
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
    pub const ALL: [RecordKind; 7] = [
        RecordKind::SessionStarted,
        RecordKind::SessionEnded,
        RecordKind::Absent,
        RecordKind::BlockedNose,
        RecordKind::SpiltSample,
        RecordKind::OrderDeviation,
        RecordKind::Other,
    ];

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

impl TastingPlan {
    /// The record as the study keeps it. An entry about a code is about that cup of its assessor, in the order of
    /// `servings`.
    pub fn study_record(&self) -> Vec<RecordedEvent> {
        let servings = self.servings();
        self.record.iter().map(|entry| recorded(entry, &servings)).collect()
    }

    /// What of the record bears on scores, as notices that print with the report.
    pub fn record_notices(&self) -> Vec<Notice> {
        let about_scores = self.record.iter().filter(|entry| entry.is_about_scores());
        about_scores.map(|entry| self.record_notice(entry)).collect()
    }

    /// An entry as people read it: who, what, when.
    pub fn record_in_words(&self, entry: &RecordEntry) -> String {
        let who = entry.assessor.and_then(|index| self.assessors.get(index)).map(String::as_str);
        recorded_line(entry.session, who, entry.code.as_deref(), entry.kind.in_words(), &entry.note)
    }

    fn record_notice(&self, entry: &RecordEntry) -> Notice {
        let what = format!("Noted at the tasting, {}: {}.", entry.when, self.record_in_words(entry));
        Notice::new(Severity::Check, Place::default(), what, "Decide whether its marks count; the note is the reason.")
    }
}

fn recorded(entry: &RecordEntry, servings: &[PlannedServing]) -> RecordedEvent {
    let of_cup = |serving: &PlannedServing| {
        Some(serving.assessor) == entry.assessor
            && serving.session == entry.session
            && Some(&serving.code) == entry.code.as_ref()
    };
    RecordedEvent {
        when: entry.when.clone(),
        session: entry.session,
        what: entry.kind.in_words().to_owned(),
        assessor: entry.assessor,
        serving: servings.iter().position(of_cup),
        code: entry.code.clone(),
        note: entry.note.clone(),
        exclusion_reason: entry.exclusion_reason(),
    }
}
