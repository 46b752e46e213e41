//! The record: exclusions, repairs, what was flagged, deviations, what was done, files, program.

use super::html::Html;
use super::stated::stated;
use crate::notice::{Notice, Severity};
use crate::stats::Analysis;
use crate::study::{PictureRecord, ReportField, Study};
use crate::write::picture_words::{MEASURED_ON, spot_check, ways};
use crate::write::study_words::{EDIT_HEADS, edit_in_words};

pub(in crate::write) fn sections(html: &mut Html, study: &Study, analysis: &Analysis) {
    html.section("Left out", |html| exclusions(html, study));
    html.section("Corrected marks", |html| edits(html, study));
    html.section("Repaired or flagged", |html| notices(html, study, analysis));
    html.section("Deviations", |html| {
        stated(html, study, ReportField::Deviations);
        noted(html, study);
    });
    if let Some(record) = &study.from_pictures {
        html.section("Filled pages read from pictures", |html| pictures(html, record));
    }
    html.section("What was done", |html| log(html, study));
    html.section("Files and program", |html| files(html, study));
}

fn exclusions(html: &mut Html, study: &Study) {
    if study.exclusions.is_empty() {
        return html.paragraph("Nothing was left out.");
    }
    let rows: Vec<Vec<String>> = study
        .exclusions
        .iter()
        .map(|exclusion| vec![study.scope_in_words(exclusion.scope), exclusion.reason.clone(), exclusion.when.clone()])
        .collect();
    html.words_table("What was left out of the computation", &["what", "reason", "when"], &rows);
}

/// What was noted at the tasting, before anybody saw a result.
fn noted(html: &mut Html, study: &Study) {
    if study.record.is_empty() {
        return html.paragraph("Nothing was noted at the tasting.");
    }
    let rows: Vec<Vec<String>> =
        study.record.iter().map(|event| vec![event.when.clone(), study.recorded_in_words(event)]).collect();
    html.words_table("Noted at the tasting", &["when", "what"], &rows);
}

fn edits(html: &mut Html, study: &Study) {
    if study.edits.is_empty() {
        return html.paragraph("No mark was corrected by hand.");
    }
    let rows: Vec<Vec<String>> = study.edits.iter().map(|edit| edit_in_words(study, edit).to_vec()).collect();
    html.words_table("Marks corrected by hand, oldest first", &EDIT_HEADS, &rows);
}

fn notices(html: &mut Html, study: &Study, analysis: &Analysis) {
    let all = || study.notices.iter().chain(&analysis.notices);
    for (severity, heading) in [
        (Severity::Refused, "Refused"),
        (Severity::Repaired, "Repaired on reading"),
        (Severity::Check, "Flagged to be checked"),
        (Severity::Understood, "How the files were understood"),
    ] {
        let lines: Vec<String> =
            all().filter(|notice: &&Notice| notice.severity == severity).map(ToString::to_string).collect();
        if !lines.is_empty() {
            html.heading(heading);
            html.list(&lines);
        } else if severity == Severity::Repaired {
            html.paragraph("Nothing was repaired on reading.");
        }
    }
}

fn log(html: &mut Html, study: &Study) {
    if study.log.is_empty() {
        return html.paragraph("Nothing is on record.");
    }
    let rows: Vec<Vec<String>> = study.log.iter().map(|entry| vec![entry.when.clone(), entry.what.clone()]).collect();
    html.words_table("In the order in which it was done, undone steps included", &["when", "what"], &rows);
}

fn rows_of(ways: Vec<[String; 2]>) -> Vec<Vec<String>> {
    ways.into_iter().map(Vec::from).collect()
}

/// What was read, asked, put elsewhere and confirmed, by whom, and how the reading was checked.
fn pictures(html: &mut Html, record: &PictureRecord) {
    html.words_table("Rows by how they came to their scores", &["how", "rows"], &rows_of(ways(record)));
    let people = record.people().join(", ");
    html.stated("Decided by", Some(people.as_str()).filter(|people| !people.is_empty()));
    html.paragraph(&spot_check(&record.spot_check));
    html.note(MEASURED_ON);
    if !record.failed.is_empty() {
        let rows: Vec<Vec<String>> =
            record.failed.iter().map(|failed| vec![failed.file.clone(), failed.why.clone()]).collect();
        html.words_table("Pictures in which no page was read", &["file", "why"], &rows);
    }
}

fn files(html: &mut Html, study: &Study) {
    let rows: Vec<Vec<String>> = study
        .files
        .iter()
        .map(|file| vec![file.name.clone(), file.length_bytes.to_string(), file.fingerprint.clone()])
        .collect();
    if !rows.is_empty() {
        html.words_table("Files that the scores came from", &["file", "bytes", "fingerprint (FNV-1a, 64 bits)"], &rows);
        html.note("A fingerprint tells two versions of a file apart. It is no seal against forgery.");
    }
    html.stated("Program", Some(&format!("Likeness {}", env!("CARGO_PKG_VERSION"))));
}
