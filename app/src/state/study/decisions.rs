//! What the leader decides: target, margin and its origin, deciding attributes, alpha, kinds of attributes, and when the
//! verdict is shown. Each decision made after that says so in the log.

use crate::state::actions::decide;
use crate::state::app_state::AppState;
use crate::state::plan::typed_numbers::share_from;
use crate::words;
use crate::words::matching;
use leptos::prelude::Update;
use likeness_core::study::{AttributeKind, LogKind, MarginOrigin, Study};

/// Why a number was not taken as a margin or a level.
pub type Refusal = String;

/// Settles what was decided and shows the verdict from now on. Undo does not take this back: what was seen stays seen.
///
/// Errors: no target is named, so that there is nothing to show.
pub fn show_verdict(app: AppState) -> Result<(), Refusal> {
    let when = app.now();
    let mut result = Ok(());
    app.study.update(|study| {
        let Some(study) = study.as_mut().filter(|study| study.decided_at.is_none()) else { return };
        if study.settings.target.is_none() {
            result = Err(matching::NEEDS_TARGET.to_owned());
            return;
        }
        let said = matching::log_shown(&study.settings, &study.scale.unit);
        study.decided_at = Some(when.clone());
        study.note_in_log(&when, LogKind::Settled, said);
    });
    result
}

/// Names the target, or none.
pub fn set_target(app: AppState, name: Option<&str>) {
    decide(app, LogKind::Decided, |study| {
        let target = name.filter(|name| study.sample_index(name).is_some()).map(str::to_owned);
        if study.settings.target == target {
            return None;
        }
        let before = std::mem::replace(&mut study.settings.target, target.clone());
        if study.settings.blind_duplicate == study.settings.target {
            study.settings.blind_duplicate = None;
        }
        Some(matching::log_target(before.as_deref(), target.as_deref(), is_seen(study)))
    });
}

/// Says which sample is the target again under another code, or that none is.
pub fn set_blind_duplicate(app: AppState, name: Option<&str>) {
    decide(app, LogKind::Decided, |study| {
        let known =
            name.filter(|name| study.sample_index(name).is_some() && study.settings.target.as_deref() != Some(name));
        if study.settings.blind_duplicate.as_deref() == known {
            return None;
        }
        study.settings.blind_duplicate = known.map(str::to_owned);
        Some(matching::log_blind_duplicate(known, is_seen(study)))
    });
}

/// Sets the margin for all attributes without one of their own, from what was typed.
pub fn set_margin(app: AppState, typed: &str, scale_maximum: f64) -> Result<(), Refusal> {
    let width = margin_from(typed, scale_maximum)?;
    decide(app, LogKind::MarginDecided, |study| {
        let before = study.settings.margin.width_mm;
        if (before - width).abs() < f64::EPSILON {
            return None;
        }
        study.settings.margin.width_mm = width;
        Some(matching::log_margin(before, width, &study.scale.unit, is_seen(study)))
    });
    Ok(())
}

/// Sets the profile margin, as a share of the margins, from what was typed.
pub fn set_profile_share(app: AppState, typed: &str) -> Result<(), Refusal> {
    let share = share_from(typed, false)?;
    decide(app, LogKind::MarginDecided, |study| {
        let before = study.settings.profile_share;
        if (before - share).abs() < f64::EPSILON {
            return None;
        }
        study.settings.profile_share = share;
        Some(matching::log_profile_share(before, share, is_seen(study)))
    });
    Ok(())
}

/// Says whether both cups of a target that was served twice make its mean.
pub fn set_both_cups(app: AppState, both: bool) {
    decide(app, LogKind::Decided, |study| {
        if study.settings.both_cups == both {
            return None;
        }
        study.settings.both_cups = both;
        Some(matching::log_both_cups(both, is_seen(study)))
    });
}

/// Says whether the chance of calling anything wrongly off is held over all candidates together.
pub fn set_together(app: AppState, together: bool) {
    decide(app, LogKind::Decided, |study| {
        if study.settings.candidates_together == together {
            return None;
        }
        study.settings.candidates_together = together;
        Some(matching::log_together(together, is_seen(study)))
    });
}

/// Gives one attribute a margin of its own, or takes it away where nothing is typed.
pub fn set_attribute_margin(app: AppState, attribute: &str, typed: &str, scale_maximum: f64) -> Result<(), Refusal> {
    let width = if typed.trim().is_empty() { None } else { Some(margin_from(typed, scale_maximum)?) };
    decide(app, LogKind::MarginDecided, |study| {
        let margins = &mut study.settings.margin.by_attribute;
        let before = match width {
            Some(width) => margins.insert(attribute.to_owned(), width),
            None => margins.remove(attribute),
        };
        if before == width {
            return None;
        }
        Some(matching::log_attribute_margin(attribute, before, width, &study.scale.unit, is_seen(study)))
    });
    Ok(())
}

/// Says where the margin comes from.
pub fn set_margin_origin(app: AppState, origin: MarginOrigin) {
    decide(app, LogKind::MarginDecided, |study| {
        if study.settings.margin.origin == origin {
            return None;
        }
        study.settings.margin.origin = origin.clone();
        Some(matching::log_margin_origin(&origin, is_seen(study)))
    });
}

/// Adds an attribute to the deciding ones or takes it off. The last one stays: a verdict needs at least one.
pub fn set_deciding(app: AppState, attribute: &str, decides: bool) -> Result<(), Refusal> {
    let mut refusal = None;
    decide(app, LogKind::Decided, |study| {
        let Some(deciding) = deciding_with(study, attribute, decides) else {
            refusal = Some(words::REFUSED_NO_DECIDING.to_owned());
            return None;
        };
        if study.settings.deciding == deciding {
            return None;
        }
        study.settings.deciding = deciding;
        Some(matching::log_deciding(attribute, decides, is_seen(study)))
    });
    refusal.map_or(Ok(()), Err)
}

/// The deciding attributes with one added or taken off, in the order of the study; empty where all decide, `None` where
/// none would.
fn deciding_with(study: &Study, attribute: &str, decides: bool) -> Option<Vec<String>> {
    let all: Vec<&String> = study.active_attributes().into_iter().map(|index| &study.attributes[index].name).collect();
    let before = &study.settings.deciding;
    let decided = |name: &String| before.is_empty() || before.contains(name);
    let stays = |name: &String| if name == attribute { decides } else { decided(name) };
    let deciding: Vec<String> = all.iter().filter(|name| stays(name)).map(|name| (*name).clone()).collect();
    match deciding.len() {
        0 => None,
        every if every == all.len() => Some(Vec::new()),
        _ => Some(deciding),
    }
}

/// Sets the chance of a wrong claim.
pub fn set_alpha(app: AppState, alpha: f64) {
    decide(app, LogKind::Decided, |study| {
        let before = study.settings.alpha;
        if !(alpha > 0.0 && alpha < 0.5) || (before - alpha).abs() < f64::EPSILON {
            return None;
        }
        study.settings.alpha = alpha;
        Some(matching::log_alpha(before, alpha, is_seen(study)))
    });
}

/// Says whether an attribute describes one character or sums up several.
pub fn set_kind(app: AppState, attribute: &str, kind: AttributeKind) {
    decide(app, LogKind::Stated, |study| {
        let index = study.attribute_index(attribute)?;
        if study.attributes[index].kind == kind {
            return None;
        }
        study.attributes[index].kind = kind;
        Some(matching::log_kind(attribute, kind))
    });
}

/// A margin from what was typed: a number above zero, below the length of the scale; a decimal comma is understood.
pub fn margin_from(typed: &str, scale_maximum: f64) -> Result<f64, Refusal> {
    let number: Option<f64> = typed.trim().replace(',', ".").parse().ok();
    match number {
        Some(width) if width.is_finite() && width > 0.0 && width < scale_maximum => Ok(width),
        Some(_) => Err(words::refused_margin_range(scale_maximum)),
        None => Err(words::refused_margin_no_number(typed)),
    }
}

fn is_seen(study: &Study) -> bool {
    study.decided_at.is_some()
}
