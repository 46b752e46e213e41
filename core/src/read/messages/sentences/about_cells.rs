//! Sentences about single rows and cells.

use crate::read::columns::decimals;
use crate::read::messages::note::{Kind, Note, check, count, repaired, understood};

pub(in crate::read) fn long_row(cells: usize, columns: usize) -> Note {
    let what = format!(
        "The row has {cells} cells under {columns} columns and was left out, since any of them may be the one too many."
    );
    let hint = "Look for a separator or a decimal comma inside a cell, and put that cell in quotation marks.";
    check(Kind::LongRow, what, hint)
}

pub(in crate::read) fn short_row(cells: usize, columns: usize) -> Note {
    let what = format!(
        "The row has {} under {columns} columns; it was read from the left and the rest is missing.",
        count(cells, "cell", "cells")
    );
    check(Kind::ShortRow, what, "Check that no cell was lost in the middle.")
}

pub(in crate::read) fn totals_row(words: &str) -> Note {
    repaired(Kind::TotalsRow, format!("The row \"{words}\" looks like totals and was left out."), "")
}

pub(in crate::read) fn repeated_header() -> Note {
    repaired(Kind::HeaderRow, "The header is repeated here; the row was left out.", "")
}

pub(in crate::read) fn nameless_row(blank: &str) -> Note {
    check(Kind::NamelessRow, format!("The row names no {blank} and was left out."), "Fill in the name.")
}

pub(in crate::read) fn filled_name(name: &str) -> Note {
    repaired(Kind::FilledName, format!("The blank was filled in from above: \"{name}\"."), "")
}

pub(in crate::read) fn replicate_by_word(word: &str, number: usize) -> Note {
    understood(Kind::ReplicateWord, format!("\"{word}\" was read as replicate {number}."), "")
}

pub(in crate::read) fn no_replicate() -> Note {
    check(Kind::ReplicateCell, "The row names no replicate and was left out.", "Fill in the number of the replicate.")
}

pub(in crate::read) fn same_duplicate(score: f64, kept_in: &str) -> Note {
    let what = format!("The same score, {score}, stands in {kept_in} already; it was counted once.");
    repaired(Kind::SameDuplicate, what, "")
}

pub(in crate::read) fn date_cell(text: &str) -> Note {
    let what = format!("\"{text}\" is a date, not a score; it was read as missing.");
    check(Kind::DateCell, what, "A spreadsheet may have turned a score such as 5.12 into a date: put the score back.")
}

pub(in crate::read) fn error_cell(text: &str) -> Note {
    let what = format!("\"{text}\" is a spreadsheet error; it was read as missing.");
    check(Kind::ErrorCell, what, "Put the score back.")
}

pub(in crate::read) fn text_cell(text: &str) -> Note {
    let what = format!("\"{text}\" is no number; it was read as missing.");
    check(Kind::TextCell, what, "Write the number alone, or leave the cell empty.")
}

pub(in crate::read) fn out_of_scale(score: f64, minimum: f64, maximum: f64) -> Note {
    let what = format!("{score} is outside the scale {minimum} to {maximum}; it was read as missing.");
    let hint = match decimals::without_lost_mark(score, maximum) {
        Some(meant) => format!("Was {meant:.1} meant? Put the score right in the file."),
        None => "Put the score right in the file, or leave it missing.".to_owned(),
    };
    check(Kind::OutOfScale, what, &hint)
}

pub(in crate::read) fn merged_name(name: &str, spelling: &str, rows: u32) -> Note {
    let rows = count(rows as usize, "row", "rows");
    repaired(Kind::MergedName, format!("\"{spelling}\" ({rows}) was read as \"{name}\"."), "")
}

pub(in crate::read) fn padded_code(code: &str, padded: &str) -> Note {
    repaired(Kind::PaddedCode, format!("The code {code} was read as {padded}."), "")
}

pub(in crate::read) fn short_code(code: &str, padded: &str) -> Note {
    let what = format!("{code} stands among three-digit codes: a spreadsheet may have dropped the zeros of {padded}.");
    check(Kind::Code, what, "Have the zeros put back, or write the code right in the file.")
}

pub(in crate::read) fn exponent_code(code: &str) -> Note {
    let what = format!("{code} looks like a code that a spreadsheet turned into a number.");
    check(Kind::Code, what, "Write the code right in the file; codes are text.")
}

pub(in crate::read) fn shared_code(code: &str, samples: &str) -> Note {
    check(Kind::Code, format!("The code {code} stands for more than one sample: {samples}."), "Check the key.")
}
