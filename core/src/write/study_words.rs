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

/// What `edit_in_words` tells.
pub const EDIT_HEADS: [&str; 5] = ["mark", "as it came", "now", "reason", "when"];

/// One corrected mark: which, what stood there, what stands there now, why, when.
pub fn edit_in_words(study: &Study, edit: &Edit) -> [String; 5] {
    let score = |score: Option<f64>| score.map_or_else(|| "no mark".to_owned(), |score| score.to_string());
    let scope = ExclusionScope::Score { serving: edit.serving, attribute: edit.attribute };
    let mark = study.scope_in_words(scope);
    [mark, score(edit.before), score(edit.after), edit.reason.clone(), edit.when.clone()]
}

/// Lines of the log about decisions made when the verdict had been seen.
pub fn late_decisions(study: &Study) -> Vec<&LogEntry> {
    study.log.iter().filter(|entry| entry.is_late_decision()).collect()
}
