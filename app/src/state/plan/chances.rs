//! When the chances of a planned verdict are worked out: for the planned number of assessors whenever the draft changes,
//! for other numbers on request only. What no longer holds is dropped at once.

use crate::state::long_run::LongRun;
use leptos::prelude::*;
use likeness_core::planning::draft_chances::DraftChances;
use likeness_core::stats::Defined;
use likeness_core::stats::r#match::verdict_chances::{VerdictChances, VerdictChancesRun};

/// Starts the planned number anew with every change that bears on it, and drops the curve.
pub fn follow_draft(
    draft: Memo<Defined<DraftChances>>,
    planned: LongRun<VerdictChances>,
    curve: LongRun<VerdictChances>,
) {
    Effect::new(move |_| {
        draft.track();
        curve.drop_result();
        start_planned(draft, planned);
    });
}

/// Works the chances out for the planned number of assessors.
pub fn start_planned(draft: Memo<Defined<DraftChances>>, planned: LongRun<VerdictChances>) {
    let draft = draft.get_untracked();
    planned.start(draft.and_then(|draft| VerdictChancesRun::start(draft.planned, &[draft.assessors])));
}

/// Works the chances out over numbers of assessors, the planned one among them.
pub fn start_curve(draft: Memo<Defined<DraftChances>>, curve: LongRun<VerdictChances>) {
    let draft = draft.get_untracked();
    curve.start(draft.and_then(|draft| {
        let numbers = draft.numbers_of_assessors();
        VerdictChancesRun::start(draft.planned, &numbers)
    }));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::state::long_run::at_once;
    use likeness_core::plan::brief::draft::PlanDraft;

    #[test]
    fn the_planned_number_is_worked_out_and_the_rest_on_request() {
        let owner = Owner::new();
        owner.set();
        let draft = Memo::new(|_| {
            let mut chances = DraftChances::of(&PlanDraft::default());
            // A few studies are enough to see who is worked out.
            chances.iter_mut().for_each(|chances| chances.planned.studies = 2);
            chances
        });
        let (planned, curve) = (LongRun::new(at_once), LongRun::new(at_once));
        start_planned(draft, planned);
        let numbers = |run: LongRun<VerdictChances>| {
            run.found().map(|found| found.at.iter().map(|at| at.assessors).collect::<Vec<_>>())
        };
        assert_eq!((numbers(planned), numbers(curve)), (Some(vec![10]), None));
        start_curve(draft, curve);
        assert_eq!(numbers(curve), Some(vec![8, 10, 12, 14, 16, 18, 20, 22, 24]));
    }
}
