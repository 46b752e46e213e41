//! What stands in a study, in words: where a margin comes from, what an exclusion hides, which decisions came late.

use crate::study::{AttributeKind, Edit, ExclusionScope, LogEntry, MarginOrigin, Study};
pub use crate::text::numbers::typed as typed_number;

/// Where a margin comes from.
pub fn margin_origin(origin: &MarginOrigin) -> String {
    origin.in_words()
}

pub fn attribute_kind(kind: AttributeKind) -> &'static str {
    match kind {
        AttributeKind::Analytic => "one character",
        AttributeKind::Integrated => "sums up several",
    }
}

/// "assessor Anna", "the mark for green of Anna, A, replicate 1": what a scope hides.
pub fn exclusion_scope(study: &Study, scope: ExclusionScope) -> String {
    let attribute = |index: usize| study.attributes.get(index).map_or("", |attribute| &attribute.name);
    match scope {
        ExclusionScope::Assessor(index) => named("assessor", assessor_name(study, index)),
        ExclusionScope::Sample(index) => named("sample", study.samples.get(index).map_or("", |sample| &sample.name)),
        ExclusionScope::Attribute(index) => named("attribute", attribute(index)),
        ExclusionScope::Serving(index) => format!("the page of {}", serving(study, index)),
        ExclusionScope::Score { serving: index, attribute: of } => {
            format!("the mark for {} of {}", attribute(of), serving(study, index))
        }
    }
}

/// What `edit_in_words` tells.
pub const EDIT_HEADS: [&str; 5] = ["mark", "as it came", "now", "reason", "when"];

/// One corrected mark: which, what stood there, what stands there now, why, when.
pub fn edit_in_words(study: &Study, edit: &Edit) -> [String; 5] {
    let score = |score: Option<f64>| score.map_or_else(|| "no mark".to_owned(), |score| score.to_string());
    let scope = ExclusionScope::Score { serving: edit.serving, attribute: edit.attribute };
    let mark = exclusion_scope(study, scope);
    [mark, score(edit.before), score(edit.after), edit.reason.clone(), edit.when.clone()]
}

/// Lines of the log about decisions made when the verdict had been seen.
pub fn late_decisions(study: &Study) -> Vec<&LogEntry> {
    study.log.iter().filter(|entry| entry.is_late_decision()).collect()
}

fn serving(study: &Study, index: usize) -> String {
    study.servings.get(index).map_or_else(String::new, |serving| {
        let sample = study.samples.get(serving.sample as usize).map_or("", |sample| &sample.name);
        format!("{}, {sample}, replicate {}", assessor_name(study, serving.assessor as usize), serving.replicate)
    })
}

fn assessor_name(study: &Study, index: usize) -> &str {
    study.assessors.get(index).map_or("", |assessor| &assessor.name)
}

/// The word before the name, unless the name starts with it already.
fn named(word: &str, name: &str) -> String {
    let starts = name.get(..word.len()).is_some_and(|start| start.eq_ignore_ascii_case(word));
    if starts { name.to_owned() } else { format!("{word} {name}") }
}
