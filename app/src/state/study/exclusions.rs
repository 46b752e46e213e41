//! Leaving something out, with a reason, and taking it back in. Nothing is ever deleted.

use super::decisions::Refusal;
use crate::state::actions::decide;
use crate::state::app_state::AppState;
use crate::words;
use likeness_core::stats::panel::form_faults::Suspicion;
use likeness_core::study::{ExclusionScope, LogKind, Study};

/// Leaves something out. A reason is needed: it stands in the log and prints with the report.
///
/// Errors: no reason, in words.
pub fn exclude(app: AppState, scope: ExclusionScope, reason: &str) -> Result<(), Refusal> {
    exclude_together(app, &[scope], reason)
}

/// Leaves several things out as one step, for one reason.
///
/// Errors: no reason, in words.
pub fn exclude_together(app: AppState, scopes: &[ExclusionScope], reason: &str) -> Result<(), Refusal> {
    let reason = stated_reason(reason)?;
    let when = app.now();
    decide(app, LogKind::Excluded, |study| {
        let is_new = |scope: &ExclusionScope| study.exclusions.iter().all(|exclusion| exclusion.scope != *scope);
        let new: Vec<ExclusionScope> = scopes.iter().copied().filter(is_new).collect();
        let named = likeness_core::tables::words::first_of(
            &new.iter().map(|scope| scope_in_words(study, *scope)).collect::<Vec<_>>(),
        );
        new.iter().for_each(|scope| study.leave_out(*scope, &reason, &when));
        (!new.is_empty()).then(|| words::log_excluded(&named, &reason))
    });
    Ok(())
}

/// What a suspicion speaks of: its pages, all scores of one person on one attribute, or the person.
pub fn suspected(study: &Study, suspicion: &Suspicion) -> Vec<ExclusionScope> {
    if !suspicion.servings.is_empty() {
        return suspicion.servings.iter().map(|serving| ExclusionScope::Serving(*serving as usize)).collect();
    }
    let Some(assessor) = study.assessors.iter().position(|one| one.name == suspicion.assessor) else {
        return Vec::new();
    };
    let Some(attribute) = suspicion.attribute.as_ref().and_then(|name| study.attribute_index(name)) else {
        return vec![ExclusionScope::Assessor(assessor)];
    };
    let own = study.servings.iter().enumerate().filter(|(_, page)| page.assessor as usize == assessor);
    own.map(|(serving, _)| ExclusionScope::Score { serving, attribute }).collect()
}

/// A reason without the blanks around it and the full stop behind it, which the log sets itself.
///
/// Errors: no reason, in words.
pub fn stated_reason(typed: &str) -> Result<String, Refusal> {
    let reason = typed.trim().trim_end_matches('.').trim_end();
    if reason.is_empty() { Err(words::REFUSED_NO_REASON.to_owned()) } else { Ok(reason.to_owned()) }
}

/// Takes back in what was left out.
pub fn include(app: AppState, scope: ExclusionScope) {
    decide(app, LogKind::TakenBack, |study| {
        let before = study.exclusions.len();
        study.exclusions.retain(|exclusion| exclusion.scope != scope);
        (study.exclusions.len() < before).then(|| words::log_included(&scope_in_words(study, scope)))
    });
}

/// "assessor Anna", "attribute green": what a scope hides, by its name.
pub fn scope_in_words(study: &Study, scope: ExclusionScope) -> String {
    let serving_in_words = |index: usize| {
        study.servings.get(index).map_or_else(String::new, |serving| {
            let assessor = study.assessors.get(serving.assessor as usize).map_or("", |assessor| &assessor.name);
            let sample = study.samples.get(serving.sample as usize).map_or("", |sample| &sample.name);
            words::serving_in_words(assessor, sample, serving.replicate)
        })
    };
    let attribute_name = |index: usize| study.attributes.get(index).map_or("", |attribute| &attribute.name);
    match scope {
        ExclusionScope::Assessor(index) => {
            words::assessor_named(study.assessors.get(index).map_or("", |assessor| &assessor.name))
        }
        ExclusionScope::Sample(index) => {
            words::sample_named(study.samples.get(index).map_or("", |sample| &sample.name))
        }
        ExclusionScope::Attribute(index) => words::attribute_named(attribute_name(index)),
        ExclusionScope::Serving(index) => words::serving_named(&serving_in_words(index)),
        ExclusionScope::Score { serving, attribute } => {
            words::score_named(attribute_name(attribute), &serving_in_words(serving))
        }
    }
}
