//! The report: one HTML document made from the study, that stands by itself and prints on A4 and Letter.
//!
//! It holds no script and asks for nothing; figures are drawings inside it. What the leader did not state is named
//! once, all of it in one line. The same study gives the same bytes, natively and in the page: there is no clock in it. What belongs
//! into such a report follows ISO 13299, named from memory, and common practice.

mod about_study;
mod decision;
mod html;
mod not_stated;
mod record;
mod results;
mod run;
mod stated;

use crate::catalogue::Results;
use crate::run::to_the_end;
use crate::study::Study;
use crate::write::people::as_shown;

pub use run::{Report, ReportRun};
pub use stated::REPORT_STYLE;

/// The whole document, everything computed by the study's own settings.
pub fn report_html(study: &Study) -> String {
    report_of(study, Results::of(&as_shown(study)))
}

/// The same from results of the study as it is shown.
pub fn report_of(study: &Study, results: Results) -> String {
    to_the_end(Ok(ReportRun::start(study, results)))
        .map_or_else(|reason| reason.to_string(), |report| report.document())
}
