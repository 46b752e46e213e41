//! The results file of one assessor in one session: each mark with the identity of its page, in mm on the 100 mm line,
//! and the times. It knows nothing of the plan, so it can't tell which sample a code is.
//!
//! Form, version 1: the envelope of `file_envelope` with format `likeness-booth-results` and part `results`, which is
//! `OnScreenResults` as serde writes it.

use super::ballot_run::{CupRun, LINE_TENTHS, Moment, OnScreenRun, RestTaken};
use crate::plan::PlanError;
use crate::plan::ballot::page_code::PageIdentity;
use crate::plan::file_envelope::{FileKind, refused};
use serde::{Deserialize, Serialize};

/// The kind of this file.
pub const RESULTS_FILE: FileKind =
    FileKind { format: "likeness-booth-results", version: 1, part: "results", called: "results file" };

/// What one assessor marked in one session.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct OnScreenResults {
    pub study: String,
    /// Number of the assessor in the plan, from 1.
    pub assessor: u32,
    pub name: String,
    pub session: u32,
    /// When the assessor agreed to taste; empty where they didn't.
    pub consented_at: String,
    pub saved_at: Moment,
    /// Whether the last cup was finished.
    pub is_finished: bool,
    /// Names in the order of the marks.
    pub attributes: Vec<String>,
    pub pages: Vec<ResultPage>,
    pub rests: Vec<RestTaken>,
}

/// One cup.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ResultPage {
    /// `PageIdentity` as text, as it would stand on paper.
    pub page: String,
    pub code: String,
    pub position: u32,
    /// mm from the left end to 0.1 mm; `null` where there is no mark.
    pub marks_mm: Vec<Option<f64>>,
    /// Local times; empty where it didn't come to that.
    pub shown_at: String,
    pub finished_at: String,
    /// From shown to finished.
    pub seconds: Option<u64>,
    /// The assessor was asked about lines without a mark and went on without.
    pub left_unmarked: bool,
}

impl OnScreenResults {
    /// What a run has to hand over at this moment, finished or not.
    pub fn of_run(run: &OnScreenRun, now: &Moment) -> OnScreenResults {
        OnScreenResults {
            study: run.study.clone(),
            assessor: run.sheet.assessor,
            name: run.sheet.name.clone(),
            session: run.sheet.session,
            consented_at: run.consented.as_ref().map(|moment| moment.local.clone()).unwrap_or_default(),
            saved_at: now.clone(),
            is_finished: run.cups.iter().all(|cup| cup.finished.is_some()),
            attributes: run.attributes.clone(),
            pages: run.cups.iter().map(|cup| result_page(run, cup)).collect(),
            rests: run.rests.clone(),
        }
    }

    /// The text of the file, the same bytes for the same results.
    pub fn to_text(&self) -> String {
        RESULTS_FILE.text_of(self)
    }

    /// Opens the text of a results file.
    ///
    /// # Errors
    /// Text that is something else, a newer version, damage, a page that contradicts its own identity.
    pub fn from_text(text: &str) -> Result<OnScreenResults, PlanError> {
        let results: OnScreenResults = RESULTS_FILE.content_of(text)?;
        let unsound = results.pages.iter().find(|page| !results.page_is_sound(page));
        match unsound {
            None => Ok(results),
            Some(page) => Err(refused(
                format!("Its page of sample {} contradicts itself.", page.code),
                "Save it again where it was made, and open that copy.",
            )),
        }
    }

    /// A name for the file that tells study, session and assessor: letters, digits and hyphens only.
    pub fn file_name(&self) -> String {
        let plain: String = self.name.chars().map(|c| if c.is_alphanumeric() { c } else { '-' }).collect();
        format!("{}-session-{}-{:02}-{plain}.likeness-results.json", self.study, self.session, self.assessor)
    }

    /// How many lines have a mark.
    pub fn mark_count(&self) -> usize {
        self.pages.iter().flat_map(|page| &page.marks_mm).flatten().count()
    }

    fn page_is_sound(&self, page: &ResultPage) -> bool {
        let says = PageIdentity::parse(&page.page).is_ok_and(|identity| {
            (identity.study, identity.session, identity.assessor, identity.code, identity.position)
                == (self.study.clone(), self.session, self.assessor, page.code.clone(), page.position)
        });
        let on_line = |mark: &f64| (0.0..=f64::from(LINE_TENTHS) / 10.0).contains(mark);
        says && page.marks_mm.len() == self.attributes.len() && page.marks_mm.iter().flatten().all(on_line)
    }
}

/// All lines of a cup stand on one page.
fn page_identity(run: &OnScreenRun, cup: &CupRun) -> PageIdentity {
    PageIdentity {
        study: run.study.clone(),
        session: run.sheet.session,
        assessor: run.sheet.assessor,
        code: cup.code.clone(),
        position: cup.position,
        page: 1,
        pages: 1,
        print: None,
    }
}

fn result_page(run: &OnScreenRun, cup: &CupRun) -> ResultPage {
    let local = |moment: &Option<Moment>| moment.as_ref().map(|moment| moment.local.clone()).unwrap_or_default();
    let seconds = |shown: &Moment, finished: &Moment| finished.seconds.saturating_sub(shown.seconds);
    ResultPage {
        page: page_identity(run, cup).to_text(),
        code: cup.code.clone(),
        position: cup.position,
        marks_mm: cup.marks.iter().map(|mark| mark.map(|tenths| f64::from(tenths) / 10.0)).collect(),
        shown_at: local(&cup.shown),
        finished_at: local(&cup.finished),
        seconds: cup.shown.as_ref().zip(cup.finished.as_ref()).map(|(shown, finished)| seconds(shown, finished)),
        left_unmarked: cup.left_unmarked,
    }
}
