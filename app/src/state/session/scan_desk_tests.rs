//! The desk of filled pages and the joining of sources, without a browser.

use super::data_entry_tests::page_with_plan;
use super::scan_desk::{self, AskedKind, PictureName};
use super::{data_entry, joining};
use crate::state::AppState;
use leptos::prelude::{Get, GetUntracked, With, WithUntracked};
use likeness_core::plan::data_entry::entry::{Entry, EntryOptions, Pass};
use likeness_core::plan::joining::ScoreSource;
use likeness_core::plan::tasting_plan::TastingPlan;
use likeness_core::scan_desk::desk::{DeskPage, DeskRow, DeskRowState, PictureSays, ScanDesk, TakenPicture};
use likeness_core::scan_desk::strips::KeptStrips;

/// A desk as it would be kept, with one page: line 1 is asked about at 40 mm, line 2 is empty, the others read at 20 mm.
fn kept_desk(plan: &TastingPlan) -> String {
    let serving = &plan.servings()[0];
    let row = |(number, attribute): (u32, String)| {
        let (state, suggested_mm) = match number {
            1 => (DeskRowState::Ask, Some(40.0)),
            2 => (DeskRowState::Empty, None),
            _ => (DeskRowState::Read, Some(20.0)),
        };
        DeskRow { number, attribute, state, suggested_mm, why: String::new(), decided: None, looked_again: None }
    };
    let names = plan.attributes.attributes.iter().map(|attribute| attribute.name.clone());
    let page = DeskPage {
        picture: 0,
        code_text: "LK1:1".to_owned(),
        assessor: plan.assessors[serving.assessor].clone(),
        session: serving.session,
        code: serving.code.clone(),
        rows: (1..).zip(names).map(row).collect(),
    };
    let found = vec![PictureSays::Read { page: 0, turned: None }];
    let picture = TakenPicture { file: "a.jpg".to_owned(), length_bytes: 9, fingerprint: "f".to_owned(), found };
    let desk = ScanDesk { pages: vec![page], pictures: vec![picture], ..ScanDesk::new(&plan.study_id(), 3) };
    desk.to_text()
}

fn asked(app: AppState) -> scan_desk::AskedRow {
    app.scanning
        .desk
        .with(|desk| scan_desk::asked(desk.as_ref()?, &KeptStrips::default()))
        .expect("a line is asked about")
}

fn stands(app: AppState, row: usize) -> Entry {
    app.scanning.desk.with_untracked(|desk| desk.as_ref().expect("a desk").pages[0].rows[row].standing_mm())
}

#[test]
fn a_line_is_taken_typed_nudged_or_found_empty_and_every_step_goes_back() {
    let (_owner, app, plan) = page_with_plan();
    assert!(scan_desk::lay_desk(app, Some(&kept_desk(&plan)), None, None));
    scan_desk::enter(app, "");
    assert_eq!(stands(app, 0), Entry::Score(40.0));
    scan_desk::back(app);
    scan_desk::enter(app, "147");
    assert!(app.scanning.refused.get().is_some_and(|why| why.contains("outside the line")));
    assert_eq!(stands(app, 0), Entry::NotTyped);
    scan_desk::nudge(app, scan_desk::NUDGE_MM);
    scan_desk::nudge(app, scan_desk::NUDGE_MM);
    assert_eq!(scan_desk::hairline(&asked(app), app.scanning.moved.get()), Some(41.0));
    scan_desk::enter(app, "");
    assert_eq!(stands(app, 0), Entry::Score(41.0));
    scan_desk::back(app);
    scan_desk::no_mark(app);
    assert_eq!(stands(app, 0), Entry::NoMark);
    scan_desk::back(app);
    scan_desk::enter(app, "33,3");
    assert_eq!(stands(app, 0), Entry::Score(33.3));
    let empties =
        app.scanning.desk.with(|desk| scan_desk::empties(desk.as_ref().expect("a desk"), &KeptStrips::default()));
    scan_desk::confirm_empty(app, &empties.iter().map(|row| row.place).collect::<Vec<_>>());
    // The spot check tells nothing: no hairline stands, and Enter alone takes nothing.
    assert_eq!((asked(app).kind, scan_desk::hairline(&asked(app), None)), (AskedKind::Again, None));
    let before = app.scanning.desk.get_untracked();
    scan_desk::enter(app, "");
    assert_eq!(app.scanning.desk.get_untracked(), before);
    scan_desk::enter(app, "90");
    assert_eq!(asked(app).kind, AskedKind::Differs);
    scan_desk::settle_spot(app, false);
    assert_eq!(asked(app).kind, AskedKind::Again);
}

#[test]
fn what_is_put_by_pointer_lies_where_the_strip_was_touched() {
    let (_owner, app, plan) = page_with_plan();
    scan_desk::lay_desk(app, Some(&kept_desk(&plan)), None, None);
    let place = asked(app).place;
    // The whole strip is 112 mm long and begins 6.05 mm before the line: its middle lies at 49.95, rounded to a tenth.
    scan_desk::put_at(app, place, (-6.05, 112.0), 0.5);
    assert!(app.scanning.moved.get().is_some_and(|(_, mark)| (mark - 49.95).abs() < 0.051));
    scan_desk::put_at(app, place, (-6.05, 112.0), 2.0);
    assert_eq!(app.scanning.moved.get(), Some((place, 100.0)));
    // What is shown closer ends with the strip, and stays under a finger that moves inside it.
    assert_eq!(scan_desk::closer(0.0, None), (-6.05, 28.0));
    assert_eq!(scan_desk::closer(50.0, None), (36.0, 28.0));
    assert_eq!(scan_desk::closer(60.0, Some((36.0, 28.0))), (36.0, 28.0));
    assert_eq!(scan_desk::closer(62.0, Some((36.0, 28.0))), (48.0, 28.0));
}

#[test]
fn a_damaged_desk_is_told_and_an_empty_one_is_laid() {
    let (_owner, app, plan) = page_with_plan();
    let text = kept_desk(&plan);
    assert!(!scan_desk::lay_desk(app, Some(&text[..text.len() - 9]), None, None));
    assert!(app.message.get().is_some());
    assert_eq!(app.scanning.desk.with(|desk| desk.as_ref().map(|desk| desk.pages.len())), Some(0));
}

#[test]
fn a_picture_that_is_refused_is_listed_and_can_be_put_away() {
    let (_owner, app, _plan) = page_with_plan();
    scan_desk::lay_desk(app, None, None, None);
    scan_desk::take_refused(app, PictureName { file: "x.tif".to_owned(), ..PictureName::default() }, "a TIFF");
    assert_eq!(app.scanning.desk.with(|desk| desk.as_ref().map(|desk| desk.counts().failed)), Some(1));
    scan_desk::put_failed_away(app, 0);
    assert_eq!(app.scanning.desk.with(|desk| desk.as_ref().map(|desk| desk.counts().pictures)), Some(0));
}

#[test]
fn typed_and_read_scores_of_one_plan_make_one_study_and_differences_wait_for_a_person() {
    let (_owner, app, plan) = page_with_plan();
    scan_desk::lay_desk(app, Some(&kept_desk(&plan)), None, None);
    data_entry::begin(app);
    data_entry::set_options(app, EntryOptions { ask_page_code: false, rows_between_checks: 0 });
    data_entry::begin_pass(app, Pass::First);
    // The page that was read is typed too, with a slip in line 4; and a page that wasn't read.
    for row in 0..14 {
        data_entry::enter(
            app,
            match row {
                0 => "40",
                1 => "-",
                3 => "70",
                _ => "20",
            },
        );
    }
    (0..14).for_each(|_| _ = data_entry::enter(app, "30"));
    scan_desk::enter(app, "");
    let joined = joining::joined(app).expect("a plan is open");
    let places: Vec<(usize, usize)> = joined.differences().iter().map(|one| (one.serving, one.attribute)).collect();
    assert_eq!(places, [(0, 3)]);
    assert_eq!(joined.progress(&plan).in_words(), "1 of 6 pages and parts of 1 more");
    joining::use_scores_of(app, ScoreSource::Typed);
    let study = app.study.get().expect("a study");
    assert_eq!((study.score(0, 3), study.score(0, 4), study.score(1, 0)), (None, Some(20.0), Some(30.0)));
    assert_eq!(study.picture_row(0, 4).map(|(page, _)| page.file.as_str()), Some("a.jpg"));
    let difference = joined.differences()[0].clone();
    assert!(joining::decide_typed(app, &difference, "170").is_err());
    joining::decide_typed(app, &difference, "21").expect("a score");
    joining::use_scores_of(app, ScoreSource::Pictures);
    assert_eq!(app.study.get().and_then(|study| study.score(0, 3)), Some(21.0));
}
