//! The record as sheets: what was left out, what was done and found on reading, and what all of it stands on.

use crate::catalogue::Results;
use crate::notice::Severity;
use crate::stats::Analysis;
use crate::study::{ReportField, Study};
use crate::table::{Cell, Column, Format, Table};
use crate::write::picture_words::{ROW_HEADS, rows_in_words, spot_check};
use crate::write::study_words::{EDIT_HEADS, edit_in_words, late_decisions, margin_origin, typed_number};

pub(in crate::write) fn exclusions(study: &Study) -> Table {
    let row = |exclusion: &crate::study::Exclusion| {
        [study.scope_in_words(exclusion.scope), exclusion.reason.clone(), exclusion.when.clone()]
    };
    words_table(["what", "reason", "when"], study.exclusions.iter().map(row))
}

pub(in crate::write) fn edits(study: &Study) -> Table {
    words_table(EDIT_HEADS, study.edits.iter().map(|edit| edit_in_words(study, edit)))
}

/// Every row that was read from a picture, and how it came to its score.
pub(in crate::write) fn pictures(study: &Study) -> Table {
    words_table(ROW_HEADS, rows_in_words(study).into_iter())
}

/// What was done, then what was said on reading.
pub(in crate::write) fn log(study: &Study, analysis: &Analysis) -> Table {
    let done = study.log.iter().map(|entry| ["done".to_owned(), entry.when.clone(), entry.what.clone()]);
    let noted = study
        .record
        .iter()
        .map(|event| ["noted at the tasting".to_owned(), event.when.clone(), study.recorded_in_words(event)]);
    let said = study.notices.iter().chain(&analysis.notices).map(|notice| {
        let kind = match notice.severity {
            Severity::Understood => "understood",
            Severity::Repaired => "repaired",
            Severity::Check => "to check",
            Severity::Refused => "refused",
        };
        [kind.to_owned(), String::new(), notice.to_string()]
    });
    words_table(["kind", "when", "what"], noted.chain(done).chain(said))
}

/// Settings, origin, versions and what the leader stated.
pub(in crate::write) fn about(study: &Study, results: &Results) -> Table {
    let settings = &study.settings;
    let unit = &study.scale.unit;
    let text = |name: &str, value: &str| [name.to_owned(), value.to_owned()];
    let mut rows = vec![
        text("title", &study.title),
        text("program", &format!("Likeness {}", env!("CARGO_PKG_VERSION"))),
        text("target", settings.target.as_deref().unwrap_or("none named")),
        text("margin", &format!("{} {unit}", typed_number(settings.margin.width_mm))),
        text("origin of the margin", &margin_origin(&settings.margin.origin)),
    ];
    for (attribute, width) in &settings.margin.by_attribute {
        rows.push(text(&format!("margin for {attribute}"), &format!("{} {unit}", typed_number(*width))));
    }
    let deciding = if settings.deciding.is_empty() { "all".to_owned() } else { settings.deciding.join(", ") };
    rows.push(text("deciding attributes", &deciding));
    rows.push(text("settled", study.decided_at.as_deref().unwrap_or("not yet: no verdict is shown before")));
    rows.push(text("alpha", &typed_number(settings.alpha)));
    rows.push(text("seed", &settings.seed.to_string()));
    let scale = &study.scale;
    rows.push(text("scale", &format!("{} to {} {unit}", typed_number(scale.minimum), typed_number(scale.maximum))));
    rows.push(text("assessors that count", &results.given.analysis.assessors.len().to_string()));
    for entry in late_decisions(study) {
        rows.push(text("decided late", &format!("{} {}", entry.when, entry.what)));
    }
    if let Some(record) = &study.from_pictures {
        rows.push(text("spot check of the reading", &spot_check(&record.spot_check)));
    }
    for file in &study.files {
        rows.push(text(
            "file",
            &format!("{}, {} bytes, fingerprint {}", file.name, file.length_bytes, file.fingerprint),
        ));
    }
    rows.extend(ReportField::ALL.iter().map(|field| {
        text(&format!("stated: {}", field.in_words()), study.report.text(*field).unwrap_or("not stated"))
    }));
    let missing = results.iter().filter_map(|(entry, found)| Some((entry.about, found.as_ref().err()?)));
    rows.extend(
        missing.map(|(about, reason)| text(&format!("no sheet: {}", about.title), &about.why_not(&reason.because))),
    );
    rows.push(text("digits", "numbers carry twelve digits; what is shown is rounded by the format of the cell"));
    words_table(["what", "value"], rows.into_iter())
}

fn words_table<const N: usize>(heads: [&str; N], rows: impl Iterator<Item = [String; N]>) -> Table {
    let columns = heads.iter().map(|head| Column::of(*head, Format::Words, "")).collect();
    Table::new("record", "", columns, 100.0).with_rows(rows.map(|row| row.into_iter().map(Cell::words).collect()))
}
