//! The tidy table of scores: what it says by hand, and that reading it again gives the same scores.

use likeness_core::read::{PartsMean, ReadOptions, read_file, read_text};
use likeness_core::study::{Exclusion, ExclusionScope, Study};
use likeness_core::write::tidy::tidy_csv;
use likeness_tests::studies::{RandomStudy, named_scores};
use likeness_tests::workbooks::{Sheet, xlsx};

const DEMO: &[u8] = include_bytes!("../../public/demo/invented-mango-nectar.csv");

fn read(name: &str, bytes: &[u8]) -> Study {
    let reading = read_text(name, bytes, &ReadOptions::default());
    let questions: Vec<&str> = reading.questions.iter().map(|question| question.what.as_str()).collect();
    reading.study.unwrap_or_else(|| panic!("{name} is not understood: {questions:?} {:?}", reading.notices))
}

/// Identity: writing and reading again changes no score, no name and no order.
fn assert_comes_back(study: &Study) {
    let again = read("tidy.csv", tidy_csv(study).as_bytes());
    assert_eq!(named_scores(&again), named_scores(study));
    assert_eq!(again.assessors, study.assessors);
    let names = |study: &Study| study.samples.iter().map(|sample| sample.name.clone()).collect::<Vec<_>>();
    assert_eq!(names(&again), names(study));
    let attributes = |study: &Study| study.attributes.iter().map(|one| one.name.clone()).collect::<Vec<_>>();
    assert_eq!(attributes(&again), attributes(study));
}

#[test]
fn a_small_table_reads_as_it_would_be_written_by_hand() {
    let csv =
        "assessor;sample;replicate;session;position;green, raw;sweet\nAnna;T;1;Day 1;2;60,5;20\nBen;T;1;Day 1;1;;0\n";
    let mut study = read("panel.csv", csv.as_bytes());
    let scope = ExclusionScope::Score { serving: 0, attribute: 1 };
    study.exclusions.push(Exclusion { scope, reason: "said \"oops\"".to_owned(), when: String::new(), late: false });
    study.exclusions.push(Exclusion {
        scope: ExclusionScope::Assessor(0),
        reason: "blocked nose".to_owned(),
        when: String::new(),
        late: false,
    });
    let expected = "assessor,sample,replicate,session,position,attribute,score,excluded,reason,source_file,source_row,source_column\n\
        Anna,T,1,Day 1,2,\"green, raw\",60.5,TRUE,blocked nose,panel.csv,2,6\n\
        Anna,T,1,Day 1,2,sweet,20,TRUE,\"blocked nose; said \"\"oops\"\"\",panel.csv,2,7\n\
        Ben,T,1,Day 1,1,\"green, raw\",,FALSE,,panel.csv,3,6\n\
        Ben,T,1,Day 1,1,sweet,0,FALSE,,panel.csv,3,7\n";
    assert_eq!(tidy_csv(&study), expected);
}

#[test]
fn a_score_from_a_workbook_tells_its_sheet() {
    let day = |name: &str, score: u32| {
        Sheet::of(name, &format!("assessor,sample,sweet\nAnna,T,{score}\nAnna,C,2\nBen,T,3\nBen,C,4\n"))
    };
    let options = ReadOptions { sheets_mean: Some(PartsMean::Sessions), ..ReadOptions::default() };
    let reading = read_file("panel.xlsx", &xlsx(&[day("Day 1", 11), day("Day 2", 22)]), &options);
    let study = reading.study.unwrap_or_else(|| panic!("{:?}", reading.notices));
    let text = tidy_csv(&study);
    assert!(text.starts_with("assessor,sample,replicate,session,position,attribute,score,excluded,reason,source_file,source_sheet,source_row,source_column\n"), "{text}");
    assert!(text.contains("Anna,T,1,Day 1,,sweet,11,FALSE,,panel.xlsx,Day 1,2,3\n"), "{text}");
    assert!(text.contains("Anna,T,2,Day 2,,sweet,22,FALSE,,panel.xlsx,Day 2,2,3\n"), "{text}");
    let of_second_day = study.servings.iter().position(|one| one.session == Some(1)).expect("two sessions");
    let place = study.place_of(of_second_day, 0).expect("it came from the file");
    assert_eq!(place.to_string(), "panel.xlsx, sheet Day 2, row 2, column C");
    assert_comes_back(&study);
}

#[test]
fn the_invented_study_comes_back() {
    assert_comes_back(&read("invented-mango-nectar.csv", DEMO));
}

#[test]
fn scores_with_many_digits_and_missing_marks_come_back() {
    for seed in 0..5 {
        // Small effects keep every score on the line: what lies off it is left out on reading, and said.
        let small = RandomStudy {
            sd_assessor: 3.0,
            sd_sample: 5.0,
            sd_interaction: 2.0,
            sd_error: 4.0,
            ..RandomStudy::default()
        };
        let study = RandomStudy { missing: 0.1, ..small }.draw(seed);
        assert_comes_back(&study);
    }
}

#[test]
fn a_name_that_looks_like_a_formula_is_made_harmless() {
    let study = read("p.csv", b"assessor,sample,replicate,=ripe\nAnna,T,1,60\nBen,T,1,50\n");
    let text = tidy_csv(&study);
    assert!(text.contains(",'=ripe,60,"), "{text}");
    assert!(!text.contains(",=ripe"));
}
