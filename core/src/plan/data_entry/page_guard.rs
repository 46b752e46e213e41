//! The alarm for a slipped page: a finished page is compared with what the rest of the panel gave the same sample. It
//! only asks for a second look at the paper; it changes nothing.

use super::entry::{DataEntry, Entry};
use crate::numeric::describe::line;

/// Why a page should be looked at again.
#[derive(Clone, Debug, PartialEq)]
pub enum PageSlipAlarm {
    /// The page fits the panel clearly better when it is moved: from `first_row` on (index from 0), by `by` rows.
    Shifted { first_row: usize, by: i64, as_typed: f64, moved: f64 },
    /// The page runs against the panel, as if the line was read from its right end.
    Mirrored { as_typed: f64 },
}

/// How much better a moved page must fit, and how well. Set by judgement: low enough to catch a slip over half a page,
/// high enough to be silent on an honest assessor who disagrees.
const BETTER_BY: f64 = 0.3;
const GOOD_FIT: f64 = 0.6;
const MIRRORED_BELOW: f64 = -0.5;
const FEWEST_ROWS: usize = 6;
const FEWEST_OTHERS: usize = 3;

impl DataEntry {
    /// Compares a page with the mean of the other assessors' pages of the same sample. `None` where nothing is odd or
    /// where there are fewer than 3 other full pages or 6 rows to compare with.
    pub fn slip_alarm(&self, page: usize) -> Option<PageSlipAlarm> {
        let own: Vec<Option<f64>> = self.entries().get(page)?.iter().map(score).collect();
        let panel = self.panel_profile(page)?;
        let as_typed = correlation(&own, &panel)?;
        if as_typed < MIRRORED_BELOW {
            return Some(PageSlipAlarm::Mirrored { as_typed });
        }
        let mut best: Option<PageSlipAlarm> = None;
        let mut best_fit = (as_typed + BETTER_BY).max(GOOD_FIT);
        for by in [1_i64, -1] {
            for first_row in 0..own.len().saturating_sub(FEWEST_ROWS / 2) {
                let Some(moved) = correlation(&moved_back(&own, first_row, by), &panel) else { continue };
                if moved > best_fit {
                    best_fit = moved;
                    best = Some(PageSlipAlarm::Shifted { first_row, by, as_typed, moved });
                }
            }
        }
        best
    }

    /// Mean score a row over the other assessors' full pages of the sample of this page.
    fn panel_profile(&self, page: usize) -> Option<Vec<Option<f64>>> {
        let this = self.pages.get(page)?;
        let others: Vec<&Vec<Entry>> = self
            .pages
            .iter()
            .zip(self.entries())
            .filter(|(other, entries)| {
                other.sample == this.sample && other.assessor != this.assessor && !entries.contains(&Entry::NotTyped)
            })
            .map(|(_, entries)| entries)
            .collect();
        if others.len() < FEWEST_OTHERS {
            return None;
        }
        let mean = |row: usize| {
            let scores: Vec<f64> = others.iter().filter_map(|entries| score(&entries[row])).collect();
            (!scores.is_empty()).then(|| scores.iter().sum::<f64>() / scores.len() as f64)
        };
        Some((0..self.attributes.len()).map(mean).collect())
    }
}

impl PageSlipAlarm {
    /// The row to look at first, from 0.
    pub fn first_row(&self) -> usize {
        match self {
            PageSlipAlarm::Shifted { first_row, .. } => *first_row,
            PageSlipAlarm::Mirrored { .. } => 0,
        }
    }

    /// What to tell the person who typed.
    pub fn sentence(&self) -> String {
        match self {
            PageSlipAlarm::Shifted { first_row, by, as_typed, moved } => format!(
                "From row {} on the page fits the panel better one row {} (correlation {moved:.2} instead of {as_typed:.2}). \
                 Look at the paper: was a row {}?",
                first_row + 1,
                if *by > 0 { "higher" } else { "lower" },
                if *by > 0 { "typed twice" } else { "skipped" },
            ),
            PageSlipAlarm::Mirrored { as_typed } => format!(
                "The page runs against the panel (correlation {as_typed:.2}). Look at the paper: was the line read from its \
                 right end?"
            ),
        }
    }
}

fn score(entry: &Entry) -> Option<f64> {
    match entry {
        Entry::Score(value) => Some(*value),
        _ => None,
    }
}

/// The page as it would be without a slip of `by` rows that began at `first_row`: with `by` 1, what stands at
/// `first_row` is one too many and everything after it belongs one row higher.
fn moved_back(own: &[Option<f64>], first_row: usize, by: i64) -> Vec<Option<f64>> {
    let source = |row: usize| if row < first_row { Some(row) } else { row.checked_add_signed(by as isize) };
    let moved = |row: usize| match source(row) {
        // A skipped row leaves a gap at the row itself.
        Some(from) if by < 0 && row == first_row && from < first_row => None,
        Some(from) => own.get(from).copied().flatten(),
        None => None,
    };
    (0..own.len()).map(moved).collect()
}

/// Pearson's correlation over rows that have both; `None` under 6 rows or without spread.
fn correlation(left: &[Option<f64>], right: &[Option<f64>]) -> Option<f64> {
    let both = left.iter().zip(right).filter_map(|(left, right)| Some(((*left)?, (*right)?)));
    let (left, right): (Vec<f64>, Vec<f64>) = both.unzip();
    if left.len() < FEWEST_ROWS {
        return None;
    }
    line(&left, &right).map(|line| line.correlation)
}
