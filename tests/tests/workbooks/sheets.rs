//! Which sheets of a workbook are read, and what each stands for.

use super::*;
use likeness_core::read::{Answer, PartsMean, SheetUse};
use likeness_tests::workbooks::{Sheet, ods, xlsx};

fn replicate(number: &str) -> String {
    rows_where(|cells| cells[2] == number)
}

fn uses(reading: &Reading) -> Vec<(String, SheetUse, String)> {
    let sheets = reading.preview.sheets.iter();
    sheets.map(|sheet| (sheet.sheet.clone().unwrap_or_default(), sheet.sheet_use, sheet.why.clone())).collect()
}

#[test]
fn empty_hidden_and_other_sheets_are_named_and_left_out() {
    let sheets = [
        Sheet::of("Notes", "Mango nectar\nroom 2\n"),
        Sheet::of("Scores", PANEL),
        Sheet::of("Empty", ""),
        Sheet::of("Old", &replicate("1")).hidden(),
        Sheet::of("Means", "sample,green,ripe\nA,47,61\nB,25,79\n"),
    ];
    for book in [xlsx(&sheets), ods(&sheets)] {
        let reading = check(read(&book), &[]);
        assert_eq!(reading.preview.counts.scores, 24);
        let left_out = |name: &str, why: &str| (name.to_owned(), SheetUse::LeftOut, why.to_owned());
        let uses = uses(&reading);
        assert_eq!(uses[1], ("Scores".to_owned(), SheetUse::Scores, String::new()));
        assert_eq!(uses[2], left_out("Empty", "It is empty."));
        assert_eq!(uses[3], left_out("Old", "It is hidden."));
        assert_eq!(uses[4], left_out("Means", "No column was found for the assessor."));
        assert!(reading.preview.sheets[3].is_hidden);
        assert!(understood(&reading).contains(&"sheet Old: Left out. It is hidden.".to_owned()));
        // A sheet that is left out can be read all the same.
        let other = read_with(&book, |options| {
            options.sheet_uses.extend([(1, SheetUse::LeftOut), (3, SheetUse::Scores)]);
        });
        assert_eq!(other.preview.counts.scores, 12);
        assert_eq!(other.study.unwrap().files[0].sheet.as_deref(), Some("Old"));
    }
}

#[test]
fn a_workbook_without_one_filled_cell_says_so() {
    for book in [xlsx(&[Sheet::of("a", ""), Sheet::of("b", "")]), ods(&[Sheet::of("a", "")])] {
        let reading = read(&book);
        assert!(reading.study.is_none());
        let said = told(&reading).join(" ");
        assert!(
            said.contains("There is not one filled cell in any sheet. Check that the right file was saved."),
            "{said}"
        );
    }
}

#[test]
fn several_sheets_of_scores_are_asked_about_before_anything_is_read() {
    let book = xlsx(&[Sheet::of("Day 1", &replicate("1")), Sheet::of("Day 2", &replicate("2"))]);
    let reading = refuse(
        read(&book),
        &[
            "panel.xlsx: 2 sheets hold scores with the same columns: Day 1 and Day 2. Say what tells one sheet from the \
           next, or which of them to read.",
        ],
    );
    let question = &reading.questions[0];
    assert_eq!((question.what.as_str(), question.stops), ("What tells one sheet from the next?", true));
    let answered = |answer: &Answer| read_with(&book, |options| *options = options.clone().answered(answer));
    let sessions = answered(&question.choices[0].answer);
    assert_eq!(told(&sessions), Vec::<String>::new());
    let study = sessions.study.expect("answered");
    assert_eq!(study.sessions, ["Day 1", "Day 2"]);
    assert_eq!(study.score_count(), 24);
    assert_eq!(study.files.iter().map(|file| file.sheet.clone().unwrap()).collect::<Vec<_>>(), ["Day 1", "Day 2"]);
    let last = study.origin(11, 1).unwrap();
    assert_eq!((last.file, last.row, last.column), (1, 7, 5));
    let only = answered(&question.choices[3].answer);
    assert_eq!((question.choices[3].label.as_str(), only.preview.counts.scores), ("Read only Day 1", 12));
    let one_table = answered(&Answer::SheetsMean(PartsMean::Nothing));
    assert_eq!((one_table.preview.counts.scores, one_table.preview.counts.sessions), (24, 0));
}

#[test]
fn one_sheet_a_sample_is_told_and_the_other_meanings_are_offered() {
    let sheet = |sample: &str| Sheet::of(sample, &without(&rows_where(|cells| cells[1] == sample), &[1]));
    let book = xlsx(&[sheet("A"), sheet("B")]);
    let reading = check(
        read(&book),
        &[
            "panel.xlsx: No column names the sample, so each of 2 sheets was read as one sample. Confirm it, or say what \
           tells the sheets apart.",
        ],
    );
    assert_eq!(reading.preview.header[0], "sample (by the sheet)");
    assert_eq!(reading.study.as_ref().unwrap().samples[1].name, "B");
    let question = &reading.questions[0];
    assert_eq!((question.what.as_str(), question.stops), ("What does each sheet stand for?", false));
    assert_eq!(question.choices[0].label, "Yes, each sheet is one sample");
    let confirmed = read_with(&book, |options| *options = options.clone().answered(&question.choices[0].answer));
    check(confirmed, &[]);
}

#[test]
fn columns_that_differ_are_told_and_other_tables_left_out() {
    let one = replicate("1");
    let two = replicate("2").replace("ripe", "sweet");
    let book = xlsx(&[Sheet::of("Day 1", &one), Sheet::of("Day 2", &two)]);
    let reading = read_with(&book, |options| options.sheets_mean = Some(PartsMean::Sessions));
    check(
        reading,
        &[
            "sheet Day 1: There is no column for \"sweet\", which others have; these scores are missing here. If the \
             column has another name here, give it the same one.",
            "sheet Day 2: There is no column for \"ripe\", which others have; these scores are missing here. If the \
             column has another name here, give it the same one.",
        ],
    );
    let other = replicate("2").replace("green", "sour").replace("ripe", "sweet");
    let reading = check(read(&xlsx(&[Sheet::of("Day 1", &one), Sheet::of("Other", &other)])), &[]);
    assert_eq!(uses(&reading)[1].2, "Its columns are others than those of Day 1.");
    assert_eq!(reading.preview.counts.scores, 12);
}

#[test]
fn columns_are_matched_by_role_and_name_and_not_by_their_order() {
    let swapped = "judge,rep,product,RIPE,green \nAnna,2,A,60,47\nAnna,2,B,78,25\nBen,2,A,57,55\nBen,2,B,74,33\nEva,2,A,61,44\nEva,2,B,88,22\n";
    let book = xlsx(&[Sheet::of("Day 1", &replicate("1")), Sheet::of("Day 2", swapped)]);
    let reading = read_with(&book, |options| options.sheets_mean = Some(PartsMean::Sessions));
    let study = check(reading, &[]).study.unwrap();
    // By hand: the sixth serving of the second sheet is Eva's of B, with green 22 in column E of row 7.
    assert_eq!((study.score(11, 0), study.score(11, 1)), (Some(22.0), Some(88.0)));
    let origin = study.origin(11, 0).unwrap();
    assert_eq!((origin.file, origin.row, origin.column), (1, 7, 5));
}
