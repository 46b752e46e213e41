//! All scores as one tidy table: one score a line, one header row, UTF-8, decimal points. R and Python read it as it is,
//! and Likeness reads it back to the same scores.

use crate::study::{ExclusionScope, Study};
use crate::text::csv::{harmless_cell, quoted};
use crate::text::tidy_columns::TIDY_COLUMNS;
use std::collections::BTreeMap;

/// One score with all that names it, as the tidy table and the workbook show it.
pub struct TidyRow<'a> {
    pub assessor: &'a str,
    pub sample: &'a str,
    pub replicate: u32,
    pub session: Option<&'a str>,
    pub position: Option<u32>,
    pub label: Option<&'a str>,
    pub attribute: &'a str,
    /// `None` where the mark is missing.
    pub score: Option<f64>,
    /// Why it does not count; empty where it does.
    pub excluded_because: Vec<&'a str>,
    pub file: &'a str,
    /// The sheet, where the file is a workbook.
    pub sheet: Option<&'a str>,
    /// From 1; 0 where the score was typed into the page.
    pub row: u32,
    /// From 1; 0 where the score was typed into the page.
    pub column: u16,
}

/// The table as CSV text, lines ended by LF. What is missing is an empty cell.
pub fn tidy_csv(study: &Study) -> String {
    let labels = has_labels(study);
    let sheets = has_sheets(study);
    let is_there = |head: &&&str| (labels || **head != "label") && (sheets || **head != "source_sheet");
    let heads = TIDY_COLUMNS.iter().filter(is_there);
    let mut text = heads.copied().collect::<Vec<_>>().join(",");
    text.push('\n');
    for row in tidy_rows(study) {
        let mut cells = vec![words(row.assessor), words(row.sample), row.replicate.to_string()];
        cells.push(words(row.session.unwrap_or_default()));
        cells.push(number(row.position));
        if labels {
            cells.push(words(row.label.unwrap_or_default()));
        }
        cells.push(words(row.attribute));
        cells.push(number(row.score));
        cells.push(if row.excluded_because.is_empty() { "FALSE" } else { "TRUE" }.to_owned());
        cells.push(words(&row.excluded_because.join("; ")));
        cells.push(words(row.file));
        if sheets {
            cells.push(words(row.sheet.unwrap_or_default()));
        }
        cells.extend([row.row.to_string(), row.column.to_string()]);
        text.push_str(&cells.join(","));
        text.push('\n');
    }
    text
}

/// Every mark of every serving, missing ones too, in the order of the study.
pub fn tidy_rows(study: &Study) -> Vec<TidyRow<'_>> {
    let reasons = Reasons::of(study);
    let mut rows = Vec::with_capacity(study.servings.len() * study.attributes.len());
    for (index, serving) in study.servings.iter().enumerate() {
        for (place, attribute) in study.attributes.iter().enumerate() {
            let origin = study.origin(index, place).unwrap_or_default();
            let file = study.files.get(origin.file as usize);
            rows.push(TidyRow {
                assessor: study.assessors.get(serving.assessor as usize).map_or("", |assessor| &assessor.name),
                sample: study.samples.get(serving.sample as usize).map_or("", |sample| &sample.name),
                replicate: serving.replicate,
                session: serving.session.and_then(|at| study.sessions.get(at as usize)).map(String::as_str),
                position: serving.position,
                label: serving.label.as_deref(),
                attribute: &attribute.name,
                score: study.score(index, place),
                excluded_because: reasons.of_score(study, index, place),
                file: file.map_or("", |file| &file.name),
                sheet: file.and_then(|file| file.sheet.as_deref()),
                row: origin.row,
                column: origin.column,
            });
        }
    }
    rows
}

pub(in crate::write) fn has_labels(study: &Study) -> bool {
    study.servings.iter().any(|serving| serving.label.is_some())
}

fn has_sheets(study: &Study) -> bool {
    study.files.iter().any(|file| file.sheet.is_some())
}

/// Reasons by what they hide, so that a long list of exclusions does not make every score slow.
#[derive(Default)]
struct Reasons<'a> {
    assessors: BTreeMap<usize, Vec<&'a str>>,
    samples: BTreeMap<usize, Vec<&'a str>>,
    attributes: BTreeMap<usize, Vec<&'a str>>,
    servings: BTreeMap<usize, Vec<&'a str>>,
    scores: BTreeMap<(usize, usize), Vec<&'a str>>,
}

impl<'a> Reasons<'a> {
    fn of(study: &'a Study) -> Self {
        let mut reasons = Reasons::default();
        for exclusion in &study.exclusions {
            let list = match exclusion.scope {
                ExclusionScope::Assessor(index) => reasons.assessors.entry(index).or_default(),
                ExclusionScope::Sample(index) => reasons.samples.entry(index).or_default(),
                ExclusionScope::Attribute(index) => reasons.attributes.entry(index).or_default(),
                ExclusionScope::Serving(index) => reasons.servings.entry(index).or_default(),
                ExclusionScope::Score { serving, attribute } => reasons.scores.entry((serving, attribute)).or_default(),
            };
            list.push(&exclusion.reason);
        }
        reasons
    }

    fn of_score(&self, study: &Study, serving: usize, attribute: usize) -> Vec<&'a str> {
        let at = &study.servings[serving];
        let found = [
            self.assessors.get(&(at.assessor as usize)),
            self.samples.get(&(at.sample as usize)),
            self.attributes.get(&attribute),
            self.servings.get(&serving),
            self.scores.get(&(serving, attribute)),
        ];
        found.into_iter().flatten().flatten().copied().collect()
    }
}

fn words(text: &str) -> String {
    quoted(&harmless_cell(text))
}

fn number<T: ToString>(value: Option<T>) -> String {
    value.map_or_else(String::new, |value| value.to_string())
}
