//! Names, spellings and codes.

use super::*;

#[test]
fn spellings_that_differ_in_blanks_and_capitals_are_one_name_and_told() {
    let input = PANEL.replace("Anna,A,2", "Anna ,A,2").replace("Anna,B,1", "anna,B,1").replace("Anna,B,2", " ANNA,B,2");
    let input = input.replace("Ben,A,1", "Ben,a,1");
    let reading = check(
        &input,
        &[
            "row 3, column 1 (assessor): \"Anna \" (1 row) was read as \"Anna\".",
            "row 4, column 1 (assessor): \"anna\" (1 row) was read as \"Anna\".",
            "row 5, column 1 (assessor): \" ANNA\" (1 row) was read as \"Anna\".",
            "row 6, column 2 (sample): \"a\" (1 row) was read as \"A\".",
        ],
    );
    assert_eq!(reading.preview.counts.assessors, 3);
    assert_eq!(reading.study.unwrap().log[0].what, "On reading, 4 names read as one with another spelling.");
}

#[test]
fn names_one_letter_apart_are_suggested_and_never_merged() {
    let reading = check(
        &PANEL.replace("Anna,B,2", "Ana,B,2"),
        &["\"Ana\" (1 serving) and \"Anna\" (3 servings) differ by one letter and never meet: are they the same \
           assessor? If so, write the name one way in the file."],
    );
    assert_eq!(reading.preview.counts.assessors, 4);
}

#[test]
fn names_that_look_alike_are_told_and_never_merged() {
    // A Cyrillic A, then a mark of writing direction.
    let reading = check(
        &PANEL.replace("Anna,B,2", "\u{410}nna,B,2"),
        &[
            "Two names look alike, \"Anna\" and \"\u{410}nna\", and are written with other signs (one has the sign U+0410): \
           they were kept apart. Are they the same assessor? If so, write the name one way in the file.",
        ],
    );
    assert_eq!(reading.preview.counts.assessors, 4);
    let reading = check(
        &PANEL.replace("Ben,B,2", "Ben\u{200f},B,2"),
        &[
            "The assessor \"Ben\u{200f}\" has a sign in the name that can't be seen (U+200F). Type the name again in the \
             file if the sign isn't meant.",
            "Two names look alike, \"Ben\" and \"Ben\u{200f}\", and are written with other signs (one has the sign U+200F): \
             they were kept apart. Are they the same assessor? If so, write the name one way in the file.",
        ],
    );
    assert_eq!(reading.preview.counts.assessors, 4);
    check(&PANEL.replace("Anna", "\u{418}\u{432}\u{430}\u{43d}"), &[]);
}

#[test]
fn two_people_with_names_one_letter_apart_are_not_suspected() {
    check(&PANEL.replace("Ben", "Ena"), &[]);
    check(&PANEL.replace("Ben", "Eve"), &[]);
}

#[test]
fn codes_are_text_and_lost_zeros_are_offered() {
    let coded = PANEL.replace(",A,", ",012,").replace(",B,", ",347,");
    assert_eq!(check(&coded, &[]).study.unwrap().samples[0].name, "012");
    let input = format!("{}Eva,518,1,33,44\n", coded.replace(",012,", ",12,"));
    let reading = check(
        &input,
        &["row 2, column 2 (sample): 12 stands among three-digit codes: a spreadsheet may have dropped the zeros of \
           012. Have the zeros put back, or write the code right in the file."],
    );
    let question = &reading.questions[0];
    assert_eq!(question.what, "Did a spreadsheet drop zeros in front of codes? Then 12 was 012.");
    assert!(!question.stops);
    let answered = ReadOptions::default().answered(&question.choices[0].answer);
    let reading = read_text("panel.csv", input.as_bytes(), &answered);
    assert_eq!(told(&reading), ["row 2, column 2 (sample): The code 12 was read as 012."]);
    assert_eq!(reading.study.unwrap().samples[0].name, "012");
}

#[test]
fn a_code_with_an_exponent_is_pointed_out() {
    check(
        &PANEL.replace(",A,", ",1E+02,"),
        &["row 2, column 2 (sample): 1E+02 looks like a code that a spreadsheet turned into a number. Write the code \
           right in the file; codes are text."],
    );
}

#[test]
fn codes_beside_names_are_kept_and_shared_ones_told() {
    let mut input = PANEL.replace("sample,", "sample,code,").replace(",A,", ",A,275,").replace(",B,", ",B,816,");
    let reading = check(&input, &[]);
    assert_eq!(reading.study.unwrap().samples[0].codes, ["275"]);
    input = input.replace("Eva,B,816", "Eva,B,275");
    check(&input, &["The code 275 stands for more than one sample: A and B. Check the key."]);
}
