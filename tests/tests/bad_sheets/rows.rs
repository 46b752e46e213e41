//! Rows that are blank, too long, too short, totals or titles.

use super::*;

#[test]
fn blank_rows_are_passed_over_and_their_lines_told() {
    let input = PANEL.replace("Ben,A,1", "\n , ,,,\nBen,A,1");
    let reading = check(&input, &[]);
    understood(&reading, "Blank rows were passed over: lines 6 and 7.");
    assert_eq!(reading.study.unwrap().origin(4, 0).unwrap().row, 8);
}

#[test]
fn blank_rows_among_quoted_cells_keep_their_lines() {
    let input = PANEL.replace("Ben,A,1", "\n\n\"Ben\",A,1").replace('\n', "\r\n");
    let reading = check(&input, &[]);
    understood(&reading, "Blank rows were passed over: lines 6 and 7.");
    assert_eq!(reading.study.unwrap().origin(4, 0).unwrap().row, 8);
}

#[test]
fn a_row_with_a_cell_too_many_is_left_out_whole() {
    let reading = check(
        &PANEL.replace("Ben,A,1,51,58", "Ben,A,1,51,5,58"),
        &["row 6: The row has 6 cells under 5 columns and was left out, since any of them may be the one too many. \
           Look for a separator or a decimal comma inside a cell, and put that cell in quotation marks."],
    );
    assert_eq!(reading.preview.counts.scores, 22);
    understood(
        &reading,
        "The study is not balanced: 11 of 12 servings are there; assessor Ben has the fewest, 3 of 4.",
    );
    assert_eq!(reading.study.unwrap().log[0].what, "On reading, 1 row with too many cells left out.");
}

#[test]
fn separators_at_the_end_of_rows_are_no_cells_too_many() {
    check(&PANEL.replace("45,62", "45,62,,,"), &[]);
}

#[test]
fn a_short_row_is_read_from_the_left_and_told() {
    let reading = check(
        &PANEL.replace("Ben,A,1,51,58", "Ben,A,1,51"),
        &["row 6: The row has 4 cells under 5 columns; it was read from the left and the rest is missing. \
           Check that no cell was lost in the middle."],
    );
    score(&reading, 4, 0, Some(51.0));
    score(&reading, 4, 1, None);
    understood(&reading, "1 of 24 scores are missing.");
}

#[test]
fn rows_of_totals_are_left_out_and_listed() {
    let input = format!("{PANEL}Mean,,,36,70\nSD,,,12,10\nAnna Total,,,138,280\n,Average,,36,70\n");
    let reading = check(
        &input,
        &[
            "row 14: The row \"Mean\" looks like totals and was left out.",
            "row 15: The row \"SD\" looks like totals and was left out.",
            "row 16: The row \"Anna Total\" looks like totals and was left out.",
            "row 17: The row \"Average\" looks like totals and was left out.",
        ],
    );
    assert_eq!(reading.preview.counts.assessors, 3);
    assert_eq!(reading.study.unwrap().log[0].what, "On reading, 4 rows of totals left out.");
}

#[test]
fn an_assessor_may_be_called_max() {
    let reading = check(&PANEL.replace("Ben", "Max"), &[]);
    assert_eq!(reading.preview.counts.assessors, 3);
}

#[test]
fn a_column_of_totals_is_no_attribute() {
    let input = PANEL.replace("ripe", "ripe,Mean").replace("62\n", "62,53\n");
    let reading = check(&input, &[]);
    understood(&reading, "Not used: \"Mean\".");
    assert_eq!(reading.preview.counts.attributes, 2);
}

#[test]
fn lines_of_titles_above_the_header_are_left_out() {
    let reading = check(&format!("Mango nectar, invented\nroom 2\n\n{PANEL}"), &[]);
    understood(&reading, "The header was found on line 4; what stands above it was left out.");
    assert_eq!(reading.preview.header_line, Some(4));
    assert_eq!(reading.study.unwrap().origin(0, 0).unwrap().row, 5);
}

#[test]
fn notes_under_the_table_are_left_out_and_listed() {
    check(
        &format!("{PANEL}0 = none to 100 = strong\n"),
        &["row 14: The row names no sample and was left out. Fill in the name."],
    );
}

#[test]
fn a_header_repeated_further_down_is_left_out() {
    let input = format!("{PANEL}{}", PANEL.replace(",1,", ",3,").replace(",2,", ",4,"));
    let reading = check(&input, &["row 14: The header is repeated here; the row was left out."]);
    assert_eq!(reading.preview.counts.scores, 48);
}

#[test]
fn names_written_once_are_asked_before_they_are_filled_down() {
    let input = PANEL.replace("Anna,A,2", ",,2").replace("Anna,B", ",B").replace("Ben,A,2", ",,2");
    let reading = read(&input);
    assert!(reading.study.is_none());
    assert_eq!(told(&reading)[0], "row 3: The row names no assessor and was left out. Fill in the name.");
    assert_eq!(reading.questions[0].what, "4 rows have no name. Does the name above hold for them?");
    let answered = ReadOptions::default().answered(&reading.questions[0].choices[0].answer);
    let reading = read_text("panel.csv", input.as_bytes(), &answered);
    assert_eq!(reading.preview.counts.scores, 24);
    assert_eq!(told(&reading)[0], "row 3, column 1 (assessor): The blank was filled in from above: \"Anna\".");
}
