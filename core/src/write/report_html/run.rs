//! The report under way, piece by piece, so that a page can listen between them; any slicing gives the same text.

use super::html::Html;
use super::stated::REPORT_STYLE;
use super::{about_study, decision, record, results};
use crate::catalogue::{CATALOGUE, Need, Results, Topic};
use crate::defined::Defined;
use crate::run::{Reached, Run};
use crate::study::Study;
use crate::write::people::as_shown;

/// One piece of the document.
#[derive(Clone, Copy)]
enum Piece {
    Plain(fn(&mut Html, &Study, &Results)),
    /// A figure, a table, or both, of one entry of the catalogue: its place there, and that of figure and table.
    Entry {
        entry: usize,
        place: usize,
    },
}

/// A report that is being written.
pub struct ReportRun {
    study: Study,
    results: Results,
    /// What is written next; `None` after the last piece.
    next: Option<Piece>,
    after: std::vec::IntoIter<Piece>,
    parts: Vec<String>,
    done: usize,
    /// The topic that was opened last.
    topic: Option<Topic>,
}

/// A report that is written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Report {
    title: String,
    /// Whole sections, one or several in each; together what stands in the body.
    parts: Vec<String>,
}

impl ReportRun {
    /// Nothing is written yet. `results` are those of the study as it is shown (see [`as_shown`]).
    pub fn start(study: &Study, results: Results) -> Self {
        let mut pieces = vec![
            Piece::Plain(decision::page),
            Piece::Plain(|html, study, results| results::verdicts(html, study, &results.given.analysis)),
            Piece::Plain(|html, study, _| about_study::sections(html, study)),
            Piece::Plain(|html, study, results| results::method(html, study, &results.given.analysis)),
        ];
        // Nothing is said of what compares with a target before there is one.
        let has_target = results.given.analysis.target.is_some();
        let told =
            (0..CATALOGUE.len()).filter(|entry| has_target || !CATALOGUE[*entry].about.needs.contains(&Need::Target));
        pieces.extend(told.map(|entry| Piece::Entry { entry, place: 0 }));
        pieces.push(Piece::Plain(|html, study, results| record::sections(html, study, &results.given.analysis)));
        let mut after = pieces.into_iter();
        ReportRun {
            study: as_shown(study),
            results,
            next: after.next(),
            after,
            parts: Vec::new(),
            done: 0,
            topic: None,
        }
    }

    /// Writes a piece and says what comes right after it.
    fn write(&mut self, html: &mut Html, piece: Piece) -> Option<Piece> {
        let (entry, place) = match piece {
            Piece::Entry { entry, place } => (entry, place),
            Piece::Plain(write) => {
                write(html, &self.study, &self.results);
                return None;
            }
        };
        let opens_topic = place == 0 && self.topic != topic_of(entry);
        self.topic = topic_of(entry);
        let (method, found) = self.results.iter().nth(entry)?;
        let heading = opens_topic.then_some(method.about.topic.title());
        let goes_on = results::entry(html, method, &self.results.given, found, (place, heading));
        goes_on.then_some(Piece::Entry { entry, place: place + 1 })
    }
}

impl Run for ReportRun {
    type Found = Report;

    fn step(&mut self) {
        let Some(piece) = self.next else { return };
        let mut html = Html::default();
        self.next = self.write(&mut html, piece);
        self.parts.push(html.into_text());
        if self.next.is_none() {
            self.next = self.after.next();
            self.done += 1;
        }
    }

    /// In pieces that are known beforehand; an entry with many figures is one.
    fn reached(&self) -> Reached {
        Reached { done: self.done, wanted: self.done + usize::from(self.next.is_some()) + self.after.len() }
    }

    fn is_done(&self) -> bool {
        self.next.is_none()
    }

    fn finish(mut self) -> Defined<Report> {
        while !self.is_done() {
            self.step();
        }
        Ok(Report { title: self.study.title, parts: self.parts })
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

fn topic_of(entry: usize) -> Option<Topic> {
    CATALOGUE.get(entry).map(|entry| entry.about.topic)
}
