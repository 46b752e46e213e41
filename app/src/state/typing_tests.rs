//! Typing from paper and the record of the day, without a browser.

use super::typing::{AnswerKind, TypingStatus, status};
use super::{Ground, View, opening, plan_actions, record, typing};
use leptos::prelude::{Get, GetUntracked, Owner, With, WithUntracked};
use likeness_core::plan::attributes::AttributeList;
use likeness_core::plan::brief::{Brief, PlannedSample, SampleRole};
use likeness_core::plan::design::{PlanRequest, TastingPlan, make_plan};
use likeness_core::plan::keying::{KeyingOptions, Pass};
use likeness_core::plan::orders::Coverage;
use likeness_core::plan::record::RecordKind;
use likeness_core::study::{ExclusionScope, Margin, Scale};

/// An invented plan of three assessors and two samples.
pub(super) fn small_plan(title: &str) -> TastingPlan {
    make_plan(PlanRequest {
        brief: Brief {
            title: title.to_owned(),
            samples: vec![
                PlannedSample::named("Fresh mango", SampleRole::Target),
                PlannedSample::named("Candidate A", SampleRole::Candidate),
            ],
            margin: Margin::of(10.0),
            ..Brief::default()
        },
        attributes: AttributeList::mango_nectar_example(),
        assessors: ["Anna", "Ben", "Cleo"].map(str::to_owned).to_vec(),
        scale: Scale::default(),
        replicates: 1,
        samples_per_session: None,
        coverage: Coverage::OneSession,
        target_in_each_session: false,
        used_codes: Vec::new(),
        seed: 7,
        made_at: "2026-03-02 09:00".to_owned(),
    })
    .expect("a plan")
}

/// A page with a plan open. The owner must live as long as the signals.
pub(super) fn page_with_plan() -> (Owner, Ground, TastingPlan) {
    let owner = Owner::new();
    owner.set();
    let ground = Ground::new(|| "2026-03-14 09:26".to_owned());
    let plan = small_plan("Mango");
    opening::open_file(ground, "plan.likeness.json", plan.to_json().into_bytes());
    (owner, ground, plan)
}

fn type_all(ground: Ground, score: impl Fn(usize, usize) -> usize) {
    typing::set_options(ground, KeyingOptions { ask_page_code: false, rows_between_checks: 0 });
    typing::begin_pass(
        ground,
        ground.typing.file.with_untracked(|file| file.as_ref().map_or(Pass::First, |f| f.keying.pass)),
    );
    for page in 0..6 {
        for row in 0..14 {
            let kind = typing::enter(ground, &score(page, row).to_string());
            assert_ne!(kind, Some(AnswerKind::Stopped), "page {page}, row {row}: {:?}", ground.typing.answer.get());
        }
    }
}

#[test]
fn what_is_typed_becomes_the_study_and_its_doubts_print_with_it() {
    let (_owner, ground, plan) = page_with_plan();
    typing::begin(ground);
    type_all(ground, |page, row| 5 * page + row);
    assert_eq!(ground.typing.answer.get().map(|answer| answer.what).as_deref(), Some("The last page is full."));
    typing::use_scores(ground);
    assert_eq!(ground.view.get(), View::Match);
    let study = ground.study.get().expect("a study");
    assert_eq!(study.score_count(), 6 * 14);
    for (page, serving) in plan.servings().iter().enumerate() {
        assert_eq!(study.servings[page].sample as usize, serving.sample);
        assert_eq!(study.score(page, 3), Some((5 * page + 3) as f64));
    }
    assert!(study.notices.iter().any(|notice| notice.what == "84 marks typed from paper by one person only."));
    assert!(study.log.iter().any(|entry| entry.what == "Opened 84 scores typed from paper."));
}

#[test]
fn a_second_person_is_compared_and_the_paper_decides() {
    let (_owner, ground, _plan) = page_with_plan();
    typing::begin(ground);
    type_all(ground, |page, row| 5 * page + row);
    typing::begin_pass(ground, Pass::Second);
    type_all(ground, |page, row| if (page, row) == (1, 2) { 70 } else { 5 * page + row });
    assert!(typing::decide_typed(ground, 1, 2, "170").is_err());
    typing::decide_typed(ground, 1, 2, "70").expect("a mark");
    typing::use_scores(ground);
    let study = ground.study.get().expect("a study");
    assert_eq!(study.score(1, 2), Some(70.0));
    assert!(study.notices.is_empty(), "{:?}", study.notices);
}

#[test]
fn a_wrong_line_says_why_and_changes_nothing() {
    let (_owner, ground, _plan) = page_with_plan();
    typing::begin(ground);
    let before = ground.typing.file.get_untracked();
    assert_eq!(typing::enter(ground, "000"), Some(AnswerKind::Stopped));
    assert_eq!(ground.typing.file.get_untracked(), before);
    typing::go_to_page_of(ground, "Anna", "000");
    assert!(ground.typing.answer.get().is_some_and(|answer| answer.what.starts_with("Anna has no page")));
}

#[test]
fn typing_of_another_plan_is_put_aside_and_comes_back() {
    let (_owner, ground, _plan) = page_with_plan();
    typing::begin(ground);
    type_all(ground, |_, row| row);
    let typed = ground.typing.file.get_untracked();
    let other = small_plan("Another tasting");
    plan_actions::open_plan(ground, "other.json", other.to_json().as_bytes());
    let standing = || ground.plan.with(|plan| ground.typing.file.with(|file| status(plan.as_ref(), file.as_ref())));
    assert_eq!(standing(), TypingStatus::OtherPlan { marks: 84 });
    typing::use_scores(ground);
    assert_eq!(ground.study.get(), None, "scores never land in another plan");
    typing::begin(ground);
    assert_eq!(standing(), TypingStatus::Fits);
    typing::back_to_before(ground);
    assert_eq!(ground.typing.file.get_untracked(), typed);
}

#[test]
fn a_typing_file_opens_where_it_was_left_and_a_damaged_one_changes_nothing() {
    let (_owner, ground, _plan) = page_with_plan();
    typing::begin(ground);
    type_all(ground, |_, row| row);
    let text = ground.typing.file.with_untracked(|file| file.as_ref().map(|file| file.to_text())).expect("typing");
    typing::begin(ground);
    opening::open_file(ground, "typing.likeness.json", text.clone().into_bytes());
    assert_eq!(ground.typing.file.with_untracked(|file| file.as_ref().map(|file| file.to_text())), Some(text.clone()));
    opening::open_file(ground, "typing.likeness.json", text.as_bytes()[..400].to_vec());
    assert_eq!(ground.typing.file.with_untracked(|file| file.as_ref().map(|file| file.to_text())), Some(text));
    let said = ground.message.get().map(|message| message.what).unwrap_or_default();
    assert!(said.starts_with("typing.likeness.json was not opened. The typing file is damaged at line 1"), "{said}");
}

#[test]
fn what_was_noted_is_offered_as_the_reason() {
    let (_owner, ground, plan) = page_with_plan();
    let code = plan.servings()[1].code.clone();
    record::note(ground, 1, RecordKind::SessionStarted, None, None, "");
    record::note(ground, 1, RecordKind::SpiltSample, Some(0), Some(code.clone()), " half of it ");
    record::note(ground, 1, RecordKind::BlockedNose, Some(2), None, "");
    record::note(ground, 1, RecordKind::Absent, Some(1), None, "by mistake");
    record::strike(ground, 3);
    typing::begin(ground);
    type_all(ground, |_, row| row);
    typing::use_scores(ground);
    let study = ground.study.get().expect("a study");
    assert_eq!(study.record.len(), 3);
    let reasons = |scope| record::reasons_for(&study, scope);
    let of_cup = "sample spilt: half of it (noted in session 1, 2026-03-14 09:26)".to_owned();
    assert_eq!(reasons(ExclusionScope::Serving(1)), std::slice::from_ref(&of_cup));
    assert_eq!(reasons(ExclusionScope::Assessor(0)), [of_cup]);
    assert_eq!(reasons(ExclusionScope::Assessor(2)), ["blocked nose (noted in session 1, 2026-03-14 09:26)"]);
    assert_eq!(reasons(ExclusionScope::Serving(4)), ["blocked nose (noted in session 1, 2026-03-14 09:26)"]);
    assert_eq!(reasons(ExclusionScope::Assessor(1)), Vec::<String>::new());
    let log: Vec<&str> = study.log.iter().map(|entry| entry.what.as_str()).collect();
    assert!(log.contains(&"Struck from the record: Session 1, Ben: absent (by mistake)."), "{log:?}");
}
