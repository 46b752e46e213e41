//! The first page, which stands alone: the question, the verdict with its figure, the panel, and who decided what when.
//! The full record follows behind it.

use super::html::Html;
use super::stated::first_lines;
use crate::catalogue::Results;
use crate::catalogue::r#match::LeaveOneOut;
use crate::catalogue::panel::Performance;
use crate::figures::{ThemeKind, VerdictStripOptions, verdict_strip};
use crate::study::{LogKind, Study};
use crate::tables::r#match::{headline, late_sentence, stands_on};
use crate::tables::panel::people::answer;

/// Width of the figure, in CSS pixels: that of the others.
const WIDTH_PX: f64 = 660.0;
/// Lines of what was decided that fit; the rest stands in the record.
const LINES_AT_MOST: usize = 6;

pub(in crate::write) fn page(html: &mut Html, study: &Study, results: &Results) {
    html.page(|html| {
        html.title(&study.title);
        first_lines(html, study);
        if results.given.analysis.target.is_some() {
            verdict(html, study, results);
        }
        html.heading("The panel");
        let panel = results.get::<Performance>();
        html.paragraph(&panel.map_or_else(
            |reason| format!("Not told, because {}.", reason.because),
            |panel| answer(&results.given.analysis, panel, results.get::<LeaveOneOut>().ok()),
        ));
        html.heading("Who decided what, and when");
        decided(html, study);
    });
}

fn verdict(html: &mut Html, study: &Study, results: &Results) {
    let analysis = &results.given.analysis;
    html.heading("The answer");
    html.paragraph(&headline(analysis));
    html.paragraph(&stands_on(study, analysis, results.get::<LeaveOneOut>().ok()));
    if let Some(late) = late_sentence(analysis) {
        html.paragraph(&late);
    }
    let options =
        VerdictStripOptions { width_px: WIDTH_PX, theme: ThemeKind::Print, heading: true, ..Default::default() };
    html.figure(&verdict_strip(analysis, &options));
}

/// What was decided about target, margin and what is left out, oldest first.
fn decided(html: &mut Html, study: &Study) {
    let told = [LogKind::Settled, LogKind::Decided, LogKind::MarginDecided, LogKind::Excluded, LogKind::TakenBack];
    let lines: Vec<String> = study
        .log
        .iter()
        .filter(|line| told.contains(&line.kind))
        .map(|line| format!("{} {}", line.when, line.what).trim().to_owned())
        .collect();
    if lines.is_empty() {
        return html.paragraph("Nothing was decided yet.");
    }
    let more = lines.len().saturating_sub(LINES_AT_MOST);
    html.list(&lines[more..]);
    if more > 0 {
        html.paragraph(&format!("{more} earlier lines stand in the record."));
    }
}
