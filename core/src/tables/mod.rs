//! Results as tables of numbers: the same table is printed in the report and written into the workbook. A cell holds the
//! number as computed; how many digits are shown is said by its column.

use crate::text::numbers::{fixed, p_value, score, signed_score, statistic};

pub use r#match::closeness::{TARGET_AGAIN, closeness};
pub use r#match::differences::percent;
pub use r#match::differences::{differences, verdicts};
pub use panel::performance::{assessors, panel_attributes};
pub use samples::means::{means, means_long, variance};

/// A table of results with the notes that belong under it.
#[derive(Clone, Debug, PartialEq)]
pub struct ResultTable {
    pub caption: String,
    pub columns: Vec<ResultColumn>,
    /// Each row has one cell a column.
    pub rows: Vec<Vec<ResultCell>>,
    pub notes: Vec<String>,
    /// Decides how many decimals a score shows.
    pub scale_maximum: f64,
}

/// One column.
#[derive(Clone, Debug, PartialEq)]
pub struct ResultColumn {
    pub head: String,
    /// What stands over several neighbouring columns; empty where nothing does.
    pub group: String,
    pub kind: ColumnKind,
}

/// What a column holds, and so how it is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ColumnKind {
    Words,
    /// A score, mean or standard error, in units of the scale.
    Score,
    /// The same with its sign.
    Difference,
    Probability,
    /// Whole where whole, else this many decimals.
    Statistic(usize),
    /// Always this many decimals.
    Fixed(usize),
    Count,
    /// A share, as a count of a hundred.
    OfHundred,
    /// All digits that the number has.
    AsGiven,
}

#[derive(Clone, Debug, PartialEq)]
pub enum ResultCell {
    Words(String),
    Number(f64),
    /// No number, and why.
    NotDefined(String),
}

impl ResultTable {
    /// A cell as it is printed; where nothing is defined, a dash.
    pub fn shown(&self, row: usize, column: usize) -> String {
        let cell = self.rows.get(row).and_then(|cells| cells.get(column));
        match (cell, self.columns.get(column)) {
            (Some(ResultCell::Words(words)), _) => words.clone(),
            (Some(ResultCell::Number(value)), Some(column)) => shown_number(*value, column.kind, self.scale_maximum),
            _ => "–".to_owned(),
        }
    }

    /// Why cells of this table are not defined, each reason once, in the order of the table.
    pub fn reasons(&self) -> Vec<&str> {
        let mut reasons: Vec<&str> = Vec::new();
        for cell in self.rows.iter().flatten() {
            if let ResultCell::NotDefined(because) = cell
                && !reasons.contains(&because.as_str())
            {
                reasons.push(because);
            }
        }
        reasons
    }
}

impl ResultColumn {
    pub fn plain(head: &str, kind: ColumnKind) -> Self {
        ResultColumn { head: head.to_owned(), group: String::new(), kind }
    }

    pub fn grouped(group: &str, head: &str, kind: ColumnKind) -> Self {
        ResultColumn { head: head.to_owned(), group: group.to_owned(), kind }
    }

    /// Group and head in one line, for formats with one header row.
    pub fn full_head(&self) -> String {
        format!("{} {}", self.group, self.head).trim().to_owned()
    }
}

impl ResultCell {
    pub fn words(text: impl Into<String>) -> Self {
        ResultCell::Words(text.into())
    }

    /// A number of a quantity that may not be defined.
    pub fn of<T>(quantity: &crate::stats::Defined<T>, number: impl Fn(&T) -> f64) -> Self {
        match quantity {
            Ok(value) => ResultCell::Number(number(value)),
            Err(reason) => ResultCell::NotDefined(reason.because.clone()),
        }
    }
}

fn shown_number(value: f64, kind: ColumnKind, scale_maximum: f64) -> String {
    match kind {
        ColumnKind::Score => score(value, scale_maximum),
        ColumnKind::Difference => signed_score(value, scale_maximum),
        ColumnKind::Probability => p_value(value),
        ColumnKind::Statistic(decimals) => statistic(value, decimals),
        ColumnKind::Fixed(decimals) => fixed(value, decimals),
        ColumnKind::OfHundred => format!("{} of 100", statistic(100.0 * value, 0)),
        ColumnKind::AsGiven => value.to_string(),
        ColumnKind::Count | ColumnKind::Words => statistic(value, 3),
    }
}
pub mod r#match;
pub mod panel;
pub mod samples;
