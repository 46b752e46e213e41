//! Results files against the open plan: which belong, which are there twice, which are missing, and the study that they
//! make. It knows nothing of how files arrive.

use super::results_file::OnScreenResults;
use crate::notice::{Notice, Place, Severity};
use crate::numeric::tolerance::is_same_number;
use crate::plan::data_entry::entry::Entry;
use crate::plan::tasting_plan::{PlannedServing, TastingPlan};
use crate::study::{LogKind, Study};
use crate::text::lists::counted_regular as counted;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A results file that was opened.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CollectedFile {
    pub file: String,
    pub length_bytes: u64,
    pub results: OnScreenResults,
}

/// One assessor in one session of the plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CollectedSheet {
    /// Index into the plan's assessors.
    pub assessor: usize,
    pub session: u32,
    /// Marks that the plan asks for.
    pub lines: usize,
    pub state: SheetState,
}

/// What there is of a sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SheetState {
    /// No file yet.
    Missing,
    /// Index of the file that stands, and how many marks it holds.
    Arrived { file: usize, marks: usize, is_finished: bool },
}

/// All files against the plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Collected {
    /// By session, then assessor.
    pub sheets: Vec<CollectedSheet>,
    pub notices: Vec<Notice>,
}

/// Lays the files against the plan. Of two files of one sheet the one that was saved last stands; both are told.
pub fn collect(plan: &TastingPlan, files: &[CollectedFile]) -> Collected {
    let (standing, mut notices) = standing_files(plan, files);
    let mut sheets = Vec::new();
    for row in plan.orders.rows.iter().filter(|row| !row.order.is_empty()) {
        let (assessor, session) = (row.assessor, row.session);
        let lines = row.order.len() * plan.attributes.attributes.len();
        let state = match standing.get(&(session, assessor)) {
            None => SheetState::Missing,
            Some(index) => {
                let file = &files[*index];
                notices.extend(about_sheet(plan, file, lines));
                let (marks, is_finished) = (placed_marks(plan, &file.results).len(), file.results.is_finished);
                SheetState::Arrived { file: *index, marks, is_finished }
            }
        };
        sheets.push(CollectedSheet { assessor, session, lines, state });
    }
    Collected { sheets, notices }
}

/// The file that stands for each session and assessor, and what is said of the others.
fn standing_files(plan: &TastingPlan, files: &[CollectedFile]) -> (BTreeMap<(u32, usize), usize>, Vec<Notice>) {
    let mut notices = Vec::new();
    let mut standing: BTreeMap<(u32, usize), usize> = BTreeMap::new();
    for (index, file) in files.iter().enumerate() {
        if let Some(notice) = foreign(plan, file) {
            notices.push(notice);
            continue;
        }
        let key = (file.results.session, file.results.assessor as usize - 1);
        let settled = standing.get(&key).map(|earlier| settle(files, *earlier, index));
        standing.insert(key, settled.as_ref().map_or(index, |(kept, _)| *kept));
        notices.extend(settled.map(|(_, notice)| notice));
    }
    (standing, notices)
}

impl Collected {
    /// How many sheets have no file yet.
    pub fn missing(&self) -> usize {
        self.sheets.iter().filter(|sheet| sheet.state == SheetState::Missing).count()
    }

    /// How many marks have their place in the plan.
    pub fn marks(&self) -> usize {
        let marks = |sheet: &CollectedSheet| match sheet.state {
            SheetState::Arrived { marks, .. } => marks,
            SheetState::Missing => 0,
        };
        self.sheets.iter().map(marks).sum()
    }

    /// What came back in a line of the log.
    pub fn in_words(&self) -> String {
        marks_came(self.marks(), self.sheets.len() - self.missing())
    }

    /// Every line of the sheets that arrived, as serving, attribute and entry in units of the plan's scale; a line of a
    /// finished sheet without a mark was left out on purpose. `files` are those that were collected.
    pub fn placed_entries(&self, plan: &TastingPlan, files: &[CollectedFile]) -> Vec<(usize, usize, Entry)> {
        let mut entries = Vec::new();
        for sheet in &self.sheets {
            let SheetState::Arrived { file, is_finished, .. } = sheet.state else { continue };
            if is_finished {
                let of_sheet =
                    |(_, cup): &(usize, PlannedServing)| (cup.assessor, cup.session) == (sheet.assessor, sheet.session);
                let attributes = plan.attributes.attributes.len();
                for (serving, _) in plan.servings().into_iter().enumerate().filter(of_sheet) {
                    entries.extend((0..attributes).map(|attribute| (serving, attribute, Entry::NoMark)));
                }
            }
            let marks = placed_marks(plan, &files[file].results).into_iter();
            entries
                .extend(marks.map(|mark| (mark.serving, mark.attribute, Entry::Score(plan_score(plan, mark.mark_mm)))));
        }
        entries
    }

    /// The study with all marks that stand in their place. `files` are those that were collected.
    pub fn study(&self, plan: &TastingPlan, files: &[CollectedFile], when: &str) -> Study {
        let mut study = plan.study_skeleton(when);
        let (mut marks, mut used) = (0, 0);
        for sheet in &self.sheets {
            let SheetState::Arrived { file, .. } = sheet.state else { continue };
            used += 1;
            for mark in placed_marks(plan, &files[file].results) {
                study.set_score(mark.serving, mark.attribute, Some(plan_score(plan, mark.mark_mm)));
                marks += 1;
            }
        }
        study.note_in_log(when, LogKind::Opened, marks_came(marks, used));
        study.notices.extend(self.notices.iter().cloned());
        if self.missing() > 0 {
            let what = format!("{} of {} sheets have no results file.", self.missing(), self.sheets.len());
            let hint = "Their marks are missing from the study.";
            study.notices.push(Notice::new(Severity::Check, Place::default(), what, hint));
        }
        study
    }
}

fn marks_came(marks: usize, files: usize) -> String {
    format!("{marks} marks made on screen came from {}.", counted(files, "results file"))
}

struct PlacedMark {
    serving: usize,
    attribute: usize,
    mark_mm: f64,
}

/// The marks of a file that have a place in the plan.
fn placed_marks(plan: &TastingPlan, results: &OnScreenResults) -> Vec<PlacedMark> {
    let servings = plan.servings();
    let assessor = results.assessor as usize - 1;
    let known: Vec<Option<usize>> = results.attributes.iter().map(|name| attribute_of(plan, name)).collect();
    let mut placed = Vec::new();
    for page in &results.pages {
        let of_page = |serving: &PlannedServing| {
            serving.assessor == assessor && serving.session == results.session && serving.code == page.code
        };
        let Some(serving) = servings.iter().position(of_page) else { continue };
        for (mark, attribute) in page.marks_mm.iter().zip(&known) {
            if let (Some(mark_mm), Some(attribute)) = (*mark, *attribute) {
                placed.push(PlacedMark { serving, attribute, mark_mm });
            }
        }
    }
    placed
}

fn attribute_of(plan: &TastingPlan, name: &str) -> Option<usize> {
    plan.attributes.attributes.iter().position(|attribute| attribute.name == name)
}

/// A mark as a score of the plan's scale; on the scale 0 to 100 it is the mark itself, without rounding.
pub fn plan_score(plan: &TastingPlan, mark_mm: f64) -> f64 {
    let (low, high) = (plan.scale.minimum, plan.scale.maximum);
    let is_the_line = is_same_number(low, 0.0) && is_same_number(high, 100.0);
    if is_the_line { mark_mm } else { low + (high - low) * mark_mm / 100.0 }
}

/// Why a file is not of this plan.
fn foreign(plan: &TastingPlan, file: &CollectedFile) -> Option<Notice> {
    let results = &file.results;
    let refused = |what: String, hint: &str| Some(Notice::new(Severity::Refused, Place::file(&file.file), what, hint));
    if results.study != plan.study_id() {
        let what = format!("It belongs to study {} and the open plan is {}.", results.study, plan.study_id());
        return refused(what, "Open the plan it belongs to, or put the file away.");
    }
    let name = (results.assessor as usize).checked_sub(1).and_then(|index| plan.assessors.get(index));
    if name != Some(&results.name) {
        let there = name.map_or("nobody", String::as_str);
        let what = format!("It says that assessor {} is {}, and the plan has {there}.", results.assessor, results.name);
        return refused(what, "Open the plan that the booth file was made from.");
    }
    if plan.orders.row(results.assessor as usize - 1, results.session).is_none_or(|row| row.order.is_empty()) {
        let what = format!("{} doesn't taste in session {} of this plan.", results.name, results.session);
        return refused(what, "The plan was changed since; open the plan as it was, or put the file away.");
    }
    None
}

/// Which of two files of one sheet stands, and what is said about it.
fn settle(files: &[CollectedFile], earlier: usize, later: usize) -> (usize, Notice) {
    let (first, second) = (&files[earlier], &files[later]);
    let (left, right) = (&first.results, &second.results);
    let who = format!("{}, session {}", left.name, left.session);
    let say = |severity, what: String, hint: &str| Notice::new(severity, Place::file(&second.file), what, hint);
    if left.pages == right.pages {
        let what = format!("It holds the same marks as {} ({who}); they count once.", first.file);
        return (earlier, say(Severity::Understood, what, ""));
    }
    let stands = if right.saved_at.seconds >= left.saved_at.seconds { later } else { earlier };
    let kept = &files[stands].file;
    if goes_on_from(left, right) || goes_on_from(right, left) {
        let what =
            format!("{who}: {} and {} are an earlier and a later state; {kept} stands.", first.file, second.file);
        return (stands, say(Severity::Understood, what, ""));
    }
    let what =
        format!("{who}: {} and {} hold different marks; {kept} was saved last and stands.", first.file, second.file);
    (stands, say(Severity::Check, what, "Ask the assessor, and put the wrong file away."))
}

/// Whether `later` holds every mark of `earlier` and more.
fn goes_on_from(earlier: &OnScreenResults, later: &OnScreenResults) -> bool {
    let kept = |(before, after): (&Option<f64>, &Option<f64>)| before.is_none() || before == after;
    earlier.attributes == later.attributes
        && earlier.pages.len() == later.pages.len()
        && earlier
            .pages
            .iter()
            .zip(&later.pages)
            .all(|(before, after)| before.page == after.page && before.marks_mm.iter().zip(&after.marks_mm).all(kept))
}

/// What should be known of a sheet that arrived.
fn about_sheet(plan: &TastingPlan, file: &CollectedFile, lines: usize) -> Vec<Notice> {
    let results = &file.results;
    let who = format!("{}, session {}", results.name, results.session);
    let placed = placed_marks(plan, results).len();
    let unknown = results.attributes.iter().filter(|name| attribute_of(plan, name).is_none());
    let mut said: Vec<(String, &str)> = unknown
        .map(|name| {
            (format!("“{name}” is no attribute of the plan; its marks are left out."), "Was the list changed since?")
        })
        .collect();
    let made = results.mark_count();
    if made > placed && said.is_empty() {
        let what = format!("{who}: {} belong to codes that are no longer in the plan.", counted(made - placed, "mark"));
        said.push((what, "The plan was changed since; open the plan as it was."));
    }
    said.extend(about_end(results, &who, lines, placed));
    said.extend(about_rests(results, &who));
    let check = |(what, hint)| Notice::new(Severity::Check, Place::file(&file.file), what, hint);
    said.into_iter().map(check).collect()
}

/// A sheet that was not finished, or was finished with lines left out, with what to do about it.
fn about_end(results: &OnScreenResults, who: &str, lines: usize, placed: usize) -> Option<(String, &'static str)> {
    if !results.is_finished {
        let what = format!("{who}: the sheet was saved before its last cup was finished.");
        return Some((what, "Ask for the finished file."));
    }
    (placed < lines).then(|| {
        let what = format!("{who}: {} of {} have no mark.", lines - placed, counted(lines, "line"));
        (what, "The assessor was asked and went on without.")
    })
}

/// Rests that ended early, with what to do about it.
fn about_rests(results: &OnScreenResults, who: &str) -> Option<(String, &'static str)> {
    let early = || results.rests.iter().filter(|rest| rest.ended_early);
    let shortest = early().min_by_key(|rest| rest.taken_seconds)?;
    let what = format!(
        "{who}: {} of {} ended early, the shortest after {} of {} seconds.",
        early().count(),
        counted(results.rests.len(), "rest"),
        shortest.taken_seconds,
        shortest.planned_seconds
    );
    Some((what, "Keep it in mind when order effects show."))
}
