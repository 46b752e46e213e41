//! Tables of results as values: the same table is shown, copied, saved and printed. Pure functions of an analysis;
//! nothing here knows the browser.

pub mod anova;
pub mod closeness;
pub mod comparisons;
pub mod differences;
pub mod export;
pub mod integrated;
pub mod map;
pub mod means;
pub mod panel;
pub mod panel_people;
pub mod panel_rounds;
pub mod power;

#[cfg(test)]
mod tests;

use likeness_core::stats::Verdict;
use likeness_core::tables::{ResultCell, ResultTable};

/// A table with a name for its file, a heading, and notes that belong under it.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// Stem of the file name when it is saved, and hook for tests.
    pub name: &'static str,
    pub caption: String,
    /// What stands over the row heads.
    pub corner: String,
    pub columns: Vec<Column>,
    pub rows: Vec<Row>,
    pub notes: Vec<String>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    pub head: String,
    /// What stands over several neighbouring columns; empty where nothing does.
    pub group: String,
    /// A column that must not be mistaken for a result.
    pub is_warning: bool,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    pub head: String,
    /// Said small beside the head.
    pub aside: String,
    pub cells: Vec<Cell>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    pub content: Content,
    /// The sample the number belongs to; empty where it belongs to all.
    pub sample: String,
    /// The name of the number in the results as JSON.
    pub field: &'static str,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Content {
    /// A number as computed and as shown, with a second, smaller line.
    Number {
        value: f64,
        shown: String,
        detail: String,
    },
    Verdict(Verdict),
    Words(String),
    /// No number, and why.
    Missing {
        because: String,
    },
}

impl Table {
    /// A table of the engine for the page: its first column names the rows. `fields` name the numbers of the other
    /// columns, in order.
    pub fn of_results(name: &'static str, found: &ResultTable, fields: &[&'static str]) -> Self {
        let cell = |row: usize, column: usize| {
            let field = fields.get(column - 1).copied().unwrap_or_default();
            match &found.rows[row][column] {
                ResultCell::Number(value) => Cell::number("", field, *value, found.shown(row, column)),
                ResultCell::NotDefined(because) => Cell::missing("", field, because),
                ResultCell::Words(words) => Cell::words(field, words),
            }
        };
        let row = |row: usize| Row {
            head: found.shown(row, 0),
            aside: String::new(),
            cells: (1..found.columns.len()).map(|column| cell(row, column)).collect(),
        };
        Table {
            name,
            caption: found.caption.clone(),
            corner: found.columns.first().map(|column| column.head.clone()).unwrap_or_default(),
            columns: found.columns.iter().skip(1).map(|column| Column::grouped(&column.group, &column.head)).collect(),
            rows: (0..found.rows.len()).map(row).collect(),
            notes: found.notes.clone(),
        }
    }
}

impl Column {
    pub fn plain(head: impl Into<String>) -> Self {
        Column { head: head.into(), group: String::new(), is_warning: false }
    }

    pub fn grouped(group: impl Into<String>, head: impl Into<String>) -> Self {
        Column { head: head.into(), group: group.into(), is_warning: false }
    }
}

impl Cell {
    pub fn number(sample: &str, field: &'static str, value: f64, shown: String) -> Self {
        let content = Content::Number { value, shown, detail: String::new() };
        Cell { content, sample: sample.to_owned(), field }
    }

    pub fn words(field: &'static str, words: &str) -> Self {
        Cell { content: Content::Words(words.to_owned()), sample: String::new(), field }
    }

    /// Whether it holds words rather than a number.
    pub fn is_words(&self) -> bool {
        matches!(self.content, Content::Verdict(_) | Content::Words(_))
    }

    pub fn missing(sample: &str, field: &'static str, because: &str) -> Self {
        Cell { content: Content::Missing { because: because.to_owned() }, sample: sample.to_owned(), field }
    }
}
