//! Sources laid over each other: what stands, what differs, and that nothing undecided becomes a score.

use super::{JoinDecision, JoinedScores, ScoreSource, SourceScores, blank_entries};
use crate::plan::brief::attributes::AttributeList;
use crate::plan::brief::draft::PlanDraft;
use crate::plan::brief::study_brief::{PlannedSample, SampleRole};
use crate::plan::data_entry::entry::{DataEntry, Entry, EntryOptions, Reply};
use crate::plan::tasting_plan::TastingPlan;

fn plan() -> TastingPlan {
    let mut draft = PlanDraft::default();
    draft.brief.title = "Mango nectar (invented)".to_owned();
    draft.brief.samples = vec![
        PlannedSample::named("Fresh mango", SampleRole::Target),
        PlannedSample::named("Candidate A", SampleRole::Candidate),
    ];
    draft.assessors_typed = "Ada\nBen\n".to_owned();
    draft.attributes = AttributeList::mango_nectar_example();
    draft.seed = 5;
    draft.make("2026-03-02 09:00").expect("a sound draft")
}

fn source(plan: &TastingPlan, source: ScoreSource, entries: &[(usize, usize, Entry)]) -> SourceScores {
    let mut blank = blank_entries(plan);
    entries.iter().for_each(|(serving, attribute, entry)| blank[*serving][*attribute] = *entry);
    SourceScores { source, entries: blank, log: format!("from {source:?}"), notices: Vec::new() }
}

#[test]
fn sources_fill_each_other_up_and_the_finer_measure_stands() {
    let plan = plan();
    let typed = source(&plan, ScoreSource::Typed, &[(0, 0, Entry::Score(47.0)), (1, 0, Entry::Score(12.0))]);
    let read = source(&plan, ScoreSource::Pictures, &[(0, 0, Entry::Score(47.3)), (2, 0, Entry::NoMark)]);
    let made = source(&plan, ScoreSource::Screens, &[(3, 0, Entry::Score(5.5))]);
    let joined = JoinedScores::new(vec![typed, read, made], &[], 1.0);
    assert_eq!(joined.differences(), []);
    let study = joined.study(&plan, "2026-03-14 09:26");
    let column: Vec<Option<f64>> = (0..5).map(|serving| study.score(serving, 0)).collect();
    assert_eq!(column, [Some(47.3), Some(12.0), None, Some(5.5), None]);
    let log: Vec<&str> = study.log.iter().map(|entry| entry.what.as_str()).collect();
    assert!(log.ends_with(&["from Screens", "from Pictures", "from Typed"]), "{log:?}");
    let said: Vec<&str> = study.notices.iter().map(|notice| notice.what.as_str()).collect();
    assert_eq!(said, ["Scores of 0 of 8 pages and parts of 4 more so far."]);
}

#[test]
fn a_difference_is_no_score_until_somebody_decides_and_a_decision_is_about_what_it_saw() {
    let plan = plan();
    let typed = source(&plan, ScoreSource::Typed, &[(0, 0, Entry::Score(74.0)), (0, 1, Entry::Score(10.0))]);
    let read = |mark| source(&plan, ScoreSource::Pictures, &[(0, 0, Entry::Score(mark)), (0, 1, Entry::NoMark)]);
    let joined = JoinedScores::new(vec![typed.clone(), read(47.0)], &[], 1.0);
    assert_eq!((joined.differences().len(), joined.undecided(), joined.score_count()), (2, 2, 0));
    let first = joined.differences()[0].clone();
    assert_eq!(first.between, [(ScoreSource::Pictures, Entry::Score(47.0)), (ScoreSource::Typed, Entry::Score(74.0))]);
    let decision = JoinDecision { serving: 0, attribute: 0, between: first.between, entry: Entry::Score(47.0) };
    let joined = JoinedScores::new(vec![typed.clone(), read(47.0)], std::slice::from_ref(&decision), 1.0);
    assert_eq!((joined.undecided(), joined.score_count()), (1, 1));
    let study = joined.study(&plan, "");
    assert_eq!((study.score(0, 0), study.score(0, 1)), (Some(47.0), None));
    let said: Vec<&str> = study.notices.iter().map(|notice| notice.what.as_str()).collect();
    assert!(
        said.contains(&"2 scores differ between its sources by more than 1; 1 of them not decided, and missing."),
        "{said:?}"
    );
    // The page was read anew: the decision was about something else.
    let joined = JoinedScores::new(vec![typed, read(48.0)], &[decision], 1.0);
    assert_eq!(joined.undecided(), 2);
}

#[test]
fn a_second_reader_who_types_a_scanned_page_finds_the_slip() {
    let plan = plan();
    let mut typing = DataEntry::of_plan(&plan, EntryOptions { ask_page_code: false, rows_between_checks: 0 });
    typing.begin_pass(crate::plan::data_entry::entry::Pass::First);
    for row in 0..14 {
        assert!(!matches!(typing.enter(&(10 + row).to_string()), Reply::Stopped { .. }));
    }
    let marks: Vec<(usize, usize, Entry)> =
        (0..14).map(|row| (0, row, Entry::Score(10.2 + row as f64 + if row == 6 { 20.0 } else { 0.0 }))).collect();
    let joined =
        JoinedScores::new(vec![typing.source(&plan, 1.0), source(&plan, ScoreSource::Pictures, &marks)], &[], 1.0);
    let places: Vec<(usize, usize)> = joined.differences().iter().map(|one| (one.serving, one.attribute)).collect();
    assert_eq!(places, [(0, 6)]);
    assert_eq!(joined.score_count(), 13);
    let study = joined.study(&plan, "");
    assert!(study.notices.iter().all(|notice| !notice.what.contains("missing from")), "what was not typed was read");
}
