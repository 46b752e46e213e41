//! What a user does, and what follows, without a browser.

use super::study::demos::{DEMOS, open_demo};
use super::study::{decisions, exclusions, opening, study_file};
use super::{AppState, Derived, View, actions};
use leptos::prelude::{Get, GetUntracked, Owner, With, WithUntracked};
use likeness_core::read::ColumnRole;
use likeness_core::stats::Verdict;
use likeness_core::study::{ExclusionScope, MarginOrigin};

const WIDE: &str = "assessor,sample,replicate,ripe,green\n\
    Anna,target,1,60,20\nAnna,A,1,61,41\nBen,target,1,70,25\nBen,A,1,69,47\n\
    Cleo,target,1,55,22\nCleo,A,1,57,40\nDan,target,1,65,30\nDan,A,1,64,52\n";

/// A page with nothing open. The owner must live as long as the signals.
fn page() -> (Owner, AppState, Derived) {
    let owner = Owner::new();
    owner.set();
    let app = AppState::new(|| "2026-03-14 09:26".to_owned());
    let derived = Derived::new(app);
    (owner, app, derived)
}

pub(super) fn page_with_demo() -> (Owner, AppState, Derived) {
    let (owner, app, derived) = page();
    open_demo(app, &DEMOS[0]);
    (owner, app, derived)
}

pub(super) fn log_of(app: AppState) -> Vec<String> {
    app.study.with(|study| {
        study.as_ref().map(|study| study.log.iter().map(|entry| entry.what.clone()).collect()).unwrap_or_default()
    })
}

fn margin_of(app: AppState) -> f64 {
    app.study.with(|study| study.as_ref().map_or(f64::NAN, |study| study.settings.margin.width_mm))
}

#[test]
fn the_demo_opens_in_one_step_and_lands_on_the_verdict() {
    let (_owner, app, derived) = page_with_demo();
    assert_eq!(app.view.get(), View::Match);
    assert_eq!(app.study.with(|study| study.as_ref().map(|study| study.score_count())), Some(1800));
    let verdicts = derived.verdicts.get();
    assert_eq!(verdicts.len(), 4);
    // The truth stands in the generator: A is the target in all but name, B is cooked and sweet, C is green.
    let verdict_of = |sample: &str| verdicts.iter().find(|one| one.sample == sample).map(|one| one.verdict);
    assert_eq!(verdict_of("Candidate A"), Some(Verdict::Match));
    assert_eq!(verdict_of("Candidate B"), Some(Verdict::Off));
    assert_eq!(verdict_of("Candidate C"), Some(Verdict::Off));
    assert_eq!(derived.candidate.get().as_deref(), Some("Candidate A"));
}

#[test]
fn a_file_is_shown_before_it_is_used_and_a_bad_one_leaves_the_study_alone() {
    let (_owner, app, derived) = page_with_demo();
    let before = app.study.get_untracked();
    opening::open_file(app, "photo.csv", vec![0x89, b'P', b'N', b'G', 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 0]);
    assert!(derived.file_is_unreadable());
    opening::use_scores(app, derived);
    assert_eq!(app.study.get_untracked(), before);
    opening::open_file(app, "panel.csv", WIDE.as_bytes().to_vec());
    assert!(!derived.file_is_unreadable());
    assert_eq!(app.study.get_untracked(), before);
    opening::put_file_away(app);
    assert_eq!(app.study.get_untracked(), before);
}

#[test]
fn decisions_made_before_the_scores_are_used_are_recorded_as_such() {
    let (_owner, app, derived) = page();
    opening::open_file(app, "panel.csv", WIDE.as_bytes().to_vec());
    opening::decide_before(app, |before| {
        before.target = Some("target".to_owned());
        before.margin_width = Some(6.0);
        before.margin_origin = MarginOrigin::BlindDuplicate;
    });
    opening::use_scores(app, derived);
    assert!((margin_of(app) - 6.0).abs() < 1e-12);
    let log = log_of(app);
    assert!(log.contains(&"Loaded 16 scores from panel.csv.".to_owned()), "{log:?}");
    assert!(log.contains(&"Decided before the verdict was seen: target target, margin 6 mm.".to_owned()), "{log:?}");
    assert!(derived.verdicts.get().is_empty(), "nobody has asked for the verdict yet");
    decisions::show_verdict(app).expect("a target is named");
    assert_eq!(derived.verdicts.get().len(), 1);
}

#[test]
fn a_role_that_is_changed_is_read_anew() {
    let (_owner, app, derived) = page();
    opening::open_file(app, "panel.csv", WIDE.as_bytes().to_vec());
    opening::set_role(app, derived, 4, ColumnRole::Ignored);
    let reading = derived.reading.get().expect("a file is open");
    let attributes = reading.study.as_ref().map(|study| study.attributes.len());
    assert_eq!(attributes, Some(1));
}

#[test]
fn a_margin_changed_after_loading_is_logged_and_undone_with_a_trace() {
    let (_owner, app, _derived) = page_with_demo();
    let lines = log_of(app).len();
    decisions::set_margin(app, "8,5", 100.0).expect("a decimal comma is understood");
    assert!((margin_of(app) - 8.5).abs() < 1e-12);
    let said = "Margin changed after the verdict was seen: 10 to 8.5 mm.";
    assert_eq!(log_of(app)[lines..], [said]);
    actions::undo(app);
    assert!((margin_of(app) - 10.0).abs() < 1e-12);
    assert_eq!(log_of(app)[lines..], [said.to_owned(), format!("Undone: {said}")]);
    actions::redo(app);
    assert!((margin_of(app) - 8.5).abs() < 1e-12);
}

#[test]
fn what_is_no_margin_changes_nothing_and_says_why() {
    let (_owner, app, _derived) = page_with_demo();
    let lines = log_of(app).len();
    for typed in ["", "wide", "0", "-3", "100", "NaN", "inf"] {
        assert!(decisions::set_margin(app, typed, 100.0).is_err(), "{typed:?} was taken for a margin");
    }
    assert_eq!(log_of(app).len(), lines);
    assert!((margin_of(app) - 10.0).abs() < 1e-12);
}

#[test]
fn at_least_one_attribute_decides() {
    let (_owner, app, derived) = page_with_demo();
    let names: Vec<String> =
        derived.analysis.get().expect("open").attributes.iter().map(|a| a.attribute.clone()).collect();
    let refused = names.iter().filter(|name| decisions::set_deciding(app, name, false).is_err()).count();
    assert_eq!(refused, 1, "only the last deciding one can't be taken off");
    assert_eq!(derived.analysis.get().expect("open").attributes.iter().filter(|a| a.deciding).count(), 1);
}

#[test]
fn an_assessor_is_left_out_with_a_reason_and_taken_back() {
    let (_owner, app, derived) = page_with_demo();
    let assessors = move || derived.analysis.get().map(|analysis| analysis.assessors.len());
    let scope = ExclusionScope::Assessor(0);
    assert!(exclusions::exclude(app, scope, "  ").is_err());
    assert_eq!(assessors(), Some(12));
    exclusions::exclude(app, scope, "blocked nose").expect("a reason was given");
    assert_eq!(assessors(), Some(11));
    assert_eq!(log_of(app).last().map(String::as_str), Some("Left out assessor Amara: blocked nose."));
    exclusions::include(app, scope);
    assert_eq!(assessors(), Some(12));
}

#[test]
fn opening_another_file_can_be_undone() {
    let (_owner, app, derived) = page_with_demo();
    opening::open_file(app, "panel.csv", WIDE.as_bytes().to_vec());
    opening::use_scores(app, derived);
    assert_eq!(app.study.with(|study| study.as_ref().map(|study| study.samples.len())), Some(2));
    actions::undo(app);
    assert_eq!(app.study.with(|study| study.as_ref().map(|study| study.samples.len())), Some(5));
}

#[test]
fn what_the_browser_kept_comes_back_whole_and_damage_is_refused() {
    let (_owner, app, _derived) = page_with_demo();
    let study = app.study.get_untracked().expect("open");
    let text = opening::text_to_keep(&study);
    assert_eq!(study_file::study_in(&text), Ok(study));
    let refused = |text: &str| study_file::study_in(text).expect_err("damaged");
    assert!(refused(&text[..text.len() / 2]).contains("damaged at line 1"));
    // A study without readings from pictures is written in form 3, which older programs open.
    let newer = text.replacen("\"version\":3", "\"version\":99", 1);
    assert!(refused(&newer).contains("newer version"));
    assert!(refused("{}").contains("something else"));
    let out_of_range = text.replacen("\"assessor\":11", "\"assessor\":99", 1);
    assert!(refused(&out_of_range).contains("names an assessor"), "{}", refused(&out_of_range));
}

#[test]
fn the_profile_never_hides_the_last_sample() {
    let (_owner, app, _derived) = page();
    let all = ["A", "B"].map(str::to_owned).to_vec();
    actions::show_sample(app, "A", false, &all);
    assert_eq!(app.shown_samples.get(), ["B"]);
    actions::show_sample(app, "B", false, &all);
    assert_eq!(app.shown_samples.get(), ["B"]);
    actions::show_sample(app, "A", true, &all);
    assert!(app.shown_samples.get().is_empty(), "all shown is the same as no choice");
}

#[test]
fn a_saved_study_opens_as_it_was_and_a_damaged_one_leaves_the_open_one_alone() {
    let (_owner, app, derived) = page_with_demo();
    decisions::set_margin(app, "7", 100.0).expect("a margin");
    let saved = app.study.with_untracked(|study| study.as_ref().map(opening::text_to_keep)).expect("open");
    opening::close_study(app);
    assert!(derived.analysis.get().is_none());
    opening::open_file(app, "study.likeness.json", saved.clone().into_bytes());
    assert!((margin_of(app) - 7.0).abs() < 1e-12);
    let before = app.study.get_untracked();
    opening::open_file(app, "study.likeness.json", saved.as_bytes()[..500].to_vec());
    assert_eq!(app.study.get_untracked(), before);
    let said = app.message.get().map(|message| message.what).unwrap_or_default();
    assert!(said.starts_with("study.likeness.json was not opened. The study file is damaged at line 1"), "{said}");
}
