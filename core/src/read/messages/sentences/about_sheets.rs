//! Sentences about several sheets and files, keys, merged cells and formulas.

use crate::notice::column_letters;
use crate::read::messages::note::{Kind, Note, check, count, listed, refused, repaired, understood};
use crate::read::open::workbook::Merged;
use crate::read::options::{ColumnRole, PartsMean, SheetUse};

pub(in crate::read) const SHEET_EMPTY: &str = "It is empty.";
pub(in crate::read) const SHEET_HIDDEN: &str = "It is hidden.";
/// Header of the column that a key fills in.
pub(in crate::read) const COLUMN_OF_KEY: &str = "sample (by the key)";

pub(in crate::read) fn empty_workbook() -> Note {
    refused(Kind::NotATable, "There is not one filled cell in any sheet.", "Check that the right file was saved.")
}

pub(in crate::read) fn same_file(earlier: &str) -> Note {
    let what = format!("The file holds the very same bytes as {earlier} and was left out.");
    check(Kind::SameFile, what, "If a session was meant, open its own file.")
}

pub(in crate::read) fn sheet_is_key(is_hidden: bool) -> String {
    let hidden = if is_hidden { "It is hidden; it " } else { "It " };
    format!("{hidden}tells which sample each code stood for.")
}

pub(in crate::read) fn sheet_lacks(missing: &[&str]) -> String {
    let items: Vec<String> = missing.iter().map(|word| (*word).to_owned()).collect();
    if items.is_empty() {
        "It holds no rows of scores.".to_owned()
    } else {
        format!("No column was found for {}.", listed(&items, 5))
    }
}

pub(in crate::read) fn sheet_shape(first: &str) -> String {
    format!("Its scores lie in another way than those of {first}.")
}

pub(in crate::read) fn sheet_columns(first: &str) -> String {
    format!("Its columns are others than those of {first}.")
}

pub(in crate::read) fn sheet_used(sheet_use: SheetUse, why: &str) -> Note {
    let used = match sheet_use {
        SheetUse::Scores => "Read as scores.",
        SheetUse::Key => "Read as a key.",
        SheetUse::LeftOut => "Left out.",
    };
    understood(Kind::Sheets, format!("{used} {why}"), "")
}

pub(in crate::read) fn several_sheets(names: &[String]) -> Note {
    let what =
        format!("{} hold scores with the same columns: {}.", count(names.len(), "sheet", "sheets"), listed(names, 10));
    refused(Kind::Sheets, what, "Say what tells one sheet from the next, or which of them to read.")
}

pub(in crate::read) fn sheets_mean(sheets: usize, meaning: PartsMean) -> Note {
    let what = match meaning {
        PartsMean::Nothing => format!("The rows of {sheets} sheets were read as one table."),
        _ => {
            format!("No column names the {one}, so each of {sheets} sheets was read as one {one}.", one = one(meaning))
        }
    };
    check(Kind::Parts, what, "Confirm it, or say what tells the sheets apart.")
}

pub(in crate::read) fn files_mean(files: usize, meaning: PartsMean) -> Note {
    let what = match meaning {
        PartsMean::Nothing => format!("The rows of {files} files were read as one table; each names its session."),
        PartsMean::Sessions => format!("Each of {files} files was read as one session, called by the file's name."),
        _ => format!("No column names the {one}, so each of {files} files was read as one {one}.", one = one(meaning)),
    };
    check(Kind::Parts, what, "Confirm it, or say what tells the files apart.")
}

pub(in crate::read) fn groups_mean(meaning: PartsMean) -> Note {
    let what = format!("There are two header rows; the groups of the upper one were read as {}.", many(meaning));
    check(Kind::Parts, what, "Confirm it, or say what the upper row names.")
}

pub(in crate::read) fn means_of_panel() -> Note {
    let what = format!(
        "No column names the assessor: the numbers were read as means over a panel, called \"{MEAN_OF_PANEL}\"."
    );
    check(Kind::Parts, what, "They show profiles and a map. For a verdict open the scores of each assessor.")
}

/// What stands in place of the assessor.
pub(in crate::read) const MEAN_OF_PANEL: &str = "mean of the panel";

pub(in crate::read) fn column_of_sheets(role: ColumnRole) -> String {
    format!("{} (by the sheet)", role.words())
}

pub(in crate::read) fn column_of_files(role: ColumnRole) -> String {
    format!("{} (by the file)", role.words())
}

pub(in crate::read) fn column_of_groups(role: ColumnRole) -> String {
    format!("{} (by the upper header)", role.words())
}

pub(in crate::read) fn columns_lacking(names: &[String]) -> Note {
    let what =
        format!("There is no column for {}, which others have; these scores are missing here.", listed(names, 10));
    check(Kind::ColumnsLacking, what, "If the column has another name here, give it the same one.")
}

pub(in crate::read) fn cell_range(merged: Merged) -> String {
    let cell = |row: u32, column: u32| format!("{}{}", column_letters(column + 1), row + 1);
    format!("{}:{}", cell(merged.first_row, merged.first_column), cell(merged.last_row, merged.last_column))
}

pub(in crate::read) fn merged_cells(ranges: &[String]) -> Note {
    let what = format!(
        "{} merged; what stands there counts for the first row and column alone: {}.",
        count(ranges.len(), "range of cells is", "ranges of cells are"),
        listed(ranges, 20)
    );
    check(Kind::Merged, what, "Unmerge them and fill in each cell, or have names filled down where that is offered.")
}

pub(in crate::read) fn unsaved_formula() -> Note {
    let what = "The formula here was saved without its result; the score was read as missing.";
    check(
        Kind::UnsavedFormula,
        what,
        "Open the workbook in a spreadsheet program, let it calculate, and save it again.",
    )
}

pub(in crate::read) fn numbers_as_text(cells: usize) -> Note {
    let what = format!("{} stored as text; read as numbers.", count(cells, "number is", "numbers are"));
    repaired(Kind::NumbersAsText, what, "")
}

pub(in crate::read) fn formulas(cells: usize) -> Note {
    let what = format!(
        "{} the result of a formula; the result saved in the workbook was read.",
        count(cells, "score is", "scores are")
    );
    understood(Kind::Formulas, what, "")
}

pub(in crate::read) fn no_key_columns() -> Note {
    let what = "As a key it needs a column headed \"code\" and one headed \"sample\"; it was not used.";
    check(Kind::Key, what, "Name these columns so, or leave the sheet out.")
}

pub(in crate::read) fn key_columns_unused(headers: &[String]) -> Note {
    let what = format!("Not used of the key: {}.", listed(headers, 20));
    let hint = "A key is read by its columns of codes and samples. If one of these names the session or the assessor, \
                head it \"session\" or \"assessor\".";
    understood(Kind::Columns, what, hint)
}

pub(in crate::read) fn key_joined(rows: usize, entries: usize) -> Note {
    let what = format!(
        "{} named by the key, which has {}.",
        count(rows, "row of scores was", "rows of scores were"),
        count(entries, "row", "rows")
    );
    understood(Kind::Key, what, "")
}

pub(in crate::read) fn code_without_key(code: &str, rows: usize) -> Note {
    let rows = count(rows, "row", "rows");
    let what =
        format!("The code {code} ({rows}) has no row in the key; the code stands in place of the sample's name.");
    check(Kind::CodeWithoutKey, what, "Add it to the key, or put the code right.")
}

/// The code stands in the key, but beside another session or assessor; `beside` says beside which, from the key.
pub(in crate::read) fn code_of_others(code: &str, rows: usize, beside: &str) -> Note {
    let what = format!(
        "The key has the code {code} for {beside} only, and {} it beside another; the code stands in place of the \
         sample's name.",
        count(rows, "row of scores has", "rows of scores have")
    );
    check(Kind::CodeWithoutKey, what, "Write session and assessor in the key as they stand beside the scores.")
}

pub(in crate::read) fn key_without_scores(code: &str, sample: &str) -> Note {
    let what = format!("The code {code} ({sample}) stands in the key, and no score has it.");
    check(Kind::KeyWithoutScores, what, "Check that no page of scores is missing.")
}

pub(in crate::read) fn code_of_two(code: &str, first: (&str, u32), second: &str) -> Note {
    let what = format!("The code {code} stands for {second} here and for {} in row {}.", first.0, first.1);
    refused(
        Kind::CodeOfTwo,
        what,
        "Correct the key; if the two are of different sessions, add a column that names them.",
    )
}

pub(in crate::read) fn unclear_code(code: &str, samples: &[String]) -> Note {
    let what = format!("The key gives {} to the code {code}, and the scores don't say which.", listed(samples, 5));
    refused(
        Kind::CodeOfTwo,
        what,
        "Name the session beside the scores as the key does, or open each session's scores as a file.",
    )
}

pub(in crate::read) fn code_across_sessions(codes: &[String]) -> Note {
    let what = format!(
        "The key names no session, and {} in more than one: {}.",
        count(codes.len(), "code was served", "codes were served"),
        listed(codes, 10)
    );
    let hint =
        "Add a column with the session to the key, since a code may stand for another sample in another session.";
    refused(Kind::CodeOfTwo, what, hint)
}

/// One of what the parts stand for.
fn one(meaning: PartsMean) -> &'static str {
    match meaning {
        PartsMean::Samples => "sample",
        PartsMean::Assessors => "assessor",
        PartsMean::Sessions => "session",
        PartsMean::Replicates => "replicate",
        PartsMean::Nothing => "table",
    }
}

fn many(meaning: PartsMean) -> &'static str {
    match meaning {
        PartsMean::Samples => "samples",
        PartsMean::Assessors => "assessors",
        PartsMean::Sessions => "sessions",
        PartsMean::Replicates => "replicates",
        PartsMean::Nothing => "part of the attributes' names",
    }
}
