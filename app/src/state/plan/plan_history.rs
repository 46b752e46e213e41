//! Steps of planning that can be taken back: each keeps draft and plan as they were before it, and under which key they
//! are kept, so that a step from one plan to the next empties neither.

use crate::state::steps::Steps;
use likeness_core::plan::brief::draft::PlanDraft;
use likeness_core::plan::tasting_plan::TastingPlan;
use serde::{Deserialize, Serialize};

/// More steps than this are forgotten, oldest first.
const MOST_STEPS: usize = 100;
/// So many of them are kept between visits.
const KEPT_STEPS: usize = 20;

/// What was done to the plan and can be undone, and what was undone and can be done again.
pub type PlanSteps = Steps<PlanSnapshot, MOST_STEPS>;

/// Draft and plan on the other side of a step.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanSnapshot {
    /// What they are kept under; `None` while nothing was kept of them.
    pub key: Option<String>,
    pub draft: PlanDraft,
    pub plan: Option<TastingPlan>,
}

/// The same as it lies in the store: a plan is kept as its file, since some of it is computed on opening.
#[derive(Serialize, Deserialize)]
struct KeptSnapshot {
    key: Option<String>,
    draft: PlanDraft,
    plan: Option<String>,
}

/// The latest steps as text for the browser's store.
pub fn steps_text(steps: &PlanSteps) -> String {
    let kept = steps.latest(KEPT_STEPS, |side| {
        let plan = side.plan.as_ref().map(TastingPlan::to_json);
        Some(KeptSnapshot { key: side.key.clone(), draft: side.draft.clone(), plan })
    });
    // Strings, numbers and lists can't fail to be written.
    serde_json::to_string(&kept).unwrap_or_default()
}

/// The steps in such a text; none where it can't be read.
pub fn steps_in(text: &str) -> PlanSteps {
    let kept: Steps<KeptSnapshot, MOST_STEPS> = serde_json::from_str(text).unwrap_or_default();
    kept.latest(KEPT_STEPS, |side| {
        let plan = match &side.plan {
            Some(text) => Some(TastingPlan::from_json(text).ok()?),
            None => None,
        };
        Some(PlanSnapshot { key: side.key.clone(), draft: side.draft.clone(), plan })
    })
}
