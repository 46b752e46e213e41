//! One assessor going through one sheet on a screen: consent, warm-up, cup by cup with a rest between, done. It is plain
//! data that can be saved after each mark; the clock comes with each call. It knows nothing of what is in a cup.

use super::ballot_file::{OnScreenBallot, OnScreenSheet};
use serde::{Deserialize, Serialize};

/// Marks are kept in tenths of a millimetre on a line of 100 mm.
pub const LINE_TENTHS: u16 = 1000;

/// A time of day as the caller's clock gives it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Moment {
    /// Local date and time.
    pub local: String,
    /// Seconds since 1970.
    pub seconds: u64,
}

/// What the assessor has before them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum OnScreenStep {
    /// Cautions and consent.
    Consent,
    /// The cup that isn't marked.
    WarmUp,
    /// The lines of a cup, by index from 0.
    Cup(usize),
    /// The rest before a cup.
    Rest(usize),
    Done,
}

/// One cup on its way.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct CupRun {
    pub code: String,
    /// From 1.
    pub position: u32,
    /// One an attribute, in tenths of a millimetre from the left end; `None` where there is no mark.
    pub marks: Vec<Option<u16>>,
    pub shown: Option<Moment>,
    pub finished: Option<Moment>,
    /// Whether the assessor was asked about lines without a mark and went on without.
    pub left_unmarked: bool,
}

/// A rest that was taken or not.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct RestTaken {
    /// Position of the cup that came after it.
    pub before_position: u32,
    pub planned_seconds: u32,
    pub taken_seconds: u64,
    pub ended_early: bool,
}

/// The state of a sheet. Every change is a method.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct OnScreenRun {
    pub study: String,
    pub sheet: OnScreenSheet,
    pub attributes: Vec<String>,
    pub rest_seconds: u32,
    pub step: OnScreenStep,
    pub consented: Option<Moment>,
    pub cups: Vec<CupRun>,
    pub rests: Vec<RestTaken>,
    /// When the rest that is running began.
    pub resting_since: Option<Moment>,
    /// Whether the assessor was asked about unmarked lines of the cup before them.
    pub asked: bool,
    /// How often the results were saved.
    pub saved: u32,
}

/// What finishing a cup led to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Finished {
    /// Lines without a mark are left: the cup stays until they are marked or left so in so many words.
    Asked {
        unmarked: usize,
    },
    Rest,
    NextCup,
    Done,
    /// There is no cup to finish.
    Nothing,
}

impl CupRun {
    fn blank(position: u32, code: &str, form: &OnScreenBallot) -> Self {
        CupRun {
            code: code.to_owned(),
            position,
            marks: vec![None; form.attributes.len()],
            shown: None,
            finished: None,
            left_unmarked: false,
        }
    }
}

impl OnScreenRun {
    /// A sheet of a form at its beginning; `None` where the form has no such sheet.
    pub fn of_form(form: &OnScreenBallot, sheet: usize) -> Option<OnScreenRun> {
        let sheet = form.sheets.get(sheet)?;
        Some(OnScreenRun {
            study: form.study.clone(),
            sheet: sheet.clone(),
            attributes: form.attributes.iter().map(|attribute| attribute.name.clone()).collect(),
            rest_seconds: form.rest_seconds,
            step: OnScreenStep::Consent,
            consented: None,
            cups: (1..).zip(&sheet.codes).map(|(position, code)| CupRun::blank(position, code, form)).collect(),
            rests: Vec::new(),
            resting_since: None,
            asked: false,
            saved: 0,
        })
    }

    /// Whether a kept run is about this sheet of this form, so that it can go on.
    pub fn belongs_to(&self, form: &OnScreenBallot, sheet: &OnScreenSheet) -> bool {
        let names = form.attributes.iter().map(|attribute| &attribute.name);
        self.study == form.study
            && self.sheet == *sheet
            && self.attributes.iter().eq(names)
            && self.cups.len() == sheet.codes.len()
            && self.cups.iter().all(|cup| cup.marks.len() == self.attributes.len())
    }

    /// The cup whose lines are shown.
    pub fn cup(&self) -> Option<&CupRun> {
        match self.step {
            OnScreenStep::Cup(index) => self.cups.get(index),
            _ => None,
        }
    }

    /// The assessor read the cautions and agrees to taste.
    pub fn consent(&mut self, now: &Moment) {
        if self.step != OnScreenStep::Consent {
            return;
        }
        self.consented = Some(now.clone());
        if self.sheet.warm_up_code.is_some() { self.step = OnScreenStep::WarmUp } else { self.show_cup(0, now) }
    }

    /// The cup that isn't marked was tasted.
    pub fn warm_up_done(&mut self, now: &Moment) {
        if self.step == OnScreenStep::WarmUp {
            self.rest_before(0, now);
        }
    }

    /// Makes, moves or (with `None`) takes away a mark, in tenths of a millimetre from the left end.
    pub fn mark(&mut self, row: usize, tenths: Option<u16>) {
        if let OnScreenStep::Cup(index) = self.step
            && let Some(mark) = self.cups.get_mut(index).and_then(|cup| cup.marks.get_mut(row))
        {
            *mark = tenths.map(|tenths| tenths.min(LINE_TENTHS));
        }
    }

    /// Moves a mark by tenths of a millimetre. A line without a mark has no place to start from that wouldn't suggest
    /// one, so the mark comes in from the end that it moves away from.
    pub fn nudge(&mut self, row: usize, tenths: i32) {
        let now = self.cup().and_then(|cup| cup.marks.get(row).copied()).flatten();
        let end = if tenths > 0 { 0 } else { i32::from(LINE_TENTHS) };
        let moved = now.map_or(end, i32::from).saturating_add(tenths).clamp(0, i32::from(LINE_TENTHS));
        self.mark(row, Some(moved as u16));
    }

    /// Rows of the cup before the assessor that have no mark.
    pub fn unmarked_rows(&self) -> Vec<usize> {
        let marks = self.cup().map_or(&[][..], |cup| &cup.marks);
        (0..marks.len()).filter(|row| marks[*row].is_none()).collect()
    }

    /// The assessor is through with the cup. While lines have no mark it stays, however often this is called: a double
    /// tap skips nothing.
    pub fn finish_cup(&mut self, now: &Moment) -> Finished {
        let OnScreenStep::Cup(index) = self.step else { return Finished::Nothing };
        let unmarked = self.unmarked_rows().len();
        if unmarked > 0 {
            self.asked = true;
            return Finished::Asked { unmarked };
        }
        self.leave_cup(index, now)
    }

    /// Goes on and leaves lines without a mark, once the assessor was asked about them.
    pub fn finish_without_marks(&mut self, now: &Moment) -> Finished {
        match self.step {
            OnScreenStep::Cup(index) if self.asked => self.leave_cup(index, now),
            _ => self.finish_cup(now),
        }
    }

    fn leave_cup(&mut self, index: usize, now: &Moment) -> Finished {
        let left_unmarked = !self.unmarked_rows().is_empty();
        if let Some(cup) = self.cups.get_mut(index) {
            cup.finished = Some(now.clone());
            cup.left_unmarked = left_unmarked;
        }
        self.asked = false;
        if index + 1 >= self.cups.len() {
            self.step = OnScreenStep::Done;
            return Finished::Done;
        }
        self.rest_before(index + 1, now);
        if matches!(self.step, OnScreenStep::Rest(_)) { Finished::Rest } else { Finished::NextCup }
    }

    /// Seconds of rest that are left; 0 where none is running.
    pub fn rest_left_seconds(&self, now: &Moment) -> u64 {
        self.resting_since
            .as_ref()
            .map_or(0, |since| u64::from(self.rest_seconds).saturating_sub(now.seconds.saturating_sub(since.seconds)))
    }

    /// Ends the rest and shows the next cup. Ending it early is noted.
    pub fn end_rest(&mut self, now: &Moment) {
        let OnScreenStep::Rest(next) = self.step else { return };
        let taken = self.resting_since.as_ref().map_or(0, |since| now.seconds.saturating_sub(since.seconds));
        self.rests.push(RestTaken {
            before_position: next as u32 + 1,
            planned_seconds: self.rest_seconds,
            taken_seconds: taken,
            ended_early: self.rest_left_seconds(now) > 0,
        });
        self.resting_since = None;
        self.show_cup(next, now);
    }

    fn rest_before(&mut self, cup: usize, now: &Moment) {
        if self.rest_seconds == 0 {
            return self.show_cup(cup, now);
        }
        self.resting_since = Some(now.clone());
        self.step = OnScreenStep::Rest(cup);
    }

    fn show_cup(&mut self, index: usize, now: &Moment) {
        self.step = OnScreenStep::Cup(index);
        self.asked = false;
        if let Some(cup) = self.cups.get_mut(index) {
            cup.shown.get_or_insert_with(|| now.clone());
        }
    }
}
