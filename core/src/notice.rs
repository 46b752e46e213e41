//! Notices: the only way anything is said to the user about a file or a study.
//!
//! A notice says where, what is wrong, and what to do. It knows nothing of who raised it or of how it is shown.

use serde::{Deserialize, Serialize};
use std::fmt;

/// How much a notice matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Severity {
    /// How something was understood; nothing was changed.
    Understood,
    /// Something was changed or left out; the change stands in the log and prints with the report.
    Repaired,
    /// Something looks wrong and the person should decide.
    Check,
    /// Nothing can be computed from this part until it is put right.
    Refused,
}

/// Where something is. Rows and columns count from 1, as a spreadsheet shows them.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Place {
    pub file: Option<String>,
    pub sheet: Option<String>,
    /// Line of a text file or row of a sheet, from 1, header included.
    pub row: Option<u32>,
    /// Number of the column, from 1.
    pub column: Option<u32>,
    /// What the header calls the column.
    pub column_name: Option<String>,
}

/// One thing the user is told.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Notice {
    pub severity: Severity,
    pub place: Place,
    /// What is the case, as one sentence.
    pub what: String,
    /// What to do about it, as one sentence; empty where nothing needs doing.
    pub hint: String,
}

impl Place {
    /// The whole of one file.
    pub fn file(name: &str) -> Self {
        Place { file: Some(name.to_owned()), ..Place::default() }
    }

    /// The same place, narrowed to a row counted from 1.
    pub fn row(mut self, row: u32) -> Self {
        self.row = Some(row);
        self
    }

    /// The same place, narrowed to a column counted from 1, with its header.
    pub fn column(mut self, column: u32, name: &str) -> Self {
        self.column = Some(column);
        self.column_name = Some(name.to_owned());
        self
    }
}

impl Place {
    /// The column as its program shows it: by letters in a sheet of a workbook, by number in a text file.
    pub fn column_in_words(&self) -> Option<String> {
        let number = self.column?;
        Some(if self.sheet.is_some() { column_letters(number) } else { number.to_string() })
    }
}

/// A column counted from 1 as spreadsheets name it: 1 is A, 27 is AA.
pub fn column_letters(number: u32) -> String {
    let mut letters = Vec::new();
    let mut rest = number;
    while rest > 0 {
        letters.push(b'A' + ((rest - 1) % 26) as u8);
        rest = (rest - 1) / 26;
    }
    letters.iter().rev().map(|letter| char::from(*letter)).collect()
}

impl Notice {
    pub fn new(severity: Severity, place: Place, what: impl Into<String>, hint: impl Into<String>) -> Self {
        Notice { severity, place, what: what.into(), hint: hint.into() }
    }
}

impl fmt::Display for Place {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut parts = Vec::new();
        parts.extend(self.file.clone());
        parts.extend(self.sheet.as_ref().map(|sheet| format!("sheet {sheet}")));
        parts.extend(self.row.map(|row| format!("row {row}")));
        match (self.column_in_words(), &self.column_name) {
            (Some(column), Some(name)) if !name.is_empty() => parts.push(format!("column {column} ({name})")),
            (Some(column), _) => parts.push(format!("column {column}")),
            (None, Some(name)) => parts.push(format!("column {name}")),
            (None, None) => {}
        }
        out.write_str(&parts.join(", "))
    }
}

impl fmt::Display for Notice {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let place = self.place.to_string();
        if !place.is_empty() {
            write!(out, "{place}: ")?;
        }
        out.write_str(&self.what)?;
        if !self.hint.is_empty() {
            write!(out, " {}", self.hint)?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_of_sheets_are_named_by_letters() {
        let letters: Vec<String> = [1, 26, 27, 52, 53, 702, 703, 16_384].into_iter().map(column_letters).collect();
        assert_eq!(letters, ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA", "XFD"]);
        let place = Place { sheet: Some("Day 1".to_owned()), ..Place::file("panel.xlsx") }.row(7).column(4, "ripe");
        assert_eq!(place.to_string(), "panel.xlsx, sheet Day 1, row 7, column D (ripe)");
    }

    #[test]
    fn a_notice_names_its_place_then_what_then_what_to_do() {
        let place = Place::file("panel.csv").row(7).column(4, "ripe");
        let notice =
            Notice::new(Severity::Check, place, "105 is outside the scale 0 to 100.", "Correct it or leave it out.");
        assert_eq!(
            notice.to_string(),
            "panel.csv, row 7, column 4 (ripe): 105 is outside the scale 0 to 100. Correct it or leave it out."
        );
    }
}
