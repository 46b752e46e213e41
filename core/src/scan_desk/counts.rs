//! How far reading has come: pages, pictures and rows counted. It knows nothing of what is asked next.

use super::desk::{Decision, DeskRow, DeskRowState, PictureSays, ScanDesk};
use crate::numeric::random::Random;
use crate::plan::ballot::page_code::PageIdentity;
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
        let is_in = |page: &KnownPage| self.pages.iter().any(|own| own.code_text == page.code_text);
        for page in known.pages.iter().filter(|page| !is_in(page)) {
            let Ok(identity) = PageIdentity::parse(&page.code_text) else { continue };
            let part = if identity.pages > 1 {
                format!(" (page {} of {})", identity.page, identity.pages)
            } else {
                String::new()
            };
            if let Some((_, codes)) = missing.get_mut((identity.assessor as usize).saturating_sub(1)) {
                codes.push(format!("{}{part}", identity.code));
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
