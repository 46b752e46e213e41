//! What was tasted, by whom, how: samples, serving, room, assessors, vocabulary, scale, design, sessions.

use super::html::Html;
use super::not_stated::not_stated;
use super::stated::stated;
use crate::study::{Attribute, ReportField, Study};
use crate::write::study_words::{attribute_kind, typed_number};
use std::collections::BTreeMap;

/// With more servings than this the table of orders would be longer than the rest: the files hold them.
const ORDERS_PRINTED_AT_MOST: usize = 600;

pub(in crate::write) fn sections(html: &mut Html, study: &Study) {
    html.section("Samples and lots", |html| samples(html, study));
    html.section("Preparation and serving", |html| {
        stated(html, study, ReportField::Preparation);
        stated(html, study, ReportField::Serving);
    });
    html.section("Room and light", |html| stated(html, study, ReportField::Room));
    html.section("Assessors", |html| assessors(html, study));
    html.section("Vocabulary", |html| vocabulary(html, study));
    html.section("Scale", |html| scale(html, study));
    html.section("Design", |html| design(html, study));
    html.section("Sessions and dates", |html| {
        let names = if study.sessions.is_empty() { None } else { Some(study.sessions.join(", ")) };
        html.stated("Sessions named in the scores", names.as_deref());
        stated(html, study, ReportField::Dates);
    });
    let not_stated = not_stated(study);
    if !not_stated.is_empty() {
        html.section("Not stated", |html| html.paragraph(&format!("{}.", not_stated.join("; "))));
    }
}

fn samples(html: &mut Html, study: &Study) {
    let role = |index: usize, name: &str| {
        let is = |settled: &Option<String>| settled.as_deref() == Some(name);
        let role = match () {
            () if is(&study.settings.target) => "target",
            () if is(&study.settings.blind_duplicate) => "target again, under another code",
            () => "candidate",
        };
        if study.sample_is_excluded(index) { format!("{role}, left out") } else { role.to_owned() }
    };
    let mut servings = vec![0_usize; study.samples.len()];
    study.servings.iter().for_each(|serving| servings[serving.sample as usize] += 1);
    let rows: Vec<Vec<String>> = study
        .samples
        .iter()
        .enumerate()
        .map(|(index, sample)| {
            vec![
                sample.name.clone(),
                role(index, &sample.name),
                or_dash(study.report.lots.get(&sample.name)),
                or_dash(Some(&sample.codes.join(", "))),
                servings[index].to_string(),
            ]
        })
        .collect();
    html.words_table("What was tasted", &["sample", "role", "lot", "codes", "servings"], &rows);
    stated(html, study, ReportField::Samples);
}

fn assessors(html: &mut Html, study: &Study) {
    let excluded = (0..study.assessors.len()).filter(|index| study.assessor_is_excluded(*index)).count();
    let left_out = if excluded == 0 { "none left out".to_owned() } else { format!("{excluded} left out") };
    html.stated("Number", Some(&format!("{} ({left_out})", study.assessors.len())));
    let names: Vec<&str> = study.assessors.iter().map(|assessor| assessor.name.as_str()).collect();
    if study.report.assessors_as_numbers {
        html.stated("Named", Some("by number in this report; the study file holds the names"));
    } else {
        html.stated("Named", Some(&names.join(", ")));
    }
    stated(html, study, ReportField::Training);
}

fn vocabulary(html: &mut Html, study: &Study) {
    let ends = |attribute: &Attribute| match (attribute.low_end.as_str(), attribute.high_end.as_str()) {
        ("", "") => String::new(),
        (low, high) => format!("{low} – {high}"),
    };
    let rows: Vec<Vec<String>> = study
        .attributes
        .iter()
        .enumerate()
        .map(|(index, attribute)| {
            let left_out = if study.attribute_is_excluded(index) { ", left out" } else { "" };
            vec![
                attribute.name.clone(),
                or_dash(Some(&attribute.definition)),
                or_dash(study.report.references.get(&attribute.name)),
                or_dash(Some(&ends(attribute))),
                format!("{}{left_out}", attribute_kind(attribute.kind)),
            ]
        })
        .collect();
    html.words_table("Attributes", &["attribute", "definition", "reference", "ends of the line", "kind"], &rows);
    stated(html, study, ReportField::Vocabulary);
}

fn scale(html: &mut Html, study: &Study) {
    let scale = &study.scale;
    let ends = format!("{} to {} {}", typed_number(scale.minimum), typed_number(scale.maximum), scale.unit);
    html.stated("Scores run from", Some(&ends));
    stated(html, study, ReportField::Scale);
}

fn design(html: &mut Html, study: &Study) {
    let count = |count: usize, one: &str, many: &str| format!("{count} {}", if count == 1 { one } else { many });
    html.stated(
        "Size",
        Some(&format!(
            "{}, {}, {}, up to {}; {} and {}",
            count(study.assessors.len(), "assessor", "assessors"),
            count(study.samples.len(), "sample", "samples"),
            count(study.attributes.len(), "attribute", "attributes"),
            count(study.replicate_count() as usize, "replicate", "replicates"),
            count(study.servings.len(), "serving", "servings"),
            count(study.score_count(), "score", "scores"),
        )),
    );
    stated(html, study, ReportField::Design);
    let with_position = study.servings.iter().filter(|serving| serving.position.is_some()).count();
    if with_position == 0 {
        // Named among what is not stated.
    } else if with_position > ORDERS_PRINTED_AT_MOST {
        html.stated("Serving orders", Some("in the table of scores that belongs to this report, column position"));
    } else {
        orders(html, study);
    }
}

/// One line an assessor, session and replicate; one column a position.
fn orders(html: &mut Html, study: &Study) {
    let mut lines: BTreeMap<(u32, Option<u32>, u32), BTreeMap<u32, String>> = BTreeMap::new();
    let mut positions: Vec<u32> = study.servings.iter().filter_map(|serving| serving.position).collect();
    positions.sort_unstable();
    positions.dedup();
    for serving in &study.servings {
        let Some(position) = serving.position else { continue };
        let sample = study.samples.get(serving.sample as usize).map_or("", |sample| &sample.name);
        let cell = lines.entry((serving.assessor, serving.session, serving.replicate)).or_default();
        let cup = cell.entry(position).or_default();
        if !cup.is_empty() {
            cup.push_str(", ");
        }
        cup.push_str(sample);
    }
    let rows: Vec<Vec<String>> = lines
        .iter()
        .map(|((assessor, session, replicate), cups)| {
            let assessor = study.assessors.get(*assessor as usize).map_or("", |assessor| &assessor.name);
            let session = session.and_then(|index| study.sessions.get(index as usize));
            let mut row =
                vec![assessor.to_owned(), session.cloned().unwrap_or_else(|| "–".to_owned()), replicate.to_string()];
            row.extend(positions.iter().map(|position| cups.get(position).cloned().unwrap_or_default()));
            row
        })
        .collect();
    let position_heads: Vec<String> = positions.iter().map(u32::to_string).collect();
    let mut heads = vec!["assessor", "session", "replicate"];
    heads.extend(position_heads.iter().map(String::as_str));
    html.words_table("Serving orders: the sample at each position", &heads, &rows);
}

fn or_dash(text: Option<&String>) -> String {
    text.filter(|text| !text.trim().is_empty()).map_or_else(|| "–".to_owned(), Clone::clone)
}
