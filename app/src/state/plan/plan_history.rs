//! Steps of planning that can be taken back: each keeps draft and plan as they were before it.

use crate::state::steps::Steps;
use likeness_core::plan::brief::draft::PlanDraft;
use likeness_core::plan::tasting_plan::TastingPlan;

/// More steps than this are forgotten, oldest first.
const MOST_STEPS: usize = 100;

/// What was done to the plan and can be undone, and what was undone and can be done again.
pub type PlanSteps = Steps<PlanSnapshot, MOST_STEPS>;

/// Draft and plan on the other side of a step.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanSnapshot {
    pub draft: PlanDraft,
    pub plan: Option<TastingPlan>,
}
