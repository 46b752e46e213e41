//! Steps that can be taken back. Decisions are kept whole; of corrected scores only the correction; all scores only where
//! a step replaced the study.

use crate::state::steps::Steps;
use likeness_core::study::{Attribute, Edit, Exclusion, LogKind, ReportDetails, Settings, Study};

/// More steps than this are forgotten, oldest first.
const MOST_STEPS: usize = 200;

/// What was done to the study and can be undone, and what was undone and can be done again.
pub type History = Steps<Snapshot, MOST_STEPS>;

/// As much of the state as a step changed.
#[derive(Clone, Debug, PartialEq)]
pub enum Snapshot {
    /// The study was opened, replaced or closed.
    Whole(Box<Option<Study>>),
    /// Something was decided about the study; its scores did not change.
    Decisions(Box<Decisions>),
    /// A score was corrected: before that, the latest correction was not there.
    BeforeCorrection,
    /// A correction was taken back: this is the one to make again.
    AfterCorrection(Box<Edit>),
}

/// All that is decided about a study. The log is not part of it: what was done stays on record when it is undone.
#[derive(Clone, Debug, PartialEq)]
pub struct Decisions {
    pub title: String,
    pub attributes: Vec<Attribute>,
    pub exclusions: Vec<Exclusion>,
    pub settings: Settings,
    pub report: ReportDetails,
}

impl Snapshot {
    /// What putting this side in place would change about the study: the kind of the line that tells of it.
    pub fn kind_of_change(&self, study: Option<&Study>) -> LogKind {
        match (self, study) {
            (Snapshot::Decisions(other), Some(study)) => other.kind_of_change(study),
            (Snapshot::BeforeCorrection | Snapshot::AfterCorrection(_), _) => LogKind::Corrected,
            (Snapshot::Whole(_) | Snapshot::Decisions(_), _) => LogKind::Undone,
        }
    }

    /// Puts this side in place and gives the one that was there.
    pub fn swapped_with(self, study: &mut Option<Study>) -> Snapshot {
        match self {
            Snapshot::Whole(whole) => Snapshot::Whole(Box::new(std::mem::replace(study, *whole))),
            Snapshot::Decisions(decisions) => match study {
                Some(study) => Snapshot::Decisions(Box::new(decisions.swapped_with(study))),
                None => Snapshot::Decisions(decisions),
            },
            // Steps are taken back in the order in which they were made, so the latest correction is the one meant.
            Snapshot::BeforeCorrection => match study.as_mut().and_then(Study::uncorrect_latest) {
                Some(edit) => Snapshot::AfterCorrection(Box::new(edit)),
                None => Snapshot::BeforeCorrection,
            },
            Snapshot::AfterCorrection(edit) => match study {
                Some(study) => {
                    study.correct_again(*edit);
                    Snapshot::BeforeCorrection
                }
                None => Snapshot::AfterCorrection(edit),
            },
        }
    }
}

impl Decisions {
    pub fn of(study: &Study) -> Self {
        Decisions {
            title: study.title.clone(),
            attributes: study.attributes.clone(),
            exclusions: study.exclusions.clone(),
            settings: study.settings.clone(),
            report: study.report.clone(),
        }
    }

    /// The weightiest thing that would change: margin, other settings, what is left out, words.
    fn kind_of_change(&self, study: &Study) -> LogKind {
        if self.settings.margin != study.settings.margin {
            LogKind::MarginDecided
        } else if self.settings != study.settings {
            LogKind::Decided
        } else if self.exclusions.len() > study.exclusions.len() {
            LogKind::Excluded
        } else if self.exclusions.len() < study.exclusions.len() {
            LogKind::TakenBack
        } else {
            LogKind::Stated
        }
    }

    fn swapped_with(self, study: &mut Study) -> Decisions {
        let before = Decisions::of(study);
        study.title = self.title;
        study.attributes = self.attributes;
        study.exclusions = self.exclusions;
        study.settings = self.settings;
        study.report = self.report;
        before
    }
}
