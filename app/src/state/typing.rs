//! Typing scores from paper: what a person with a ruler in hand does, line by line. The rules are those of
//! `likeness_core::plan::keying`; here stands what the page keeps beside them. It knows nothing of keys or fields.

use super::ground::{Ground, Message, PlanPart, View};
use super::opening;
use crate::words::typing as say;
use leptos::prelude::*;
use likeness_core::notice::Severity;
use likeness_core::plan::design::TastingPlan;
use likeness_core::plan::keying::{Entry, Keying, KeyingOptions, Pass, Reply};
use likeness_core::plan::keying_file::KeyingFile;
use std::collections::BTreeSet;

/// Two readings of one mark with a ruler may differ by this much without being asked about, in units of the scale.
pub const TOLERANCE: f64 = 1.0;

/// Everything that is kept about typing. Copies are handles to the same store.
#[derive(Clone, Copy)]
pub struct TypingState {
    /// The typing, with the plan that it belongs to.
    pub file: RwSignal<Option<KeyingFile>>,
    /// What was typed here before another typing file was opened.
    pub before: RwSignal<Option<KeyingFile>>,
    /// What the last line led to.
    pub answer: RwSignal<Option<Answer>>,
    /// Pages that the slip guard wants looked at again.
    pub alarms: RwSignal<Vec<PageAlarm>>,
    /// Alarms that a person looked into and found no fault behind.
    pub cleared: RwSignal<BTreeSet<(usize, String)>>,
    pub sounds: RwSignal<bool>,
    /// Whether the browser keeps what is typed.
    pub is_kept: RwSignal<bool>,
}

/// What the page says about the line that was typed last.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    pub kind: AnswerKind,
    pub what: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AnswerKind {
    Taken,
    /// A page, or all of them, is full.
    PageDone,
    Stopped,
}

/// A page that doesn't look right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PageAlarm {
    pub page: usize,
    /// Where to look first, from 0.
    pub row: usize,
    pub sentence: String,
}

/// How the typing that is kept stands to the open plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TypingStatus {
    NoPlan,
    NotBegun,
    Fits,
    /// It belongs to another plan; how many marks it holds.
    OtherPlan {
        marks: usize,
    },
    /// The plan was changed since; how many marks would have no place.
    PlanChanged {
        marks: usize,
        left_behind: usize,
    },
}

impl Default for TypingState {
    fn default() -> Self {
        TypingState {
            file: RwSignal::new(None),
            before: RwSignal::new(None),
            answer: RwSignal::new(None),
            alarms: RwSignal::new(Vec::new()),
            cleared: RwSignal::new(BTreeSet::new()),
            sounds: RwSignal::new(true),
            is_kept: RwSignal::new(true),
        }
    }
}

/// Where the typing stands against the plan. A pure function of both.
pub fn status(plan: Option<&TastingPlan>, file: Option<&KeyingFile>) -> TypingStatus {
    match (plan, file) {
        (None, _) => TypingStatus::NoPlan,
        (_, None) => TypingStatus::NotBegun,
        (Some(plan), Some(file)) if file.study != plan.study_id() => {
            TypingStatus::OtherPlan { marks: file.keying.typed_by_anybody() }
        }
        (Some(plan), Some(file)) if file.keying.fits(plan) => TypingStatus::Fits,
        (Some(plan), Some(file)) => {
            let left_behind = file.keying.carried_to(plan).left_behind;
            TypingStatus::PlanChanged { marks: file.keying.typed_by_anybody(), left_behind }
        }
    }
}

/// Begins at the first page of the open plan. Typing of another plan is put aside, not lost.
pub fn begin(ground: Ground) {
    let Some(plan) = ground.plan.get_untracked() else { return };
    put_aside(ground);
    let keying = Keying::of_plan(&plan, KeyingOptions::default());
    put_in_place(ground, KeyingFile { study: plan.study_id(), keying });
}

/// Takes the typing over to the plan as it is now.
pub fn carry_over(ground: Ground) {
    let Some(plan) = ground.plan.get_untracked() else { return };
    let Some(file) = ground.typing.file.get_untracked() else { return };
    put_aside(ground);
    put_in_place(ground, KeyingFile { study: plan.study_id(), keying: file.keying.carried_to(&plan).keying });
}

/// Changes places between what is typed here and what was put aside.
pub fn back_to_before(ground: Ground) {
    let Some(before) = ground.typing.before.get_untracked() else { return };
    ground.typing.before.set(ground.typing.file.get_untracked());
    put_in_place(ground, before);
}

/// One line was typed and Enter pressed. Says what kind of answer it got.
pub fn enter(ground: Ground, text: &str) -> Option<AnswerKind> {
    let mut answer = None;
    ground.typing.file.update(|file| {
        let Some(file) = file else { return };
        let row = file.keying.row;
        let reply = file.keying.enter(text);
        answer = Some(answer_to(&reply, &file.keying, row, text));
    });
    let answer = answer?;
    let kind = answer.kind;
    if kind == AnswerKind::PageDone {
        look_for_slips(ground);
    }
    ground.typing.answer.set(Some(answer));
    Some(kind)
}

/// One row back.
pub fn back(ground: Ground) {
    change(ground, Keying::back);
}

/// Goes to a row of a page.
pub fn go_to(ground: Ground, page: usize, row: usize) {
    change(ground, |keying| keying.go_to(page, row));
}

/// Goes to the page of an assessor under a code.
pub fn go_to_page_of(ground: Ground, assessor: &str, code: &str) {
    let code = code.trim();
    let page = ground.typing.file.with_untracked(|file| file.as_ref()?.keying.page_of(assessor, code));
    match page {
        Some(page) => go_to(ground, page, 0),
        None => {
            let what = say::no_such_page(assessor, code);
            ground.typing.answer.set(Some(Answer { kind: AnswerKind::Stopped, what }));
        }
    }
}

/// The other person types, or the same one goes on where a page is open.
pub fn begin_pass(ground: Ground, pass: Pass) {
    change(ground, |keying| keying.begin_pass(pass));
    look_for_slips(ground);
}

/// Whether a tone tells a mark that was taken from one that was stopped.
pub fn use_sounds(ground: Ground, on: bool) {
    ground.typing.sounds.set(on);
}

/// Whether the browser kept what was typed last.
pub fn note_kept(ground: Ground, is_kept: bool) {
    ground.typing.is_kept.set(is_kept);
}

pub fn set_options(ground: Ground, options: KeyingOptions) {
    change(ground, |keying| keying.options = options);
}

/// Decides what stands where two people typed different marks.
pub fn decide(ground: Ground, page: usize, row: usize, entry: Entry) {
    change(ground, |keying| keying.resolve(page, row, entry));
}

/// Decides by a mark typed anew.
///
/// # Errors
/// Why it is no mark of this scale.
pub fn decide_typed(ground: Ground, page: usize, row: usize, text: &str) -> Result<(), String> {
    let entry = ground.typing.file.with_untracked(|file| file.as_ref().map(|file| file.keying.entry_in(text)));
    match entry {
        Some(Ok(entry)) => {
            decide(ground, page, row, entry);
            Ok(())
        }
        Some(Err(why)) => Err(why),
        None => Ok(()),
    }
}

/// The paper was looked at and the page is right as it was typed.
pub fn clear_alarm(ground: Ground, alarm: &PageAlarm) {
    ground.typing.cleared.update(|cleared| _ = cleared.insert((alarm.page, alarm.sentence.clone())));
    ground.typing.alarms.update(|alarms| alarms.retain(|other| other != alarm));
}

/// The study from what is typed so far; it opens at the verdict. Nothing happens where the typing doesn't fit the plan.
pub fn use_scores(ground: Ground) {
    let (Some(plan), Some(file)) = (ground.plan.get_untracked(), ground.typing.file.get_untracked()) else { return };
    if status(Some(&plan), Some(&file)) != TypingStatus::Fits {
        return;
    }
    let keyed = file.keying.keyed_study(&plan, TOLERANCE, &ground.now());
    let marks = keyed.study.score_count();
    opening::put_in_place(ground, keyed.study, say::log_typed(marks));
}

/// Opens a typing file. What was typed here before is put aside.
pub fn open_file(ground: Ground, name: &str, text: &str) {
    match KeyingFile::from_text(text) {
        Ok(file) => {
            put_aside(ground);
            let marks = file.keying.typed_by_anybody();
            put_in_place(ground, file);
            ground.view.set(View::Plan);
            ground.plan_part.set(PlanPart::Typing);
            let what = say::opened(name, marks);
            ground.message.set(Some(Message { severity: Severity::Understood, what, hint: String::new() }));
        }
        Err(why) => {
            let what = format!("{name} {} {why}", crate::words::opening::NOT_OPENED);
            ground.message.set(Some(Message::refused(what, say::TYPING_UNTOUCHED)));
        }
    }
}

/// Puts back what the browser had kept; `false` where it can't be read.
pub fn restore(ground: Ground, kept: Option<&str>, before: Option<&str>) -> bool {
    let read = |text: Option<&str>| text.map(KeyingFile::from_text);
    let (kept, before) = (read(kept), read(before));
    let sound = !matches!(kept, Some(Err(_)));
    ground.typing.file.set(kept.and_then(Result::ok));
    ground.typing.before.set(before.and_then(Result::ok));
    if !sound {
        ground.message.set(Some(Message::refused(say::KEPT_BROKEN, say::KEPT_BROKEN_HINT)));
    }
    sound
}

fn change(ground: Ground, change: impl FnOnce(&mut Keying)) {
    ground.typing.answer.set(None);
    ground.typing.file.update(|file| {
        if let Some(file) = file {
            change(&mut file.keying);
        }
    });
}

fn put_in_place(ground: Ground, file: KeyingFile) {
    ground.typing.answer.set(None);
    ground.typing.cleared.set(BTreeSet::new());
    ground.typing.file.set(Some(file));
    look_for_slips(ground);
}

fn put_aside(ground: Ground) {
    let typed = ground.typing.file.get_untracked().filter(|file| file.keying.typed_by_anybody() > 0);
    if typed.is_some() {
        ground.typing.before.set(typed);
    }
}

fn answer_to(reply: &Reply, keying: &Keying, row: usize, text: &str) -> Answer {
    let (kind, what) = match reply {
        Reply::Accepted => {
            let name = keying.attributes.get(row).map_or("", String::as_str);
            (AnswerKind::Taken, say::taken(row + 1, name, text.trim()))
        }
        Reply::Confirmed => (AnswerKind::Taken, say::CONFIRMED.to_owned()),
        Reply::PageDone { page } => {
            let (who, code) = keying.pages.get(*page).map_or(("", ""), |page| (&page.assessor, &page.code));
            (AnswerKind::PageDone, say::page_done(who, code))
        }
        Reply::AllDone => (AnswerKind::PageDone, say::ALL_DONE.to_owned()),
        Reply::Stopped { why } => (AnswerKind::Stopped, why.clone()),
    };
    Answer { kind, what }
}

/// Compares every full page with the rest of the panel: a page typed early can be compared only later.
fn look_for_slips(ground: Ground) {
    let cleared = ground.typing.cleared.get_untracked();
    let alarms = ground.typing.file.with_untracked(|file| {
        let Some(keying) = file.as_ref().map(|file| &file.keying) else { return Vec::new() };
        let full = |page: &usize| keying.entries().get(*page).is_some_and(|line| !line.contains(&Entry::NotTyped));
        let alarm = |page: usize| {
            let alarm = keying.slip_alarm(page)?;
            Some(PageAlarm { page, row: alarm.first_row(), sentence: alarm.sentence() })
        };
        (0..keying.pages.len()).filter(full).filter_map(alarm).collect()
    });
    let open = |alarm: &PageAlarm| !cleared.contains(&(alarm.page, alarm.sentence.clone()));
    ground.typing.alarms.set(alarms.into_iter().filter(open).collect());
}
