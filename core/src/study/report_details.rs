//! What a report must say and no score file tells: purpose, lots, room, who answers for it. Words of the leader, kept as
//! typed. It knows nothing of how a report looks.

use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// One thing that the leader states in words. Missing ones are printed as not stated.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ReportField {
    /// What the tasting was meant to decide, and for whom.
    Purpose,
    /// Where the samples came from, their lots and age.
    Samples,
    /// How they were made ready: dose, medium, dilution, temperature.
    Preparation,
    /// How they were served: amount, vessel, cover, rinsing, breaks.
    Serving,
    /// Room and light (ISO 8589 names what matters).
    Room,
    /// How the assessors were chosen and trained (ISO 8586).
    Training,
    /// Where the vocabulary and its references come from.
    Vocabulary,
    /// How the scale was marked and explained.
    Scale,
    /// Design of the serving orders, where it is not seen from the positions in the scores.
    Design,
    /// Dates of the sessions.
    Dates,
    /// What was done to the scores before they were opened here.
    Treatment,
    /// What went other than planned.
    Deviations,
    /// Who answers for the test and for this report.
    Responsible,
    /// Date of the report: typed, so that the same study gives the same report on any day.
    ReportDate,
}

/// All of it, with what belongs to one sample or attribute.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct ReportDetails {
    /// What is stated; what is not has no entry.
    pub texts: BTreeMap<ReportField, String>,
    /// Lot of a sample, by its name.
    pub lots: BTreeMap<String, String>,
    /// Reference of an attribute (what the assessors smelt or tasted to learn it), by its name.
    pub references: BTreeMap<String, String>,
    /// Whether the report names assessors by number: their names are personal data.
    pub assessors_as_numbers: bool,
}

impl ReportField {
    /// In the order of the report.
    pub const ALL: [ReportField; 14] = [
        ReportField::Purpose,
        ReportField::Samples,
        ReportField::Preparation,
        ReportField::Serving,
        ReportField::Room,
        ReportField::Training,
        ReportField::Vocabulary,
        ReportField::Scale,
        ReportField::Design,
        ReportField::Dates,
        ReportField::Treatment,
        ReportField::Deviations,
        ReportField::Responsible,
        ReportField::ReportDate,
    ];

    /// What the field is called wherever it is shown.
    pub fn in_words(self) -> &'static str {
        match self {
            ReportField::Purpose => "Purpose",
            ReportField::Samples => "Origin of the samples",
            ReportField::Preparation => "Preparation",
            ReportField::Serving => "Serving",
            ReportField::Room => "Room and light",
            ReportField::Training => "Choice and training of assessors",
            ReportField::Vocabulary => "Where the vocabulary comes from",
            ReportField::Scale => "How the scale was marked",
            ReportField::Design => "Design",
            ReportField::Dates => "Dates",
            ReportField::Treatment => "What was done to the scores before",
            ReportField::Deviations => "Other than planned",
            ReportField::Responsible => "Responsible",
            ReportField::ReportDate => "Date of this report",
        }
    }
}

impl ReportDetails {
    /// What is stated, or nothing.
    pub fn text(&self, field: ReportField) -> Option<&str> {
        self.texts.get(&field).map(String::as_str)
    }

    /// States something; an empty text takes it back. Gives what stood there before.
    pub fn state(&mut self, field: ReportField, text: &str) -> Option<String> {
        put(&mut self.texts, field, text)
    }

    /// States the lot of a sample; an empty text takes it back.
    pub fn state_lot(&mut self, sample: &str, text: &str) -> Option<String> {
        put(&mut self.lots, sample.to_owned(), text)
    }

    /// States the reference of an attribute; an empty text takes it back.
    pub fn state_reference(&mut self, attribute: &str, text: &str) -> Option<String> {
        put(&mut self.references, attribute.to_owned(), text)
    }
}

fn put<K: Ord>(into: &mut BTreeMap<K, String>, key: K, text: &str) -> Option<String> {
    let text = text.trim();
    if text.is_empty() { into.remove(&key) } else { into.insert(key, text.to_owned()) }
}
