//! How far reading has come: pages, pictures and rows counted. It knows nothing of what is asked next.

use super::desk::{Decision, DeskRow, DeskRowState, PictureSays, ScanDesk};

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
