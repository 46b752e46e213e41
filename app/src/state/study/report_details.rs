//! What the leader states for the report: purpose, lots, room, definitions, who answers for it. Each is one step that
//! can be undone and stands in the log.

pub use crate::words::report::AttributeText;

use crate::state::actions::decide;
use crate::state::app_state::AppState;
use crate::words::report as words;
use likeness_core::study::{Attribute, LogKind, ReportField};

/// States something in words; an empty text takes it back.
pub fn state_text(app: AppState, field: ReportField, typed: &str) {
    decide(app, LogKind::Stated, |study| {
        let before = study.report.text(field).unwrap_or_default().to_owned();
        study.report.state(field, typed);
        let after = study.report.text(field).unwrap_or_default();
        (before != after).then(|| words::log_stated(field.in_words(), after))
    });
}

/// States the lot of a sample.
pub fn state_lot(app: AppState, sample: &str, typed: &str) {
    decide(app, LogKind::Stated, |study| {
        let before = study.report.state_lot(sample, typed);
        let after = study.report.lots.get(sample);
        (before.as_ref() != after).then(|| words::log_stated(&words::lot_of(sample), after.map_or("", |text| text)))
    });
}

/// States the definition, the reference or an end word of an attribute.
pub fn state_attribute(app: AppState, attribute: &str, which: AttributeText, typed: &str) {
    decide(app, LogKind::Stated, |study| {
        let index = study.attribute_index(attribute)?;
        let changed = match place_of(&mut study.attributes[index], which) {
            Some(place) => {
                let after = typed.trim().to_owned();
                let changed = *place != after;
                *place = after;
                changed
            }
            None => {
                let before = study.report.state_reference(attribute, typed);
                before.as_ref() != study.report.references.get(attribute)
            }
        };
        changed.then(|| words::log_stated(&words::attribute_text_of(attribute, which), typed.trim()))
    });
}

/// Whether the report names assessors by number instead of by name.
pub fn number_assessors(app: AppState, by_number: bool) {
    decide(app, LogKind::Stated, |study| {
        if study.report.assessors_as_numbers == by_number {
            return None;
        }
        study.report.assessors_as_numbers = by_number;
        Some(words::log_assessors(by_number).to_owned())
    });
}

/// Gives the study another name.
pub fn rename_study(app: AppState, typed: &str) {
    decide(app, LogKind::Stated, |study| {
        let after = typed.trim();
        if after.is_empty() || study.title == after {
            return None;
        }
        let before = std::mem::replace(&mut study.title, after.to_owned());
        Some(words::log_renamed(&before, after))
    });
}

/// Where the words stand in the attribute itself; the reference stands in the details of the report.
fn place_of(attribute: &mut Attribute, which: AttributeText) -> Option<&mut String> {
    match which {
        AttributeText::Definition => Some(&mut attribute.definition),
        AttributeText::LowEnd => Some(&mut attribute.low_end),
        AttributeText::HighEnd => Some(&mut attribute.high_end),
        AttributeText::Reference => None,
    }
}
