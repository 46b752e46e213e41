//! Every sentence that reading says, in one place. Facts come in as arguments; nothing is decided here.

use super::decode::FileKind;
use super::notes::TOLD_ONE_BY_ONE;
use super::{Answer, Choice, DecimalMark, Question};
use crate::notice::{Place, Severity};
use crate::study::Origin;

/// What a note is about; the order is that in which notes of equal weight are told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Kind {
    NotATable,
    NoHeader,
    RolesMissing,
    NoScores,
    Conflict,
    OutOfScale,
    DateCell,
    ErrorCell,
    TextCell,
    LongRow,
    ShortRow,
    NamelessRow,
    ReplicateCell,
    SameHeader,
    TotalsRow,
    BlankRows,
    SameDuplicate,
    DecimalMark,
    Encoding,
    Quotes,
    Table,
    Scale,
    Header,
    Columns,
    Positions,
    Missing,
    Balance,
}

/// A note before it has a place.
#[derive(Clone, Debug)]
pub(super) struct Note {
    pub kind: Kind,
    pub severity: Severity,
    pub what: String,
    pub hint: String,
}

const READABLE: &str =
    "Likeness reads text tables: .csv, .tsv or .txt with comma, semicolon, tab or bar between the cells.";

impl Kind {
    /// The sentence for those that are not told one by one.
    pub fn and_more(self, more: usize, total: usize) -> String {
        format!("And {more} more like the {TOLD_ONE_BY_ONE} above: {} in all.", self.counted(total))
    }

    /// The line of the study's log for what was left out or changed; `None` where nothing was.
    pub fn in_log(self, total: usize) -> Option<String> {
        let done = match self {
            Kind::OutOfScale | Kind::DateCell | Kind::ErrorCell | Kind::TextCell => "read as missing",
            Kind::LongRow | Kind::NamelessRow | Kind::ReplicateCell | Kind::TotalsRow => "left out",
            Kind::ShortRow => "filled up with missing scores",
            Kind::SameDuplicate => "dropped",
            _ => return None,
        };
        Some(format!("On reading, {} {done}.", self.counted(total)))
    }

    fn counted(self, total: usize) -> String {
        let (one, many) = match self {
            Kind::OutOfScale => ("score outside the scale", "scores outside the scale"),
            Kind::DateCell => ("date in a score column", "dates in score columns"),
            Kind::ErrorCell => ("spreadsheet error in a score column", "spreadsheet errors in score columns"),
            Kind::TextCell => ("text in a score column", "texts in score columns"),
            Kind::LongRow => ("row with too many cells", "rows with too many cells"),
            Kind::ShortRow => ("row with too few cells", "rows with too few cells"),
            Kind::NamelessRow => ("row without a name", "rows without a name"),
            Kind::ReplicateCell => ("row without a replicate", "rows without a replicate"),
            Kind::TotalsRow => ("row of totals", "rows of totals"),
            Kind::SameDuplicate => ("repeated score", "repeated scores"),
            _ => ("note", "notes"),
        };
        count(total, one, many)
    }
}

/// "1 row", "12 rows".
pub(super) fn count(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

/// "3, 5 and 9"; long lists end with how many more there are.
pub(super) fn listed(items: &[String], at_most: usize) -> String {
    let (told, rest) = items.split_at(items.len().min(at_most));
    match (told, rest.len()) {
        ([], _) => String::new(),
        ([one], 0) => one.clone(),
        ([head @ .., last], 0) => format!("{} and {last}", head.join(", ")),
        (told, more) => format!("{} and {more} more", told.join(", ")),
    }
}

pub(super) fn empty_file() -> Note {
    refused(Kind::NotATable, "The file is empty.", READABLE)
}

pub(super) fn too_long(length_bytes: usize, longest_bytes: usize) -> Note {
    let megabytes = |bytes: usize| bytes as f64 / 1e6;
    let what = format!(
        "The file has {:.1} million bytes; files up to {:.0} million are read.",
        megabytes(length_bytes),
        megabytes(longest_bytes)
    );
    refused(Kind::NotATable, what, &format!("Leave out columns that are no scores, or split it. {READABLE}"))
}

pub(super) fn wrong_kind(kind: FileKind) -> Note {
    let (what, hint) = match kind {
        FileKind::Workbook => ("a spreadsheet workbook (.xlsx)", "Open it and save the sheet as CSV."),
        FileKind::OpenDocument => ("an OpenDocument file (.ods or .odt)", "Open it and save the sheet as CSV."),
        FileKind::OldOffice => (
            "an old binary workbook (.xls), or a workbook locked by a password",
            "Open it, unlock it where needed, and save the sheet as CSV.",
        ),
        FileKind::Zip => ("a zip archive", "Unpack it and open the table inside."),
        FileKind::Compressed => ("a compressed archive", "Unpack it and open the table inside."),
        FileKind::Pdf => ("a PDF document", "Get the table that it was made from."),
        FileKind::Image => ("an image", "Type the scores into a table first."),
        FileKind::Html => ("a web page", "Copy the table into a spreadsheet and save it as CSV."),
        FileKind::Rtf => ("a word-processor document", "Copy the table into a spreadsheet and save it as CSV."),
    };
    refused(Kind::NotATable, format!("By its content this is {what}, not a text table."), &format!("{hint} {READABLE}"))
}

pub(super) fn binary_file() -> Note {
    refused(Kind::NotATable, "The file holds binary data, not a text table.", READABLE)
}

pub(super) fn one_column() -> Note {
    let what = "No separator was found: every line is one single cell.";
    refused(Kind::NotATable, what, &format!("Save the sheet as CSV. {READABLE}"))
}

pub(super) fn no_header() -> Note {
    let what = "The first row looks like data: there is no row with the names of the columns.";
    let hint = "Add a first row such as assessor, sample, replicate, then one name per attribute; or say what each \
                column holds.";
    refused(Kind::NoHeader, what, hint)
}

pub(super) fn no_rows() -> Note {
    refused(
        Kind::NoScores,
        "There is a header and not one row of scores under it.",
        "Check that the right file was saved.",
    )
}

pub(super) fn roles_missing(missing: &[&str]) -> Note {
    let items: Vec<String> = missing.iter().map(|word| (*word).to_owned()).collect();
    let hint = "A table of panel scores has a column that names the assessor, one that names the sample, and either \
                one column per attribute or an attribute column beside a score column. Means over assessors can't be \
                judged: how far assessors differ is what tells a difference from chance.";
    refused(Kind::RolesMissing, format!("No column was found for {}.", listed(&items, 5)), hint)
}

pub(super) fn no_scores() -> Note {
    refused(Kind::NoScores, "Not one usable score was found.", "Look at the columns as they were understood.")
}

pub(super) fn encoding(name: &str) -> Note {
    let what = format!("The file is not in UTF-8; it was read as {name}.");
    understood(Kind::Encoding, what, "Look at names with accents; if they are wrong, save the file as UTF-8.")
}

pub(super) fn damaged_signs(number: usize, name: &str) -> Note {
    let what = format!("{} could not be read as {name}.", count(number, "sign", "signs"));
    check(Kind::Encoding, what, "Save the file as UTF-8 and open it again.")
}

pub(super) fn open_quote() -> Note {
    let what = "A quotation mark is opened here and never closed; all quotation marks were read as plain text.";
    check(Kind::Quotes, what, "Take the mark out, or close it.")
}

pub(super) fn header_below(line: u32) -> Note {
    let what = format!("The header was found on line {line}; the lines above it were left out.");
    understood(Kind::Header, what, "")
}

pub(super) fn columns_unused(names: &[String]) -> Note {
    let what = format!("Columns not used: {}.", listed(names, 20));
    understood(Kind::Columns, what, "If one of them holds scores or names, say what it holds.")
}

pub(super) fn role_by_content(role: &str) -> Note {
    let what = format!("Taken for the {} by its content alone.", role);
    check(Kind::Columns, what, "Confirm it, or say what it holds.")
}

pub(super) fn same_header(header: &str, name: &str) -> Note {
    let what = format!("\"{header}\" heads an earlier column as well; this one is called \"{name}\".");
    check(Kind::SameHeader, what, "Give each column a name of its own.")
}

pub(super) fn long_row(cells: usize, columns: usize) -> Note {
    let what = format!(
        "The row has {cells} cells under {columns} columns; it was left out, since any of them may be the one too many."
    );
    check(
        Kind::LongRow,
        what,
        "Look for a separator or a decimal comma inside a cell, and put the cell in quotation marks.",
    )
}

pub(super) fn short_row(cells: usize, columns: usize) -> Note {
    let what = format!(
        "The row has {} under {columns} columns; it was read from the left and the rest is missing.",
        count(cells, "cell", "cells")
    );
    check(Kind::ShortRow, what, "Check that no cell was lost in the middle.")
}

pub(super) fn totals_row(words: &str) -> Note {
    let what = format!("The row \"{words}\" looks like totals and was left out.");
    repaired(Kind::TotalsRow, what, "")
}

pub(super) fn blank_rows(lines: &[String]) -> Note {
    let what = format!("Blank rows were passed over: line {}.", listed(lines, 20));
    understood(Kind::BlankRows, what, "")
}

pub(super) fn nameless_row(what_is_blank: &str) -> Note {
    let what = format!("The row names no {what_is_blank} and was left out.");
    check(Kind::NamelessRow, what, "Fill in the name.")
}

pub(super) fn replicate_by_word(word: &str, number: usize) -> Note {
    understood(Kind::ReplicateCell, format!("\"{word}\" was read as replicate {number}."), "")
}

pub(super) fn no_replicate() -> Note {
    let what = "The row names no replicate and was left out.";
    check(Kind::ReplicateCell, what, "Fill in the number of the replicate.")
}

pub(super) fn same_duplicate(score: f64, kept: Origin) -> Note {
    let what = format!("{score} stands in row {} for the same cell already; it was counted once.", kept.row);
    repaired(Kind::SameDuplicate, what, "")
}

pub(super) fn date_cell(text: &str) -> Note {
    let what = format!("\"{text}\" is a date, not a score; it was read as missing.");
    check(Kind::DateCell, what, "A spreadsheet may have turned a score such as 5.12 into a date: put the score back.")
}

pub(super) fn error_cell(text: &str) -> Note {
    let what = format!("\"{text}\" is a spreadsheet error; it was read as missing.");
    check(Kind::ErrorCell, what, "Put the score back.")
}

pub(super) fn text_cell(text: &str) -> Note {
    let what = format!("\"{text}\" is no number; it was read as missing.");
    check(Kind::TextCell, what, "Write the number alone, or leave the cell empty.")
}

pub(super) fn out_of_scale(score: f64, minimum: f64, maximum: f64) -> Note {
    let what = format!("{score} is outside the scale {minimum} to {maximum}; it was read as missing.");
    let tenth = score / 10.0;
    let hint = if score >= 1.2 * maximum && score.fract().abs() < 1e-9 && tenth <= maximum {
        format!("Was {tenth:.1} meant? Put the score right in the file.")
    } else {
        "Put the score right in the file, or leave it missing.".to_owned()
    };
    check(Kind::OutOfScale, what, &hint)
}

pub(super) fn scale_guessed(highest: f64, minimum: f64, maximum: f64) -> Note {
    let what = format!("The highest score is {highest}, so the scale was taken as {minimum} to {maximum} points.");
    understood(Kind::Scale, what, "If the line is longer, state its maximum.")
}

pub(super) fn scale_hundred() -> Note {
    understood(Kind::Scale, "The scale was taken as 0 to 100 mm.", "If it is another, state its maximum.")
}

pub(super) fn no_positions() -> Note {
    let what = "The file gives no serving positions, so effects of order and carry-over can't be checked.";
    understood(Kind::Positions, what, "")
}

pub(super) fn missing_scores(missing: usize, cells: usize) -> Note {
    let what = format!("{missing} of {cells} scores are missing.");
    understood(Kind::Missing, what, "")
}

pub(super) fn both_marks(points: usize, commas: usize) -> Note {
    let what = format!(
        "The column has {points} scores with a decimal point and {commas} with a decimal comma; each was read by its own mark."
    );
    repaired(Kind::DecimalMark, what, "")
}

pub(super) fn unclear_mark(example: &str) -> Note {
    let what = format!("\"{example}\" may have decimals or thousands, and nothing in the column tells which.");
    refused(Kind::DecimalMark, what, "Say which mark stands before the decimals.")
}

pub(super) fn which_mark(example: &str, places: Vec<Place>) -> Question {
    Question {
        what: format!("In \"{example}\", which mark stands before the decimals?"),
        places,
        choices: vec![
            choice("Decimal point", Answer::Decimal(DecimalMark::Point)),
            choice("Decimal comma", Answer::Decimal(DecimalMark::Comma)),
        ],
        field: "decimal",
        stops: true,
    }
}

fn choice(label: impl Into<String>, answer: Answer) -> Choice {
    Choice { label: label.into(), answer }
}

fn refused(kind: Kind, what: impl Into<String>, hint: &str) -> Note {
    Note { kind, severity: Severity::Refused, what: what.into(), hint: hint.to_owned() }
}

fn check(kind: Kind, what: impl Into<String>, hint: &str) -> Note {
    Note { kind, severity: Severity::Check, what: what.into(), hint: hint.to_owned() }
}

fn repaired(kind: Kind, what: impl Into<String>, hint: &str) -> Note {
    Note { kind, severity: Severity::Repaired, what: what.into(), hint: hint.to_owned() }
}

fn understood(kind: Kind, what: impl Into<String>, hint: &str) -> Note {
    Note { kind, severity: Severity::Understood, what: what.into(), hint: hint.to_owned() }
}
