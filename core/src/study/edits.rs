//! Corrections of single scores: what stood there, what stands there now, and why. The score as it came is never lost,
//! and its place in the file stays with it.

use super::Study;
use serde::{Deserialize, Serialize};

/// One score corrected by hand.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Edit {
    /// Index into `Study::servings`.
    pub serving: usize,
    /// Index into `Study::attributes`.
    pub attribute: usize,
    /// What stood there; `None` where the mark was missing.
    pub before: Option<f64>,
    /// What stands there now; `None` where the mark was taken away.
    pub after: Option<f64>,
    pub reason: String,
    /// Local date and time as given by the caller.
    pub when: String,
    /// Whether the verdict had been seen.
    #[serde(default)]
    pub late: bool,
}

impl Study {
    /// Corrects one score and keeps a record of it. `None`, and nothing changes, where there is no such cell, where
    /// the new score is the old one, or where it is no finite number. The caller writes the log.
    pub fn correct_score(
        &mut self,
        serving: usize,
        attribute: usize,
        after: Option<f64>,
        reason: &str,
        when: &str,
    ) -> Option<&Edit> {
        self.origin(serving, attribute)?;
        let before = self.score(serving, attribute);
        if is_same(before, after) || after.is_some_and(|score| !score.is_finite()) {
            return None;
        }
        self.set_score(serving, attribute, after);
        let (reason, when, late) = (reason.to_owned(), when.to_owned(), self.decided_at.is_some());
        self.edits.push(Edit { serving, attribute, before, after, reason, when, late });
        self.edits.last()
    }

    /// Takes the latest correction back, as if it had never been made, and gives it.
    pub fn uncorrect_latest(&mut self) -> Option<Edit> {
        let edit = self.edits.pop()?;
        self.set_score(edit.serving, edit.attribute, edit.before);
        Some(edit)
    }

    /// Makes a correction again that was taken back.
    pub fn correct_again(&mut self, edit: Edit) {
        self.set_score(edit.serving, edit.attribute, edit.after);
        self.edits.push(edit);
    }

    /// The corrections of one score, oldest first.
    pub fn edits_of(&self, serving: usize, attribute: usize) -> impl Iterator<Item = &Edit> {
        self.edits.iter().filter(move |edit| edit.serving == serving && edit.attribute == attribute)
    }

    /// The score as it came, before any correction.
    pub fn score_as_it_came(&self, serving: usize, attribute: usize) -> Option<f64> {
        let first = self.edits_of(serving, attribute).next();
        first.map_or_else(|| self.score(serving, attribute), |edit| edit.before)
    }
}

fn is_same(one: Option<f64>, other: Option<f64>) -> bool {
    match (one, other) {
        (None, None) => true,
        (Some(one), Some(other)) => (one - other).abs() <= f64::EPSILON * one.abs(),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use crate::study::{Scale, ScoreAddress, Study, StudyBuilder};

    fn small() -> Study {
        let mut builder = StudyBuilder::new(Scale::default());
        let address = ScoreAddress { assessor: "Anna", sample: "A", replicate: 1, ..ScoreAddress::default() };
        builder.add(address, "ripe", 60.0).unwrap();
        builder.add(address, "green", 20.0).unwrap();
        builder.finish("small")
    }

    #[test]
    fn a_correction_keeps_what_stood_there_and_can_be_taken_back_and_made_again() {
        let mut study = small();
        let before = study.clone();
        study.correct_score(0, 1, Some(26.0), "read wrongly", "2026-03-14 09:26").unwrap();
        study.correct_score(0, 1, None, "not legible", "2026-03-14 09:27").unwrap();
        assert_eq!(study.score(0, 1), None);
        assert_eq!(study.score_as_it_came(0, 1), Some(20.0));
        assert_eq!(study.origin(0, 1), before.origin(0, 1));
        let after = study.clone();
        let latest = study.uncorrect_latest().unwrap();
        assert_eq!((study.score(0, 1), latest.before), (Some(26.0), Some(26.0)));
        study.correct_again(latest);
        assert_eq!(study, after);
        study.uncorrect_latest().unwrap();
        study.uncorrect_latest().unwrap();
        assert_eq!(study, before);
        assert_eq!(study.uncorrect_latest(), None);
    }

    #[test]
    fn what_is_no_correction_leaves_no_trace() {
        let mut study = small();
        let before = study.clone();
        for (serving, attribute, score) in
            [(0, 0, Some(60.0)), (0, 0, Some(f64::NAN)), (1, 0, Some(3.0)), (0, 2, Some(3.0))]
        {
            assert_eq!(study.correct_score(serving, attribute, score, "why", ""), None);
        }
        assert_eq!(study, before);
    }

    #[test]
    fn a_study_saved_before_there_were_corrections_still_opens() {
        let study = small();
        let mut saved = serde_json::to_value(&study).unwrap();
        saved.as_object_mut().unwrap().remove("edits").unwrap();
        assert_eq!(serde_json::from_value::<Study>(saved).unwrap(), study);
    }
}
