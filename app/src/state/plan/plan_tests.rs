//! The plan's state without a browser: what is kept, what is undone, what is refused.

use super::planning;
use crate::state::app_state::AppState;
use crate::state::page::{PlanPart, View};
use crate::state::study::demos::{DEMOS, open_demo};
use crate::state::study::opening;
use leptos::prelude::*;
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
