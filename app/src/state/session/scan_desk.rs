//! What a person does at the desk of filled pages: putting pictures in, deciding doubtful rows, confirming empty ones, the
//! spot check. The rules are those of `likeness_core::scan_desk`; it must not know keys, pointers or how pictures come.

use super::scan_state::ReadingNow;
use crate::state::app_state::AppState;
use crate::state::page::{Message, PlanPart, View};
use crate::words::scan_pages as say;
use leptos::prelude::*;
use likeness_core::numeric::hash::fnv_1a;
use likeness_core::plan::tasting_plan::TastingPlan;
use likeness_core::scan::{KnownPages, PageFound, SmallStrip};
use likeness_core::scan_desk::desk::{Decision, DeskRow, RowPlace, ScanDesk};
use likeness_core::scan_desk::queue::Due;
use likeness_core::scan_desk::strips::KeptStrips;

pub use likeness_core::scan_desk::taking::PictureName;

/// Half a millimetre: what an arrow key moves.
pub const NUDGE_MM: f64 = 0.5;
/// How much of a line is shown closer.
const CLOSER_MM: f64 = 28.0;
/// How near to an end of that the hairline may come before another part is shown.
const INSIDE_MM: f64 = 3.0;

/// The row that is asked about, as it is shown.
#[derive(Clone, Debug, PartialEq)]
pub struct AskedRow {
    pub place: RowPlace,
    pub kind: AskedKind,
    pub assessor: String,
    pub session: u32,
    pub code: String,
    pub file: String,
    pub row: DeskRow,
    /// The strip as the address of a picture, where it was kept.
    pub strip: Option<String>,
}

/// Why a row is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AskedKind {
    Doubtful,
    /// Spot check: what was read is not told.
    Again,
    /// Spot check: what was seen and what was read differ.
    Differs,
}

/// Lays the desk of the open plan: as it was kept, else an empty one. `false` where what was kept can't be read.
pub fn lay_desk(app: AppState, kept: Option<&str>, strips: Option<&str>, decisions: Option<&str>) -> bool {
    let Some(fresh) = app.plan.with_untracked(|plan| plan.as_ref().map(fresh_desk)) else {
        app.scanning.desk.set(None);
        return true;
    };
    let opened = kept.map(ScanDesk::from_text);
    let is_sound = !matches!(opened, Some(Err(_)));
    if !is_sound {
        app.message.set(Some(Message::refused(say::KEPT_BROKEN, say::KEPT_BROKEN_HINT)));
    }
    let strips: Option<KeptStrips> = strips.and_then(|text| serde_json::from_str(text).ok());
    app.scanning.moved.set(None);
    app.scanning.refused.set(None);
    app.scanning.stopped.set(Vec::new());
    app.scanning.strips.set(strips.unwrap_or_default());
    app.scanning.decisions.set(decisions.and_then(|text| serde_json::from_str(text).ok()).unwrap_or_default());
    app.scanning.desk.set(Some(opened.and_then(Result::ok).unwrap_or(fresh)));
    is_sound
}

/// The strips as text for the browser's store.
pub fn strips_text(strips: &KeptStrips) -> String {
    serde_json::to_string(strips).unwrap_or_default()
}

fn fresh_desk(plan: &TastingPlan) -> ScanDesk {
    let study = plan.study_id();
    let seed = fnv_1a(study.as_bytes());
    ScanDesk::new(&study, seed)
}

/// Goes to the desk.
pub fn look_at_desk(app: AppState) {
    app.view.set(View::Plan);
    app.plan_part.set(PlanPart::Pictures);
}

/// Notes who decides from now on.
pub fn name_person(app: AppState, name: &str) {
    let name = name.trim().to_owned();
    change(app, |desk| desk.who = name);
}

pub fn note_reading(app: AppState, now: Option<ReadingNow>) {
    app.scanning.reading.set(now);
}

/// Notes which pictures were left unread when the person stopped.
pub fn note_stopped(app: AppState, files: Vec<String>) {
    app.scanning.stopped.set(files);
}

/// Notes further pictures that were left unread.
pub fn note_also_stopped(app: AppState, files: impl IntoIterator<Item = String>) {
    app.scanning.stopped.update(|stopped| stopped.extend(files));
}

/// Notes whether the browser kept decisions, and strips.
pub fn note_saved(app: AppState, is_saved: bool) {
    app.scanning.is_saved.set(is_saved);
}

pub fn note_strips_saved(app: AppState, are_saved: bool) {
    app.scanning.strips_are_saved.set(are_saved);
}

/// The name under which a file with the same bytes lies on the desk already.
pub fn same_file(app: AppState, fingerprint: &str) -> Option<String> {
    app.scanning.desk.with_untracked(|desk| Some(desk.as_ref()?.picture_with(fingerprint)?.file.clone()))
}

/// A picture that was not read, with why, and what to do.
pub fn take_refused(app: AppState, name: PictureName, why: &str) {
    change(app, |desk| desk.take_refused(name, why));
}

/// What was found in a picture.
pub fn take_found(app: AppState, name: PictureName, known: &KnownPages, found: &[PageFound]) {
    let Some(plan) = app.plan.get_untracked() else { return };
    let mut strips = app.scanning.strips.get_untracked();
    change(app, |desk| {
        if desk.study == plan.study_id() {
            desk.take_found(name, (&plan, known), found, &mut strips);
        }
    });
    app.scanning.strips.set(strips);
}

/// Takes a picture that failed off the list.
pub fn put_failed_away(app: AppState, picture: usize) {
    change(app, |desk| desk.put_failed_away(picture));
}

/// The row that is asked about now; nothing where empty rows are due or nothing is.
pub fn asked(desk: &ScanDesk, strips: &KeptStrips) -> Option<AskedRow> {
    let (place, kind) = match desk.due() {
        Due::Doubtful(place) => (place, AskedKind::Doubtful),
        Due::Again(place) => (place, AskedKind::Again),
        Due::Differs(place) => (place, AskedKind::Differs),
        Due::Empty(_) | Due::Nothing => return None,
    };
    shown_row(desk, strips, place, kind)
}

/// Empty rows that are to be confirmed together.
pub fn empties(desk: &ScanDesk, strips: &KeptStrips) -> Vec<AskedRow> {
    let Due::Empty(places) = desk.due() else { return Vec::new() };
    places.into_iter().filter_map(|place| shown_row(desk, strips, place, AskedKind::Doubtful)).collect()
}

fn shown_row(desk: &ScanDesk, strips: &KeptStrips, place: RowPlace, kind: AskedKind) -> Option<AskedRow> {
    let page = desk.pages.get(place.page)?;
    let row = page.rows.get(place.row)?.clone();
    Some(AskedRow {
        place,
        kind,
        assessor: page.assessor.clone(),
        session: page.session,
        code: page.code.clone(),
        file: desk.file_of(place.page).to_owned(),
        strip: strips.address(&page.code_text, row.number),
        row,
    })
}

/// Where the hairline stands: where it was put, else where the reader suggests; in the spot check nowhere until it is put.
pub fn hairline(asked: &AskedRow, moved: Option<(RowPlace, f64)>) -> Option<f64> {
    let moved = moved.filter(|(place, _)| *place == asked.place).map(|(_, mark)| mark);
    match asked.kind {
        AskedKind::Doubtful => moved.or(asked.row.suggested_mm),
        AskedKind::Again => moved,
        AskedKind::Differs => asked.row.looked_again.as_ref().and_then(|looked| looked.mark_mm),
    }
}

/// The part of a strip that is shown closer, as its left end and length along the line, in mm. It stays where it was as
/// long as the hairline stands well inside it: it must not run away under a finger.
pub fn closer(mark_mm: f64, before: Option<(f64, f64)>) -> (f64, f64) {
    let (left, length) = SmallStrip::across_mm();
    let is_inside = |(from, _): &(f64, f64)| (from + INSIDE_MM..=from + CLOSER_MM - INSIDE_MM).contains(&mark_mm);
    let around = ((mark_mm - CLOSER_MM / 2.0).clamp(left, left + length - CLOSER_MM), CLOSER_MM);
    before.filter(is_inside).unwrap_or(around)
}

/// Puts the hairline at a share of what is shown of a strip, which begins and is as long as this, in mm.
pub fn put_at(app: AppState, place: RowPlace, (left, length): (f64, f64), share: f64) {
    put_hairline(app, place, left + length * share);
}

/// Moves the hairline along; where none stands yet, it comes to the middle of the line.
pub fn nudge(app: AppState, by_mm: f64) {
    let Some(asked) = asked_now(app) else { return };
    let stands = hairline(&asked, app.scanning.moved.get_untracked());
    put_hairline(app, asked.place, stands.map_or(50.0, |mark| mark + by_mm));
}

fn put_hairline(app: AppState, place: RowPlace, mark_mm: f64) {
    app.scanning.refused.set(None);
    app.scanning.moved.set(Some((place, (mark_mm.clamp(0.0, 100.0) * 10.0).round() / 10.0)));
}

/// Enter: what was typed counts; else where the hairline was put; else the suggestion is accepted.
pub fn enter(app: AppState, typed: &str) {
    let Some(asked) = asked_now(app) else { return };
    let moved = app.scanning.moved.get_untracked().filter(|(place, _)| *place == asked.place).map(|(_, mark)| mark);
    let mark = if typed.trim().is_empty() { Ok(moved) } else { ScanDesk::mark_in(typed).map(Some) };
    match (mark, asked.kind) {
        (Err(why), _) => app.scanning.refused.set(Some(why)),
        (Ok(_), AskedKind::Differs) => app.scanning.refused.set(Some(say::CHOOSE_WHICH.to_owned())),
        (Ok(Some(mark_mm)), AskedKind::Doubtful) => {
            step(app, |desk| desk.decide(asked.place, Decision::Put { mark_mm }))
        }
        (Ok(None), AskedKind::Doubtful) if asked.row.suggested_mm.is_some() => {
            step(app, |desk| desk.decide(asked.place, Decision::Accepted));
        }
        (Ok(Some(mark)), AskedKind::Again) => step(app, |desk| desk.look_again(asked.place, Some(mark))),
        (Ok(None), _) => app.scanning.refused.set(Some(say::NOTHING_PUT.to_owned())),
    }
}

/// There is no mark on the line.
pub fn no_mark(app: AppState) {
    let Some(asked) = asked_now(app) else { return };
    match asked.kind {
        AskedKind::Doubtful => step(app, |desk| desk.decide(asked.place, Decision::NoMark)),
        AskedKind::Again => step(app, |desk| desk.look_again(asked.place, None)),
        AskedKind::Differs => app.scanning.refused.set(Some(say::CHOOSE_WHICH.to_owned())),
    }
}

/// Says who was wrong where a second look and the reader differ.
pub fn settle_spot(app: AppState, reader_was_wrong: bool) {
    if let Some(asked) = asked_now(app).filter(|asked| asked.kind == AskedKind::Differs) {
        step(app, |desk| desk.settle_spot(asked.place, reader_was_wrong));
    }
}

/// All these rows were seen to be empty.
pub fn confirm_empty(app: AppState, places: &[RowPlace]) {
    step(app, |desk| desk.confirm_empty(places));
}

/// There is something in a row that was called empty.
pub fn doubt_empty(app: AppState, place: RowPlace) {
    step(app, |desk| desk.doubt_empty(place));
}

/// Takes the latest step back.
pub fn back(app: AppState) {
    step(app, |desk| _ = desk.back());
}

fn asked_now(app: AppState) -> Option<AskedRow> {
    app.scanning.desk.with_untracked(|desk| asked(desk.as_ref()?, &KeptStrips::default()))
}

fn step(app: AppState, change_desk: impl FnOnce(&mut ScanDesk)) {
    app.scanning.moved.set(None);
    app.scanning.refused.set(None);
    change(app, change_desk);
}

fn change(app: AppState, change: impl FnOnce(&mut ScanDesk)) {
    app.scanning.desk.update(|desk| {
        if let Some(desk) = desk {
            change(desk);
        }
    });
}
