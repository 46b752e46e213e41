//! The analysis as plain text for a terminal: the verdict first, the numbers behind it below.

use crate::catalogue::Results;
use crate::notice::{Notice, Severity};
use crate::stats::{Analysis, Defined};
use crate::table::{Column, Table};
use crate::tables::r#match::late_sentence;
use crate::tables::r#match::reasons::{bars, cautions, cups_sentence, share_of_margins};
use crate::tables::r#match::sentences::candidate_sentence;
use crate::text::numbers::{fixed, p_value, percent, score, signed_score, statistic};
use std::fmt::Write;

/// Everything as text: the analysis, then each entry of the catalogue with its tables and what it says in words.
pub fn results_text(results: &Results, reading_notices: &[Notice]) -> String {
    let mut out = analysis_text(&results.given.analysis, reading_notices);
    for (entry, found) in results.iter() {
        let _ = write!(out, "\n\n{}\n{}\n", entry.about.title, "=".repeat(entry.about.title.chars().count()));
        match found {
            Ok(found) => {
                entry.tables(&results.given, found).iter().for_each(|table| out.push_str(&table_text(table)));
                entry.notes(&results.given, found).iter().for_each(|note| out.push_str(&format!("{note}\n")));
            }
            Err(reason) => out.push_str(&format!("{}\n", entry.about.why_not(&reason.because))),
        }
    }
    out.trim_end().to_owned()
}

/// A table with its columns under each other: names to the left, everything else to the right.
fn table_text(table: &Table) -> String {
    let mut lines = vec![table.columns.iter().map(Column::full_head).collect::<Vec<_>>()];
    lines.extend((0..table.rows.len()).map(|row| cells_in_words(table, row)));
    let width = |column: usize| lines.iter().map(|line| line[column].chars().count()).max().unwrap_or(0);
    let widths: Vec<usize> = (0..table.columns.len()).map(width).collect();
    let mut out = format!("{}\n", table.caption);
    for line in &lines {
        let cells = line.iter().zip(&widths).enumerate().map(|(column, (cell, width))| match column {
            0 => format!("  {cell:width$}"),
            _ => format!("  {cell:>width$}"),
        });
        out.push_str(cells.collect::<String>().trim_end());
        out.push('\n');
    }
    table.notes.iter().for_each(|note| out.push_str(&format!("{note}\n")));
    if !table.reasons().is_empty() {
        out.push_str(&format!("– not defined, because {}.\n", table.reasons().join("; ")));
    }
    out
}

/// The cells of a row, each with its detail behind it.
fn cells_in_words(table: &Table, row: usize) -> Vec<String> {
    let detail = |column: usize| match table.rows[row].cells.get(column).map(|cell| cell.detail.as_str()) {
        Some(detail) if !detail.is_empty() => format!(" ({detail})"),
        _ => String::new(),
    };
    (0..table.columns.len()).map(|column| table.shown(row, column) + &detail(column)).collect()
}

/// The whole report as text. `reading_notices` are those of the file; those of the analysis follow them.
pub fn analysis_text(analysis: &Analysis, reading_notices: &[Notice]) -> String {
    let mut out = String::new();
    verdicts(&mut out, analysis);
    for candidate in &analysis.candidates {
        differences(&mut out, analysis, &candidate.sample);
    }
    variance_table(&mut out, analysis);
    means(&mut out, analysis);
    notices(&mut out, reading_notices.iter().chain(&analysis.notices));
    out.trim_end().to_owned()
}

fn verdicts(out: &mut String, analysis: &Analysis) {
    let unit = &analysis.unit;
    let _ = writeln!(
        out,
        "{} assessors, {} samples, {} attributes, scale to {} {unit}.",
        analysis.assessors.len(),
        analysis.samples.len(),
        analysis.attributes.len(),
        statistic(analysis.scale_maximum, 1)
    );
    let Some(target) = &analysis.target else {
        let _ = writeln!(out, "No target is named, so there is no verdict.\n");
        return;
    };
    let _ = writeln!(
        out,
        "Target: {target}. Margin: {} {unit}; as a whole {}. Alpha: {}.",
        analysis.margin,
        share_of_margins(analysis, analysis.profile_share),
        analysis.alpha
    );
    let asides = cups_sentence(analysis).into_iter().chain(late_sentence(analysis));
    asides.for_each(|sentence| out.push_str(&format!("{sentence}\n")));
    out.push('\n');
    for candidate in analysis.most_alike_first() {
        let _ = writeln!(out, "{}", candidate_sentence(analysis, candidate));
        for line in bars(analysis, candidate).into_iter().chain(cautions(analysis, candidate)) {
            let _ = writeln!(out, "  {line}");
        }
        if let Ok(distance) = &candidate.distance {
            let _ = writeln!(
                out,
                "  Distance of the profiles {} {unit}; {} with the scatter taken off.",
                score(distance.distance, analysis.scale_maximum),
                score(distance.distance_adjusted, analysis.scale_maximum)
            );
        }
    }
    out.push('\n');
}

fn differences(out: &mut String, analysis: &Analysis, sample: &str) {
    let _ = writeln!(out, "{sample} minus target ({}); largest first", analysis.unit);
    let width = name_width(analysis);
    let level = percent(1.0 - 2.0 * analysis.alpha);
    let _ = writeln!(out, "  {:width$}  {:>8}  {level:>17}  {:>8}  verdict", "attribute", "diff", "p off");
    for (attribute, difference) in analysis.differences_of(sample) {
        let number = |value: f64| signed_score(value, analysis.scale_maximum);
        let interval = difference.test.as_ref().map_or_else(
            |_| "not defined".to_owned(),
            |test| format!("{} to {}", number(test.match_interval.lower), number(test.match_interval.upper)),
        );
        let p = difference.p_off.as_ref().map_or_else(|_| "–".to_owned(), |p| p_value(*p));
        let beyond = if difference.beyond { ", beyond the margin" } else { "" };
        let _ = writeln!(
            out,
            "  {:width$}  {:>8}  {interval:>17}  {p:>8}  {}{beyond}",
            attribute.attribute,
            number(difference.difference),
            difference.verdict.in_words()
        );
    }
    out.push('\n');
}

fn variance_table(out: &mut String, analysis: &Analysis) {
    let width = name_width(analysis);
    let _ = writeln!(out, "Do the samples differ? (assessor random, tested against assessor x sample)");
    for attribute in &analysis.attributes {
        let text = match &attribute.anova {
            Ok(anova) => format!(
                "F = {} on {} and {}, p {}",
                fixed(anova.f, 2),
                statistic(anova.sample_df, 1),
                statistic(anova.error_df, 1),
                with_equals(&p_value(anova.p))
            ),
            Err(reason) => reason.to_string(),
        };
        let _ = writeln!(out, "  {:width$}  {text}", attribute.attribute);
    }
    out.push('\n');
}

fn means(out: &mut String, analysis: &Analysis) {
    let width = name_width(analysis);
    let _ = writeln!(out, "Means and their standard errors ({}; for one mean, assessors included)", analysis.unit);
    for attribute in &analysis.attributes {
        let cells: Vec<String> = attribute
            .means
            .iter()
            .map(|mean| {
                let value = score(mean.mean, analysis.scale_maximum);
                format!("{} {value}{}", mean.sample, error_of(&mean.spread, analysis.scale_maximum))
            })
            .collect();
        let _ = writeln!(out, "  {:width$}  {}", attribute.attribute, cells.join("; "));
    }
    out.push('\n');
}

fn error_of(spread: &Defined<crate::stats::MeanSpread>, scale_maximum: f64) -> String {
    spread.as_ref().map_or_else(|_| String::new(), |spread| format!(" ({})", score(spread.se, scale_maximum)))
}

fn notices<'a>(out: &mut String, notices: impl Iterator<Item = &'a Notice>) {
    for notice in notices {
        let word = match notice.severity {
            Severity::Understood => "understood",
            Severity::Repaired => "repaired",
            Severity::Check => "check",
            Severity::Refused => "refused",
        };
        let _ = writeln!(out, "[{word}] {notice}");
    }
}

fn name_width(analysis: &Analysis) -> usize {
    analysis.attributes.iter().map(|attribute| attribute.attribute.chars().count()).max().unwrap_or(0).max(9)
}

fn with_equals(p: &str) -> String {
    if p.starts_with('<') { p.to_owned() } else { format!("= {p}") }
}
