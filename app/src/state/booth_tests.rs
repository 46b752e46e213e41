//! Forms on a screen and what comes back from them, without a browser.

use super::typing_tests::page_with_plan;
use super::{Ground, PlanPart, View, booth, opening};
use crate::words::booth as say;
use leptos::prelude::{Get, GetUntracked, Set, WithUntracked};
use likeness_core::plan::booth::BoothScope;
use likeness_core::plan::booth_run::{BoothStep, Finished, Moment};

fn at(seconds: u64) -> Moment {
    Moment { local: "2026-03-14 09:26".to_owned(), seconds }
}

/// Marks every line of the sheet, row by row 1 mm further, and gives its results file.
fn tasted(ground: Ground, sheet: usize) -> String {
    booth::choose_sheet(ground, sheet, None);
    booth::consent(ground, &at(0));
    while ground.booth.run.with_untracked(|run| run.as_ref().is_some_and(|run| run.step != BoothStep::Done)) {
        booth::end_rest(ground, &at(1000));
        (0..14).for_each(|row| booth::mark_at(ground, row, row as f64 / 100.0));
        assert!(!matches!(booth::finish_cup(ground, &at(1000)), Some(Finished::Asked { .. })));
    }
    booth::save_results(ground, &at(2000)).expect("a sheet is open").to_text()
}

#[test]
fn a_booth_file_opens_the_form_and_its_results_come_back_as_the_study() {
    let (_owner, ground, plan) = page_with_plan();
    ground.booth.rest_typed.set("long".to_owned());
    assert_eq!(booth::form_for(ground, BoothScope::default()), Err(say::refused_rest("long")));
    ground.booth.rest_typed.set("30".to_owned());
    let form = booth::form_for(ground, BoothScope::default()).expect("a form");
    opening::open_file(ground, "booth.json", form.to_text().into_bytes());
    assert_eq!(ground.booth.form.get(), Some(form));
    let files: Vec<(String, Vec<u8>)> =
        (0..3).map(|sheet| (format!("{sheet}.json"), tasted(ground, sheet).into_bytes())).collect();
    booth::leave_form(ground);
    assert_eq!((ground.booth.form.get(), ground.booth.run.get()), (None, None));
    opening::open_many(ground, files);
    assert_eq!((ground.view.get(), ground.plan_part.get()), (View::Plan, PlanPart::ScreenForms));
    assert_eq!(booth::collected(ground).map(|all| (all.missing(), all.marks())), Some((0, 3 * 2 * 14)));
    let kept = ground.booth.collected.with_untracked(|files| booth::collected_text(files));
    booth::use_results(ground);
    let study = ground.study.get().expect("a study");
    assert_eq!(ground.view.get(), View::Match);
    for page in 0..plan.servings().len() {
        assert_eq!(study.score(page, 13), Some(13.0));
    }
    booth::put_results_away(ground, 1);
    assert_eq!(booth::collected(ground).map(|all| all.missing()), Some(1));
    booth::restore_collected(ground, &kept);
    assert_eq!(booth::collected(ground).map(|all| all.missing()), Some(0));
}

#[test]
fn damaged_files_are_said_by_name_and_change_nothing() {
    let (_owner, ground, _plan) = page_with_plan();
    let form = booth::form_for(ground, BoothScope::default()).expect("a form").to_text();
    opening::open_file(ground, "booth.json", form.as_bytes()[..300].to_vec());
    assert_eq!(ground.booth.form.get(), None);
    let said = ground.message.get().map(|message| message.what).unwrap_or_default();
    assert!(said.starts_with("booth.json was not opened. The booth file is damaged at line 1"), "{said}");
    opening::open_file(ground, "booth.json", form.into_bytes());
    let results = tasted(ground, 0);
    booth::leave_form(ground);
    opening::open_file(ground, "anna.json", results.replacen("13.0", "31.0", 1).into_bytes());
    let refused = ground.booth.refused.get_untracked();
    assert_eq!(refused.len(), 1);
    assert!(refused[0].to_string().starts_with("anna.json: Its check doesn't fit"), "{}", refused[0]);
    booth::use_results(ground);
    assert_eq!(ground.study.get(), None);
}

#[test]
fn a_place_on_the_line_is_told_in_words_of_its_ends() {
    assert_eq!(say::place_in_words(0, "none", "strong"), "at none");
    assert_eq!(say::place_in_words(500, "none", "strong"), "in the middle");
    assert_eq!(say::place_in_words(700, "none", "strong"), "towards strong");
    assert_eq!(say::place_in_words(1000, "none", " "), "at the right end");
}
