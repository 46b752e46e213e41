//! Data entry from paper ballots: what a person with a ruler in hand does, line by line. The rules are those of
//! `likeness_core::plan::data_entry`; here stands what the page does beside them. It must not know keys or fields.

use super::data_entry_state::{Answer, AnswerKind, PageAlarm};
use crate::state::app_state::AppState;
use crate::state::page::{Message, PlanPart, View};
use crate::state::study::in_place;
use crate::words::data_entry as say;
use leptos::prelude::*;
use likeness_core::notice::Severity;
use likeness_core::plan::data_entry::entry::{DataEntry, Entry, EntryOptions, Pass, Reply};
use likeness_core::plan::data_entry::entry_file::EntryFile;
use likeness_core::plan::tasting_plan::TastingPlan;
use std::collections::BTreeSet;

/// Two readings of one line with a ruler may differ by this much without being asked about, in units of the scale.
pub const TOLERANCE: f64 = 1.0;

/// How what was typed stands to the open plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum DataEntryStatus {
    NoPlan,
    NotBegun,
    Fits,
    /// It belongs to another plan; how many scores it holds.
    OtherPlan {
        marks: usize,
    },
    /// The plan was changed since; how many scores would have no place.
    PlanChanged {
        marks: usize,
        left_behind: usize,
    },
}

/// How what was typed stands to the plan. A pure function of both.
pub fn status(plan: Option<&TastingPlan>, file: Option<&EntryFile>) -> DataEntryStatus {
    match (plan, file) {
        (None, _) => DataEntryStatus::NoPlan,
        (_, None) => DataEntryStatus::NotBegun,
        (Some(plan), Some(file)) if file.study != plan.study_id() => {
            DataEntryStatus::OtherPlan { marks: file.data_entry.typed_by_anybody() }
        }
        (Some(plan), Some(file)) if file.data_entry.fits(plan) => DataEntryStatus::Fits,
        (Some(plan), Some(file)) => {
            let left_behind = file.data_entry.carried_to(plan).left_behind;
            DataEntryStatus::PlanChanged { marks: file.data_entry.typed_by_anybody(), left_behind }
        }
    }
}

/// Begins at the first page of the open plan. Data entry of another plan is put aside, not lost.
pub fn begin(app: AppState) {
    let Some(plan) = app.plan.get_untracked() else { return };
    put_aside(app);
    let data_entry = DataEntry::of_plan(&plan, EntryOptions::default());
    put_in_place(app, EntryFile { study: plan.study_id(), data_entry });
}

/// Takes what was typed over to the plan as it is now.
pub fn carry_over(app: AppState) {
    let Some(plan) = app.plan.get_untracked() else { return };
    let Some(file) = app.data_entry.file.get_untracked() else { return };
    put_aside(app);
    put_in_place(app, EntryFile { study: plan.study_id(), data_entry: file.data_entry.carried_to(&plan).data_entry });
}

/// Changes places between what is typed here and what was put aside.
pub fn back_to_before(app: AppState) {
    let Some(before) = app.data_entry.before.get_untracked() else { return };
    app.data_entry.before.set(app.data_entry.file.get_untracked());
    put_in_place(app, before);
}

/// One line was typed and Enter pressed. Says what kind of answer it got.
pub fn enter(app: AppState, text: &str) -> Option<AnswerKind> {
    let mut answer = None;
    app.data_entry.file.update(|file| {
        let Some(file) = file else { return };
        let row = file.data_entry.row;
        let reply = file.data_entry.enter(text);
        answer = Some(answer_to(&reply, &file.data_entry, row, text));
    });
    let answer = answer?;
    let kind = answer.kind;
    if kind == AnswerKind::PageDone {
        look_for_form_faults(app);
    }
    app.data_entry.answer.set(Some(answer));
    Some(kind)
}

/// One row back.
pub fn back(app: AppState) {
    change(app, DataEntry::back);
}

/// Goes to a row of a page.
pub fn go_to(app: AppState, page: usize, row: usize) {
    change(app, |data_entry| data_entry.go_to(page, row));
}

/// Goes to the page of an assessor under a code.
pub fn go_to_page_of(app: AppState, assessor: &str, code: &str) {
    let code = code.trim();
    let found = app.data_entry.file.with_untracked(|file| {
        let data_entry = &file.as_ref()?.data_entry;
        Some(data_entry.page_of(assessor, code).ok_or_else(|| data_entry.why_no_page(assessor, code)))
    });
    match found {
        None => {}
        Some(Ok(page)) => go_to(app, page, 0),
        Some(Err(what)) => {
            app.data_entry.answer.set(Some(Answer { kind: AnswerKind::Stopped, what }));
        }
    }
}

/// The other person types, or the same one goes on where a page is open.
pub fn begin_pass(app: AppState, pass: Pass) {
    change(app, |data_entry| data_entry.begin_pass(pass));
    look_for_form_faults(app);
}

/// Whether a tone tells a score that was taken from one that was stopped.
pub fn use_sounds(app: AppState, on: bool) {
    app.data_entry.sounds.set(on);
}

/// Notes whether the browser saved what was typed last.
pub fn note_saved(app: AppState, is_saved: bool) {
    app.data_entry.is_saved.set(is_saved);
}

pub fn set_options(app: AppState, options: EntryOptions) {
    change(app, |data_entry| data_entry.options = options);
}

/// Decides what stands where two people typed different scores.
pub fn decide(app: AppState, page: usize, row: usize, entry: Entry) {
    change(app, |data_entry| data_entry.resolve(page, row, entry));
}

/// Decides by a score typed anew.
///
/// # Errors
/// Why it is no score of this scale.
pub fn decide_typed(app: AppState, page: usize, row: usize, text: &str) -> Result<(), String> {
    let entry = app.data_entry.file.with_untracked(|file| file.as_ref().map(|file| file.data_entry.entry_in(text)));
    match entry {
        Some(Ok(entry)) => {
            decide(app, page, row, entry);
            Ok(())
        }
        Some(Err(why)) => Err(why),
        None => Ok(()),
    }
}

/// The paper was looked at and the page is right as it was typed.
pub fn clear_alarm(app: AppState, alarm: &PageAlarm) {
    app.data_entry.cleared.update(|cleared| _ = cleared.insert((alarm.page, alarm.sentence.clone())));
    app.data_entry.alarms.update(|alarms| alarms.retain(|other| other != alarm));
}

/// The study from what is typed so far; it opens at the verdict. Nothing happens where it doesn't fit the plan.
pub fn use_scores(app: AppState) {
    let (Some(plan), Some(file)) = (app.plan.get_untracked(), app.data_entry.file.get_untracked()) else { return };
    if status(Some(&plan), Some(&file)) != DataEntryStatus::Fits {
        return;
    }
    let typed = file.data_entry.keyed_study(&plan, TOLERANCE, &app.now());
    let scores = typed.study.score_count();
    in_place::put_in_place(app, typed.study, say::log_typed(scores));
}

/// Opens a file of data entry. What was typed here before is put aside.
pub fn open_file(app: AppState, name: &str, text: &str) {
    match EntryFile::from_text(text) {
        Ok(file) => {
            put_aside(app);
            let marks = file.data_entry.typed_by_anybody();
            put_in_place(app, file);
            app.view.set(View::Plan);
            app.plan_part.set(PlanPart::DataEntry);
            let what = say::opened(name, marks);
            app.message.set(Some(Message { severity: Severity::Understood, what, hint: String::new() }));
        }
        Err(why) => {
            let what = format!("{name} {} {why}", crate::words::opening::NOT_OPENED);
            app.message.set(Some(Message::refused(what, say::DATA_ENTRY_UNTOUCHED)));
        }
    }
}

/// Puts back what the browser had saved; `false` where it can't be read.
pub fn restore(app: AppState, saved: Option<&str>, before: Option<&str>) -> bool {
    let read = |text: Option<&str>| text.map(EntryFile::from_text);
    let (saved, before) = (read(saved), read(before));
    let sound = !matches!(saved, Some(Err(_)));
    app.data_entry.file.set(saved.and_then(Result::ok));
    app.data_entry.before.set(before.and_then(Result::ok));
    if !sound {
        app.message.set(Some(Message::refused(say::SAVED_BROKEN, say::SAVED_BROKEN_HINT)));
    }
    sound
}

fn change(app: AppState, change: impl FnOnce(&mut DataEntry)) {
    app.data_entry.answer.set(None);
    app.data_entry.file.update(|file| {
        if let Some(file) = file {
            change(&mut file.data_entry);
        }
    });
}

fn put_in_place(app: AppState, file: EntryFile) {
    app.data_entry.answer.set(None);
    app.data_entry.cleared.set(BTreeSet::new());
    app.data_entry.file.set(Some(file));
    look_for_form_faults(app);
}

fn put_aside(app: AppState) {
    let typed = app.data_entry.file.get_untracked().filter(|file| file.data_entry.typed_by_anybody() > 0);
    if typed.is_some() {
        app.data_entry.before.set(typed);
    }
}

fn answer_to(reply: &Reply, data_entry: &DataEntry, row: usize, text: &str) -> Answer {
    let (kind, what) = match reply {
        Reply::Accepted => {
            let name = data_entry.attributes.get(row).map_or("", String::as_str);
            (AnswerKind::Taken, say::taken(row + 1, name, text.trim()))
        }
        Reply::Confirmed => (AnswerKind::Taken, say::CONFIRMED.to_owned()),
        Reply::PageDone { page } => {
            let (who, code) = data_entry.pages.get(*page).map_or(("", ""), |page| (&page.assessor, &page.code));
            (AnswerKind::PageDone, say::page_done(who, code))
        }
        Reply::AllDone => (AnswerKind::PageDone, say::ALL_DONE.to_owned()),
        Reply::Stopped { why } => (AnswerKind::Stopped, why.clone()),
    };
    Answer { kind, what }
}

/// Compares every full page with the rest of the panel: a page typed early can be compared only later.
fn look_for_form_faults(app: AppState) {
    let cleared = app.data_entry.cleared.get_untracked();
    let alarms = app.data_entry.file.with_untracked(|file| {
        let Some(data_entry) = file.as_ref().map(|file| &file.data_entry) else { return Vec::new() };
        let full = |page: &usize| data_entry.entries().get(*page).is_some_and(|line| !line.contains(&Entry::NotTyped));
        let alarm = |page: usize| {
            let alarm = data_entry.slip_alarm(page)?;
            Some(PageAlarm { page, row: alarm.first_row(), sentence: alarm.sentence() })
        };
        (0..data_entry.pages.len()).filter(full).filter_map(alarm).collect()
    });
    let open = |alarm: &PageAlarm| !cleared.contains(&(alarm.page, alarm.sentence.clone()));
    app.data_entry.alarms.set(alarms.into_iter().filter(open).collect());
}
