//! What the parts of a report share: its style, and what the leader stated. It computes nothing.

use super::html::Html;
use crate::study::{ReportField, Study};

/// The style of the report. Every rule holds inside `.likeness-report` only, except the paper's margins.
pub const REPORT_STYLE: &str = include_str!("report.css");

/// What the leader stated; what is not stated stands in one line (`about_study`).
pub(in crate::write) fn stated(html: &mut Html, study: &Study, field: ReportField) {
    html.stated(field.in_words(), study.report.text(field));
}

/// What stands below the title.
pub(in crate::write) fn first_lines(html: &mut Html, study: &Study) {
    html.paragraph(
        "Report of a profile study: what a trained panel found when it scored samples attribute by attribute.",
    );
    stated(html, study, ReportField::ReportDate);
    stated(html, study, ReportField::Responsible);
    stated(html, study, ReportField::Purpose);
}
