//! Keys: codes joined to samples, by the rules of the bad-input table.

use super::*;
use likeness_core::read::{Answer, SheetUse};
use likeness_tests::workbooks::{Sheet, xlsx};

const KEY: &str = "code,sample\n417,A\n822,B\n";

fn coded() -> String {
    PANEL.replace("sample", "code").replace(",A,", ",417,").replace(",B,", ",822,")
}

#[test]
fn a_key_sheet_names_the_samples_of_the_codes() {
    let book = xlsx(&[Sheet::of("Scores", &coded()), Sheet::of("Key", KEY).hidden()]);
    let reading = check(read(&book), &[]);
    assert_eq!(reading.preview.sheets[1].sheet_use, SheetUse::Key);
    assert_eq!(reading.preview.sheets[1].why, "It is hidden; it tells which sample each code stood for.");
    let line = "sheet Scores: 12 rows of scores were named by the key, which has 2 rows.";
    assert!(understood(&reading).contains(&line.to_owned()), "{:?}", understood(&reading));
    let study = reading.study.unwrap();
    let samples: Vec<&str> = study.samples.iter().map(|sample| sample.name.as_str()).collect();
    assert_eq!(samples, ["A", "B"]);
    assert_eq!(study.samples[0].codes, ["417"]);
    assert_eq!(study.score_count(), 24);
}

#[test]
fn a_key_in_a_file_of_its_own_and_codes_under_the_header_sample() {
    let scores = coded().replace("code", "sample");
    let reading = check(read_many(&[("scores.csv", &scores), ("key.csv", KEY)]), &[]);
    assert_eq!(reading.study.unwrap().samples[1].name, "B");
}

#[test]
fn codes_without_a_key_row_and_key_rows_without_scores_are_listed() {
    let scores = coded().replace("Eva,822", "Eva,823");
    let key = format!("{KEY}905,C\n");
    let reading = check(
        read(&xlsx(&[Sheet::of("Scores", &scores), Sheet::of("Key", &key)])),
        &[
            "sheet Scores, row 12, column B (code): The code 823 (2 rows) has no row in the key; the code stands in place \
             of the sample's name. Add it to the key, or put the code right.",
            "sheet Key, row 4: The code 905 (C) stands in the key, and no score has it. Check that no page of scores is \
             missing.",
        ],
    );
    let names: Vec<String> = reading.study.unwrap().samples.into_iter().map(|sample| sample.name).collect();
    assert_eq!(names, ["A", "B", "823"]);
}

#[test]
fn one_code_for_two_samples_is_refused() {
    let key = format!("{KEY}417,C\n");
    refuse(
        read(&xlsx(&[Sheet::of("Scores", &coded()), Sheet::of("Key", &key)])),
        &[
            "sheet Key, row 4: The code 417 stands for C here and for A in row 2. Correct the key; if the two are of \
             different sessions, add a column that names them.",
            "sheet Scores: The key gives A and C to the code 417, and the scores don't say which. Name the session beside \
             the scores as the key does, or open each session's scores as a file.",
        ],
    );
}

#[test]
fn codes_are_not_joined_across_sessions_without_the_session_in_the_key() {
    let day = |number: &str| rows_of(&coded(), |cells| cells[2] == number);
    let files = [("Day 1.csv", day("1")), ("Day 2.csv", day("2"))];
    let mut all: Vec<(&str, &str)> = files.iter().map(|(name, text)| (*name, text.as_str())).collect();
    all.push(("key.csv", KEY));
    let reading = read_many(&all);
    assert!(reading.study.is_none());
    assert_eq!(
        told(&reading)[0],
        "The key names no session, and 2 codes were served in more than one: 417 and 822. Add a column with the session \
         to the key, since a code may stand for another sample in another session."
    );
    let question = reading.questions.iter().find(|question| question.stops).expect("asked");
    assert_eq!(question.what, "Did every code stand for the same sample in all sessions?");
    let answered = ReadOptions::default().answered(&Answer::CodesHoldInEverySession);
    assert_eq!(read_files(&given(&all), &answered).preview.counts.scores, 24);
    assert!(read_files(&given(&all), &answered).study.is_some());
    // With the session in the key the same code may even stand for another sample.
    let key = "session,code,sample\nDay 1,417,A\nDay 1,822,B\nDay 2,417,B\nDay 2,822,A\n";
    *all.last_mut().unwrap() = ("key.csv", key);
    let study = read_many(&all).study.expect("each session has its key");
    let second = study.servings.iter().position(|serving| serving.session == Some(1)).unwrap();
    assert_eq!(study.samples[study.servings[second].sample as usize].name, "B");
}

#[test]
fn zeros_that_a_spreadsheet_dropped_are_asked_about_with_a_list() {
    let scores = coded().replace(",417,", ",12,");
    let key = KEY.replace("417", "012");
    let files = [("scores.csv", scores.as_str()), ("key.csv", key.as_str())];
    let reading = read_many(&files);
    assert!(reading.study.is_none());
    assert_eq!(
        told(&reading),
        [
            "scores.csv, row 2, column 2 (code): 12 stands among three-digit codes: a spreadsheet may have dropped the zeros \
          of 012. Have the zeros put back, or write the code right in the file."
        ]
    );
    let question = &reading.questions[0];
    assert_eq!(question.what, "Did a spreadsheet drop zeros in front of codes? By the key 12 was 012.");
    let answered = ReadOptions::default().answered(&question.choices[0].answer);
    let reading = check(
        read_files(&given(&files), &answered),
        &["scores.csv, row 2, column 2 (code): The code 12 was read as 012."],
    );
    let study = reading.study.unwrap();
    assert_eq!((study.samples[0].name.as_str(), study.samples[0].codes[0].as_str()), ("A", "012"));
}

#[test]
fn a_key_for_each_assessor_is_joined_by_assessor() {
    let scores = "assessor,code,green\nAnna,101,10\nAnna,102,20\nBen,101,30\nBen,102,40\n";
    let key = "assessor,position,code,sample\nAnna,1,101,A\nAnna,2,102,B\nBen,1,102,A\nBen,2,101,B\n";
    let study = check(read_many(&[("scores.csv", scores), ("plan.csv", key)]), &[]).study.unwrap();
    // By hand: Ben's 101 is B by his own row of the key.
    let of = |assessor: u32, sample: &str| {
        let sample = study.sample_index(sample).unwrap() as u32;
        let serving = study.servings.iter().position(|one| one.assessor == assessor && one.sample == sample).unwrap();
        study.score(serving, 0)
    };
    assert_eq!((of(0, "A"), of(0, "B"), of(1, "A"), of(1, "B")), (Some(10.0), Some(20.0), Some(40.0), Some(30.0)));
}
