//! The file of an on-screen ballot: what a tablet or booth computer needs to ask for marks, and nothing that tells what
//! is in a cup. It knows nothing of marks.
//!
//! Form, version 1: the envelope of `file_envelope` with format `likeness-booth` and part `booth`, which is
//! `OnScreenBallot` as serde writes it. Cups are named by their codes only: no name of a sample, no key, no title is in
//! the file. All of it comes from the plan, which the computer in the booth never sees.

use crate::plan::PlanError;
use crate::plan::brief::attributes::ListedAttribute;
use crate::plan::file_envelope::{FileKind, refused};
use crate::plan::orders::order_plan::OrderRow;
use crate::plan::tasting_plan::TastingPlan;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// The kind of this file; people know it as the booth file.
pub const BOOTH_FILE: FileKind = FileKind { format: "likeness-booth", version: 1, part: "booth", called: "booth file" };

/// The rest between two cups where the leader says nothing else: a minute (common practice).
pub const USUAL_REST_SECONDS: u32 = 60;
const LONGEST_REST_SECONDS: u32 = 3600;

/// A tasting form for one or many sheets of a plan.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct OnScreenBallot {
    /// `TastingPlan::study_id`.
    pub study: String,
    /// Rest between two cups.
    pub rest_seconds: u32,
    /// Sentences that the assessor reads before the first cup, such as allergens.
    pub before_tasting: Vec<String>,
    /// In the order of the ballot.
    pub attributes: Vec<OnScreenAttribute>,
    /// By session, then assessor.
    pub sheets: Vec<OnScreenSheet>,
}

/// One line to be marked.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct OnScreenAttribute {
    pub name: String,
    pub definition: String,
    pub low_end: String,
    pub high_end: String,
}

/// One assessor in one session.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct OnScreenSheet {
    /// Number of the assessor in the plan, from 1.
    pub assessor: u32,
    pub name: String,
    pub session: u32,
    /// Code of the cup that is tasted first and not marked.
    pub warm_up_code: Option<String>,
    /// Codes in serving order; the first has position 1.
    pub codes: Vec<String>,
}

/// Which sheets go into the file.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct OnScreenScope {
    /// Index of an assessor; all where it is `None`.
    pub assessor: Option<usize>,
    /// Number of a session; all where it is `None`.
    pub session: Option<u32>,
}

impl OnScreenBallot {
    /// The form of a plan for the sheets in `scope`.
    ///
    /// # Errors
    /// `Incomplete` where nobody tastes anything in this scope, or the rest is longer than an hour.
    pub fn of_plan(
        plan: &TastingPlan,
        scope: OnScreenScope,
        rest_seconds: u32,
        before_tasting: &[String],
    ) -> Result<OnScreenBallot, PlanError> {
        let form = OnScreenBallot {
            study: plan.study_id(),
            rest_seconds,
            before_tasting: before_tasting.iter().map(|line| without_sample_names(line, plan)).collect(),
            attributes: plan.attributes.attributes.iter().map(on_screen_attribute).collect(),
            sheets: plan.orders.rows.iter().filter(|row| scope.holds(row)).map(|row| sheet_of(plan, row)).collect(),
        };
        form.check().map(|()| form)
    }

    /// The text of the file, the same bytes for the same form.
    pub fn to_text(&self) -> String {
        BOOTH_FILE.text_of(self)
    }

    /// Opens the text of a booth file.
    ///
    /// # Errors
    /// Text that is something else, a newer version, damage.
    pub fn from_text(text: &str) -> Result<OnScreenBallot, PlanError> {
        let form: OnScreenBallot = BOOTH_FILE.content_of(text)?;
        form.check().map(|()| form)
    }

    fn check(&self) -> Result<(), PlanError> {
        if self.attributes.is_empty() || self.sheets.is_empty() {
            let what = "There is nothing to taste here: no sheet or no attribute.".to_owned();
            return Err(refused(what, "Choose a session in which the assessor takes part."));
        }
        if self.rest_seconds > LONGEST_REST_SECONDS {
            let what = format!("A rest of {} seconds is longer than an hour.", self.rest_seconds);
            return Err(refused(what, "Give the rest in seconds."));
        }
        let keys: BTreeSet<(u32, u32)> = self.sheets.iter().map(|sheet| (sheet.session, sheet.assessor)).collect();
        let sound = |sheet: &OnScreenSheet| {
            let codes: BTreeSet<&String> = sheet.codes.iter().collect();
            sheet.assessor > 0 && !sheet.codes.is_empty() && codes.len() == sheet.codes.len()
        };
        if keys.len() != self.sheets.len() || !self.sheets.iter().all(sound) {
            let what = "Its sheets contradict each other.".to_owned();
            return Err(refused(what, "Save the booth file again from the plan."));
        }
        Ok(())
    }
}

impl OnScreenScope {
    fn holds(&self, row: &OrderRow) -> bool {
        self.assessor.is_none_or(|assessor| assessor == row.assessor)
            && self.session.is_none_or(|session| session == row.session)
            && !row.order.is_empty()
    }
}

fn sheet_of(plan: &TastingPlan, row: &OrderRow) -> OnScreenSheet {
    OnScreenSheet {
        assessor: row.assessor as u32 + 1,
        name: plan.assessors[row.assessor].clone(),
        session: row.session,
        warm_up_code: plan.orders.key(row.session).and_then(|key| key.warm_up_code.clone()),
        codes: row.codes.clone(),
    }
}

/// What the plan says of allergens, as sentences for the assessor. Nothing tells which cup holds what.
pub fn allergen_sentences(plan: &TastingPlan) -> Vec<String> {
    let samples = plan.brief.samples.iter().chain(&plan.brief.warm_up);
    let declared: BTreeSet<&str> =
        samples.map(|sample| sample.allergens.trim()).filter(|text| !text.is_empty()).collect();
    if declared.is_empty() {
        return Vec::new();
    }
    let list = declared.into_iter().collect::<Vec<_>>().join("; ");
    vec![without_sample_names(&format!("What is served here may contain: {list}."), plan)]
}

fn on_screen_attribute(line: &ListedAttribute) -> OnScreenAttribute {
    OnScreenAttribute {
        name: line.name.clone(),
        definition: line.definition.clone(),
        low_end: line.low_end.clone(),
        high_end: line.high_end.clone(),
    }
}

/// A sentence with every name of a sample taken out, longest first, so that no part of one is left standing.
fn without_sample_names(sentence: &str, plan: &TastingPlan) -> String {
    let mut names: Vec<&str> = plan.brief.samples.iter().map(|sample| sample.name.trim()).collect();
    names.retain(|name| name.chars().count() > 1);
    names.sort_by_key(|name| std::cmp::Reverse(name.chars().count()));
    names.iter().fold(sentence.to_owned(), |text, name| text.replace(name, "one of the samples"))
}
