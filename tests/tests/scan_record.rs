//! The record of reading filled pages: it goes with the study through its file, and stands in report and workbook.

use likeness_core::plan::joining::JoinedScores;
use likeness_core::plan::tasting_plan::TastingPlan;
use likeness_core::read::study_file::study_in;
use likeness_core::scan_desk::desk::{
    Decision, DeskPage, DeskRow, DeskRowState, PictureSays, RowPlace, ScanDesk, TakenPicture,
};
use likeness_core::scan_desk::queue::Due;
use likeness_core::study::Study;
use likeness_core::write::picture_words::{rows_in_words, spot_check};
use likeness_core::write::report_html::report_html;
use likeness_core::write::study_file::study_file_text;
use likeness_tests::tasting::small_plan;

/// Three pages of four rows: one row asked about, one empty, ten read, and a picture that failed.
fn desk(plan: &TastingPlan) -> ScanDesk {
    let mut desk = ScanDesk { who: "Cleo".to_owned(), ..ScanDesk::new(&plan.study_id(), 3) };
    for (page, serving) in plan.servings().into_iter().take(3).enumerate() {
        let row = |(number, attribute): (u32, String)| {
            let state = match (page, number) {
                (0, 2) => DeskRowState::Ask,
                (1, 3) => DeskRowState::Empty,
                _ => DeskRowState::Read,
            };
            let why = if state == DeskRowState::Ask { "there is more than one mark" } else { "" }.to_owned();
            let suggested_mm = (state != DeskRowState::Empty).then_some(10.0 * f64::from(number));
            DeskRow { number, attribute, state, suggested_mm, why, decided: None, looked_again: None }
        };
        let names = plan.attributes.attributes.iter().map(|attribute| attribute.name.clone());
        desk.pages.push(DeskPage {
            picture: page,
            code_text: format!("LK1:{page}"),
            assessor: plan.assessors[serving.assessor].clone(),
            session: serving.session,
            code: serving.code,
            rows: (1..).zip(names).map(row).collect(),
        });
        let found = vec![PictureSays::Read { page, turned: None }];
        desk.pictures.push(TakenPicture {
            file: format!("{page}.jpg"),
            length_bytes: 9,
            fingerprint: page.to_string(),
            found,
        });
    }
    let found = vec![PictureSays::Failed { why: "a TIFF picture".to_owned() }];
    let (file, fingerprint) = ("x<1>.tif".to_owned(), String::new());
    desk.pictures.push(TakenPicture { file, length_bytes: 4, fingerprint, found });
    desk
}

/// A person puts the doubtful row elsewhere, confirms the empty one, and sees in the others what was read.
fn work_through(desk: &mut ScanDesk) {
    loop {
        match desk.due() {
            Due::Doubtful(place) => desk.decide(place, Decision::Put { mark_mm: 21.0 }),
            Due::Empty(places) => desk.confirm_empty(&places),
            Due::Again(place) => desk.look_again(place, desk.row(place).and_then(|row| row.suggested_mm)),
            Due::Differs(RowPlace { .. }) => panic!("what was seen is what was read"),
            Due::Nothing => return,
        }
    }
}

fn study() -> Study {
    let plan = small_plan(false);
    let mut desk = desk(&plan);
    work_through(&mut desk);
    let mut study = JoinedScores::new(vec![desk.source(&plan)], &[], 1.0).study(&plan, "2026-03-14 09:26");
    desk.put_record(&plan, &mut study);
    study
}

#[test]
fn the_record_goes_with_the_study_and_older_programs_are_not_misled() {
    let mut study = study();
    let text = study_file_text(&study);
    // A program that knows no such record would drop it, so the form is a newer one.
    assert!(text.contains("\"version\":4"));
    assert_eq!(study_in(&text).expect("a sound study file").from_pictures, study.from_pictures);
    // Without pictures the file stays as older programs know it.
    study.from_pictures = None;
    assert!(study_file_text(&study).contains("\"version\":3"));
    // A hand that points the record beside the study is caught.
    let broken = text.replacen("\"serving\":0", "\"serving\":900", 1);
    assert!(study_in(&broken).expect_err("refused").to_string().contains("not in the study"));
}

#[test]
fn report_and_workbook_rows_say_how_each_score_was_read() {
    let study = study();
    // 10 rows read and all of them looked at again, none wrong: 1 - .05^(1/10) = 25.9 %.
    let said = spot_check(&study.from_pictures.as_ref().expect("a record").spot_check);
    assert!(said.contains("10 looked at again, 0 found wrong by more than 2 mm (0.0 %)"), "{said}");
    assert!(said.contains("no more than 25.9 % of the rows taken"), "{said}");
    let rows = rows_in_words(&study);
    assert_eq!(rows.len(), 12);
    let row =
        ["0.jpg", "LK1:0", "2", "asked about, put in another place: there is more than one mark", "20.0", "Cleo", ""];
    assert_eq!(rows[1][4..], row);
    let report = report_html(&study);
    for part in ["Filled pages read from pictures", "x&lt;1&gt;.tif", &said, "generated pages", "empty, confirmed"] {
        assert!(report.contains(part), "{part}");
    }
}
