//! What a draft still lacks, or what is doubtful in it, before a plan can be made of it. Pure functions of the draft.

use crate::words::plan as say;
use likeness_core::notice::{Notice, Place, Severity};
use likeness_core::plan::brief::draft::PlanDraft;

/// What is missing or doubtful in the brief. Its date comes with the plan and is not asked for.
pub fn missing_in_brief(draft: &PlanDraft) -> Vec<Notice> {
    let mut dated = draft.brief.clone();
    dated.written_at = "later".to_owned();
    let mut notices = dated.check(&draft.attributes);
    notices.extend(faults_of_names(&draft.assessors()));
    notices
}

/// What the brief and the attribute list still lack.
pub fn missing_in(draft: &PlanDraft) -> Vec<Notice> {
    let mut notices = missing_in_brief(draft);
    if draft.attributes.attributes.is_empty() {
        let warnings = draft.attributes.warnings();
        notices.extend(warnings.into_iter().map(|notice| Notice { severity: Severity::Refused, ..notice }));
    }
    notices
}

/// Nobody named, or somebody named twice.
fn faults_of_names(names: &[String]) -> Vec<Notice> {
    let refused = |what: String, hint: &str| Notice::new(Severity::Refused, Place::default(), what, hint);
    if names.is_empty() {
        return vec![refused(say::NO_ASSESSORS.to_owned(), say::NO_ASSESSORS_HINT)];
    }
    let is_twice = |(index, name): &(usize, &String)| {
        names[..*index].iter().any(|earlier| earlier.to_lowercase() == name.to_lowercase())
    };
    let twice = names.iter().enumerate().filter(is_twice);
    twice.map(|(_, name)| refused(say::named_twice(name), say::NAMED_TWICE_HINT)).collect()
}
