//! What the panel that is being planned can show: the power of a draft as it stands, and what would raise it. Everything
//! is computed by `stats::match::power`; here the draft is put into its terms. It must not know how the draft is shown.

use crate::plan::brief::draft::PlanDraft;
use crate::plan::brief::study_brief::QuestionKind;
use crate::planning::panel_of_difference::{DifferenceScatter, panel_of_difference};
use crate::stats::Defined;
use crate::stats::r#match::power::{PanelPlan, PlannedTest, difference_power, reach, verdict_power};

/// Assessors assumed while none are named.
pub const ASSESSORS_WHILE_NONE_NAMED: usize = 10;
/// The power that planning aims at by convention.
pub const AIM: f64 = 0.8;
/// How many assessors more are tried as a remedy.
const MORE_ASSESSORS: usize = 5;
/// How many times the margin is tried as a remedy.
const WIDER_MARGIN: f64 = 1.5;

/// One thing that would raise the power, and the power it would give.
#[derive(Clone, Debug, PartialEq)]
pub struct Raise {
    pub by: RaiseBy,
    /// From 0 to 1.
    pub power: f64,
}

/// A remedy, by the number that would stand in place of the one of the draft.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RaiseBy {
    Assessors(usize),
    Replicates(usize),
    /// In mm.
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
    let panel = panel_of(draft, assessors).map_err(|why| why.because)?;
    let test = PlannedTest { margin: draft.brief.margin.width_mm, alpha: draft.brief.alpha };
    let kind = draft.brief.kind;
    let verdict = verdict_power(panel, test, 0.0).map_err(|why| why.because)?;
    let needed = reach(panel, test, AIM).and_then(|reach| reach.assessors_needed);
    Ok(PowerOfDraft {
        kind,
        assessors: panel.assessors,
        assessors_are_named: named > 0,
        replicates: panel.replicates,
        margin_mm: test.margin,
        power: power_for(kind, panel, test).map_err(|why| why.because)?,
        expected_half_width_mm: verdict.expected_half_width,
        raises: raises_of(kind, panel, test),
        assessors_for_aim: needed.map_err(|why| why.because),
        deciding: deciding_in(draft),
    })
}

/// A panel of so many assessors with the scatter that the draft assumes.
///
/// # Errors
/// As `panel_of_difference`.
pub fn panel_of(draft: &PlanDraft, assessors: usize) -> Defined<PanelPlan> {
    let assumed = &draft.scatter;
    let scatter = DifferenceScatter {
        sd_difference: assumed.sd_difference_mm,
        replicates_behind: assumed.replicates_behind,
        sd_error: assumed.sd_error_mm,
    };
    panel_of_difference(scatter, assessors, draft.replicates)
}

/// The chance that is asked for: of showing a true match, or a difference of the margin's size.
fn power_for(kind: QuestionKind, panel: PanelPlan, test: PlannedTest) -> Defined<f64> {
    match kind {
        QuestionKind::Match => verdict_power(panel, test, 0.0).map(|verdict| verdict.p_match),
        QuestionKind::Difference | QuestionKind::Description => difference_power(panel, test.alpha, test.margin),
    }
}

/// More people, one more replicate, a wider margin: each alone, with the power it would give.
fn raises_of(kind: QuestionKind, panel: PanelPlan, test: PlannedTest) -> Vec<Raise> {
    let more_people = PanelPlan { assessors: panel.assessors + MORE_ASSESSORS, ..panel };
    let more_cups = PanelPlan { replicates: panel.replicates + 1, ..panel };
    let wider = PlannedTest { margin: WIDER_MARGIN * test.margin, ..test };
    let tried = [
        (RaiseBy::Assessors(more_people.assessors), power_for(kind, more_people, test)),
        (RaiseBy::Replicates(more_cups.replicates), power_for(kind, more_cups, test)),
        (RaiseBy::Margin(wider.margin), power_for(kind, panel, wider)),
    ];
    tried.into_iter().filter_map(|(by, power)| Some(Raise { by, power: power.ok()? })).collect()
}

/// Where none is named all attributes of the list decide.
fn deciding_in(draft: &PlanDraft) -> usize {
    match draft.brief.deciding.len() {
        0 => draft.attributes.attributes.len(),
        named => named,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::brief::assumed_scatter::AssumedScatter;

    #[test]
    fn the_power_of_a_draft_is_that_of_the_engine() {
        let scatter = AssumedScatter { sd_difference_mm: 131.0_f64.sqrt(), ..AssumedScatter::default() };
        let draft = PlanDraft { scatter, ..PlanDraft::default() };
        let found = power_of(&draft).expect("a sound draft");
        // The same call as `likeness power` makes; its own checks stand in tests/planning.rs. 131 = 2 (5^2 + 9^2 / 2).
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
