//! What such a report should say and nobody stated, for one line of it. It knows nothing of HTML.

use crate::study::{ReportField, Study};

/// Each thing once, in the order of the report; things of samples or attributes by the names that lack them.
pub(super) fn not_stated(study: &Study) -> Vec<String> {
    let fields = ReportField::ALL.into_iter().filter(|field| is_blank(study.report.text(*field)));
    let mut missing: Vec<String> = fields.map(|field| field.in_words().to_owned()).collect();
    let samples: Vec<&str> = study.samples.iter().map(|sample| sample.name.as_str()).collect();
    let attributes: Vec<&str> = study.attributes.iter().map(|attribute| attribute.name.as_str()).collect();
    let (lots, references) = (&study.report.lots, &study.report.references);
    let lists = [
        ("lots", "samples", samples.clone(), lacking(&samples, |index| is_blank_in(lots.get(samples[index])))),
        ("codes", "samples", samples.clone(), lacking(&samples, |index| study.samples[index].codes.is_empty())),
        (
            "definitions",
            "attributes",
            attributes.clone(),
            lacking(&attributes, |index| is_blank(Some(&study.attributes[index].definition))),
        ),
        (
            "references",
            "attributes",
            attributes.clone(),
            lacking(&attributes, |index| is_blank_in(references.get(attributes[index]))),
        ),
        (
            "ends of the line",
            "attributes",
            attributes.clone(),
            lacking(&attributes, |index| {
                let attribute = &study.attributes[index];
                is_blank(Some(&attribute.low_end)) && is_blank(Some(&attribute.high_end))
            }),
        ),
    ];
    missing.extend(lists.into_iter().filter_map(|(what, of, all, lacking)| list(what, of, all.len(), &lacking)));
    if study.servings.iter().all(|serving| serving.position.is_none()) {
        missing.push("serving orders".to_owned());
    }
    if study.files.is_empty() {
        missing.push("files that the scores came from".to_owned());
    }
    missing
}

/// "lots of all samples", "lots of A, B"; nothing where none lacks it.
fn list(what: &str, of: &str, all: usize, lacking: &[&str]) -> Option<String> {
    match lacking.len() {
        0 => None,
        number if number == all => Some(format!("{what} of all {of}")),
        _ => Some(format!("{what} of {}", lacking.join(", "))),
    }
}

fn lacking<'n>(names: &[&'n str], lacks: impl Fn(usize) -> bool) -> Vec<&'n str> {
    (0..names.len()).filter(|index| lacks(*index)).map(|index| names[index]).collect()
}

fn is_blank(text: Option<&str>) -> bool {
    text.is_none_or(|text| text.trim().is_empty())
}

fn is_blank_in(text: Option<&String>) -> bool {
    is_blank(text.map(String::as_str))
}
