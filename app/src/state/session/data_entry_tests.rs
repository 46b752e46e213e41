//! Data entry from paper ballots and the session record, without a browser.

use super::data_entry::{DataEntryStatus, status};
use super::data_entry_state::AnswerKind;
use super::{data_entry, session_record};
use crate::state::plan::planning;
use crate::state::study::opening;
use crate::state::{AppState, View};
use leptos::prelude::{Get, GetUntracked, Owner, With, WithUntracked};
use likeness_core::plan::brief::attributes::AttributeList;
use likeness_core::plan::brief::study_brief::{Brief, PlannedSample, SampleRole};
use likeness_core::plan::data_entry::entry::{EntryOptions, Pass};
use likeness_core::plan::orders::serving_orders::Coverage;
use likeness_core::plan::session::session_record::RecordKind;
use likeness_core::plan::tasting_plan::{PlanRequest, TastingPlan, make_plan};
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
pub(super) fn page_with_plan() -> (Owner, AppState, TastingPlan) {
    let owner = Owner::new();
    owner.set();
    let app = AppState::new(|| "2026-03-14 09:26".to_owned());
    let plan = small_plan("Mango");
    opening::open_file(app, "plan.likeness.json", plan.to_json().into_bytes());
    (owner, app, plan)
}

fn type_all(app: AppState, score: impl Fn(usize, usize) -> usize) {
    data_entry::set_options(app, EntryOptions { ask_page_code: false, rows_between_checks: 0 });
    data_entry::begin_pass(
        app,
        app.data_entry.file.with_untracked(|file| file.as_ref().map_or(Pass::First, |f| f.data_entry.pass)),
    );
    for page in 0..6 {
        for row in 0..14 {
            let kind = data_entry::enter(app, &score(page, row).to_string());
            assert_ne!(kind, Some(AnswerKind::Stopped), "page {page}, row {row}: {:?}", app.data_entry.answer.get());
        }
    }
}

#[test]
fn what_is_typed_becomes_the_study_and_its_doubts_print_with_it() {
    let (_owner, app, plan) = page_with_plan();
    data_entry::begin(app);
    type_all(app, |page, row| 5 * page + row);
    assert_eq!(app.data_entry.answer.get().map(|answer| answer.what).as_deref(), Some("The last page is full."));
    data_entry::use_scores(app);
    assert_eq!(app.view.get(), View::Match);
    let study = app.study.get().expect("a study");
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
    let (_owner, app, _plan) = page_with_plan();
    data_entry::begin(app);
    type_all(app, |page, row| 5 * page + row);
    data_entry::begin_pass(app, Pass::Second);
    type_all(app, |page, row| if (page, row) == (1, 2) { 70 } else { 5 * page + row });
    assert!(data_entry::decide_typed(app, 1, 2, "170").is_err());
    data_entry::decide_typed(app, 1, 2, "70").expect("a mark");
    data_entry::use_scores(app);
    let study = app.study.get().expect("a study");
    assert_eq!(study.score(1, 2), Some(70.0));
    assert!(study.notices.is_empty(), "{:?}", study.notices);
}

#[test]
fn a_wrong_line_says_why_and_changes_nothing() {
    let (_owner, app, _plan) = page_with_plan();
    data_entry::begin(app);
    let before = app.data_entry.file.get_untracked();
    assert_eq!(data_entry::enter(app, "000"), Some(AnswerKind::Stopped));
    assert_eq!(app.data_entry.file.get_untracked(), before);
    data_entry::go_to_page_of(app, "Anna", "000");
    assert!(app.data_entry.answer.get().is_some_and(|answer| answer.what.starts_with("No such code.")));
    // A code that was given, and not to Anna: here each assessor has both codes of the only session, so that Dora has none.
    let given = app.plan.with(|plan| plan.as_ref().map(|plan| plan.servings()[0].code.clone())).unwrap_or_default();
    data_entry::go_to_page_of(app, "Dora", &given);
    let said = app.data_entry.answer.get().map(|answer| answer.what).unwrap_or_default();
    assert_eq!(said, format!("Dora has no page with the code {given}. Check both on the paper."));
}

#[test]
fn typing_of_another_plan_is_put_aside_and_comes_back() {
    let (_owner, app, _plan) = page_with_plan();
    data_entry::begin(app);
    type_all(app, |_, row| row);
    let typed = app.data_entry.file.get_untracked();
    let other = small_plan("Another tasting");
    planning::open_plan(app, "other.json", other.to_json().as_bytes());
    let standing = || app.plan.with(|plan| app.data_entry.file.with(|file| status(plan.as_ref(), file.as_ref())));
    assert_eq!(standing(), DataEntryStatus::OtherPlan { marks: 84 });
    data_entry::use_scores(app);
    assert_eq!(app.study.get(), None, "scores never land in another plan");
    data_entry::begin(app);
    assert_eq!(standing(), DataEntryStatus::Fits);
    data_entry::back_to_before(app);
    assert_eq!(app.data_entry.file.get_untracked(), typed);
}

#[test]
fn a_typing_file_opens_where_it_was_left_and_a_damaged_one_changes_nothing() {
    let (_owner, app, _plan) = page_with_plan();
    data_entry::begin(app);
    type_all(app, |_, row| row);
    let text = app.data_entry.file.with_untracked(|file| file.as_ref().map(|file| file.to_text())).expect("typing");
    data_entry::begin(app);
    opening::open_file(app, "typing.likeness.json", text.clone().into_bytes());
    assert_eq!(app.data_entry.file.with_untracked(|file| file.as_ref().map(|file| file.to_text())), Some(text.clone()));
    opening::open_file(app, "typing.likeness.json", text.as_bytes()[..400].to_vec());
    assert_eq!(app.data_entry.file.with_untracked(|file| file.as_ref().map(|file| file.to_text())), Some(text));
    let said = app.message.get().map(|message| message.what).unwrap_or_default();
    assert!(said.starts_with("typing.likeness.json was not opened. The typing file is damaged at line 1"), "{said}");
}

#[test]
fn what_was_noted_is_offered_as_the_reason() {
    let (_owner, app, plan) = page_with_plan();
    let code = plan.servings()[1].code.clone();
    session_record::note(app, 1, RecordKind::SessionStarted, None, None, "");
    session_record::note(app, 1, RecordKind::SpiltSample, Some(0), Some(code.clone()), " half of it ");
    session_record::note(app, 1, RecordKind::BlockedNose, Some(2), None, "");
    session_record::note(app, 1, RecordKind::Absent, Some(1), None, "by mistake");
    session_record::strike(app, 3);
    data_entry::begin(app);
    type_all(app, |_, row| row);
    data_entry::use_scores(app);
    let study = app.study.get().expect("a study");
    assert_eq!(study.record.len(), 3);
    let reasons = |scope| session_record::reasons_for(&study, scope);
    let of_cup = "sample spilt: half of it (noted in session 1, 2026-03-14 09:26)".to_owned();
    assert_eq!(reasons(ExclusionScope::Serving(1)), std::slice::from_ref(&of_cup));
    assert_eq!(reasons(ExclusionScope::Assessor(0)), [of_cup]);
    assert_eq!(reasons(ExclusionScope::Assessor(2)), ["blocked nose (noted in session 1, 2026-03-14 09:26)"]);
    assert_eq!(reasons(ExclusionScope::Serving(4)), ["blocked nose (noted in session 1, 2026-03-14 09:26)"]);
    assert_eq!(reasons(ExclusionScope::Assessor(1)), Vec::<String>::new());
    let log: Vec<&str> = study.log.iter().map(|entry| entry.what.as_str()).collect();
    assert!(log.contains(&"Struck from the record: Session 1, Ben: absent (by mistake)."), "{log:?}");
}
