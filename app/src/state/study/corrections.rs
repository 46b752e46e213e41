//! Correcting one score, with a reason. The score as it came and its place in the file stay with the study.

use super::decisions::Refusal;
use super::exclusions::{scope_in_words, stated_reason};
use super::history::Snapshot;
use crate::state::actions::take_step;
use crate::state::app_state::AppState;
use crate::words::scores as say;
use leptos::prelude::*;
use likeness_core::study::{ExclusionScope, LogKind, Scale};

/// Corrects a score to what was typed; nothing typed means that there is no score. A decimal comma is understood.
///
/// Errors: no reason, no number, or a number outside the scale, in words.
pub fn correct(app: AppState, serving: usize, attribute: usize, typed: &str, reason: &str) -> Result<(), Refusal> {
    let reason = stated_reason(reason)?;
    let scale = app.study.with_untracked(|study| study.as_ref().map(|study| study.scale.clone()));
    let Some(scale) = scale else { return Ok(()) };
    let after = score_from(typed, &scale)?;
    let when = app.now();
    let mut is_same = false;
    take_step(app, LogKind::Corrected, |study| {
        let what = scope_in_words(study, ExclusionScope::Score { serving, attribute });
        let Some(edit) = study.correct_score(serving, attribute, after, &reason, &when) else {
            is_same = true;
            return None;
        };
        let said = say::log_corrected(&what, edit, &scale.unit);
        Some((said, Snapshot::BeforeCorrection))
    });
    if is_same { Err(say::REFUSED_SAME_SCORE.to_owned()) } else { Ok(()) }
}

/// A score from what was typed; `None` where nothing was.
fn score_from(typed: &str, scale: &Scale) -> Result<Option<f64>, Refusal> {
    if typed.trim().is_empty() {
        return Ok(None);
    }
    let number: Option<f64> = typed.trim().replace(',', ".").parse().ok();
    match number {
        Some(score) if score.is_finite() && scale.contains(score) => Ok(Some(score)),
        Some(_) => Err(say::refused_off_scale(scale)),
        None => Err(crate::words::refused_margin_no_number(typed)),
    }
}
