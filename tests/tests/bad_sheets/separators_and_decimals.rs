//! Separators, quotation marks and decimal marks.

use super::*;

#[test]
fn a_decimal_comma_beside_semicolons_is_never_taken_away() {
    let input = PANEL.replace(',', ";").replace("45;62", "32,56;62");
    let reading = check(&input, &[]);
    score(&reading, 0, 0, Some(32.56));
    assert_eq!(reading.preview.decimal, Some(DecimalMark::Comma));
    understood(&reading, "Read as one serving a row, one column an attribute; semicolon between cells, decimal comma.");
}

#[test]
fn tabs_and_bars_separate_as_well() {
    for separator in ["\t", "|"] {
        let reading = check(&PANEL.replace(',', separator).replace("45", "45.5"), &[]);
        assert_eq!(reading.preview.separator, Some(separator.as_bytes()[0]));
        score(&reading, 0, 0, Some(45.5));
    }
}

#[test]
fn a_column_of_thousands_with_decimals_is_read_by_its_own_marks() {
    let german = PANEL.replace(',', ";").replace("45;62", "1.234,5;62");
    let expected = "row 2, column 4 (green): 1234.5 is outside the scale 0 to 100; it was read as missing. \
                    Put the score right in the file, or leave it missing.";
    check(&german, &[expected]);
    let english = PANEL.replace("45,62", "\"1,234.5\",62");
    check(&english, &[expected]);
}

#[test]
fn three_decimals_are_decimals_where_thousands_leave_the_scale() {
    let reading = check(&PANEL.replace(',', ";").replace("45;62", "45,123;62"), &[]);
    score(&reading, 0, 0, Some(45.123));
    let reading = check(&PANEL.replace(',', ";").replace("45;62", "45.123;62"), &[]);
    score(&reading, 0, 0, Some(45.123));
}

#[test]
fn marks_that_nothing_explains_are_asked_by_column() {
    let input = PANEL.replace(',', ";").replace("45;62", "45,123;62").replace("47;60", "47.250;60");
    let reading = refuse(
        &input,
        &["column 4 (green): \"45,123\" may have decimals or thousands, and nothing in the column tells which. \
           Say which mark stands before the decimals."],
    );
    let question = &reading.questions[0];
    assert_eq!(question.what, "Which mark stands before the decimals in \"45,123\"?");
    assert_eq!((question.field, question.stops), ("decimal", true));
    let answered = ReadOptions::default().answered(&question.choices[1].answer);
    let reading = read_text("panel.csv", input.as_bytes(), &answered);
    score(&reading, 0, 0, Some(45.123));
    assert_eq!(
        told(&reading),
        ["row 3, column 4 (green): 47250 is outside the scale 0 to 100; it was read as missing. \
          Put the score right in the file, or leave it missing."]
    );
}

#[test]
fn both_marks_in_one_column_are_read_cell_by_cell_and_told() {
    let reading = check(
        &PANEL.replace(',', ";").replace("45;62", "45,5;62").replace("47;60", "47.5;60"),
        &["column 4 (green): The column has 1 score with a decimal point and 1 with a decimal comma; each was read \
           by its own mark."],
    );
    score(&reading, 0, 0, Some(45.5));
    score(&reading, 1, 0, Some(47.5));
}

#[test]
fn separators_in_quotation_marks_stay_in_their_cell() {
    let input = PANEL.replace(",A,", ",\"Lot 3, fresh\",").replace("45,62", "\"45,5\",62");
    let reading = check(&input, &[]);
    assert_eq!(reading.study.as_ref().unwrap().samples[0].name, "Lot 3, fresh");
    score(&reading, 0, 0, Some(45.5));
    score(&reading, 0, 1, Some(62.0));
}

#[test]
fn unquoted_decimal_commas_between_commas_are_refused_as_a_whole() {
    let rows = PANEL.lines().map(|line| match line.starts_with('a') {
        true => format!("{line}\n"),
        false => format!("{line},5\n"),
    });
    let reading = read(&rows.collect::<String>());
    assert!(reading.study.is_none());
    assert_eq!(
        told(&reading)[0],
        "12 of 12 rows have more than the 5 cells that the header names. Where scores have a decimal comma, the \
         cells must be separated by semicolons or tabs, or stand in quotation marks."
    );
}

#[test]
fn a_quotation_mark_that_never_closes_swallows_nothing() {
    let reading = check(
        &PANEL.replace("Ben,A,1", "\"Ben,A,1"),
        &["row 6: A quotation mark opens here and never closes; all quotation marks were read as plain text. \
             Take it out, or close it."],
    );
    assert_eq!(reading.preview.counts.scores, 24);
}
