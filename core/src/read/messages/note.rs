//! A note before it has a place, and the kinds of notes: how they are counted, and what of them the study's log keeps.

use crate::notice::Severity;

/// How many of one kind are told one by one.
pub(in crate::read) const TOLD_ONE_BY_ONE: usize = 20;

/// What a note is about; the order is that in which notes of equal weight are told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::read) enum Kind {
    NotATable,
    Sheets,
    CodeOfTwo,
    NoHeader,
    RolesMissing,
    NoScores,
    MostRowsLong,
    DecimalMark,
    ScaleUnclear,
    Conflict,
    Replicates,
    Parts,
    SameFile,
    ColumnsLacking,
    Doubt,
    CodeWithoutKey,
    KeyWithoutScores,
    Merged,
    OutOfScale,
    MissingCode,
    DateCell,
    ErrorCell,
    TextCell,
    UnsavedFormula,
    LongRow,
    ShortRow,
    NamelessRow,
    ReplicateCell,
    ReplicateWord,
    PositionConflict,
    SameHeader,
    EmptyColumn,
    SimilarName,
    LookAlike,
    Code,
    ScaleOfOne,
    TotalsRow,
    HeaderRow,
    MergedName,
    PaddedCode,
    FilledName,
    SameDuplicate,
    NumbersAsText,
    Quotes,
    Encoding,
    Table,
    Key,
    Formulas,
    Header,
    Columns,
    BlankRows,
    Scale,
    Positions,
    Missing,
    Balance,
    Constant,
}

/// A note before it has a place.
#[derive(Clone, Debug)]
pub(in crate::read) struct Note {
    pub kind: Kind,
    pub severity: Severity,
    pub what: String,
    pub hint: String,
}

impl Kind {
    /// The sentence for those that are not told one by one.
    pub fn and_more(self, more: usize, total: usize) -> String {
        format!("And {more} more like the {TOLD_ONE_BY_ONE} told one by one: {} in all.", self.counted(total))
    }

    /// The line of the study's log for what was left out or changed; `None` where nothing was.
    pub fn in_log(self, total: usize) -> Option<String> {
        let done = match self {
            Kind::OutOfScale | Kind::DateCell | Kind::ErrorCell | Kind::TextCell | Kind::UnsavedFormula => {
                "read as missing"
            }
            Kind::LongRow | Kind::NamelessRow | Kind::ReplicateCell | Kind::TotalsRow | Kind::HeaderRow => "left out",
            Kind::ShortRow => "filled up with missing scores",
            Kind::MergedName => "read as one with another spelling",
            Kind::PaddedCode => "padded with zeros",
            Kind::FilledName => "filled in from the row above",
            Kind::SameDuplicate => "counted once",
            Kind::NumbersAsText => "read as numbers",
            Kind::SameFile | Kind::Doubt => "left out",
            Kind::Conflict => "read with the score that was chosen",
            _ => return None,
        };
        Some(format!("On reading, {} {done}.", self.counted(total)))
    }

    fn counted(self, total: usize) -> String {
        let found = COUNTED.iter().find(|(kind, _, _)| *kind == self);
        let (one, many) = found.map_or(("note", "notes"), |(_, one, many)| (*one, *many));
        count(total, one, many)
    }
}

/// What is counted of each kind, for one and for many; the others are notes.
const COUNTED: [(Kind, &str, &str); 26] = [
    (Kind::Conflict, "cell with two different scores", "cells with two different scores"),
    (Kind::OutOfScale, "score outside the scale", "scores outside the scale"),
    (Kind::DateCell, "date in a score column", "dates in score columns"),
    (Kind::ErrorCell, "spreadsheet error in a score column", "spreadsheet errors in score columns"),
    (Kind::TextCell, "text in a score column", "texts in score columns"),
    (Kind::UnsavedFormula, "formula without a saved result", "formulas without a saved result"),
    (Kind::NumbersAsText, "column with numbers stored as text", "columns with numbers stored as text"),
    (Kind::Doubt, "column that may be no attribute", "columns that may be no attributes"),
    (Kind::SameFile, "file that was given twice", "files that were given twice"),
    (Kind::CodeWithoutKey, "code without a row in the key", "codes without a row in the key"),
    (Kind::KeyWithoutScores, "row of the key without scores", "rows of the key without scores"),
    (Kind::LongRow, "row with too many cells", "rows with too many cells"),
    (Kind::ShortRow, "row with too few cells", "rows with too few cells"),
    (Kind::NamelessRow, "row without a name", "rows without a name"),
    (Kind::ReplicateCell, "row without a replicate", "rows without a replicate"),
    (Kind::TotalsRow, "row of totals", "rows of totals"),
    (Kind::HeaderRow, "row of headings among the scores", "rows of headings among the scores"),
    (Kind::MergedName, "name", "names"),
    (Kind::LookAlike, "name with signs that mislead the eye", "names with signs that mislead the eye"),
    (Kind::SimilarName, "pair of names that differ by one letter", "pairs of names that differ by one letter"),
    (Kind::Code, "code that may be damaged", "codes that may be damaged"),
    (Kind::PaddedCode, "code", "codes"),
    (Kind::FilledName, "blank name", "blank names"),
    (Kind::SameDuplicate, "repeated score", "repeated scores"),
    (Kind::SameHeader, "repeated header", "repeated headers"),
    (Kind::EmptyColumn, "column without a score", "columns without a score"),
];

/// "1 row", "12 rows".
pub(in crate::read) fn count(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

/// "3, 5 and 9"; long lists end with how many more there are.
pub(in crate::read) fn listed(items: &[String], at_most: usize) -> String {
    let (told, rest) = items.split_at(items.len().min(at_most));
    match (told, rest.len()) {
        ([], _) => String::new(),
        ([one], 0) => one.clone(),
        ([head @ .., last], 0) => format!("{} and {last}", head.join(", ")),
        (told, more) => format!("{} and {more} more", told.join(", ")),
    }
}

pub(in crate::read::messages) fn refused(kind: Kind, what: impl Into<String>, hint: &str) -> Note {
    Note { kind, severity: Severity::Refused, what: what.into(), hint: hint.to_owned() }
}

pub(in crate::read::messages) fn check(kind: Kind, what: impl Into<String>, hint: &str) -> Note {
    Note { kind, severity: Severity::Check, what: what.into(), hint: hint.to_owned() }
}

pub(in crate::read::messages) fn repaired(kind: Kind, what: impl Into<String>, hint: &str) -> Note {
    Note { kind, severity: Severity::Repaired, what: what.into(), hint: hint.to_owned() }
}

pub(in crate::read::messages) fn understood(kind: Kind, what: impl Into<String>, hint: &str) -> Note {
    Note { kind, severity: Severity::Understood, what: what.into(), hint: hint.to_owned() }
}
