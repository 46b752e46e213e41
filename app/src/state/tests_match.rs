//! Settling what counts as a match, seeing the verdict, changing afterwards; marks that hold in every view.

use super::long_run::at_once;
use super::study::findings::Findings;
use super::study::{decisions, opening};
use super::{AppState, Derived, actions};
use leptos::prelude::{Get, Owner, Set, Update, With};
use likeness_core::catalogue::r#match::Power;
use likeness_core::catalogue::samples::Comparisons;
use likeness_core::catalogue::{CATALOGUE, Entry, Results, Statistic};
use likeness_core::write::json::results_json;

/// Anna, Ben, Cleo and Dan find A greener than the target by about 20; B is the target in all but name. Invented.
const WIDE: &str = "assessor,sample,replicate,ripe,green\n\
    Anna,target,1,60,20\nAnna,A,1,61,41\nAnna,B,1,60,21\nBen,target,1,70,25\nBen,A,1,69,47\nBen,B,1,69,24\n\
    Cleo,target,1,55,22\nCleo,A,1,57,40\nCleo,B,1,55,23\nDan,target,1,65,30\nDan,A,1,64,52\nDan,B,1,66,29\n";

fn page_with_scores() -> (Owner, AppState, Derived) {
    let owner = Owner::new();
    owner.set();
    let app = AppState::new(|| "2026-03-14 09:26".to_owned());
    let derived = Derived::new(app);
    opening::open_file(app, "panel.csv", WIDE.as_bytes().to_vec());
    opening::use_scores(app, derived);
    (owner, app, derived)
}

fn log_of(app: AppState) -> Vec<String> {
    app.study.with(|study| {
        study.as_ref().map(|study| study.log.iter().map(|entry| entry.what.clone()).collect()).unwrap_or_default()
    })
}

/// How many lines of the log tell of decisions that came late.
fn late_decisions_of(app: AppState) -> usize {
    app.study.with(|study| {
        study.as_ref().map_or(0, |study| study.log.iter().filter(|entry| entry.is_late_decision()).count())
    })
}

/// Whether anything in the analysis is compared with the target.
fn is_compared(derived: Derived) -> bool {
    derived.analysis.with(|analysis| {
        analysis.as_ref().is_some_and(|analysis| {
            analysis.target.is_some()
                || !analysis.candidates.is_empty()
                || analysis.attributes.iter().any(|attribute| !attribute.versus_target.is_empty())
        })
    })
}

#[test]
fn nothing_is_compared_with_the_target_before_the_verdict_is_asked_for() {
    let (_owner, app, derived) = page_with_scores();
    assert!(decisions::show_verdict(app).is_err(), "without a target there is nothing to show");
    decisions::set_target(app, Some("target"));
    decisions::set_margin(app, "6", 100.0).expect("a margin");
    assert!(!is_compared(derived) && !derived.is_settled.get());
    decisions::show_verdict(app).expect("a target is named");
    assert!(is_compared(derived) && derived.is_settled.get());
    let log = log_of(app);
    assert!(log.contains(&"Target named before the verdict was seen: target.".to_owned()), "{log:?}");
    assert!(log.contains(&"Margin changed before the verdict was seen: 10 to 6 mm.".to_owned()), "{log:?}");
    let shown = log.last().expect("a line");
    assert!(shown.starts_with("Verdict shown for the first time.") && shown.contains("margin 6 mm"), "{shown}");
    assert_eq!(late_decisions_of(app), 0, "{log:?}");
}

#[test]
fn what_is_changed_afterwards_is_late_and_undo_hides_neither_the_change_nor_the_verdict() {
    let (_owner, app, derived) = page_with_scores();
    decisions::set_target(app, Some("target"));
    decisions::show_verdict(app).expect("a target is named");
    decisions::set_margin(app, "25", 100.0).expect("a margin");
    decisions::set_deciding(app, "ripe", false).expect("one is left");
    assert_eq!(late_decisions_of(app), 2);
    // Back over both changes and the naming of the target: the verdict was seen all the same.
    for _ in 0..3 {
        actions::undo(app);
    }
    assert!(derived.is_settled.get());
    assert!(late_decisions_of(app) >= 2);
    let lines = log_of(app).len();
    decisions::show_verdict(app).expect("asking again is no mistake");
    assert_eq!(log_of(app).len(), lines);
}

#[test]
fn the_target_under_another_code_is_judged_but_stands_last() {
    let (_owner, app, derived) = page_with_scores();
    decisions::set_target(app, Some("target"));
    decisions::set_blind_duplicate(app, Some("target"));
    assert_eq!(app.study.with(|study| study.as_ref().and_then(|s| s.settings.blind_duplicate.clone())), None);
    decisions::set_blind_duplicate(app, Some("B"));
    decisions::show_verdict(app).expect("a target is named");
    let order: Vec<(String, bool)> =
        derived.verdicts.get().into_iter().map(|one| (one.sample, one.is_target_again)).collect();
    assert_eq!(order, [("A".to_owned(), false), ("B".to_owned(), true)]);
    actions::undo(app);
    assert!(derived.verdicts.get().iter().all(|one| !one.is_target_again));
}

#[test]
fn a_sample_and_an_attribute_are_marked_until_they_are_clicked_again() {
    let (_owner, app, derived) = page_with_scores();
    actions::select(app, "A");
    actions::select(app, "green");
    assert_eq!(derived.selected_sample.get().as_deref(), Some("A"));
    assert_eq!(derived.selected_attribute.get().as_deref(), Some("green"));
    actions::point_at(app, Some("ripe".to_owned()));
    assert_eq!(derived.selected_attribute.get().as_deref(), Some("ripe"));
    actions::point_at(app, None);
    assert_eq!(derived.selected_attribute.get().as_deref(), Some("green"));
    actions::select(app, "green");
    assert_eq!(derived.selected_attribute.get(), None);
    app.candidate.set(Some("no such sample".to_owned()));
    assert_eq!(derived.selected_sample.get(), None);
    app.study.update(|study| *study = None);
    assert_eq!(derived.selected_sample.get(), None);
}

#[test]
fn what_the_panel_could_show_and_which_samples_differ_is_worked_out_on_every_attribute() {
    let (_owner, app, derived) = page_with_scores();
    let findings = Findings::new(app, derived, at_once);
    let start = |id: &str| findings.start(Entry::named(id).expect("the catalogue holds it"));
    start(Power::ABOUT.id);
    assert!(findings.found::<Power>().is_none(), "nothing is settled");
    decisions::set_target(app, Some("target"));
    decisions::show_verdict(app).expect("a target is named");
    start(Power::ABOUT.id);
    let power = findings.found::<Power>().expect("a target is settled");
    let names: Vec<&str> = power.attributes.iter().map(|one| one.attribute.as_str()).collect();
    assert_eq!(names, ["ripe", "green"]);
    let chance = |place: usize| power.attributes[place].reached.as_ref().expect("it scatters").p_match;
    let all = power.all_at_once.expect("both decide");
    // Identity: independent chances multiply.
    assert!(all.deciding == 2 && (all.p_match - chance(0) * chance(1)).abs() < 1e-12);
    start(Comparisons::ABOUT.id);
    let compared = findings.found::<Comparisons>().expect("samples can be compared");
    let pairs: Vec<usize> =
        compared.iter().map(|one| one.pairs.as_ref().expect("they compare").comparisons.len()).collect();
    assert_eq!(pairs, [3, 3]);
    let green = compared[1].pairs.as_ref().expect("they compare");
    let letters_of = |name: &str| green.letters_tukey.iter().find(|one| one.sample == name).map(|one| &one.letters);
    // A is greener by about 20 with hardly any scatter; B is the target.
    assert!(letters_of("A") != letters_of("target") && letters_of("B") == letters_of("target"));
}

#[test]
fn what_is_printed_is_what_the_engine_finds_and_takes_over_what_is_there() {
    let (_owner, app, derived) = page_with_scores();
    decisions::set_target(app, Some("target"));
    decisions::show_verdict(app).expect("a target is named");
    let findings = Findings::new(app, derived, at_once);
    CATALOGUE.iter().for_each(|entry| findings.start(entry));
    findings.start_printed();
    let printed = findings.printed.found().expect("results never fail whole");
    let study = app.study.get().expect("a study is open");
    // Bit by bit: numbers are written in their shortest form that reads back to the same number.
    let text = |results: &Results| results_json(results, &study.notices).to_string();
    assert_eq!(text(&printed), text(&Results::of(&study)));
}

#[test]
fn a_margin_changes_no_distance_and_an_exclusion_does() {
    let (_owner, app, derived) = page_with_scores();
    decisions::set_target(app, Some("target"));
    let before = derived.tasted.get();
    decisions::set_margin(app, "7", 100.0).expect("a margin");
    decisions::set_deciding(app, "ripe", false).expect("one is left");
    decisions::show_verdict(app).expect("a target is named");
    assert!(derived.tasted.get() == before, "distances would be drawn again for nothing");
    decisions::set_target(app, Some("A"));
    assert!(derived.tasted.get() != before);
}
