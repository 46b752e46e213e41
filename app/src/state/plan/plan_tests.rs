//! The plan's state without a browser: what is kept, what is undone, what is refused.

use super::kept_keys::{KeptPlan, is_of_plans, is_plan_key, new_key};
use super::plan_history::steps_text;
use super::{kept_plans, planning, printed};
use crate::state::app_state::AppState;
use crate::state::page::{PlanPart, View};
use crate::state::study::demos::{DEMOS, open_demo};
use crate::state::study::opening;
use crate::state::undo;
use crate::words::plan::printouts::PrintoutKind;
use leptos::prelude::*;
use likeness_core::plan::ballot::geometry::Paper;
use likeness_core::plan::brief::attributes::AttributeList;
use likeness_core::plan::brief::study_brief::{PlannedSample, SampleRole};

fn page() -> (Owner, AppState) {
    let owner = Owner::new();
    owner.set();
    (owner, AppState::new(|| "2026-03-14 09:26".to_owned()))
}

fn page_with_plan() -> (Owner, AppState) {
    let (owner, app) = page();
    planning::start(app);
    planning::type_into_draft(app, |draft| {
        draft.brief.title = "Mango nectar (invented)".to_owned();
        draft.brief.samples = vec![
            PlannedSample::named("Fresh mango", SampleRole::Target),
            PlannedSample::named("Candidate A", SampleRole::Candidate),
        ];
        draft.assessors_typed = "Ada\nBen\n".to_owned();
        draft.attributes = AttributeList::mango_nectar_example();
    });
    planning::make(app).expect("a sound draft");
    (owner, app)
}

#[test]
fn a_first_draft_gets_its_seed_from_the_clock_and_keeps_it() {
    let (_owner, app) = page();
    planning::start(app);
    let seed = app.plan_draft.with(|draft| draft.seed);
    assert!((1..=999_999).contains(&seed));
    assert_eq!(seed, planning::seed_from("2026-03-14 09:26"));
    planning::type_into_draft(app, |draft| draft.seed = 42);
    planning::start(app);
    assert_eq!(app.plan_draft.with(|draft| draft.seed), 42);
}

#[test]
fn a_plan_that_can_t_be_made_changes_nothing_and_says_why() {
    let (_owner, app) = page();
    planning::start(app);
    let why = planning::make(app).expect_err("nothing is typed").to_string();
    assert_eq!(why, "The plan has no attributes. Add the words the panel uses.");
    assert!(app.plan.with(Option::is_none));
    assert!(app.plan_steps.with(|steps| steps.next_undo().is_none()));
}

#[test]
fn steps_are_undone_and_the_log_stays_whole() {
    let (_owner, app) = page_with_plan();
    let made = app.plan.get();
    planning::change_plan(app, "Session 1 on Monday.", |plan| plan.sessions[0].when = "Monday".to_owned());
    assert_ne!(app.plan.get(), made);
    planning::undo(app);
    let plan = app.plan.get().expect("a plan");
    assert_eq!(plan.sessions[0].when, "");
    let log: Vec<&str> = plan.log.iter().skip(1).map(|entry| entry.what.as_str()).collect();
    assert_eq!(log, ["Session 1 on Monday.", "Undone: Session 1 on Monday."]);
    planning::redo(app);
    assert_eq!(
        app.plan.with(|plan| plan.as_ref().map(|plan| plan.sessions[0].when.clone())).as_deref(),
        Some("Monday")
    );
    planning::undo(app);
    planning::undo(app);
    assert!(app.plan.with(Option::is_none), "making the plan is a step too");
}

#[test]
fn a_saved_plan_opens_beside_a_study_and_a_damaged_one_leaves_all_alone() {
    let (_owner, app) = page_with_plan();
    let text = app.plan.with(|plan| plan.as_ref().map(|plan| plan.to_json())).expect("a plan");
    let (_other_owner, other) = page();
    open_demo(other, &DEMOS[0]);
    opening::open_file(other, "plan.likeness.json", text.clone().into_bytes());
    assert_eq!(other.plan.get(), app.plan.get());
    assert_eq!((other.view.get(), other.plan_part.get()), (View::Plan, PlanPart::Orders));
    assert!(other.study.with(Option::is_some), "the open study stays");
    assert!(!other.plan_draft.with(|draft| draft.differs_from(&other.plan.get().expect("a plan"))));
    opening::open_file(other, "plan.likeness.json", text.as_bytes()[..text.len() / 2].to_vec());
    assert_eq!(other.plan.get(), app.plan.get());
    let said = other.message.get().map(|message| message.what).unwrap_or_default();
    assert!(said.starts_with("plan.likeness.json was not opened. The file is no plan (line 1, column"), "{said}");
}

#[test]
fn what_the_browser_kept_comes_back_and_damage_is_said() {
    let (_owner, app) = page_with_plan();
    let plan = app.plan.with(|plan| plan.as_ref().map(|plan| plan.to_json()));
    let draft = app.plan_draft.with(planning::draft_text);
    let (_other_owner, other) = page();
    planning::restore(other, Some(&draft), plan.as_deref());
    assert_eq!(other.plan.get(), app.plan.get());
    assert_eq!(other.plan_draft.get(), app.plan_draft.get());
    let (_third_owner, third) = page();
    planning::restore(third, Some("{\"brief\":"), plan.as_deref());
    assert_eq!(third.plan.get(), app.plan.get(), "the plan is not lost with its draft");
    assert!(
        third.message.with(|message| message.as_ref().is_some_and(|message| message.what.contains("can't be read")))
    );
}

/// What the browser's store does when a plan is kept.
fn keep(app: AppState) -> (KeptPlan, String) {
    let key = app.kept_plans.key.get().expect("a plan that was begun has a key");
    let about = app.plan.with(|plan| app.plan_draft.with(|draft| KeptPlan::of(draft, plan.as_ref(), &key, "today")));
    kept_plans::show_kept(app, about.clone());
    (about, planning::file_text(app))
}

#[test]
fn beginning_another_plan_empties_none() {
    let (_owner, app) = page_with_plan();
    let first = app.plan.get();
    let (about, text) = keep(app);
    planning::begin_anew(app);
    assert!(app.plan.with(Option::is_none));
    assert_ne!(app.kept_plans.key.get().as_ref(), Some(&about.key), "the new one is kept under a key of its own");
    assert!(app.message.with(|message| message.as_ref().is_some_and(|said| said.what.contains("Mango nectar"))));
    planning::type_into_draft(app, |draft| draft.brief.title = "Second".to_owned());
    let (second, _) = keep(app);
    assert_eq!(app.kept_plans.list.with(Vec::len), 2);
    kept_plans::open(app, &about, &text);
    assert_eq!((app.plan.get(), app.kept_plans.key.get()), (first, Some(about.key)));
    planning::undo(app);
    assert_eq!(app.kept_plans.key.get(), Some(second.key));
    assert_eq!(app.plan_draft.with(|draft| draft.brief.title.clone()), "Second");
    kept_plans::open(app, &second_name(), "{\"format\"");
    assert!(app.message.with(|message| message.as_ref().is_some_and(|said| said.what.contains("was not opened"))));
    assert_eq!(app.plan_draft.with(|draft| draft.brief.title.clone()), "Second");
}

fn second_name() -> KeptPlan {
    KeptPlan { key: "plan-1".to_owned(), title: "Damaged".to_owned(), ..KeptPlan::default() }
}

#[test]
fn keys_of_plans_are_their_own_and_no_study_is_among_them() {
    let kept = |key: &str| KeptPlan { key: key.to_owned(), ..KeptPlan::default() };
    assert_eq!(new_key(&[], None, "2026-03-14 09:26"), "plan-202603140926");
    assert_eq!(new_key(&[kept("plan-202603140926")], None, "2026-03-14 09:26"), "plan-202603140926-2");
    assert_eq!(new_key(&[], Some("plan-202603140926"), "2026-03-14 09:26"), "plan-202603140926-2");
    assert!(is_plan_key("plan-202603140926") && !is_plan_key("plan-steps") && is_of_plans("plan-steps"));
    assert!(!is_of_plans("study-202603140926"));
}

#[test]
fn steps_can_be_undone_after_a_restart() {
    let (_owner, app) = page_with_plan();
    planning::change_plan(app, "Session 1 on Monday.", |plan| plan.sessions[0].when = "Monday".to_owned());
    let (draft, plan) = (app.plan_draft.with(planning::draft_text), app.plan.get().map(|plan| plan.to_json()));
    let steps = app.plan_steps.with(steps_text);
    let (_other_owner, other) = page();
    kept_plans::give_key(other, app.kept_plans.key.get());
    planning::restore(other, Some(&draft), plan.as_deref());
    kept_plans::restore_steps(other, &steps);
    assert_eq!(
        other.plan_steps.with(|steps| steps.next_undo().map(str::to_owned)).as_deref(),
        Some("Session 1 on Monday.")
    );
    planning::undo(other);
    assert_eq!(other.plan.with(|plan| plan.as_ref().map(|plan| plan.sessions[0].when.clone())), Some(String::new()));
    planning::undo(other);
    assert!(other.plan.with(Option::is_none) && other.plan_draft.with(|draft| draft.brief.title.starts_with("Mango")));
    kept_plans::restore_steps(other, "not JSON");
    assert!(other.plan_steps.with(|steps| steps.next_redo().is_some()), "what was done since stays");
}

#[test]
fn a_draft_is_saved_and_opened_before_it_is_a_plan() {
    let (_owner, app) = page();
    planning::start(app);
    planning::type_into_draft(app, |draft| draft.brief.title = "Half".to_owned());
    let text = planning::file_text(app);
    let (_other_owner, other) = page();
    opening::open_file(other, "plan.likeness.json", text.into_bytes());
    assert_eq!(other.plan_draft.get(), app.plan_draft.get());
    assert_eq!((other.view.get(), other.plan_part.get()), (View::Plan, PlanPart::Brief));
}

#[test]
fn printed_ballots_are_told_to_be_out_of_date() {
    let (_owner, app) = page_with_plan();
    let warning = || app.plan.with(|plan| app.plan_draft.with(|draft| printed::warning(draft, plan.as_ref()?)));
    assert_eq!(warning(), None, "nothing was printed");
    printed::note(app, PrintoutKind::Ballots, Paper::A4, None);
    printed::note(app, PrintoutKind::Key, Paper::A4, None);
    let states = || app.plan.with(|plan| plan.as_ref().map(printed::printed_papers)).unwrap_or_default();
    assert!(warning().is_none() && states().iter().all(|paper| paper.out_of_date.is_empty()));
    let word = app.plan_draft.with(|draft| draft.attributes.attributes[0].name.clone());
    planning::change_draft(app, "another end", |draft| draft.attributes.attributes[0].high_end = "much".to_owned());
    let said = warning().expect("something was changed after printing").0;
    // Two assessors, two samples, two replicates, one page a cup: 8 pages by hand.
    assert!(said.contains(&word) && said.contains("all 8 printed pages"), "{said}");
    planning::make(app).expect("a sound draft");
    let said = warning().expect("the old pages lie about").0;
    assert_eq!(said, "Of 8 pages that were printed, 8 no longer fit the plan.");
    let states_now = states();
    assert_eq!(
        states_now.iter().map(|paper| paper.out_of_date.len()).collect::<Vec<_>>(),
        [0, 8],
        "the key names no word"
    );
    printed::note(app, PrintoutKind::Ballots, Paper::A4, Some(1));
    assert_eq!(
        warning().map(|(said, _)| said).as_deref(),
        Some("Of 8 pages that were printed, 4 no longer fit the plan.")
    );
    printed::note(app, PrintoutKind::Ballots, Paper::A4, None);
    assert_eq!(warning(), None);
}

#[test]
fn undo_acts_on_what_is_looked_at() {
    let (_owner, app) = page_with_plan();
    open_demo(app, &DEMOS[0]);
    assert_ne!(app.view.get(), View::Plan);
    let of_study = undo::next_undo(app);
    crate::state::actions::look_at(app, View::Plan);
    assert_eq!(undo::next_undo(app).as_deref(), Some("making the plan"));
    assert_ne!(undo::next_undo(app), of_study);
    undo::undo(app);
    assert!(app.plan.with(Option::is_none) && app.study.with(Option::is_some));
    undo::redo(app);
    assert!(app.plan.with(Option::is_some));
}
