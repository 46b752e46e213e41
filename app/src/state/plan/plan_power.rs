//! What the panel that is being planned can show: power from the engine's planning, for the draft as it stands.

use likeness_core::plan::brief::draft::PlanDraft;
use likeness_core::plan::brief::study_brief::QuestionKind;
use likeness_core::stats::r#match::power::{PanelPlan, PlannedTest, difference_power, reach, verdict_power};

/// Assessors assumed while none are named.
pub const ASSESSORS_WHILE_NONE_NAMED: usize = 10;
/// The power that planning aims at by convention.
pub const AIM: f64 = 0.8;

/// One thing that would raise the power, and the power it would give.
#[derive(Clone, Debug, PartialEq)]
pub struct Raise {
    pub by: RaiseBy,
    pub power: f64,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RaiseBy {
    Assessors(usize),
    Replicates(usize),
    Margin(f64),
}

/// What is said of the power of a draft.
#[derive(Clone, Debug, PartialEq)]
pub struct PowerOfDraft {
    pub kind: QuestionKind,
    pub assessors: usize,
    pub assessors_are_named: bool,
    pub replicates: usize,
    pub margin_mm: f64,
    /// Chance that a true match (match) or a difference as large as the margin (difference) is shown on one attribute.
    pub power: f64,
    /// Half-width of the interval of a difference that is to be expected, in mm.
    pub expected_half_width_mm: f64,
    pub raises: Vec<Raise>,
    /// Assessors with which a true match is shown 80 times in 100, or why there is no such number.
    pub assessors_for_aim: Result<usize, String>,
    /// Deciding attributes; each of them must be shown to match.
    pub deciding: usize,
}

/// The power of a draft.
///
/// # Errors
/// One assessor only, or numbers that planning refuses, as a sentence.
pub fn power_of(draft: &PlanDraft) -> Result<PowerOfDraft, String> {
    let named = draft.assessors().len();
    let assessors = if named == 0 { ASSESSORS_WHILE_NONE_NAMED } else { named };
    let panel = PanelPlan {
        assessors,
        replicates: draft.replicates,
        sd_interaction: draft.sd_interaction_mm,
        sd_error: draft.sd_error_mm,
    };
    let test = PlannedTest { margin: draft.brief.margin.width_mm, alpha: draft.brief.alpha };
    let kind = draft.brief.kind;
    let verdict = verdict_power(panel, test, 0.0).map_err(|why| why.because)?;
    let power_with = |panel: PanelPlan, test: PlannedTest| match kind {
        QuestionKind::Match => verdict_power(panel, test, 0.0).map(|verdict| verdict.p_match),
        QuestionKind::Difference | QuestionKind::Description => difference_power(panel, test.alpha, test.margin),
    };
    let more_people = (assessors + 5, PanelPlan { assessors: assessors + 5, ..panel });
    let more_cups = (panel.replicates + 1, PanelPlan { replicates: panel.replicates + 1, ..panel });
    let wider = PlannedTest { margin: 1.5 * test.margin, ..test };
    let raises = [
        (RaiseBy::Assessors(more_people.0), power_with(more_people.1, test)),
        (RaiseBy::Replicates(more_cups.0), power_with(more_cups.1, test)),
        (RaiseBy::Margin(wider.margin), power_with(panel, wider)),
    ];
    let needed = reach(panel, test, AIM).and_then(|reach| reach.assessors_needed).map_err(|why| why.because);
    let listed = draft.attributes.attributes.len();
    Ok(PowerOfDraft {
        kind,
        assessors,
        assessors_are_named: named > 0,
        replicates: draft.replicates,
        margin_mm: test.margin,
        power: power_with(panel, test).map_err(|why| why.because)?,
        expected_half_width_mm: verdict.expected_half_width,
        raises: raises.into_iter().filter_map(|(by, power)| Some(Raise { by, power: power.ok()? })).collect(),
        assessors_for_aim: needed,
        deciding: if draft.brief.deciding.is_empty() { listed } else { draft.brief.deciding.len() },
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_power_of_a_draft_is_that_of_the_engine() {
        let draft = PlanDraft::default();
        let found = power_of(&draft).expect("a sound draft");
        // The same call as `likeness power` makes; its own checks stand in tests/planning.rs.
        let panel = PanelPlan { assessors: 10, replicates: 2, sd_interaction: 5.0, sd_error: 9.0 };
        let power = verdict_power(panel, PlannedTest { margin: 10.0, alpha: 0.05 }, 0.0).expect("a sound plan");
        assert!((found.power - power.p_match).abs() < 1e-12);
        assert!(!found.assessors_are_named);
    }

    #[test]
    fn each_remedy_raises_it() {
        for kind in [QuestionKind::Match, QuestionKind::Difference] {
            let mut draft = PlanDraft::default();
            draft.brief.kind = kind;
            let found = power_of(&draft).expect("a sound draft");
            assert_eq!(found.raises.len(), 3);
            // Identity: more data or a larger step can only be easier to show.
            assert!(found.raises.iter().all(|raise| raise.power > found.power), "{found:?}");
        }
    }

    #[test]
    fn what_planning_refuses_is_said() {
        let mut draft = PlanDraft { assessors_typed: "Ada".to_owned(), ..PlanDraft::default() };
        assert!(power_of(&draft).is_err());
        draft.assessors_typed = String::new();
        draft.brief.margin.width_mm = 0.0;
        assert_eq!(power_of(&draft).expect_err("no margin"), "the margin must be above zero");
    }
}
