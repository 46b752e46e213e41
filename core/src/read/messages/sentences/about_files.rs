//! Sentences about a file as a whole: its kind, encoding, header and columns.

use crate::read::columns::doubts::Doubt;
use crate::read::messages::note::{Kind, Note, check, count, listed, refused, repaired, understood};
use crate::read::open::decode::FileKind;
use crate::read::options::{DecimalMark, TableShape};

const READABLE: &str = "Likeness reads workbooks (.xlsx, .ods) and text tables: .csv, .tsv or .txt with a comma, \
     semicolon, tab or bar between the cells.";

pub(in crate::read) fn empty_file() -> Note {
    refused(Kind::NotATable, "The file is empty.", READABLE)
}

pub(in crate::read) fn too_long(length_bytes: usize, longest_bytes: usize) -> Note {
    let megabytes = |bytes: usize| bytes as f64 / 1e6;
    let (length, longest) = (megabytes(length_bytes), megabytes(longest_bytes));
    let what = format!("The file is {length:.1} MB long; files of up to {longest:.0} MB are read.");
    refused(Kind::NotATable, what, &format!("Leave out what is no score, or split it by session. {READABLE}"))
}

pub(in crate::read) fn wrong_kind(kind: FileKind) -> Note {
    let (what, hint) = match kind {
        FileKind::Workbook => (
            "an office document without a sheet that can be read (.docx, .pptx, .xlsb)",
            "Open it, and save its table as .xlsx.",
        ),
        FileKind::OpenDocument => (
            "an OpenDocument file that is no spreadsheet (.odt, .odp)",
            "Copy its table into a spreadsheet and save that as .ods.",
        ),
        FileKind::OldOffice => {
            ("an old binary document (.xls, .doc)", "Open it in a spreadsheet program and save it as .xlsx or .ods.")
        }
        FileKind::LockedOffice => {
            ("a workbook locked by a password", "Open it with the password, take the password off, and save it.")
        }
        FileKind::Zip => ("a zip archive", "Unpack it and open the table inside."),
        FileKind::Compressed => ("a compressed archive", "Unpack it and open the table inside."),
        FileKind::Pdf => ("a PDF document", "Open the table that it was made from."),
        FileKind::Image => ("an image", "Type the scores into a table first."),
        FileKind::Html => ("a web page", "Copy its table into a spreadsheet and save the sheet as CSV."),
        FileKind::Rtf => ("a word-processor document", "Copy its table into a spreadsheet and save the sheet as CSV."),
    };
    refused(
        Kind::NotATable,
        format!("By its content this is {what}, not a table of scores."),
        &format!("{hint} {READABLE}"),
    )
}

pub(in crate::read) fn damaged_workbook() -> Note {
    let what = "The workbook is damaged: a part of it is missing or was changed.";
    refused(
        Kind::NotATable,
        what,
        "Open it in the program that wrote it, save it again, or fetch it again from where it came.",
    )
}

pub(in crate::read) fn locked_workbook() -> Note {
    let what = "The workbook is locked by a password.";
    refused(Kind::NotATable, what, "Open it with the password, take the password off, and save it.")
}

pub(in crate::read) fn workbook_too_large() -> Note {
    let what = "The workbook unpacks to more cells than can be read: 3 million filled cells, or 300 MB in all.";
    refused(Kind::NotATable, what, "Copy the scores alone into a new workbook, or save their sheet as CSV.")
}

pub(in crate::read) fn binary_file() -> Note {
    refused(Kind::NotATable, "By its content this is a binary file, not a table of scores.", READABLE)
}

pub(in crate::read) fn one_column() -> Note {
    let what = "No separator was found: every line is one single cell.";
    refused(Kind::NotATable, what, &format!("Save the sheet as CSV. {READABLE}"))
}

pub(in crate::read) fn no_header() -> Note {
    let what = "The first row looks like data: there is no row with the names of the columns.";
    let hint = "Add a first row such as assessor, sample, replicate and the names of the attributes, or say what each \
                column holds.";
    refused(Kind::NoHeader, what, hint)
}

pub(in crate::read) fn no_rows() -> Note {
    refused(Kind::NoScores, "There is not one row under the header.", "Check that the right file was saved.")
}

pub(in crate::read) fn roles_missing(missing: &[&str]) -> Note {
    let items: Vec<String> = missing.iter().map(|word| (*word).to_owned()).collect();
    let what = format!("No column was found for {}.", listed(&items, 5));
    let needs = "A table of panel scores has a column that names the assessor, one that names the sample, and either \
                 one column per attribute or an attribute column beside a score column.";
    let means = "Means over assessors can't be judged, since the spread between assessors is what tells a difference \
                 from chance.";
    let hint = if missing.contains(&"the assessor") { format!("{needs} {means}") } else { needs.to_owned() };
    refused(Kind::RolesMissing, what, &hint)
}

pub(in crate::read) fn samples_over_attributes() -> Note {
    let what = "There are two header rows: the upper one seems to name samples, the lower one attributes.";
    let hint = "Put each sample of an assessor on a row of its own, with the name of the sample in one column.";
    refused(Kind::RolesMissing, what, hint)
}

pub(in crate::read) fn no_scores() -> Note {
    refused(Kind::NoScores, "Not one usable score was found.", "Look at what each column was taken for.")
}

pub(in crate::read) fn most_rows_long(long: usize, rows: usize, columns: usize) -> Note {
    let what = format!("{long} of {rows} rows have more than the {columns} cells that the header names.");
    let hint = "Where scores have a decimal comma, the cells must be separated by semicolons or tabs, or stand in \
                quotation marks.";
    refused(Kind::MostRowsLong, what, hint)
}

pub(in crate::read) fn encoding(name: &str) -> Note {
    let what = format!("The file is not in UTF-8 and was read as {name}.");
    understood(Kind::Encoding, what, "If letters with accents look wrong, save the file as UTF-8.")
}

pub(in crate::read) fn damaged_signs(number: usize, name: &str) -> Note {
    let what = format!("{} could not be read as {name}.", count(number, "sign", "signs"));
    check(Kind::Encoding, what, "Save the file as UTF-8 and open it again.")
}

pub(in crate::read) fn open_quote() -> Note {
    let what = "A quotation mark opens here and never closes; all quotation marks were read as plain text.";
    check(Kind::Quotes, what, "Take it out, or close it.")
}

pub(in crate::read) fn table(shape: TableShape, separator: Option<u8>, decimal: DecimalMark) -> Note {
    let shape = match shape {
        TableShape::Long => "one score a row",
        TableShape::Wide => "one serving a row, one column an attribute",
        TableShape::Transposed => "one serving a column, one row an attribute",
        TableShape::AssessorsAcross => "one column an assessor",
        TableShape::SamplesAcross => "one column a sample",
        TableShape::ReplicatesAcross => "one column a replicate",
    };
    let Some(separator) = separator else {
        return understood(Kind::Table, format!("Read as {shape}."), "");
    };
    let separator = match separator {
        b',' => "comma",
        b';' => "semicolon",
        b'\t' => "tab",
        b'|' => "bar",
        b' ' => "blank",
        _ => "the stated sign",
    };
    let decimal = match decimal {
        DecimalMark::Point => "point",
        DecimalMark::Comma => "comma",
    };
    let what = format!("Read as {shape}; {separator} between cells, decimal {decimal}.");
    understood(Kind::Table, what, "")
}

pub(in crate::read) fn header_below(line: u32) -> Note {
    let what = format!("The header was found on line {line}; what stands above it was left out.");
    understood(Kind::Header, what, "")
}

pub(in crate::read) fn second_header(words: &str) -> Note {
    let what = format!("\"{words}\" stands under the header without a score and was taken for a second header row.");
    repaired(Kind::HeaderRow, what, "")
}

pub(in crate::read) fn groups_joined(line: u32) -> Note {
    let what = format!("Headers repeat, so the groups on line {line} were put in front of them.");
    understood(Kind::Header, what, "")
}

pub(in crate::read) fn row_names() -> Note {
    let what = "The header has one name fewer than the rows have cells, so the first column was taken for row names.";
    understood(Kind::Header, what, "")
}

pub(in crate::read) fn columns_unused(names: &[String]) -> Note {
    let what = format!("Not used: {}.", listed(names, 20));
    understood(Kind::Columns, what, "If one of these columns holds scores or names, say what it holds.")
}

pub(in crate::read) fn role_by_content(role: &str) -> Note {
    let what = format!("The column was taken for the {role} by its content alone.");
    check(Kind::Columns, what, "Confirm it, or say what the column holds.")
}

pub(in crate::read) fn maybe_no_attribute(doubt: Doubt) -> Note {
    let what = match doubt {
        Doubt::OfPerson => {
            "The header names what is known of a person; the numbers were not read as scores of an attribute."
                .to_owned()
        }
        Doubt::FarOutside { from, others } => format!(
            "These are whole numbers, mostly {from} or more, where the other columns hardly go beyond {others}; they \
             were not read as scores of an attribute."
        ),
    };
    check(Kind::Doubt, what, "If it is an attribute that was scored, say so.")
}

pub(in crate::read) fn same_header(header: &str, name: &str) -> Note {
    let what = format!("\"{header}\" heads an earlier column as well; this one is called \"{name}\".");
    check(Kind::SameHeader, what, "Give each column a name of its own.")
}

pub(in crate::read) fn empty_column(header: &str) -> Note {
    check(Kind::EmptyColumn, format!("\"{header}\" has not one score."), "")
}

pub(in crate::read) fn blank_rows(lines: &[String]) -> Note {
    let what = if lines.len() == 1 { "A blank row was" } else { "Blank rows were" };
    let on = if lines.len() == 1 { "line" } else { "lines" };
    understood(Kind::BlankRows, format!("{what} passed over: {on} {}.", listed(lines, 20)), "")
}

pub(in crate::read) fn both_marks(points: usize, commas: usize) -> Note {
    let what = format!(
        "The column has {} with a decimal point and {} with a decimal comma; each was read by its own mark.",
        count(points, "score", "scores"),
        commas
    );
    repaired(Kind::DecimalMark, what, "")
}

pub(in crate::read) fn unclear_mark(example: &str) -> Note {
    let what = format!("\"{example}\" may have decimals or thousands, and nothing in the column tells which.");
    refused(Kind::DecimalMark, what, "Say which mark stands before the decimals.")
}
