//! Tables of the plan as CSV text that a spreadsheet opens without running anything. It knows nothing of what the
//! tables hold.

pub use crate::text::csv::{csv_text, harmless_cell, plain_cell};

/// An empty box to be ticked with a pen.
pub const TICK_BOX: &str = "\u{2610}";

/// A sheet to be printed or saved: a title, notes above it, and cells as text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetTable {
    /// What stands above it.
    pub title: String,
    /// True where assessors and servers must not see it.
    pub confidential: bool,
    /// Sentences that belong above the table.
    pub notes: Vec<String>,
    /// Heads, in order.
    pub columns: Vec<String>,
    /// Each row has one cell a column.
    pub rows: Vec<Vec<String>>,
}

impl SheetTable {
    /// The table as CSV, header first, lines ended by LF. Notes are not part of it.
    pub fn to_csv(&self) -> String {
        csv_text(&self.columns, &self.rows)
    }
}
