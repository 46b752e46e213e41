//! Forms on a screen and what comes back from them, without a browser.

use super::data_entry_tests::page_with_plan;
use super::on_screen_ballot;
use crate::state::study::opening;
use crate::state::{AppState, PlanPart, View};
use crate::words::on_screen_ballot as say;
use leptos::prelude::{Get, GetUntracked, Set, WithUntracked};
use likeness_core::plan::on_screen::ballot_file::OnScreenScope;
use likeness_core::plan::on_screen::ballot_run::{Finished, Moment, OnScreenStep};

fn at(seconds: u64) -> Moment {
    Moment { local: "2026-03-14 09:26".to_owned(), seconds }
}

/// Marks every line of the sheet, row by row 1 mm further, and gives its results file.
fn tasted(app: AppState, sheet: usize) -> String {
    on_screen_ballot::choose_sheet(app, sheet, None);
    on_screen_ballot::consent(app, &at(0));
    while app.on_screen.run.with_untracked(|run| run.as_ref().is_some_and(|run| run.step != OnScreenStep::Done)) {
        on_screen_ballot::end_rest(app, &at(1000));
        (0..14).for_each(|row| on_screen_ballot::mark_at(app, row, row as f64 / 100.0));
        assert!(!matches!(on_screen_ballot::finish_cup(app, &at(1000)), Some(Finished::Asked { .. })));
    }
    on_screen_ballot::save_results(app, &at(2000)).expect("a sheet is open").to_text()
}

#[test]
fn a_booth_file_opens_the_form_and_its_results_come_back_as_the_study() {
    let (_owner, app, plan) = page_with_plan();
    app.on_screen.rest_typed.set("long".to_owned());
    assert_eq!(on_screen_ballot::form_for(app, OnScreenScope::default()), Err(say::refused_rest("long")));
    app.on_screen.rest_typed.set("30".to_owned());
    let form = on_screen_ballot::form_for(app, OnScreenScope::default()).expect("a form");
    opening::open_file(app, "booth.json", form.to_text().into_bytes());
    assert_eq!(app.on_screen.form.get(), Some(form));
    let files: Vec<(String, Vec<u8>)> =
        (0..3).map(|sheet| (format!("{sheet}.json"), tasted(app, sheet).into_bytes())).collect();
    on_screen_ballot::leave_form(app);
    assert_eq!((app.on_screen.form.get(), app.on_screen.run.get()), (None, None));
    opening::open_many(app, files);
    assert_eq!((app.view.get(), app.plan_part.get()), (View::Plan, PlanPart::OnScreen));
    assert_eq!(on_screen_ballot::collected(app).map(|all| (all.missing(), all.marks())), Some((0, 3 * 2 * 14)));
    let kept = app.on_screen.collected.with_untracked(|files| on_screen_ballot::collected_text(files));
    on_screen_ballot::use_results(app);
    let study = app.study.get().expect("a study");
    assert_eq!(app.view.get(), View::Match);
    for page in 0..plan.servings().len() {
        assert_eq!(study.score(page, 13), Some(13.0));
    }
    on_screen_ballot::put_results_away(app, 1);
    assert_eq!(on_screen_ballot::collected(app).map(|all| all.missing()), Some(1));
    on_screen_ballot::restore_collected(app, &kept);
    assert_eq!(on_screen_ballot::collected(app).map(|all| all.missing()), Some(0));
}

#[test]
fn damaged_files_are_said_by_name_and_change_nothing() {
    let (_owner, app, _plan) = page_with_plan();
    let form = on_screen_ballot::form_for(app, OnScreenScope::default()).expect("a form").to_text();
    opening::open_file(app, "booth.json", form.as_bytes()[..300].to_vec());
    assert_eq!(app.on_screen.form.get(), None);
    let said = app.message.get().map(|message| message.what).unwrap_or_default();
    assert!(said.starts_with("booth.json was not opened. The booth file is damaged at line 1"), "{said}");
    opening::open_file(app, "booth.json", form.into_bytes());
    let results = tasted(app, 0);
    on_screen_ballot::leave_form(app);
    opening::open_file(app, "anna.json", results.replacen("13.0", "31.0", 1).into_bytes());
    let refused = app.on_screen.refused.get_untracked();
    assert_eq!(refused.len(), 1);
    assert!(refused[0].to_string().starts_with("anna.json: Its check doesn't fit"), "{}", refused[0]);
    on_screen_ballot::use_results(app);
    assert_eq!(app.study.get(), None);
}

#[test]
fn a_place_on_the_line_is_told_in_words_of_its_ends() {
    assert_eq!(say::place_in_words(0, "none", "strong"), "at none");
    assert_eq!(say::place_in_words(500, "none", "strong"), "in the middle");
    assert_eq!(say::place_in_words(700, "none", "strong"), "towards strong");
    assert_eq!(say::place_in_words(1000, "none", " "), "at the right end");
}
