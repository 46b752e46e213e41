//! What cells of a workbook may hold: dates, errors, formulas, numbers as text, codes with zeros, merged cells.

use super::*;
use likeness_core::read::Answer;
use likeness_tests::workbooks::{Cell, Sheet, ods, xlsx};

fn in_both(sheet: Sheet) -> [Reading; 2] {
    [read(&xlsx(std::slice::from_ref(&sheet))), read(&ods(std::slice::from_ref(&sheet)))]
}

#[test]
fn a_clean_sheet_has_nothing_to_tell() {
    for reading in in_both(Sheet::of("Scores", PANEL)) {
        let reading = check(reading, &[]);
        assert!(
            understood(&reading)
                .contains(&"sheet Scores: Read as one serving a row, one column an attribute.".to_owned())
        );
        assert_eq!(reading.preview.counts.scores, 24);
        let study = reading.study.unwrap();
        assert_eq!((study.files[0].sheet.as_deref(), study.title.as_str()), (Some("Scores"), "panel"));
        assert_eq!((study.origin(11, 1).unwrap().row, study.origin(11, 1).unwrap().column), (13, 5));
    }
}

#[test]
fn dates_and_errors_among_scores_are_shown_and_missing() {
    let sheet = Sheet::of("Scores", PANEL)
        .with(1, 3, Cell::Date(45_000.0))
        .with(2, 3, Cell::Error("#REF!"))
        .with(3, 3, Cell::Error("#N/A"))
        .with(4, 3, Cell::Text("strong".to_owned()));
    for reading in in_both(sheet) {
        let reading = check(
            reading,
            &[
                "sheet Scores, row 2, column D (green): \"2023-03-15\" is a date, not a score; it was read as missing. A \
                 spreadsheet may have turned a score such as 5.12 into a date: put the score back.",
                "sheet Scores, row 3, column D (green): \"#REF!\" is a spreadsheet error; it was read as missing. Put the \
                 score back.",
                "sheet Scores, row 4, column D (green): \"#N/A\" is a spreadsheet error; it was read as missing. Put the \
                 score back.",
                "sheet Scores, row 5, column D (green): \"strong\" is no number; it was read as missing. Write the number \
                 alone, or leave the cell empty.",
            ],
        );
        assert_eq!(reading.preview.counts.missing, 4);
    }
}

#[test]
fn formulas_are_read_by_their_saved_results_and_told_where_none_was_saved() {
    let sheet = Sheet::of("Scores", PANEL).with(1, 3, Cell::Formula(Some(45.0))).with(2, 3, Cell::Formula(None));
    for reading in in_both(sheet) {
        let reading = check(
            reading,
            &[
                "sheet Scores, row 3, column D (green): The formula here was saved without its result; the score was read \
               as missing. Open the workbook in a spreadsheet program, let it calculate, and save it again.",
            ],
        );
        let line = "sheet Scores: 1 score is the result of a formula; the result saved in the workbook was read.";
        assert!(understood(&reading).contains(&line.to_owned()), "{:?}", understood(&reading));
        assert_eq!(reading.study.unwrap().score(0, 0), Some(45.0));
    }
}

#[test]
fn numbers_stored_as_text_are_read_and_told() {
    let sheet =
        Sheet::of("Scores", PANEL).with(1, 3, Cell::Text("45,5".to_owned())).with(2, 3, Cell::Text(" 47 ".to_owned()));
    for reading in in_both(sheet) {
        let reading =
            check(reading, &["sheet Scores, column D (green): 2 numbers are stored as text; read as numbers."]);
        let study = reading.study.unwrap();
        assert_eq!((study.score(0, 0), study.score(1, 0)), (Some(45.5), Some(47.0)));
        assert_eq!(study.log[0].what, "On reading, 1 column with numbers stored as text read as numbers.");
    }
}

#[test]
fn codes_keep_the_zeros_that_the_sheet_shows() {
    let mut sheet = Sheet::of("Scores", &PANEL.replace(",A,", ",12,").replace(",B,", ",417,"));
    for row in sheet.rows.iter_mut().skip(1).filter(|row| row[1] == Cell::Number(12.0)) {
        row[1] = Cell::Code(12);
    }
    for reading in in_both(sheet) {
        assert_eq!(check(reading, &[]).study.unwrap().samples[0].name, "012");
    }
}

#[test]
fn cells_merged_in_the_body_count_for_the_first_row_alone_and_names_can_be_filled_down() {
    let mut sheet = Sheet::of("Scores", PANEL).merged("A2:A5");
    (2..5).for_each(|row| sheet.rows[row][0] = Cell::Blank);
    let book = xlsx(&[sheet]);
    let reading = read(&book);
    assert!(reading.study.is_none());
    assert_eq!(
        told(&reading)[0],
        "sheet Scores: 1 range of cells is merged; what stands there counts for the first row and column alone: \
         A2:A5. Unmerge them and fill in each cell, or have names filled down where that is offered."
    );
    let question = reading.questions.iter().find(|question| question.field == "fill_names_down").expect("asked");
    assert_eq!(question.what, "3 rows have no name. Does the name above hold for them?");
    let filled = read_with(&book, |options| *options = options.clone().answered(&Answer::FillNamesDown));
    assert_eq!(filled.preview.counts.scores, 24);
}

#[test]
fn a_merged_header_is_two_header_rows() {
    let table = ",A,,B,\nassessor,green,ripe,green,ripe\nAnna,45,62,21,80\nBen,51,58,30,71\nEva,40,66,18,83\n";
    for reading in in_both(Sheet::of("Scores", table).merged("B1:C1").merged("D1:E1")) {
        let reading = check(
            reading,
            &[
                "sheet Scores, row 1: There are two header rows; the groups of the upper one were read as samples. Confirm \
               it, or say what the upper row names.",
            ],
        );
        assert_eq!((reading.preview.counts.samples, reading.preview.counts.scores), (2, 12));
    }
}

#[test]
fn a_table_that_begins_further_down_and_to_the_right_keeps_its_places() {
    let mut table = "Mango nectar,,,,,\n,,,,,\n".to_owned();
    PANEL.lines().for_each(|line| table.push_str(&format!(",{line}\n")));
    let table = table.replace("45,62", "145,62");
    for reading in in_both(Sheet::of("Scores", &table)) {
        check(
            reading,
            &[
                "sheet Scores, row 4, column E (green): 145 is outside the scale 0 to 100; it was read as missing. Was 14.5 \
               meant? Put the score right in the file.",
            ],
        );
    }
}

#[test]
fn blanks_at_the_end_of_rows_are_no_short_rows() {
    let sheet = Sheet::of("Scores", &PANEL.replace("45,62", "45,"));
    for reading in in_both(sheet) {
        assert_eq!(check(reading, &[]).preview.counts.missing, 1);
    }
}
