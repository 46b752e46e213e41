//! The one queue that a person works through: doubtful rows in the order of pages, then empty rows, then the spot check.
//! Every step can be taken back. It knows nothing of keys or of pictures.

use super::desk::{Decided, Decision, DeskRow, DeskRowState, RowPlace, ScanDesk, tenths};

/// Empty rows that are shown together at most: more are more than an eye goes over with care.
pub const EMPTY_AT_ONCE: usize = 30;

/// What a person is asked next.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Due {
    /// A row that the reader doubts.
    Doubtful(RowPlace),
    /// Rows in which no mark was found.
    Empty(Vec<RowPlace>),
    /// A row to be looked at again without being told what was read.
    Again(RowPlace),
    /// A row in which that look and the reader differ.
    Differs(RowPlace),
    /// Nothing is asked.
    #[default]
    Nothing,
}

/// How much is still to be done.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct QueueCount {
    pub doubtful: usize,
    pub empty: usize,
    pub again: usize,
}

impl ScanDesk {
    /// What comes next.
    pub fn due(&self) -> Due {
        let mut open = self.open_in(DeskRowState::Ask);
        if let Some(place) = open.next() {
            return Due::Doubtful(place);
        }
        let empty: Vec<RowPlace> = self.open_in(DeskRowState::Empty).take(EMPTY_AT_ONCE).collect();
        if !empty.is_empty() {
            return Due::Empty(empty);
        }
        let unsettled = |row: &DeskRow| {
            row.is_seen_otherwise() && row.looked_again.as_ref().is_some_and(|looked| looked.reader_was_wrong.is_none())
        };
        if let Some((place, _)) = self.rows().find(|(_, row)| unsettled(row)) {
            return Due::Differs(place);
        }
        self.spot_rows().into_iter().find(|place| self.is_unseen(*place)).map_or(Due::Nothing, Due::Again)
    }

    pub fn queue_count(&self) -> QueueCount {
        QueueCount {
            doubtful: self.open_in(DeskRowState::Ask).count(),
            empty: self.open_in(DeskRowState::Empty).count(),
            again: self.spot_rows().into_iter().filter(|place| self.is_unseen(*place)).count(),
        }
    }

    /// Decides a row. A place that is `Put` lies on the line, or nothing changes.
    pub fn decide(&mut self, place: RowPlace, what: Decision) {
        let what = match what {
            Decision::Put { mark_mm } if !(0.0..=100.0).contains(&mark_mm) => return,
            Decision::Put { mark_mm } => Decision::Put { mark_mm: tenths(mark_mm) },
            other => other,
        };
        if self.put_decision(place, what) {
            self.steps.push(vec![place]);
        }
    }

    /// A person saw that all these rows are empty.
    pub fn confirm_empty(&mut self, places: &[RowPlace]) {
        let done: Vec<RowPlace> =
            places.iter().copied().filter(|place| self.put_decision(*place, Decision::NoMark)).collect();
        if !done.is_empty() {
            self.steps.push(done);
        }
    }

    /// A person sees something in a row that was called empty: it is asked about like any other.
    pub fn doubt_empty(&mut self, place: RowPlace) {
        if let Some(row) = self.row_mut(place).filter(|row| row.state == DeskRowState::Empty) {
            row.state = DeskRowState::Ask;
            row.why = "a person sees a mark where none was found".to_owned();
        }
    }

    /// Takes the latest step back; `false` where there is none.
    pub fn back(&mut self) -> bool {
        let Some(places) = self.steps.pop() else { return false };
        for place in places {
            if let Some(row) = self.row_mut(place) {
                // A second look came after any decision.
                if row.looked_again.take().is_none() {
                    row.decided = None;
                }
            }
        }
        true
    }

    /// What a text says as a place along the line, in mm.
    ///
    /// # Errors
    /// Why it is none.
    pub fn mark_in(text: &str) -> Result<f64, String> {
        let typed = text.trim();
        let plain = typed.bytes().all(|byte| byte.is_ascii_digit() || matches!(byte, b'.' | b','));
        let number = typed.replace(',', ".").parse::<f64>().ok().filter(|_| plain);
        match number {
            Some(mark) if (0.0..=100.0).contains(&mark) => Ok(mark),
            Some(mark) => Err(format!("{mark} lies outside the line, which is 0 to 100 mm long.")),
            None if typed.is_empty() => Err("Type the millimetres from the left end of the line.".to_owned()),
            None => Err(format!("“{typed}” is no number of millimetres.")),
        }
    }

    fn put_decision(&mut self, place: RowPlace, what: Decision) -> bool {
        let who = self.who.clone();
        let Some(row) = self.row_mut(place) else { return false };
        if what == Decision::Accepted && row.suggested_mm.is_none() {
            return false;
        }
        row.decided = Some(Decided { what, who });
        true
    }

    fn open_in(&self, state: DeskRowState) -> impl Iterator<Item = RowPlace> {
        self.rows().filter(move |(_, row)| row.state == state && row.is_open()).map(|(place, _)| place)
    }

    fn is_unseen(&self, place: RowPlace) -> bool {
        self.row(place).is_some_and(|row| row.looked_again.is_none())
    }
}
