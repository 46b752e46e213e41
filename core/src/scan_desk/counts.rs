//! How far reading has come: pages, pictures and rows counted. It knows nothing of what is asked next.

use super::desk::{Decision, DeskPage, DeskRow, DeskRowState, PictureSays, ScanDesk};
use crate::numeric::random::Random;
use crate::plan::tasting_plan::TastingPlan;
use crate::scan::{KnownPage, KnownPages};

/// One page in so many is typed by a second reader, and at least so many.
const ONE_PAGE_IN: usize = 20;
const FEWEST_PAGES: usize = 2;

/// Counts of all that lies on the desk.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct DeskCounts {
    pub pictures: usize,
    pub pages_read: usize,
    /// Pages whose every row is settled.
    pub pages_settled: usize,
    /// Findings in pictures that are no page of the plan.
    pub failed: usize,
    /// Pages that came a second time.
    pub again: usize,
    /// Test pages.
    pub tests: usize,
    pub rows: RowCounts,
}

/// Rows by how they stand.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct RowCounts {
    /// Taken without asking.
    pub read: usize,
    /// Asked about.
    pub asked: usize,
    pub accepted: usize,
    pub corrected: usize,
    pub no_mark: usize,
    /// In which no mark was found.
    pub empty: usize,
    pub confirmed: usize,
    /// Asked about or empty, and not decided.
    pub open: usize,
}

impl ScanDesk {
    pub fn counts(&self) -> DeskCounts {
        let says = |kind: fn(&PictureSays) -> bool| {
            self.pictures.iter().flat_map(|picture| &picture.found).filter(|says| kind(says)).count()
        };
        DeskCounts {
            pictures: self.pictures.len(),
            pages_read: self.pages.len(),
            pages_settled: self.pages.iter().filter(|page| page.is_settled()).count(),
            failed: says(|says| matches!(says, PictureSays::Failed { .. })),
            again: says(|says| matches!(says, PictureSays::Again { .. })),
            tests: says(|says| matches!(says, PictureSays::Test { .. })),
            rows: RowCounts::of(self.rows().map(|(_, row)| row)),
        }
    }
}

impl ScanDesk {
    /// Pages of the plan that no picture holds: by assessor, the codes of their cups with the number of the page where a
    /// cup has several.
    pub fn missing(&self, plan: &TastingPlan, known: &KnownPages) -> Vec<(String, Vec<String>)> {
        let mut missing: Vec<(String, Vec<String>)> =
            plan.assessors.iter().map(|name| (name.clone(), Vec::new())).collect();
        let servings = plan.servings();
        for (index, page) in known.pages.iter().enumerate() {
            let Some(cup) = servings.get(page.serving) else { continue };
            let is_it = |own: &DeskPage| {
                plan.assessors.get(cup.assessor) == Some(&own.assessor) && own.code == cup.code && own.has_rows(page)
            };
            if !self.pages.iter().any(is_it) {
                missing[cup.assessor].1.push(format!("{}{}", cup.code, part_in_words(known, index)));
            }
        }
        missing.retain(|(_, codes)| !codes.is_empty());
        missing
    }

    /// Cups for a second reader to type from paper, drawn by seed from those read: one in twenty, and at least two. As
    /// assessor and code.
    pub fn pages_to_type(&self) -> Vec<(String, String)> {
        let mut cups: Vec<(u64, (String, String))> = Vec::new();
        for page in &self.pages {
            let cup = (page.assessor.clone(), page.code.clone());
            let rank = Random::seeded_for(self.seed, &format!("type {} {}", cup.0, cup.1)).bits();
            if !cups.iter().any(|(_, other)| *other == cup) {
                cups.push((rank, cup));
            }
        }
        cups.sort_unstable();
        let wanted = cups.len().div_ceil(ONE_PAGE_IN).max(FEWEST_PAGES);
        cups.into_iter().take(wanted).map(|(_, cup)| cup).collect()
    }
}

/// " (page 2 of 3)" where the lines of a cup fill several pages.
fn part_in_words(known: &KnownPages, index: usize) -> String {
    let is_same_cup = |page: &&KnownPage| page.serving == known.pages[index].serving;
    let pages = known.pages.iter().filter(is_same_cup).count();
    let before = known.pages[..index].iter().filter(is_same_cup).count();
    if pages > 1 { format!(" (page {} of {pages})", before + 1) } else { String::new() }
}

impl RowCounts {
    /// Of any rows, such as those of one page.
    pub fn of<'a>(rows: impl Iterator<Item = &'a DeskRow>) -> Self {
        rows.fold(RowCounts::default(), RowCounts::with)
    }

    fn with(mut self, row: &DeskRow) -> Self {
        match row.state {
            DeskRowState::Read => self.read += 1,
            DeskRowState::Ask => self.asked += 1,
            DeskRowState::Empty => self.empty += 1,
        }
        match (row.decided.as_ref().map(|decided| decided.what), row.state) {
            (Some(Decision::Accepted), _) => self.accepted += 1,
            (Some(Decision::Put { .. }), _) => self.corrected += 1,
            (Some(Decision::NoMark), DeskRowState::Empty) => self.confirmed += 1,
            (Some(Decision::NoMark), _) => self.no_mark += 1,
            (None, DeskRowState::Read) => {}
            (None, _) => self.open += 1,
        }
        self
    }
}
