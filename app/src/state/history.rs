//! Steps that can be taken back. Decisions are kept whole; of corrected marks only the correction; all scores only where
//! a step replaced the study.

use likeness_core::study::{Attribute, Edit, Exclusion, ReportDetails, Settings, Study};

/// More steps than this are forgotten, oldest first.
const STEPS_KEPT: usize = 200;

/// What was done and can be undone, and what was undone and can be done again.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct History {
    past: Vec<Step>,
    future: Vec<Step>,
}

/// One action of the user, with the state on its other side.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// What was done, in words: "margin from 10 to 8 mm".
    pub what: String,
    pub other_side: Snapshot,
}

/// As much of the state as a step changed.
#[derive(Clone, Debug, PartialEq)]
pub enum Snapshot {
    /// The study was opened, replaced or closed.
    Whole(Box<Option<Study>>),
    /// Something was decided about the study; its scores did not change.
    Decisions(Box<Decisions>),
    /// A mark was corrected: before that, the latest correction was not there.
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

impl History {
    /// Records a step. What was undone before can no longer be done again.
    pub fn record(&mut self, what: impl Into<String>, before: Snapshot) {
        self.past.push(Step { what: what.into(), other_side: before });
        if self.past.len() > STEPS_KEPT {
            self.past.remove(0);
        }
        self.future.clear();
    }

    pub fn next_undo(&self) -> Option<&str> {
        self.past.last().map(|step| step.what.as_str())
    }

    pub fn next_redo(&self) -> Option<&str> {
        self.future.last().map(|step| step.what.as_str())
    }

    /// Takes the last step back: gives its words; the study is as it was before.
    pub fn undo(&mut self, study: &mut Option<Study>) -> Option<String> {
        let step = self.past.pop()?;
        let what = step.what.clone();
        self.future.push(step.swapped_with(study));
        Some(what)
    }

    /// Does again what was undone last.
    pub fn redo(&mut self, study: &mut Option<Study>) -> Option<String> {
        let step = self.future.pop()?;
        let what = step.what.clone();
        self.past.push(step.swapped_with(study));
        Some(what)
    }
}

impl Step {
    fn swapped_with(self, study: &mut Option<Study>) -> Step {
        let other_side = match self.other_side {
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
        };
        Step { what: self.what, other_side }
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
