//! The study file: older forms open, newer ones are refused, damaged ones say where.

use likeness_core::read::study_file::{StudyFileError, study_in};
use likeness_core::read::{ReadOptions, read_text};
use likeness_core::study::{
    LogEntry, LogKind, ReportField, STUDY_FILE_VERSION, STUDY_FILE_VERSION_WITHOUT_PICTURES, Study,
};
use likeness_core::write::study_file::study_file_text;
use likeness_core::write::study_words::late_decisions;

const CSV: &str =
    "assessor,sample,replicate,ripe,green\nAnna,target,1,60,20\nAnna,A,1,61,41\nBen,target,1,70,25\nBen,A,1,69,\n";
/// Written by hand to the form that program 0.1.0 called 1, before reports had details.
const FORM_1: &str = include_str!("../study_files/form-1.likeness.json");

fn study() -> Study {
    read_text("panel.csv", CSV.as_bytes(), &ReadOptions::default()).study.expect("a sound file")
}

#[test]
fn everything_comes_back() {
    let mut study = study();
    study.report.state(ReportField::Purpose, "to choose");
    study.report.assessors_as_numbers = true;
    study.settings.seed = 7;
    study.note_in_log("2026-03-14 09:26", LogKind::Corrected, "something was done");
    assert_eq!(study_in(&study_file_text(&study)), Ok(study));
}

#[test]
fn a_file_of_the_first_form_opens() {
    let opened = study_in(FORM_1).expect("an older form opens");
    assert_eq!(opened.title, "first form");
    assert_eq!((opened.score_count(), opened.score(1, 1)), (3, None));
    assert_eq!(opened.exclusions.len(), 1);
    assert_eq!(opened.settings.target.as_deref(), Some("target"));
    assert!(opened.report.texts.is_empty());
    // What it was judged by is said, once, on the page and in the record.
    let says = |text: &str| text.contains("each attribute was judged by itself");
    assert_eq!(opened.notices.iter().filter(|notice| says(&notice.what)).count(), 1);
    assert_eq!(opened.log.iter().filter(|entry| says(&entry.what)).count(), 1);
    assert!((opened.settings.profile_share - 0.7).abs() < 1e-12);
    // Saved again it is of the form of today, and the same study.
    assert_eq!(study_in(&study_file_text(&opened)), Ok(opened));
}

#[test]
fn late_decisions_are_told_by_their_kind_and_not_by_their_words() {
    let mut study = study();
    study.note_in_log("", LogKind::Decided, "Ziel genannt: target.");
    study.decided_at = Some("2026-03-14 09:26".to_owned());
    study.note_in_log("", LogKind::MarginDecided, "Spanne geändert: 10 auf 6 mm.");
    study.note_in_log("", LogKind::Stated, "Title changed after the verdict was seen.");
    let opened = study_in(&study_file_text(&study)).expect("a sound file");
    let late: Vec<&str> = late_decisions(&opened).into_iter().map(|entry| entry.what.as_str()).collect();
    assert_eq!(late, ["Spanne geändert: 10 auf 6 mm."]);
}

#[test]
fn a_file_without_kinds_of_lines_keeps_its_late_decisions() {
    let lines = [
        "Target named before the verdict was seen: target.",
        "Margin changed after the verdict was seen: 10 to 6 mm.",
        "ripe taken from the deciding attributes after the verdict was seen.",
        "Settings changed after the scores were loaded, by options of the shell program.",
    ];
    let mut study = study();
    study.log = lines.map(|what| LogEntry::new("", LogKind::Unknown, what)).to_vec();
    let mut file: serde_json::Value = serde_json::from_str(&study_file_text(&study)).expect("sound JSON");
    for line in file["study"]["log"].as_array_mut().expect("a list") {
        let line = line.as_object_mut().expect("fields");
        assert!(line.remove("kind").is_some() && line.remove("late").is_some());
    }
    let opened = study_in(&file.to_string()).expect("an older file opens");
    let kinds: Vec<LogKind> = late_decisions(&opened).into_iter().map(|entry| entry.kind).collect();
    assert_eq!(kinds, [LogKind::MarginDecided, LogKind::Decided, LogKind::Decided]);
    // Saved and opened again, nothing is told anew.
    assert_eq!(study_in(&study_file_text(&opened)), Ok(opened));
}

#[test]
fn a_newer_form_is_refused_because_saving_would_lose_what_it_holds() {
    let newer = STUDY_FILE_VERSION + 1;
    let written = format!("\"version\":{STUDY_FILE_VERSION_WITHOUT_PICTURES}");
    let text = study_file_text(&study()).replace(&written, &format!("\"version\":{newer}"));
    let refused = study_in(&text).expect_err("refused");
    assert_eq!(refused, StudyFileError::Newer { version: u64::from(newer), known: STUDY_FILE_VERSION });
    assert!(refused.to_string().contains("newer version of Likeness"));
}

#[test]
fn a_damaged_file_says_where() {
    let text = study_file_text(&study());
    // On lines of their own, so that the line tells something.
    let lines = text.replace(",\"", ",\n\"");
    let cut = &lines[..lines.len() / 2];
    match study_in(cut).expect_err("cut in the middle") {
        StudyFileError::Damaged { line, .. } => assert_eq!(line, cut.lines().count()),
        other => panic!("{other:?}"),
    }
    let wrong = lines.replacen("\"samples\":", "\"simples\":", 1);
    let said = study_in(&wrong).expect_err("a field is missing").to_string();
    assert!(said.contains("damaged at line") && said.contains("samples"), "{said}");
    let word = lines.replacen("\"minimum\":0.0", "\"minimum\":\"low\"", 1);
    let at = word.lines().position(|line| line.contains("\"low\"")).expect("there it is") + 1;
    assert!(study_in(&word).expect_err("no number").to_string().contains(&format!("at line {at}, character")));
}

#[test]
fn what_is_no_study_is_told_apart_from_damage() {
    assert_eq!(study_in("{}"), Err(StudyFileError::SomethingElse));
    assert_eq!(study_in("{\"format\": \"other\", \"version\": 99}"), Err(StudyFileError::SomethingElse));
    let sound = study_file_text(&study());
    let points_nowhere = sound.replacen("\"assessor\":1", "\"assessor\":99", 1);
    assert!(matches!(study_in(&points_nowhere), Err(StudyFileError::Incomplete { .. })));
}

/// Whatever is cut off or overwritten, opening says so or opens; it never panics.
#[test]
fn no_damage_breaks_the_reader() {
    let text = study_file_text(&study());
    for length in 0..text.len() {
        let cut = &text[..text.floor_char_boundary(length)];
        assert!(study_in(cut).is_err(), "cut after {length}");
    }
    for place in 0..text.len() {
        let mut bytes = text.clone().into_bytes();
        bytes[place] = b'7';
        let _ = study_in(&String::from_utf8_lossy(&bytes));
    }
}
