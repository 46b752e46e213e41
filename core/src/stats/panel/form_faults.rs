//! Suspected form faults: a page shifted by one line, a scale read the wrong way round, two forms swapped. Each suspicion
//! comes with the evidence it rests on; nothing is ever changed here, a person looks at the sheet and decides.
//!
//! Every detector compares two readings of the same marks: as written, and as they would stand had the fault happened.
//! What is expected of a mark is the mean of the *other* assessors for that sample plus this assessor's own level on
//! that attribute, taken from the other pages. Misfits count by Student's law with 5 degrees of freedom, so that one
//! wild mark proves nothing. They are scaled by attribute and, where an assessor scatters more widely than the others, by
//! assessor; a page that fits badly either way proves little. A likelihood ratio exceeds 1 / a by chance in a share a of
//! clean pages at most, so the threshold begins at the number of pages (pairs, scales) looked at over the chance of any
//! false alarm that is allowed. That bound proved too strict: scales that only ever widen leave false alarms in at most
//! 4 of 1000 clean studies, so it is taken an eighth, which simulation bears out for panels of many shapes
//! (`cargo run --release -p likeness-core --example panel_rates -- --only form-faults`, its result beside it).

pub use super::form_fault_findings::{Evidence, FormFaultKind, Reading, Suspicion};

use super::form_fault_detectors::{Turned, mirrored, pairs_of_forms, shifted_page, swapped_forms, turned};
use super::form_pages::Pages;
use crate::run::{Reached, Run};
use crate::stats::results::Defined;
use crate::study::Study;
use serde::Serialize;

/// Chance that a clean study raises any suspicion at all, all detectors together.
pub const FALSE_ALARM: f64 = 0.05;

/// How many times too strict the bound on false alarms is at least, by simulation.
const TOO_STRICT: f64 = 8.0;

/// A quarter of the false alarms each: shifted pages, swapped forms, single scales, whole assessors.
const ALARM_A_DETECTOR: f64 = 0.25 * FALSE_ALARM * TOO_STRICT;

/// All suspicions of a study.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FormFaultReport {
    /// The strongest evidence first.
    pub suspicions: Vec<Suspicion>,
    /// Pages that were searched; none where all checks are off.
    pub n_pages: usize,
    /// Chance that a clean study raises any suspicion at all.
    pub false_alarm: f64,
    /// Detectors that could not run, and why.
    pub off: Vec<String>,
    pub model: String,
}

/// The search for form faults, piece by piece, so that a page can go on listening in between. The report does not depend on
/// how the pieces are shared out.
pub struct FormFaultSearch {
    pages: Pages,
    off: Vec<String>,
    /// Pairs of pages that may have been swapped; none where that can't be told.
    pairs: Vec<(usize, usize)>,
    n_pages_to_search: usize,
    n_scales_to_search: usize,
    done: usize,
    found: Vec<Suspicion>,
    turned: Vec<Vec<Option<Turned>>>,
}

/// Looks for form faults in all pages that count; the lines of the sheet are all attributes in the order of the study.
pub fn suspected_form_faults(study: &Study) -> FormFaultReport {
    let mut search = FormFaultSearch::start(study);
    search.advance(usize::MAX);
    search.finish()
}

impl Run for FormFaultSearch {
    type Found = FormFaultReport;

    fn step(&mut self) {
        self.advance(1);
    }

    fn reached(&self) -> Reached {
        Reached { done: self.done, wanted: self.wanted() }
    }

    fn finish(self) -> Defined<FormFaultReport> {
        Ok(FormFaultSearch::finish(self))
    }
}

impl FormFaultSearch {
    /// Collects the pages; the search itself is done by `advance`.
    pub fn start(study: &Study) -> Self {
        let pages = Pages::of(study);
        let mut off = Vec::new();
        let is_panel = pages.assessors.len() >= 4;
        let has_lines = pages.attributes.len() >= 6;
        let has_samples = pages.samples.len() >= 3;
        if !is_panel {
            off.push(
                "With fewer than four assessors there is no panel to compare with: all checks are off.".to_owned(),
            );
        } else {
            if !has_lines {
                off.push("With fewer than six attributes a shifted page or swapped forms can't be told.".to_owned());
            }
            if !has_samples {
                off.push("With fewer than three samples a scale turned round can't be told.".to_owned());
            }
        }
        FormFaultSearch {
            pairs: if is_panel && has_lines { pairs_of_forms(&pages) } else { Vec::new() },
            n_pages_to_search: if is_panel && has_lines { pages.pages.len() } else { 0 },
            n_scales_to_search: if is_panel && has_samples { pages.attributes.len() } else { 0 },
            pages,
            off,
            done: 0,
            found: Vec::new(),
            turned: Vec::new(),
        }
    }

    /// Searches that many pieces more: a page, a pair of forms, or a scale each.
    pub fn advance(&mut self, pieces: usize) {
        let last = self.wanted().min(self.done.saturating_add(pieces));
        while self.done < last {
            self.search(self.done);
            self.done += 1;
        }
    }

    /// Pieces searched so far.
    pub fn done(&self) -> usize {
        self.done
    }

    /// Pieces in all.
    pub fn wanted(&self) -> usize {
        self.n_pages_to_search + self.pairs.len() + self.n_scales_to_search
    }

    pub fn is_done(&self) -> bool {
        self.done >= self.wanted()
    }

    /// The report; what is left to search is searched first.
    pub fn finish(mut self) -> FormFaultReport {
        self.advance(usize::MAX);
        if self.n_scales_to_search > 0 {
            self.found.extend(mirrored(&self.pages, &self.turned, ALARM_A_DETECTOR));
        }
        self.found.sort_by(|a, b| b.evidence.log10_times_likelier.total_cmp(&a.evidence.log10_times_likelier));
        let n_pages = if self.wanted() > 0 { self.pages.pages.len() } else { 0 };
        report(self.found, n_pages, self.off)
    }

    fn search(&mut self, piece: usize) {
        let after_pages = self.n_pages_to_search;
        let after_pairs = after_pages + self.pairs.len();
        if piece < after_pages {
            self.found.extend(shifted_page(&self.pages, piece, ALARM_A_DETECTOR));
        } else if piece < after_pairs {
            let pair = self.pairs[piece - after_pages];
            self.found.extend(swapped_forms(&self.pages, pair, self.pairs.len(), ALARM_A_DETECTOR));
        } else {
            self.turned.push(turned(&self.pages, piece - after_pairs));
        }
    }
}

fn report(suspicions: Vec<Suspicion>, n_pages: usize, off: Vec<String>) -> FormFaultReport {
    FormFaultReport {
        suspicions,
        n_pages,
        false_alarm: FALSE_ALARM,
        off,
        model: format!(
            "Marks as written against marks as suspected, by their likelihood about the mean of the other assessors and \
             the assessor's own level; misfits by Student's law with 5 degrees of freedom. Thresholds are set so that \
             a clean study raises any suspicion in {:.0} % of cases at most; measured on made-up panels of many shapes, \
             with one assessor of three-fold scatter and marks piled up at 0 among them: 0 to 2 %.",
            100.0 * FALSE_ALARM
        ),
    }
}
