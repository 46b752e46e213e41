//! The report under way, piece by piece, so that a page can listen between them; any slicing gives the same text.

use super::html::Html;
use super::{REPORT_STYLE, about_study, first_lines, record, results};
use crate::stats::study_bootstrap::StudyBootstrap;
use crate::stats::{ResultsRun, StudyResults};
use crate::study::Study;
use crate::write::people::as_shown;

/// What a piece is made from.
pub(in crate::write) struct Known<'k> {
    pub study: &'k Study,
    pub found: &'k StudyResults,
    pub bootstrap: &'k StudyBootstrap,
}

/// One piece of the document.
#[derive(Clone, Copy)]
enum Piece {
    Plain(fn(&mut Html, &Known<'_>)),
    /// The differences of one candidate to the target, by its place in the analysis.
    Candidate(usize),
}

/// A report that is being written.
pub struct ReportRun {
    study: Study,
    results: ResultsRun,
    found: Option<StudyResults>,
    pieces: Vec<Piece>,
    parts: Vec<String>,
}

/// A report that is written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Report {
    title: String,
    /// Whole sections, one or several in each; together what stands in the body.
    parts: Vec<String>,
}

impl ReportRun {
    /// Nothing is computed yet.
    pub fn start(study: &Study) -> Self {
        let study = as_shown(study);
        ReportRun { results: ResultsRun::start(&study), study, found: None, pieces: pieces(None), parts: Vec::new() }
    }

    /// Pieces written.
    pub fn done(&self) -> usize {
        self.parts.len()
    }

    /// Pieces wanted, as far as is known: candidates are counted once the results are there.
    pub fn wanted(&self) -> usize {
        self.pieces.len()
    }

    pub fn is_done(&self) -> bool {
        self.found.is_some() && self.parts.len() == self.pieces.len()
    }

    /// Computes one of the results, or writes the next piece with what was drawn from the same study.
    pub fn step(&mut self, bootstrap: &StudyBootstrap) {
        let Some(found) = &self.found else {
            self.found = self.results.step();
            if let Some(found) = &self.found {
                self.pieces = pieces(found.analysis.target.is_some().then_some(found.analysis.candidates.len()));
            }
            return;
        };
        let known = Known { study: &self.study, found, bootstrap };
        let mut html = Html::default();
        match self.pieces.get(self.parts.len()) {
            Some(Piece::Plain(write)) => write(&mut html, &known),
            Some(Piece::Candidate(place)) => results::candidate(&mut html, &known, *place),
            None => return,
        }
        self.parts.push(html.into_text());
    }

    /// The report, all that is missing written at once.
    pub fn finish(mut self, bootstrap: &StudyBootstrap) -> Report {
        while !self.is_done() {
            self.step(bootstrap);
        }
        Report { title: self.study.title, parts: self.parts }
    }
}

impl Report {
    /// Whole sections, one or several in each part, to be shown in order, in an element of the class `likeness-report`
    /// with `REPORT_STYLE`.
    pub fn parts(&self) -> &[String] {
        &self.parts
    }

    /// The whole document.
    pub fn document(&self) -> String {
        let (title, body) = (crate::text::markup::escape(&self.title), self.parts.concat());
        format!(
            "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
             <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
             <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n\
             <meta name=\"generator\" content=\"Likeness {}\">\n<title>{title}</title>\n\
             <style>\n{REPORT_STYLE}</style>\n</head>\n<body class=\"likeness-report-page\">\n\
             <article class=\"likeness-report\">\n{body}</article>\n</body>\n</html>\n",
            env!("CARGO_PKG_VERSION")
        )
    }
}

/// All pieces in order, with those on so many candidates where there is a target to compare them with.
fn pieces(candidates: Option<usize>) -> Vec<Piece> {
    let mut pieces = vec![
        Piece::Plain(|html, known| {
            html.title(&known.study.title);
            first_lines(html, known.study);
            results::verdicts(html, known.study, known.found);
        }),
        Piece::Plain(|html, known| about_study::sections(html, known.study)),
        Piece::Plain(|html, known| results::method(html, known.study, known.found)),
    ];
    if let Some(candidates) = candidates {
        pieces.push(Piece::Plain(results::differences_to_target));
        pieces.extend((0..candidates).map(Piece::Candidate));
    }
    pieces.push(Piece::Plain(results::profiles));
    pieces.push(Piece::Plain(results::variance));
    pieces.push(Piece::Plain(results::panel));
    pieces
        .push(Piece::Plain(|html, known| html.section("Map", |html| results::map(html, known.found, known.bootstrap))));
    pieces.push(Piece::Plain(|html, known| record::sections(html, known.study, known.found)));
    pieces
}
