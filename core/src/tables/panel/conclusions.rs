//! What each result on the panel comes to, in one sentence: what stands on a line that folds the rest away.

use super::people::hangs_on;
use super::words;
use crate::stats::Defined;
use crate::stats::r#match::leave_one_out::Influence;
use crate::stats::panel::form_faults::FormFaultReport;
use crate::stats::panel::replicate_effect::{ReplicateAnalysis, RoundFinding};
use crate::stats::panel::scale_use::ScaleUse;
use crate::stats::panel::serving_order::{LabelEffect, OrderEffects};
use crate::stats::panel::sessions::SessionPerformance;
use crate::tables::words::{count_of, first_of};
use crate::text::lists::listed;

/// Whether any form fault is suspected, and whose.
pub fn form_faults(found: &FormFaultReport) -> Option<String> {
    let mut names: Vec<String> = found.suspicions.iter().map(|one| one.assessor.clone()).collect();
    names.dedup();
    match names.as_slice() {
        [] if found.n_pages == 0 => None,
        [] => Some(words::no_slips(found.n_pages)),
        names => Some(words::suspected(found.suspicions.len(), &first_of(names))),
    }
}

/// On whom a whole verdict hangs.
pub fn influence(found: &Influence) -> String {
    let all: Vec<String> =
        found.without.iter().filter_map(|one| Some(words::without_one(&one.assessor, &hangs_on(one)?))).collect();
    if all.is_empty() { words::HANGS_ON_NOBODY.to_owned() } else { format!("{}.", all.join("; ")) }
}

/// On how many attributes samples were told apart in each session.
pub fn sessions(found: &[SessionPerformance]) -> Option<String> {
    let of =
        |one: &SessionPerformance| words::told_in_session(&one.session, &count_of(one.n_discriminated, one.n_tested));
    let all: Vec<String> = found.iter().map(of).collect();
    (!all.is_empty()).then(|| words::told_apart_in(&listed(&all)))
}

/// Attributes on which a shift between rounds is shown, and those on which it changes an answer. `names` are the attributes in
/// the order of `found`.
pub fn rounds(names: &[String], found: &[Defined<ReplicateAnalysis>]) -> Option<String> {
    let with = |wanted: RoundFinding| -> Vec<String> {
        let all = names.iter().zip(found).filter(|(_, one)| one.as_ref().is_ok_and(|one| one.finding == wanted));
        all.map(|(name, _)| name.clone()).collect()
    };
    if found.iter().all(Result::is_err) {
        return found.iter().find_map(|one| one.as_ref().err()).map(|reason| words::not_told(&reason.because));
    }
    let (changed, shifted) = (with(RoundFinding::ChangesVerdict), with(RoundFinding::ShiftWithoutConsequence));
    Some(match (changed.as_slice(), shifted.as_slice()) {
        ([], []) => words::NO_ROUND_SHIFT.to_owned(),
        ([], shifted) => words::shift_without_consequence(&first_of(shifted)),
        (changed, _) => words::shift_changes(&first_of(changed)),
    })
}

/// Attributes on which the order of serving is shown to have done something, all attributes together.
pub fn serving_order(found: &[OrderEffects], alpha: f64) -> Option<String> {
    let tested = |one: &OrderEffects| [one.drift_p_adjusted, one.position_p_adjusted, one.carry_over_p_adjusted];
    found.iter().flat_map(tested).flatten().next()?;
    let is_shown = |one: &&OrderEffects| tested(one).into_iter().flatten().any(|p| p < alpha);
    let shown: Vec<String> = found.iter().filter(is_shown).map(|one| one.attribute.clone()).collect();
    Some(if shown.is_empty() { words::NO_ORDER_EFFECT.to_owned() } else { words::shown_on(&first_of(&shown)) })
}

/// How many comparisons of labels have a p below alpha, each by itself.
pub fn labels(found: &[LabelEffect], alpha: f64) -> Option<String> {
    let tested: Vec<f64> = found.iter().filter_map(|one| Some(one.test.as_ref().ok()?.p)).collect();
    let below = tested.iter().filter(|p| **p < alpha).count();
    (!tested.is_empty()).then(|| words::labels_below(&count_of(below, tested.len()), alpha))
}

/// On how many attributes taking the stretching out of the error helps.
pub fn line_use(found: &[Defined<ScaleUse>]) -> Option<String> {
    let known: Vec<&ScaleUse> = found.iter().flatten().collect();
    let helps: Vec<String> = known.iter().filter(|one| one.helps).map(|one| one.attribute.clone()).collect();
    match (known.is_empty(), helps.as_slice()) {
        (true, _) => None,
        (_, []) => Some(words::NO_GAIN.to_owned()),
        (_, names) => Some(words::gain_on(&first_of(names))),
    }
}
