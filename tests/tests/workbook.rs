//! The results workbook, read back by a reader that is not ours (the crate calamine).

use calamine::{Data, Range, Reader, Xlsx};
use likeness_core::catalogue::Results;
use likeness_core::catalogue::r#match::Closeness;
use likeness_core::read::{ReadOptions, read_text};
use likeness_core::stats::{Verdict, analyse};
use likeness_core::study::{Exclusion, ExclusionScope, LogKind, Study};
use likeness_core::write::people::as_shown;
use likeness_core::write::workbook::workbook_bytes;
use likeness_tests::studies::invented_nectar;
use std::io::Cursor;

const SHEETS: [&str; 27] = [
    "Verdicts",
    "Differences",
    "Closeness",
    "Chances",
    "Power",
    "Round shifts",
    "Second opinion",
    "Means",
    "ANOVA",
    "Letters",
    "Against target",
    "People",
    "Panel",
    "Panel by attribute",
    "Assessor grid",
    "Form faults",
    "Influence",
    "Sessions",
    "Rounds",
    "Order",
    "Line use",
    "Axes",
    "Map attributes",
    "Scores",
    "Left out",
    "Corrected",
    "Log",
    "About",
];

fn bytes_of(study: &Study) -> Result<Vec<u8>, String> {
    workbook_bytes(study, &Results::of(&as_shown(study)))
}

fn opened(study: &Study) -> Xlsx<Cursor<Vec<u8>>> {
    Xlsx::new(Cursor::new(bytes_of(study).expect("it can be written"))).expect("it can be read")
}

fn sheet(study: &Study, name: &str) -> Range<Data> {
    opened(study).worksheet_range(name).expect("the sheet is there")
}

fn column(range: &Range<Data>, head: &str) -> usize {
    let heads: Vec<String> = range.rows().next().expect("a header").iter().map(ToString::to_string).collect();
    heads.iter().position(|found| found == head).unwrap_or_else(|| panic!("no column {head} in {heads:?}"))
}

fn number(cell: &Data) -> f64 {
    match cell {
        Data::Float(value) => *value,
        Data::Int(value) => *value as f64,
        other => panic!("{other:?} is no number"),
    }
}

/// Twelve digits are written.
fn assert_close(got: f64, expected: f64) {
    assert!((got - expected).abs() <= 1e-11 * expected.abs(), "got {got}, expected {expected}");
}

#[test]
fn closeness_is_told_as_numbers_and_shares_as_shares() {
    let study = invented_nectar();
    let results = Results::of(&study);
    let distances = results.get::<Closeness>().expect("a target is settled");
    let range = sheet(&study, "Closeness");
    let (name, adjusted) = (column(&range, "candidate"), column(&range, "distance, scatter taken off"));
    let closest = column(&range, "drawn again closest in");
    // Notes follow below the rows.
    assert!(range.height() > distances.ranking.len());
    for (row, ranked) in range.rows().skip(1).zip(&distances.ranking) {
        assert_eq!(row[name].to_string(), ranked.sample);
        assert_close(number(&row[adjusted]), ranked.distance_adjusted);
        assert_close(number(&row[closest]), *ranked.share_closest.as_ref().expect("it was drawn"));
    }
}

#[test]
fn every_sheet_is_there_and_the_same_study_gives_the_same_bytes() {
    let study = invented_nectar();
    assert_eq!(opened(&study).sheet_names(), SHEETS);
    assert!(bytes_of(&study).unwrap() == bytes_of(&study.clone()).unwrap());
}

#[test]
fn numbers_are_numbers_and_those_of_the_engine() {
    let study = invented_nectar();
    let analysis = analyse(&study);
    let verdicts = sheet(&study, "Verdicts");
    let (name, distance) = (column(&verdicts, "candidate"), column(&verdicts, "distance of the profiles as measured"));
    for (row, candidate) in verdicts.rows().skip(1).zip(&analysis.candidates) {
        assert_eq!(row[name].to_string(), candidate.sample);
        assert_close(number(&row[distance]), candidate.distance.as_ref().unwrap().distance);
    }
    let differences = sheet(&study, "Differences");
    // Heads are those of the page, with the unit.
    let places =
        ["candidate", "attribute", "difference, mm", "95 % interval from", "p against no difference", "verdict"];
    let at = places.map(|head| column(&differences, head));
    let mut rows = 0;
    for row in differences.rows().skip(1).filter(|row| row[at[1]] != Data::Empty) {
        let attribute = analysis.attributes.iter().find(|one| one.attribute == row[at[1]].to_string()).expect("known");
        let expected = attribute.difference_of(&row[at[0]].to_string()).expect("known");
        assert_close(number(&row[at[2]]), expected.difference);
        assert_close(number(&row[at[3]]), expected.test.as_ref().unwrap().interval95.lower);
        assert_close(number(&row[at[4]]), expected.test.as_ref().unwrap().p_difference);
        assert_eq!(row[at[5]] == "match", expected.verdict == Verdict::Match);
        rows += 1;
    }
    assert_eq!(rows, analysis.candidates.len() * analysis.attributes.len());
    let anova = sheet(&study, "ANOVA");
    let (f, p) = (column(&anova, "F"), column(&anova, "p"));
    for (row, attribute) in anova.rows().skip(1).zip(&analysis.attributes) {
        assert_close(number(&row[f]), attribute.anova.as_ref().unwrap().f);
        assert_close(number(&row[p]), attribute.anova.as_ref().unwrap().p);
    }
}

#[test]
fn all_scores_stand_in_it_with_what_was_left_out() {
    let mut study = invented_nectar();
    let scope = ExclusionScope::Assessor(2);
    study.exclusions.push(Exclusion {
        scope,
        reason: "blocked nose".to_owned(),
        when: "2026-03-14 09:26".to_owned(),
        late: false,
    });
    let scores = sheet(&study, "Scores");
    let (score, left_out, reason) = (column(&scores, "score"), column(&scores, "left out"), column(&scores, "reason"));
    let sum: f64 = scores.rows().skip(1).map(|row| number(&row[score])).sum();
    let expected: f64 = (0..study.attributes.len())
        .flat_map(|attribute| (0..study.servings.len()).map(move |serving| (serving, attribute)))
        .filter_map(|(serving, attribute)| study.score(serving, attribute))
        .sum();
    assert!((sum - expected).abs() < 1e-6);
    assert_eq!(scores.height() - 1, study.score_count());
    let out: Vec<_> = scores.rows().filter(|row| row[left_out] == "yes").collect();
    // By hand: 5 samples x 2 replicates x 15 attributes of one assessor.
    assert_eq!(out.len(), 150);
    assert!(out.iter().all(|row| row[reason] == "blocked nose"));
    let list = sheet(&study, "Left out");
    assert_eq!(list.rows().nth(1).expect("a line")[0].to_string(), format!("assessor {}", study.assessors[2].name));
}

#[test]
fn no_name_becomes_a_formula() {
    let csv = "assessor,sample,replicate,=1+1,@x\n=cmd|' /C calc'!A0,+T,1,60,20\n=cmd|' /C calc'!A0,-A,1,61,41\n\
        Ben,+T,1,70,25\nBen,-A,1,69,47\nCleo,+T,1,55,22\nCleo,-A,1,57,40\n";
    let mut study = read_text("=p.csv", csv.as_bytes(), &ReadOptions::default()).study.expect("names may be anything");
    study.settings.target = Some("+T".to_owned());
    study.decided_at = Some(String::new());
    study.title = "=HYPERLINK(\"x\")".to_owned();
    study.note_in_log("", LogKind::Stated, "=1+2");
    let mut workbook = opened(&study);
    for name in workbook.sheet_names() {
        let formulas = workbook.worksheet_formula(&name).expect("the sheet is there");
        assert!(formulas.used_cells().all(|(_, _, formula)| formula.is_empty()), "{name} holds a formula");
    }
    let scores = sheet(&study, "Scores");
    let attribute = column(&scores, "attribute");
    assert_eq!(scores.rows().nth(1).expect("a line")[attribute], Data::String("=1+1".to_owned()));
}

#[test]
fn settings_and_versions_stand_in_it_and_names_leave_it_where_numbers_are_wanted() {
    let mut study = invented_nectar();
    study.settings.margin.width_mm = 7.5;
    let about = |study: &Study| -> Vec<(String, String)> {
        sheet(study, "About").rows().skip(1).map(|row| (row[0].to_string(), row[1].to_string())).collect()
    };
    let lines = about(&study);
    for (what, value) in [("margin", "7.5 mm"), ("seed", "20260101"), ("target", "Fresh mango"), ("alpha", "0.05")] {
        assert!(lines.contains(&(what.to_owned(), value.to_owned())), "{what} is not {value} in {lines:?}");
    }
    assert!(lines.iter().any(|(what, value)| what == "program" && value.starts_with("Likeness ")));
    assert!(lines.iter().any(|(what, value)| what == "file" && value.contains(&study.files[0].fingerprint)));
    study.report.assessors_as_numbers = true;
    let mut workbook = opened(&study);
    for name in SHEETS {
        let range = workbook.worksheet_range(name).expect("the sheet is there");
        let text: String = range.cells().map(|(_, _, cell)| format!("{cell}\n")).collect();
        for assessor in &study.assessors {
            assert!(!text.contains(&assessor.name), "{} stands in {name}", assessor.name);
        }
    }
}

/// A study on which hardly anything is defined still makes a workbook, and says why numbers are missing.
#[test]
fn what_is_not_defined_says_why() {
    let csv = "assessor,sample,replicate,ripe\nAnna,T,1,60\nAnna,A,1,61\n";
    let mut study = read_text("p.csv", csv.as_bytes(), &ReadOptions::default()).study.expect("a sound file");
    study.settings.target = Some("T".to_owned());
    let anova = sheet(&study, "ANOVA");
    let cell = anova.rows().nth(1).expect("a line")[column(&anova, "F")].to_string();
    assert!(cell.starts_with("not defined: "), "{cell}");
}
