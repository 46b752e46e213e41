//! The spot check: rows that were taken without asking, drawn by seed, and looked at again by a person who isn't told what
//! was read. How often the two differ is what a house knows of its own pens, paper and scanner. It knows nothing of
//! pictures.

use super::desk::{DeskRow, DeskRowState, LookedAgain, RowPlace, ScanDesk, tenths};
use crate::numeric::binomial::upper_bound;
use crate::numeric::random::Random;
use std::collections::BTreeSet;

/// One row in so many is looked at again, and at least so many, where there are.
const ONE_IN: usize = 20;
const AT_LEAST: usize = 10;
/// A person and the reader differ where their places lie farther apart than this, in mm.
pub const DIFFERS_MM: f64 = 2.0;
/// The chance that the share of wrong rows is larger than the limit that is stated.
const BEYOND_LIMIT: f64 = 0.05;

/// What the spot check has found so far.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct SpotCheck {
    /// Rows that were taken without asking.
    pub rows_read: usize,
    /// Rows that are to be looked at again.
    pub drawn: usize,
    pub looked_at: usize,
    /// Rows in which the reader was found wrong, or in which that is not said yet.
    pub errors: usize,
    /// Rows in which the person had slipped.
    pub slips: usize,
}

impl SpotCheck {
    /// The share of rows looked at that were wrong; nothing before the first.
    pub fn error_share(&self) -> Option<f64> {
        (self.looked_at > 0).then(|| self.errors as f64 / self.looked_at as f64)
    }

    /// With 95 % confidence no larger share of the rows read is wrong: the exact one-sided bound of Clopper & Pearson.
    pub fn error_limit(&self) -> Option<f64> {
        (self.looked_at > 0).then(|| upper_bound(self.looked_at as u64, self.errors as u64, BEYOND_LIMIT))
    }
}

impl LookedAgain {
    /// Whether what was seen differs from what was read.
    pub fn differs_from(&self, read_mm: Option<f64>) -> bool {
        match (self.mark_mm, read_mm) {
            (Some(seen), Some(read)) => (seen - read).abs() > DIFFERS_MM,
            (seen, read) => seen.is_some() != read.is_some(),
        }
    }
}

impl DeskRow {
    /// Whether a person looked at the row again and saw something else than was read.
    pub fn is_seen_otherwise(&self) -> bool {
        self.looked_again.as_ref().is_some_and(|looked| looked.differs_from(self.suggested_mm))
    }
}

impl ScanDesk {
    /// The rows to be looked at again, in the order of pages.
    pub fn spot_rows(&self) -> Vec<RowPlace> {
        let mut ranked = ranked(self);
        let drawn = drawn_of(ranked.len());
        ranked.truncate(drawn);
        ranked.sort_unstable();
        ranked
    }

    pub fn spot_check(&self) -> SpotCheck {
        let looked = || self.rows().filter_map(|(_, row)| row.looked_again.as_ref().map(|looked| (row, looked)));
        let differ = || looked().filter(|(row, _)| row.is_seen_otherwise());
        let slips = differ().filter(|(_, looked)| looked.reader_was_wrong == Some(false)).count();
        SpotCheck {
            rows_read: self.rows().filter(|(_, row)| is_taken(row)).count(),
            drawn: self.spot_rows().len(),
            looked_at: looked().count(),
            errors: differ().count() - slips,
            slips,
        }
    }

    /// A person looked at a row and saw the mark there, or none. What was read is not overwritten.
    pub fn look_again(&mut self, place: RowPlace, mark_mm: Option<f64>) {
        let who = self.who.clone();
        if let Some(row) = self.row_mut(place).filter(|row| is_taken(row)) {
            row.looked_again = Some(LookedAgain { mark_mm: mark_mm.map(tenths), reader_was_wrong: None, who });
            self.steps.push(vec![place]);
        }
    }

    /// A person looked once more at a row in which the two differ.
    pub fn settle_spot(&mut self, place: RowPlace, reader_was_wrong: bool) {
        if let Some(looked) = self.row_mut(place).and_then(|row| row.looked_again.as_mut()) {
            looked.reader_was_wrong = Some(reader_was_wrong);
        }
    }
}

/// Taken without asking.
fn is_taken(row: &DeskRow) -> bool {
    row.state == DeskRowState::Read && row.decided.is_none()
}

fn drawn_of(rows: usize) -> usize {
    rows.div_ceil(ONE_IN).max(AT_LEAST).min(rows)
}

/// Rows taken without asking in an order drawn by seed, which a page that comes later does not change.
fn ranked(desk: &ScanDesk) -> Vec<RowPlace> {
    let rank = |place: RowPlace, row: &DeskRow| {
        let name = format!("spot check {} {}", desk.pages[place.page].code_text, row.number);
        (Random::seeded_for(desk.seed, &name).bits(), place)
    };
    let mut ranked: Vec<(u64, RowPlace)> =
        desk.rows().filter(|(_, row)| is_taken(row)).map(|(place, row)| rank(place, row)).collect();
    ranked.sort_unstable();
    ranked.into_iter().map(|(_, place)| place).collect()
}

/// Which rows that were taken may come to be looked at again: twice as many as now, since a later page adds to them.
pub(super) fn is_to_be_kept(desk: &ScanDesk) -> impl Fn(RowPlace) -> bool + use<> {
    let ranked = ranked(desk);
    let kept = 2 * drawn_of(ranked.len());
    let likely: BTreeSet<RowPlace> = ranked.into_iter().take(kept).collect();
    move |place| likely.contains(&place)
}
