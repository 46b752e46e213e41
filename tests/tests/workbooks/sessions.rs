//! Several files read together.

use super::*;
use likeness_core::read::{Answer, DuplicateChoice, PartsMean};

fn day(number: &str) -> String {
    without(&rows_where(|cells| cells[2] == number), &[2])
}

#[test]
fn each_file_is_a_session_called_by_its_name() {
    let reading = check(
        read_many(&[("Day 1.csv", &day("1")), ("Day 2.csv", &day("2"))]),
        &[
            "Each of 2 files was read as one session, called by the file's name. Confirm it, or say what tells the files \
           apart.",
        ],
    );
    let study = reading.study.as_ref().unwrap();
    assert_eq!(
        (study.sessions.clone(), study.title.as_str()),
        (vec!["Day 1".to_owned(), "Day 2".to_owned()], "Day 1, Day 2")
    );
    assert_eq!((study.replicate_count(), study.score_count()), (2, 24));
    let origin = study.origin(11, 1).unwrap();
    assert_eq!((study.files[origin.file as usize].name.as_str(), origin.row, origin.column), ("Day 2.csv", 7, 4));
    assert_eq!(reading.questions[0].what, "What does each file stand for?");
}

#[test]
fn files_may_have_other_separators_and_decimal_marks() {
    let two = day("2").replace(',', ";").replace("47", "47,5");
    let study = read_many(&[("one.csv", &day("1").replace("45", "45.5")), ("two.csv", &two)]).study.unwrap();
    assert_eq!((study.score(0, 0), study.score(6, 0)), (Some(45.5), Some(47.5)));
}

#[test]
fn scores_that_stand_in_two_files_are_shown_with_both_places() {
    let files =
        given(&[("one.csv", PANEL), ("two.csv", &rows_where(|cells| cells[0] == "Ben").replace("51,58", "15,58"))]);
    let mut options = ReadOptions::default().answered(&Answer::FilesMean(PartsMean::Nothing));
    let reading = read_files(&files, &options);
    assert!(reading.study.is_none());
    assert_eq!(
        told(&reading)[0],
        "two.csv, row 2, column 4 (green): Assessor Ben, sample A, replicate 1, green has two scores: 51 in row 6 of \
         one.csv and 15 in row 2 of two.csv. Say which of them counts."
    );
    options.duplicates = DuplicateChoice::KeepLast;
    let reading = read_files(&files, &options);
    assert_eq!(reading.study.as_ref().unwrap().score(4, 0), Some(15.0));
    assert!(told(&reading).contains(
        &"two.csv, row 2, column 5 (ripe): The same score, 58, stands in row 6 of one.csv already; it was counted once."
            .to_owned()
    ));
}

#[test]
fn a_file_that_is_given_twice_is_read_once() {
    let reading = check(
        read_many(&[("one.csv", PANEL), ("copy.csv", PANEL)]),
        &[
            "copy.csv: The file holds the very same bytes as one.csv and was left out. If a session was meant, open its own \
           file.",
        ],
    );
    assert_eq!(reading.preview.counts.scores, 24);
}

#[test]
fn one_file_that_cannot_be_read_stops_all_of_them() {
    let mut files = given(&[("one.csv", PANEL)]);
    files.push(GivenFile { name: "two.csv".to_owned(), bytes: Arc::new(b"%PDF-1.7\n".to_vec()) });
    let reading = read_files(&files, &ReadOptions::default());
    assert!(reading.study.is_none());
    assert!(told(&reading)[0].starts_with("two.csv: By its content this is a PDF document"), "{:?}", told(&reading));
}

#[test]
fn names_one_letter_apart_in_two_files_are_suggested_and_never_merged() {
    let reading = read_many(&[("one.csv", &day("1")), ("two.csv", &day("2").replace("Anna", "Ana"))]);
    assert_eq!(reading.preview.counts.assessors, 4);
    assert!(told(&reading).iter().any(|line| line.contains("Ana") && line.contains("Anna")), "{:?}", told(&reading));
}

#[test]
fn files_without_a_column_for_the_sample_are_samples() {
    let sample = |name: &str| without(&rows_where(|cells| cells[1] == name), &[1]);
    let reading = check(
        read_many(&[("A.csv", &sample("A")), ("B.csv", &sample("B"))]),
        &[
            "No column names the sample, so each of 2 files was read as one sample. Confirm it, or say what tells the files \
           apart.",
        ],
    );
    assert_eq!(reading.study.unwrap().samples[1].name, "B");
}
