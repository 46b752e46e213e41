//! The words of the report view: what can be stated, and how the report leaves the page.

use likeness_core::study::ReportField;

pub const INTRO: &str =
    "One document with everything that belongs to the study. It prints on A4 and Letter, in grey too.";
pub const DRAWING: &str = "Drawing panels again for the intervals of the report";
pub const WRITING: &str = "Writing the report";
pub const DRAW_AGAIN: &str = "Make the report";
pub const SAVE: &str = "Save";
pub const SAVE_REPORT: &str = "Save the report (HTML)";
pub const REPORT_FILE: &str = "report.html";
pub const SAVE_WORKBOOK: &str = "Workbook (.xlsx)";
pub const WORKBOOK_FILE: &str = "results.xlsx";
pub const WORKBOOK_KIND: &str = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";
pub const WORKBOOK_HINT: &str = "Save the results as JSON or the tables as CSV instead.";
pub const SAVE_SCORES: &str = "Scores as one table (CSV)";
pub const SCORES_FILE: &str = "scores.csv";
pub const SAVED_WIDTH: &str = "saved width, px";
pub const SAVED_WIDTH_WHY: &str = "96 px are an inch, 38 px a centimetre: a printed page is about 680 px wide, a slide about 1200. A PNG gets three dots for each.";
pub const STATE_MORE: &str = "State what the scores don't tell";
pub const STATE_HOW: &str =
    "What is left empty is named in one line of the report. Each change is kept, logged and can be undone.";
pub const TITLE: &str = "Title";
pub const BY_NUMBER: &str = "Name assessors by number in report and workbook";
pub const BY_NUMBER_WHY: &str = "Names of assessors are personal data. By number, no name stands in the report or the workbook: not in tables, figures, remarks or log. The study file and the table of scores still hold them: pass those on only to those who may know.";
pub const SAMPLES: &str = "Lots of the samples";
pub const ATTRIBUTES: &str = "Vocabulary";
pub const ATTRIBUTE: &str = "attribute";
pub const PREVIEW: &str = "The report as it is printed and saved";

/// Which words of an attribute are stated.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AttributeText {
    Definition,
    LowEnd,
    HighEnd,
    Reference,
}

/// What belongs into a field.
pub fn field_hint(field: ReportField) -> &'static str {
    match field {
        ReportField::Purpose => "what the tasting is to decide, and for whom",
        ReportField::Samples => "who made them, from what, how old, how kept",
        ReportField::Preparation => "dose, medium, dilution, temperature; who released them for tasting",
        ReportField::Serving => "amount, vessel, cover, temperature, rinsing, breaks",
        ReportField::Room => "booths, light and its colour, ventilation, noise",
        ReportField::Training => "how chosen, hours of training, on what",
        ReportField::Vocabulary => "own sessions, a published list, which references",
        ReportField::Scale => "length of the line, end words, warm-up samples",
        ReportField::Design => "how orders and codes were made, and the seed",
        ReportField::Dates => "one for each session",
        ReportField::Treatment => "measured, typed, rounded, checked by whom",
        ReportField::Deviations => "late cups, missing assessors, mistakes in serving",
        ReportField::Responsible => "name and place of the leader",
        ReportField::ReportDate => "such as 2026-03-14; typed, so that the same study gives the same report",
    }
}

/// Whether a field wants several lines.
pub fn is_long(field: ReportField) -> bool {
    !matches!(field, ReportField::Responsible | ReportField::ReportDate | ReportField::Dates)
}

pub fn stated_of(stated: usize, all: usize) -> String {
    format!("{stated} of {all} stated")
}

pub fn attribute_text(which: AttributeText) -> &'static str {
    match which {
        AttributeText::Definition => "definition",
        AttributeText::LowEnd => "low end",
        AttributeText::HighEnd => "high end",
        AttributeText::Reference => "reference",
    }
}

pub fn lot_of(sample: &str) -> String {
    format!("lot of {sample}")
}

pub fn attribute_text_of(attribute: &str, which: AttributeText) -> String {
    format!("{} of {attribute}", attribute_text(which))
}

pub fn log_stated(what: &str, text: &str) -> String {
    match text {
        "" => format!("For the report, taken back: {what}."),
        text => format!("Stated for the report: {what}: {}", text.replace('\n', " ")),
    }
}

pub fn log_assessors(by_number: bool) -> &'static str {
    if by_number { "The report names assessors by number." } else { "The report names assessors by name." }
}

pub fn log_renamed(before: &str, after: &str) -> String {
    format!("Study renamed: {before} to {after}.")
}

pub fn draws_not_defined(because: &str) -> String {
    format!("The report is not made, because {because}.")
}
