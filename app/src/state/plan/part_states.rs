//! What each part of the plan holds so far, in the few words that stand under its name. It reads and changes nothing.

use super::missing::missing_in_brief;
use crate::state::app_state::AppState;
use crate::state::page::PlanPart;
use crate::state::session::data_entry::{DataEntryStatus, status};
use crate::state::session::session_record::running_session;
use crate::words::plan::parts as say;
use leptos::prelude::*;
use likeness_core::notice::Severity;
use likeness_core::plan::brief::draft::PlanDraft;
use likeness_core::plan::data_entry::entry_file::EntryFile;
use likeness_core::plan::on_screen::collect::{CollectedFile, collect};
use likeness_core::plan::tasting_plan::TastingPlan;
use likeness_core::plan::tests::short_test::{ShortTest, is_rated};
use likeness_core::plan::tests::test_designs::{TestKind, TestPlan};
use likeness_core::scan_desk::desk::ScanDesk;

/// The state of one part.
pub fn part_state(app: AppState, part: PlanPart) -> String {
    match part {
        PlanPart::Brief => app.plan_draft.with(question_state),
        PlanPart::Samples => app.plan_draft.with(samples_state),
        PlanPart::Attributes => app.plan_draft.with(attributes_state),
        PlanPart::Orders => app.plan.with(|plan| orders_state(plan.as_ref())),
        PlanPart::Printouts => app.plan.with(|plan| printouts_state(plan.as_ref())),
        PlanPart::ShortTests => app.short_test.with(short_test_state),
        PlanPart::SessionRecord => app.plan.with(|plan| record_state(plan.as_ref())),
        PlanPart::DataEntry => {
            app.plan.with(|plan| app.data_entry.file.with(|file| data_entry_state(plan.as_ref(), file.as_ref())))
        }
        PlanPart::Pictures => {
            app.plan.with(|plan| app.scanning.desk.with(|desk| pictures_state(plan.as_ref(), desk.as_ref())))
        }
        PlanPart::OnScreen => {
            app.plan.with(|plan| app.on_screen.collected.with(|files| on_screen_state(plan.as_ref(), files)))
        }
    }
}

fn question_state(draft: &PlanDraft) -> String {
    let is_blank = |text: &str| text.trim().is_empty();
    match (is_blank(&draft.brief.question), is_blank(&draft.brief.title)) {
        (true, _) => say::NOT_ASKED_YET.to_owned(),
        (false, true) => say::NO_TITLE_YET.to_owned(),
        (false, false) => say::ASKED.to_owned(),
    }
}

fn samples_state(draft: &PlanDraft) -> String {
    let refused = missing_in_brief(draft).iter().filter(|notice| notice.severity == Severity::Refused).count();
    if refused > 0 {
        return say::missing(refused);
    }
    let named = draft.brief.samples.iter().filter(|sample| !sample.name.trim().is_empty()).count();
    say::brief(named, draft.assessors().len())
}

fn attributes_state(draft: &PlanDraft) -> String {
    let listed = draft.attributes.attributes.len();
    // What is said of an empty list is that it is empty, which the count says already.
    let to_check = if listed == 0 { 0 } else { draft.attributes.warnings().len() };
    say::attributes(listed, to_check)
}

fn orders_state(plan: Option<&TastingPlan>) -> String {
    plan.map_or_else(|| say::NOT_MADE_YET.to_owned(), |plan| say::made(&plan.made_at))
}

fn printouts_state(plan: Option<&TastingPlan>) -> String {
    let state = if plan.is_some() { say::PRINTOUTS_ARE } else { say::NEEDS_PLAN };
    state.to_owned()
}

fn short_test_state(test: &ShortTest) -> String {
    match &test.plan {
        None => say::SHORT_TESTS_ARE.to_owned(),
        Some(plan) if is_rated(plan.request.kind) => say::LAID_OUT.to_owned(),
        Some(plan) => say::answered(test.answers.len(), answers_wanted(plan)),
    }
}

/// One answer a set; with a nose clip one a cup.
fn answers_wanted(plan: &TestPlan) -> usize {
    match plan.request.kind {
        TestKind::NoseClip => plan.rows.iter().map(|row| row.cups.len()).sum(),
        _ => plan.rows.len(),
    }
}

fn record_state(plan: Option<&TastingPlan>) -> String {
    let Some(plan) = plan else { return say::NEEDS_PLAN.to_owned() };
    match (running_session(plan), plan.record.len()) {
        (Some(session), _) => say::session_runs(session),
        (None, 0) => say::NOTHING_NOTED.to_owned(),
        (None, entries) => say::noted(entries),
    }
}

fn data_entry_state(plan: Option<&TastingPlan>, file: Option<&EntryFile>) -> String {
    match status(plan, file) {
        DataEntryStatus::NoPlan => say::NEEDS_PLAN.to_owned(),
        DataEntryStatus::NotBegun => say::NOT_BEGUN.to_owned(),
        DataEntryStatus::OtherPlan { .. } => say::OF_ANOTHER_PLAN.to_owned(),
        DataEntryStatus::PlanChanged { .. } => say::PLAN_CHANGED.to_owned(),
        DataEntryStatus::Fits => {
            let count = file.map(|file| file.data_entry.count());
            count.map_or_else(String::new, |count| say::typed(count.typed, count.total))
        }
    }
}

fn pictures_state(plan: Option<&TastingPlan>, desk: Option<&ScanDesk>) -> String {
    let counts = desk.map(ScanDesk::counts).unwrap_or_default();
    match (plan, counts.pictures) {
        (None, _) => say::NEEDS_PLAN.to_owned(),
        (_, 0) => say::NO_PICTURES.to_owned(),
        _ => say::pages_read(counts.pages_read, counts.rows.open),
    }
}

fn on_screen_state(plan: Option<&TastingPlan>, files: &[CollectedFile]) -> String {
    let Some(plan) = plan else { return say::NEEDS_PLAN.to_owned() };
    if files.is_empty() {
        return say::NOTHING_BACK.to_owned();
    }
    let collected = collect(plan, files);
    say::sheets_back(collected.sheets.len() - collected.missing(), collected.sheets.len())
}

#[cfg(test)]
mod tests {
    //! The words under each part, from an empty page to a plan that is tasted.

    use super::*;
    use crate::state::plan::part_steps::part_is_done;
    use crate::state::plan::planning;
    use crate::state::session::{data_entry, session_record};
    use likeness_core::plan::brief::attributes::AttributeList;
    use likeness_core::plan::brief::study_brief::{PlannedSample, SampleRole};
    use likeness_core::plan::session::session_record::RecordKind;

    fn page() -> (Owner, AppState) {
        let owner = Owner::new();
        owner.set();
        let app = AppState::new(|| "2026-03-14 09:26".to_owned());
        planning::start(app);
        (owner, app)
    }

    fn page_with_plan() -> (Owner, AppState) {
        let (owner, app) = page();
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

    fn states(app: AppState, parts: &[PlanPart]) -> Vec<String> {
        parts.iter().map(|part| part_state(app, *part)).collect()
    }

    const OF_A_PLAN: [PlanPart; 4] =
        [PlanPart::Printouts, PlanPart::SessionRecord, PlanPart::DataEntry, PlanPart::OnScreen];

    #[test]
    fn every_part_says_something_and_what_needs_a_plan_says_so() {
        let (_owner, app) = page();
        assert!(PlanPart::ALL.iter().all(|part| !part_state(app, *part).is_empty()));
        assert_eq!(part_state(app, PlanPart::Brief), say::NOT_ASKED_YET);
        assert!(part_state(app, PlanPart::Samples).ends_with("still missing"));
        assert!(!PlanPart::ALL.iter().any(|part| part_is_done(app, *part)), "nothing is done on an empty page");
        assert_eq!(states(app, &[PlanPart::Attributes, PlanPart::Orders]), ["0 attributes", say::NOT_MADE_YET]);
        assert_eq!(states(app, &OF_A_PLAN), [say::NEEDS_PLAN; 4]);
    }

    #[test]
    fn a_plan_that_was_made_is_told_by_its_date_and_by_what_it_waits_for() {
        let (_owner, app) = page_with_plan();
        assert_eq!(
            states(app, &[PlanPart::Samples, PlanPart::Orders]),
            ["2 samples, 2 assessors", "made 2026-03-14 09:26"]
        );
        let waits = [say::PRINTOUTS_ARE, say::NOTHING_NOTED, say::NOT_BEGUN, say::NOTHING_BACK];
        assert_eq!(states(app, &OF_A_PLAN), waits);
        // What the draft holds is ticked; the question was not written down, and nothing was printed or tasted.
        let done: Vec<PlanPart> = PlanPart::ALL.iter().copied().filter(|part| part_is_done(app, *part)).collect();
        assert_eq!(done, [PlanPart::Samples, PlanPart::Attributes, PlanPart::Orders]);
        assert_eq!(
            PlanPart::ALL.iter().filter_map(|part| part.step()).collect::<Vec<_>>(),
            [1, 2, 3, 4, 5, 6, 7, 7, 7]
        );
    }

    #[test]
    fn a_session_runs_until_it_is_ended() {
        let (_owner, app) = page_with_plan();
        session_record::note(app, 1, RecordKind::SessionStarted, None, None, "");
        session_record::note(app, 1, RecordKind::Absent, Some(0), None, "");
        assert_eq!(part_state(app, PlanPart::SessionRecord), "session 1 runs");
        session_record::note(app, 1, RecordKind::SessionEnded, None, None, "");
        assert_eq!(part_state(app, PlanPart::SessionRecord), "3 noted");
    }

    #[test]
    fn data_entry_counts_what_is_typed() {
        let (_owner, app) = page_with_plan();
        data_entry::begin(app);
        // Two assessors, two samples, two replicates (the draft's own number): 8 pages of one line an attribute, by hand.
        let lines = 8 * app.plan_draft.with(|draft| draft.attributes.attributes.len());
        assert_eq!(part_state(app, PlanPart::DataEntry), format!("0 of {lines} typed"));
    }

    #[test]
    fn a_short_test_counts_its_answers() {
        let mut test = ShortTest {
            samples_typed: "Fresh mango\nCandidate A".to_owned(),
            assessors_typed: "6".to_owned(),
            seed: 9,
            ..ShortTest::default()
        };
        assert_eq!(short_test_state(&test), say::SHORT_TESTS_ARE);
        test.make("2026-03-14 09:26").expect("a sound request");
        let row = test.plan.as_ref().expect("laid out").rows[0].clone();
        test.set_answer(row.assessor, row.set, &row.cups[0].code, None, true);
        assert_eq!(short_test_state(&test), "1 of 6 answered");
    }
}
