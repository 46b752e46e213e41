//! Correcting, filtering, sorting and leaving out marks, without a browser.

use super::study::score_rows::{
    Condition, Peculiar, ScoreColumn, ScoreFilter, ScoreOrder, columns, notices_on, servings,
};
use super::study::{corrections, exclusions, study_file};
use super::tests::{log_of, page_with_demo};
use super::{AppState, actions};
use leptos::prelude::{Get, GetUntracked, With, WithUntracked};
use likeness_core::notice::{Notice, Place, Severity};
use likeness_core::run::{EachOf, Run};
use likeness_core::study::{ExclusionScope, SourceFile, Study};
use std::sync::Arc;

fn study_of(app: AppState) -> Study {
    app.study.get_untracked().expect("open")
}

fn shown(study: &Study, filter: ScoreFilter, order: Option<ScoreOrder>) -> Vec<usize> {
    servings(study, &Peculiar::of(study), &filter, order)
}

#[test]
fn a_corrected_mark_moves_the_verdict_and_undo_brings_both_back_with_a_trace() {
    let (_owner, app, derived) = page_with_demo();
    let before = study_of(app);
    let mean_of = move || derived.analysis.get().map(|analysis| analysis.attributes[0].means[0].mean);
    let mean_before = mean_of();
    assert!(corrections::correct(app, 0, 0, "99", "  ").is_err(), "a reason is needed");
    assert!(corrections::correct(app, 0, 0, "999", "why").is_err(), "off the line");
    assert!(corrections::correct(app, 0, 0, "much", "why").is_err(), "no number");
    assert_eq!(study_of(app), before);
    corrections::correct(app, 0, 0, "99,5", "sheet read again.").expect("a decimal comma is understood");
    assert_eq!(app.study.with(|study| study.as_ref().and_then(|study| study.score(0, 0))), Some(99.5));
    assert_ne!(mean_of(), mean_before);
    let said = log_of(app).pop().unwrap_or_default();
    assert!(said.ends_with(" to 99.5 mm: sheet read again.") && said.starts_with("Corrected the mark for "), "{said}");
    corrections::correct(app, 0, 0, "", "not legible").expect("nothing typed means no mark");
    assert!(corrections::correct(app, 0, 0, " ", "again").is_err(), "it is missing already");
    actions::undo(app);
    actions::undo(app);
    let after = study_of(app);
    assert_eq!((after.edits.len(), after.score(0, 0)), (0, before.score(0, 0)));
    assert_eq!(mean_of(), mean_before);
    assert!(
        log_of(app).last().is_some_and(|said| said.starts_with("Undone: Corrected")),
        "what was done stays on record"
    );
    actions::redo(app);
    let again = study_of(app);
    assert_eq!((again.edits.len(), again.score(0, 0)), (1, Some(99.5)));
    assert_eq!(again.score_as_it_came(0, 0), before.score(0, 0));
    assert_eq!(study_file::study_in(&crate::state::study::opening::text_to_keep(&again)), Ok(again));
}

#[test]
fn corrections_and_decisions_are_undone_in_their_order() {
    let (_owner, app, _derived) = page_with_demo();
    let before = study_of(app);
    corrections::correct(app, 3, 2, "11", "typed wrongly").expect("a sound correction");
    exclusions::exclude(app, ExclusionScope::Score { serving: 3, attribute: 2 }, "spilt cup").expect("a reason");
    corrections::correct(app, 3, 2, "12", "typed wrongly again").expect("a sound correction");
    for _ in 0..3 {
        actions::undo(app);
    }
    let after = study_of(app);
    assert_eq!(
        (&after.edits, &after.exclusions, after.score(3, 2)),
        (&before.edits, &before.exclusions, before.score(3, 2))
    );
    for _ in 0..3 {
        actions::redo(app);
    }
    let after = study_of(app);
    assert_eq!((after.edits.len(), after.exclusions.len(), after.score(3, 2)), (2, 1, Some(12.0)));
}

#[test]
fn several_marks_are_left_out_as_one_step() {
    let (_owner, app, _derived) = page_with_demo();
    let scopes = [0, 1, 2].map(|serving| ExclusionScope::Score { serving, attribute: 4 });
    assert!(exclusions::exclude_together(app, &scopes, "").is_err());
    exclusions::exclude_together(app, &scopes, "scale turned round").expect("a reason");
    assert_eq!(study_of(app).exclusions.len(), 3);
    actions::undo(app);
    assert!(study_of(app).exclusions.is_empty());
}

#[test]
fn filters_find_what_is_corrected_left_out_missing_or_to_check() {
    let (_owner, app, _derived) = page_with_demo();
    corrections::correct(app, 7, 1, "", "torn sheet").expect("a sound correction");
    exclusions::exclude(app, ExclusionScope::Sample(2), "wrong cup").expect("a reason");
    let mut study = study_of(app);
    let only = |condition: Condition| ScoreFilter { condition: Some(condition), ..ScoreFilter::default() };
    assert_eq!(shown(&study, only(Condition::Corrected), None), [7]);
    assert_eq!(shown(&study, only(Condition::Missing), None), [7]);
    assert!(shown(&study, ScoreFilter { attribute: Some(0), ..only(Condition::Missing) }, None).is_empty());
    let of_sample: Vec<usize> = (0..study.servings.len()).filter(|index| study.servings[*index].sample == 2).collect();
    assert_eq!(shown(&study, only(Condition::LeftOut), None), of_sample);
    assert!(shown(&study, only(Condition::ToCheck), None).is_empty());
    let origin = study.origin(5, 3).expect("it came from the file");
    let place = Place::file(&study.files[0].name).row(origin.row).column(u32::from(origin.column), "x");
    study.notices.push(Notice::new(Severity::Check, place, "Strange.", "Look."));
    assert_eq!(shown(&study, only(Condition::ToCheck), None), [5]);
    assert_eq!((notices_on(&study, 5, 3).len(), notices_on(&study, 5, 2).len()), (1, 0));
    // The same row and column of another sheet of the same workbook is another mark.
    let mut of_sheets = study.clone();
    of_sheets.files.push(SourceFile { sheet: Some("Day 2".to_owned()), ..study.files[0].clone() });
    of_sheets.files[0].sheet = Some("Day 1".to_owned());
    of_sheets.notices[study.notices.len() - 1].place.sheet = Some("Day 2".to_owned());
    assert!(shown(&of_sheets, only(Condition::ToCheck), None).is_empty() && notices_on(&of_sheets, 5, 3).is_empty());
    of_sheets.notices[study.notices.len() - 1].place.sheet = Some("Day 1".to_owned());
    assert_eq!((shown(&of_sheets, only(Condition::ToCheck), None), notices_on(&of_sheets, 5, 3).len()), (vec![5], 1));
    let one = ScoreFilter { assessor: Some(1), sample: Some(0), replicate: Some(2), ..ScoreFilter::default() };
    let found = shown(&study, one, None);
    assert_eq!(found.len(), 1, "one page an assessor, sample and replicate");
    let page = &study.servings[found[0]];
    assert_eq!((page.assessor, page.sample, page.replicate), (1, 0, 2));
    let beyond = ScoreFilter { attribute: Some(999), assessor: Some(999), ..ScoreFilter::default() };
    assert!(shown(&study, beyond, None).is_empty() && columns(&study, &beyond, false).len() >= 3);
}

#[test]
fn on_a_narrow_screen_marks_come_right_after_whose_page_it_is_of_what() {
    let (_owner, app, _derived) = page_with_demo();
    let study = study_of(app);
    let [wide, narrow] = [false, true].map(|narrow| columns(&study, &ScoreFilter::default(), narrow));
    assert_eq!(narrow[..3], [ScoreColumn::Assessor, ScoreColumn::Sample, ScoreColumn::Attribute(0)]);
    assert!(matches!(wide[2], ScoreColumn::Replicate));
    assert!(wide.len() == narrow.len() && wide.iter().all(|column| narrow.contains(column)), "none is lost");
}

#[test]
fn sorting_goes_both_ways_with_what_is_missing_last_and_equal_ones_as_in_the_file() {
    let (_owner, app, _derived) = page_with_demo();
    corrections::correct(app, 0, 1, "", "torn sheet").expect("a sound correction");
    let study = study_of(app);
    for descending in [false, true] {
        let order = ScoreOrder { column: ScoreColumn::Attribute(1), descending };
        let sorted = shown(&study, ScoreFilter::default(), Some(order));
        assert_eq!(sorted.last(), Some(&0), "what is missing comes last");
        let scores: Vec<f64> = sorted.iter().filter_map(|serving| study.score(*serving, 1)).collect();
        assert_eq!(scores.len() + 1, study.servings.len());
        assert!(scores.windows(2).all(|two| if descending { two[0] >= two[1] } else { two[0] <= two[1] }));
        let order = ScoreOrder { column: ScoreColumn::Assessor, descending };
        let names: Vec<u32> =
            shown(&study, ScoreFilter::default(), Some(order)).iter().map(|i| study.servings[*i].assessor).collect();
        let mut by_name: Vec<u32> = (0..study.assessors.len() as u32).collect();
        by_name.sort_by(|a, b| study.assessors[*a as usize].name.cmp(&study.assessors[*b as usize].name));
        if descending {
            by_name.reverse();
        }
        let mut seen = names.clone();
        seen.dedup();
        assert_eq!(seen, by_name);
    }
}

#[test]
fn a_question_asked_of_each_attribute_is_answered_in_their_order() {
    let (_owner, app, _derived) = page_with_demo();
    let study = study_of(app);
    let mut work = EachOf::attributes(Arc::new(study.clone()), |study, index| study.attributes[index].name.clone());
    while !work.is_done() {
        work.step();
    }
    let names: Vec<String> = study.attributes.iter().map(|attribute| attribute.name.clone()).collect();
    assert_eq!(work.finish(), Ok(names));
    assert!(app.study.with_untracked(Option::is_some));
}
