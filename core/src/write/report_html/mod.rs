//! The report: one HTML document made from the study, that stands by itself and prints on A4 and Letter.
//!
//! It holds no script and asks for nothing; figures are drawings inside it. What the leader did not state is printed as
//! not stated. The same study gives the same bytes, natively and in the page: there is no clock in it. What belongs
//! into such a report follows ISO 13299, named from memory, and common practice.

mod about_study;
mod html;

mod record;
mod results;

use crate::stats::StudyResults;
use crate::stats::drawn::Drawn;
use crate::study::{ReportField, Study};
use html::Html;

/// The style of the report. Every rule holds inside `.likeness-report` only, except the paper's margins.
pub const REPORT_STYLE: &str = include_str!("report.css");

/// The whole document, with what was drawn from the same study.
pub fn report_html(study: &Study, drawn: &Drawn) -> String {
    let title = crate::figures::escape(&study.title);
    let body = report_body(study, drawn);
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n\
         <meta name=\"generator\" content=\"Likeness {}\">\n<title>{title}</title>\n\
         <style>\n{REPORT_STYLE}</style>\n</head>\n<body class=\"likeness-report-page\">\n{body}</body>\n</html>\n",
        env!("CARGO_PKG_VERSION")
    )
}

/// What stands in the body of the document: one `article`, to be shown with `REPORT_STYLE`.
pub fn report_body(study: &Study, drawn: &Drawn) -> String {
    let study = super::people::as_shown(study);
    let found = StudyResults::of(&study);
    let mut html = Html::default();
    html.title(&study.title);
    first_lines(&mut html, &study);
    results::verdicts(&mut html, &study, &found);
    about_study::sections(&mut html, &study);
    results::method(&mut html, &study, &found);
    results::sections(&mut html, &study, &found, drawn);
    record::sections(&mut html, &study, &found);
    format!("<article class=\"likeness-report\">\n{}</article>\n", html.into_text())
}

/// What the leader stated, or that it is not stated.
fn stated(html: &mut Html, study: &Study, field: ReportField) {
    html.stated(field.in_words(), study.report.text(field));
}

fn first_lines(html: &mut Html, study: &Study) {
    html.paragraph(
        "Report of a profile study: what a trained panel found when it scored samples attribute by attribute.",
    );
    stated(html, study, ReportField::ReportDate);
    stated(html, study, ReportField::Responsible);
    stated(html, study, ReportField::Purpose);
}
