//! Ours against others: workbooks that another writer made are read whole, and another reader sees the same cells.
//! Writer: rust_xlsxwriter 0.102; reader: calamine 0.38. Both are used by these tests alone.

use super::*;
use calamine::{Data, Ods, Reader, Xlsx};
use likeness_core::read::ReadOptions;
use likeness_tests::workbooks::{Cell, Sheet, ods, xlsx};
use rust_xlsxwriter::{ExcelDateTime, Format, Formula, Workbook};
use std::io::Cursor;

/// A workbook as a common library writes it: shared strings, styles, a frozen header, a formula, a date, a hidden sheet.
fn written() -> Vec<u8> {
    let mut book = Workbook::new();
    let (bold, date, code) =
        (Format::new().set_bold(), Format::new().set_num_format("dd.mm.yyyy"), Format::new().set_num_format("000"));
    let sheet = book.add_worksheet();
    sheet.set_name("Scores & notes").expect("a name");
    sheet.set_freeze_panes(1, 0).expect("a pane");
    for (row, line) in PANEL.lines().enumerate() {
        for (column, cell) in line.split(',').enumerate() {
            let (row, column) = (row as u32, column as u16);
            match cell.parse::<f64>() {
                Ok(number) => sheet.write_number(row, column, number).expect("a cell"),
                Err(_) => sheet.write_string_with_format(row, column, cell, &bold).expect("a cell"),
            };
        }
    }
    sheet.write_formula(1, 3, Formula::new("=40+5").set_result("45")).expect("a cell");
    sheet
        .write_datetime_with_format(2, 3, ExcelDateTime::from_ymd(2024, 12, 5).expect("a day"), &date)
        .expect("a cell");
    sheet.write_number_with_format(0, 6, 12, &code).expect("a cell");
    let hidden = book.add_worksheet();
    hidden.set_hidden(true).write_string(0, 0, "<not shown>").expect("a cell");
    book.save_to_buffer().expect("a workbook")
}

#[test]
fn a_workbook_of_another_writer_is_read_whole() {
    let reading = read(&written());
    assert_eq!(
        told(&reading),
        [
            "sheet Scores & notes, row 3, column D (green): \"2024-12-05\" is a date, not a score; it was read as missing. A \
          spreadsheet may have turned a score such as 5.12 into a date: put the score back."
        ]
    );
    assert_eq!(reading.preview.counts.scores, 23);
    assert_eq!(reading.preview.header[6], "012");
    assert!(reading.preview.sheets[1].is_hidden);
}

/// A cell as the other reader gives it, in the words of ours.
fn in_our_words(cell: &Data) -> String {
    match cell {
        Data::Float(number) => number.to_string(),
        Data::Int(number) => number.to_string(),
        Data::String(text) => text.trim().to_owned(),
        Data::Error(error) => error.to_string(),
        Data::DateTime(day) => {
            let (year, month, date, ..) = day.to_ymd_hms_milli();
            format!("{year:04}-{month:02}-{date:02}")
        }
        Data::DateTimeIso(day) => day.clone(),
        Data::Empty => String::new(),
        other => format!("{other:?}"),
    }
}

/// Header and first rows as ours shows them, against the same cells of the other reader.
fn assert_same(bytes: &[u8], theirs: &calamine::Range<Data>) {
    let ours = read_file("panel.xlsx", bytes, &ReadOptions::default()).preview;
    let mut rows = vec![ours.header];
    rows.extend(ours.rows.into_iter().map(|row| row.cells));
    assert_eq!(rows.len(), theirs.height());
    for (row, cells) in rows.iter().enumerate() {
        for column in 0..theirs.width() {
            let expected = theirs.get((row, column)).map(in_our_words).unwrap_or_default();
            let found = cells.get(column).cloned().unwrap_or_default();
            // Ours shows a code with the zeros of its format.
            let is_code = found.len() == 3 && found.trim_start_matches('0') == expected;
            assert!(found == expected || is_code, "row {row}, column {column}: {found} is not {expected}");
        }
    }
}

#[test]
fn another_reader_sees_the_same_cells() {
    let sheet = Sheet::of("Scores", PANEL)
        .with(1, 3, Cell::Number(4.6))
        .with(2, 3, Cell::Date(45_000.0))
        .with(3, 4, Cell::Error("#REF!"))
        .with(4, 4, Cell::Text("<a & b>".to_owned()))
        .with(5, 3, Cell::Formula(Some(51.5)));
    for bytes in [xlsx(std::slice::from_ref(&sheet)), written()] {
        let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes.clone())).expect("opens");
        let name = book.sheet_names()[0].clone();
        assert_same(&bytes, &book.worksheet_range(&name).expect("a sheet"));
    }
    let bytes = ods(&[sheet.with(3, 4, Cell::Blank)]);
    let mut book: Ods<_> = Ods::new(Cursor::new(bytes.clone())).expect("opens");
    assert_same(&bytes, &book.worksheet_range("Scores").expect("a sheet"));
}
