//! The record of what was done: when, what, of which kind, and whether it came when the verdict had been seen. It knows
//! nothing of files. The words are for people: no code reads them.

use super::Study;
use serde::{Deserialize, Serialize};

/// One line of the record of what was done.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct LogEntry {
    /// Local date and time as given by the caller; empty where no clock was given.
    pub when: String,
    /// What was done, in words for people.
    pub what: String,
    /// What it is about. Older files have no kinds.
    #[serde(default)]
    pub kind: LogKind,
    /// Whether a decision, an exclusion or a correction was made, or taken back, when the verdict had been seen.
    #[serde(default)]
    pub late: bool,
}

/// What a line of the record is about. A step that was undone or done again has the kind of the step.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LogKind {
    /// Scores or a saved study were opened, typed or restored.
    Opened,
    /// What reading the files repaired.
    Read,
    /// Something of the plan before the tasting.
    Planned,
    /// What stood decided before the verdict was seen, told in one line.
    Settled,
    /// Target, blind duplicate, deciding attributes or alpha.
    Decided,
    /// The margin of all attributes or of one, or where it comes from.
    MarginDecided,
    /// Something was left out.
    Excluded,
    /// Something left out was taken back in.
    TakenBack,
    /// A score was corrected.
    Corrected,
    /// Words for the report, names, kinds of attributes.
    Stated,
    /// A step of no other kind was undone or done again.
    Undone,
    /// Written by a program that kept no kinds, or knew others.
    #[default]
    #[serde(other)]
    Unknown,
}

impl LogKind {
    /// Whether it matters if such a thing was done before or after the verdict was seen.
    fn can_be_late(self) -> bool {
        matches!(
            self,
            LogKind::Decided | LogKind::MarginDecided | LogKind::Excluded | LogKind::TakenBack | LogKind::Corrected
        )
    }
}

impl LogEntry {
    /// A line about something that can't come late.
    pub fn new(when: &str, kind: LogKind, what: impl Into<String>) -> Self {
        LogEntry { when: when.to_owned(), what: what.into(), kind, late: false }
    }

    /// Whether it tells of a decision about what is judged, and by what margin, made when the verdict had been seen.
    pub fn is_late_decision(&self) -> bool {
        self.late && matches!(self.kind, LogKind::Decided | LogKind::MarginDecided)
    }
}

impl Study {
    /// Writes a line into the record. It is late where the verdict has been seen and the kind can be late, so this is
    /// called before `decided_at` is set by the same step.
    pub fn note_in_log(&mut self, when: &str, kind: LogKind, what: impl Into<String>) {
        let late = kind.can_be_late() && self.decided_at.is_some();
        self.log.push(LogEntry { late, ..LogEntry::new(when, kind, what) });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::{Scale, StudyBuilder};

    #[test]
    fn a_decision_is_late_by_what_was_seen_and_not_by_its_words() {
        let mut study = StudyBuilder::new(Scale::default()).finish("small");
        study.note_in_log("", LogKind::MarginDecided, "Spanne geändert: 10 auf 6 mm.");
        study.decided_at = Some("2026-03-14 09:26".to_owned());
        study.note_in_log("", LogKind::MarginDecided, "Spanne geändert: 6 auf 8 mm.");
        study.note_in_log("", LogKind::Excluded, "Weggelassen: Anna.");
        study.note_in_log("", LogKind::Stated, "Zweck: after the verdict was seen.");
        let late: Vec<bool> = study.log.iter().map(|entry| entry.late).collect();
        assert_eq!(late, [false, true, true, false]);
        let decisions: Vec<bool> = study.log.iter().map(LogEntry::is_late_decision).collect();
        assert_eq!(decisions, [false, true, false, false]);
    }

    #[test]
    fn lines_of_older_and_newer_programs_open() {
        let old: LogEntry = serde_json::from_str(r#"{"when": "", "what": "Loaded."}"#).unwrap();
        assert_eq!(old, LogEntry::new("", LogKind::Unknown, "Loaded."));
        let newer: LogEntry = serde_json::from_str(r#"{"when": "", "what": "x", "kind": "blessed"}"#).unwrap();
        assert_eq!(newer.kind, LogKind::Unknown);
    }
}
