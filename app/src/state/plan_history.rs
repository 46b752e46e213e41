//! Steps of planning that can be taken back: each keeps draft and plan as they were before it.

use likeness_core::plan::design::TastingPlan;
use likeness_core::plan::draft::PlanDraft;

/// More steps than this are forgotten, oldest first.
const STEPS_KEPT: usize = 100;

/// What was done and can be undone, and what was undone and can be done again.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlanSteps {
    past: Vec<PlanStep>,
    future: Vec<PlanStep>,
}

/// Draft and plan on the other side of a step.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanSnapshot {
    pub draft: PlanDraft,
    pub plan: Option<TastingPlan>,
}

#[derive(Clone, Debug, PartialEq)]
struct PlanStep {
    what: String,
    other_side: PlanSnapshot,
}

impl PlanSteps {
    /// Records a step. What was undone before can no longer be done again.
    pub fn record(&mut self, what: impl Into<String>, before: PlanSnapshot) {
        self.past.push(PlanStep { what: what.into(), other_side: before });
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

    /// Takes the last step back: gives its words and what was there before it.
    pub fn undo(&mut self, now: PlanSnapshot) -> Option<(String, PlanSnapshot)> {
        let step = self.past.pop()?;
        self.future.push(PlanStep { what: step.what.clone(), other_side: now });
        Some((step.what, step.other_side))
    }

    /// Does again what was undone last.
    pub fn redo(&mut self, now: PlanSnapshot) -> Option<(String, PlanSnapshot)> {
        let step = self.future.pop()?;
        self.past.push(PlanStep { what: step.what.clone(), other_side: now });
        Some((step.what, step.other_side))
    }
}
