//! The on-screen ballot without a screen: what is in a booth file, how a sheet is gone through, what a results file
//! brings back, and that the study it makes is the one that was marked.

use likeness_core::notice::Severity;
use likeness_core::numeric::random::Random;
use likeness_core::plan::brief::attributes::AttributeList;
use likeness_core::plan::brief::study_brief::{Brief, PlannedSample, SampleRole};
use likeness_core::plan::data_entry::entry::{DataEntry, Entry, EntryOptions, Pass};
use likeness_core::plan::data_entry::entry_file::EntryFile;
use likeness_core::plan::on_screen::ballot_file::{OnScreenBallot, OnScreenScope, allergen_sentences};
use likeness_core::plan::on_screen::ballot_run::{Finished, Moment, OnScreenRun, OnScreenStep};
use likeness_core::plan::on_screen::collect::{CollectedFile, SheetState, collect};
use likeness_core::plan::on_screen::results_file::OnScreenResults;
use likeness_core::plan::orders::serving_orders::Coverage;
use likeness_core::plan::session::session_record::{RecordEntry, RecordKind};
use likeness_core::plan::tasting_plan::{PlanRequest, TastingPlan, make_plan, session_name};
use likeness_core::stats::analyse;
use likeness_core::study::{Margin, Scale, ScoreAddress, StudyBuilder};

fn sample(name: &str, role: SampleRole, allergens: &str) -> PlannedSample {
    PlannedSample { allergens: allergens.to_owned(), ..PlannedSample::named(name, role) }
}

/// An invented plan: four assessors, three samples, two replicates, a warm-up.
fn plan() -> TastingPlan {
    make_plan(PlanRequest {
        brief: Brief {
            title: "Does the Alphonso trial match fresh mango nectar?".to_owned(),
            question: "Is the Alphonso trial there yet?".to_owned(),
            samples: vec![
                sample("Fresh mango nectar", SampleRole::Target, ""),
                sample("Alphonso trial", SampleRole::Candidate, "milk in the Alphonso trial"),
                sample("Kesar trial", SampleRole::Candidate, "milk in the Kesar trial"),
            ],
            warm_up: Some(sample("Shop nectar", SampleRole::Candidate, "")),
            margin: Margin::of(10.0),
            ..Brief::default()
        },
        attributes: AttributeList::mango_nectar_example(),
        assessors: ["Anna", "Ben", "Cleo", "Dan"].map(str::to_owned).to_vec(),
        scale: Scale::default(),
        replicates: 2,
        samples_per_session: None,
        coverage: Coverage::OneSession,
        target_in_each_session: false,
        used_codes: Vec::new(),
        seed: 11,
        made_at: "2026-03-02 09:00".to_owned(),
    })
    .expect("a plan")
}

fn form(plan: &TastingPlan) -> OnScreenBallot {
    OnScreenBallot::of_plan(plan, OnScreenScope::default(), 60, &allergen_sentences(plan)).expect("a form")
}

fn at(seconds: u64) -> Moment {
    Moment { local: format!("2026-03-02 10:{:02}", seconds / 60), seconds }
}

/// Goes through a whole sheet with full rests, `mark` gives tenths of a millimetre by cup and row.
fn tasted(form: &OnScreenBallot, sheet: usize, mut mark: impl FnMut(&str, usize) -> Option<u16>) -> OnScreenRun {
    let mut run = OnScreenRun::of_form(form, sheet).expect("a sheet");
    let mut now = 0;
    run.consent(&at(now));
    run.warm_up_done(&at(now));
    while run.step != OnScreenStep::Done {
        now += 60;
        run.end_rest(&at(now));
        let code = run.cup().expect("a cup").code.clone();
        (0..run.attributes.len()).for_each(|row| run.mark(row, mark(&code, row)));
        if matches!(run.finish_cup(&at(now)), Finished::Asked { .. }) {
            run.finish_without_marks(&at(now));
        }
    }
    run
}

fn collected(name: &str, run: &OnScreenRun) -> CollectedFile {
    let text = OnScreenResults::of_run(run, &at(4000)).to_text();
    let results = OnScreenResults::from_text(&text).expect("a results file opens");
    CollectedFile { file: name.to_owned(), length_bytes: text.len() as u64, results }
}

fn said(notices: &[likeness_core::notice::Notice]) -> Vec<String> {
    notices.iter().map(ToString::to_string).collect()
}

#[test]
fn no_sample_name_no_title_and_no_question_is_in_a_booth_file() {
    let plan = plan();
    let text = form(&plan).to_text();
    let warm_up = plan.brief.warm_up.as_ref().map(|sample| sample.name.clone());
    let names = plan.brief.samples.iter().map(|sample| sample.name.clone()).chain(warm_up);
    for name in names.chain([plan.brief.title.clone(), plan.brief.question.clone()]) {
        assert!(!text.to_lowercase().contains(&name.to_lowercase()), "{name} is in the booth file");
    }
    for word in ["Alphonso", "Kesar", "\"seed\"", "\"samples\"", "\"order\"", "target", "candidate"] {
        assert!(!text.contains(word), "{word} is in the booth file");
    }
    assert!(text.contains("milk in the one of the samples"), "allergens are told without saying which cup");
    assert_eq!(OnScreenBallot::from_text(&text), Ok(form(&plan)));
}

#[test]
fn a_booth_file_holds_the_sheets_of_its_scope_in_the_planned_order() {
    let plan = plan();
    let all = form(&plan);
    assert_eq!(all.sheets.len(), 8);
    let one =
        OnScreenBallot::of_plan(&plan, OnScreenScope { assessor: Some(2), session: Some(2) }, 0, &[]).expect("a form");
    assert_eq!(one.sheets.len(), 1);
    assert_eq!((one.sheets[0].name.as_str(), one.sheets[0].assessor, one.sheets[0].session), ("Cleo", 3, 2));
    for sheet in &all.sheets {
        let of_sheet = |serving: &&likeness_core::plan::tasting_plan::PlannedServing| {
            serving.assessor as u32 + 1 == sheet.assessor && serving.session == sheet.session
        };
        let codes: Vec<String> = plan.servings().iter().filter(of_sheet).map(|serving| serving.code.clone()).collect();
        assert_eq!(sheet.codes, codes);
    }
    let nobody = OnScreenBallot::of_plan(&plan, OnScreenScope { assessor: Some(9), session: None }, 60, &[]);
    assert!(nobody.expect_err("nobody tastes").to_string().starts_with("There is nothing to taste here"));
    let long = OnScreenBallot::of_plan(&plan, OnScreenScope::default(), 4000, &[]).expect_err("too long");
    assert!(long.to_string().contains("longer than an hour"));
}

#[test]
fn a_sheet_is_gone_through_cup_by_cup_and_nothing_is_skipped_silently() {
    let plan = plan();
    let form = form(&plan);
    let mut run = OnScreenRun::of_form(&form, 0).expect("a sheet");
    assert_eq!((run.step, run.cup()), (OnScreenStep::Consent, None));
    run.mark(0, Some(500));
    assert!(run.cups.iter().all(|cup| cup.marks.iter().all(Option::is_none)), "no mark before the first cup");
    run.consent(&at(0));
    assert_eq!(run.step, OnScreenStep::WarmUp);
    run.warm_up_done(&at(5));
    assert_eq!((run.step, run.rest_left_seconds(&at(25))), (OnScreenStep::Rest(0), 40));
    run.end_rest(&at(25));
    assert_eq!(run.step, OnScreenStep::Cup(0));
    assert_eq!((run.rests[0].taken_seconds, run.rests[0].ended_early), (20, true));
    run.mark(0, Some(2000));
    run.nudge(1, 10);
    run.nudge(2, -10);
    run.nudge(2, -100);
    let marks = &run.cup().expect("a cup").marks;
    // By hand: a mark beyond the line stops at its end; 1 mm from the left, 1 mm and then 10 mm from the right end.
    assert_eq!((marks[0], marks[1], marks[2]), (Some(1000), Some(10), Some(890)));
    let unmarked = run.attributes.len() - 3;
    // Nobody goes on without marks who was not asked.
    assert_eq!(run.clone().finish_without_marks(&at(90)), Finished::Asked { unmarked });
    assert_eq!(run.finish_cup(&at(90)), Finished::Asked { unmarked });
    assert_eq!(run.unmarked_rows().len(), unmarked);
    // A double tap on the same button skips nothing.
    assert_eq!(run.finish_cup(&at(90)), Finished::Asked { unmarked });
    assert_eq!(run.step, OnScreenStep::Cup(0));
    assert_eq!(run.finish_without_marks(&at(95)), Finished::Rest);
    assert_eq!(run.finish_without_marks(&at(95)), Finished::Nothing);
    assert!(run.cups[0].left_unmarked);
    run.end_rest(&at(95 + 60));
    assert!(!run.rests[1].ended_early);
    let kept: OnScreenRun = serde_json::from_str(&serde_json::to_string(&run).expect("text")).expect("a run");
    assert_eq!(kept, run);
    assert!(kept.belongs_to(&form, &form.sheets[0]) && !kept.belongs_to(&form, &form.sheets[1]));
}

#[test]
fn what_was_marked_on_screen_is_the_study_that_was_tasted() {
    let plan = plan();
    let form = form(&plan);
    let mut builder = StudyBuilder::new(Scale::default());
    let mut chance = Random::seeded(5);
    let mut files = Vec::new();
    for (index, sheet) in form.sheets.iter().enumerate() {
        let assessor = sheet.assessor as usize - 1;
        let run = tasted(&form, index, |code, row| {
            let tenths = (chance.unit() * 1000.0) as u16;
            let serving = plan.serving_of_code(assessor, code).expect("a cup of the plan");
            let address = ScoreAddress {
                assessor: &sheet.name,
                sample: &plan.brief.samples[serving.sample].name,
                replicate: serving.replicate,
                session: Some(&session_name(serving.session)),
                position: Some(serving.position),
                label: None,
            };
            let name = &plan.attributes.attributes[row].name;
            builder.add(address, name, f64::from(tenths) / 10.0).expect("no conflict");
            Some(tenths)
        });
        files.push(collected(&format!("sheet {index}.json"), &run));
    }
    let together = collect(&plan, &files);
    assert_eq!((together.missing(), said(&together.notices)), (0, Vec::new()));
    let study = together.study(&plan, &files, "2026-03-02 12:00");
    assert_eq!(study.score_count(), 4 * 3 * 2 * 14);
    let mut direct = builder.finish("typed");
    direct.settings = study.settings.clone();
    direct.attributes = study.attributes.clone();
    let (by_screen, by_file) = (analyse(&study), analyse(&direct));
    for (left, right) in by_screen.attributes.iter().zip(&by_file.attributes) {
        for candidate in &by_screen.candidates {
            let one = left.difference_of(&candidate.sample).expect("a difference");
            let other = right.difference_of(&candidate.sample).expect("a difference");
            assert!((one.difference - other.difference).abs() < 1e-12, "{} {}", left.attribute, candidate.sample);
            assert_eq!(one.verdict, other.verdict);
        }
    }
    assert_eq!(by_screen.candidates.len(), 2);
}

#[test]
fn files_that_do_not_belong_are_there_twice_or_are_missing_are_said_by_name() {
    let plan = plan();
    let form = form(&plan);
    let first = tasted(&form, 0, |_, _| Some(400));
    let again = collected("again.json", &first);
    let other = collected("other marks.json", &tasted(&form, 0, |_, _| Some(500)));
    let part = collected("part.json", &tasted(&form, 1, |_, row| (row > 0).then_some(100)));
    let mut stranger = collected("stranger.json", &first);
    stranger.results.study = "ABCDEF".to_owned();
    let mut renamed = collected("renamed.json", &first);
    renamed.results.name = "Zoe".to_owned();
    let files = vec![collected("one.json", &first), again, other, part, stranger, renamed];
    let together = collect(&plan, &files);
    assert_eq!(together.missing(), 6);
    assert_eq!(together.sheets[0].state, SheetState::Arrived { file: 2, marks: 42, is_finished: true });
    assert_eq!(together.sheets[1].state, SheetState::Arrived { file: 3, marks: 39, is_finished: true });
    assert_eq!(
        said(&together.notices),
        [
            "again.json: It holds the same marks as one.json (Anna, session 1); they count once.".to_owned(),
            "other marks.json: Anna, session 1: one.json and other marks.json hold different marks; other marks.json was \
             saved last and stands. Ask the assessor, and put the wrong file away."
                .to_owned(),
            format!(
                "stranger.json: It belongs to study ABCDEF and the open plan is {}. Open the plan it belongs to, or put \
                 the file away.",
                plan.study_id()
            ),
            "renamed.json: It says that assessor 1 is Zoe, and the plan has Anna. Open the plan that the booth file was \
             made from."
                .to_owned(),
            "part.json: Ben, session 1: 3 of 42 lines have no mark. The assessor was asked and went on without."
                .to_owned(),
        ]
    );
    let study = together.study(&plan, &files, "2026-03-02 12:00");
    assert_eq!(study.score_count(), 42 + 39);
    assert!(study.notices.iter().any(|notice| notice.what == "6 of 8 sheets have no results file."));
}

#[test]
fn a_later_state_of_a_sheet_stands_and_early_rests_are_told() {
    let plan = plan();
    let form = form(&plan);
    let mut run = OnScreenRun::of_form(&form, 0).expect("a sheet");
    run.consent(&at(0));
    run.warm_up_done(&at(0));
    run.end_rest(&at(12));
    run.mark(0, Some(300));
    let early = collected("early.json", &run);
    run.mark(1, Some(310));
    let late = collected("late.json", &run);
    let together = collect(&plan, &[late, early]);
    assert_eq!(together.sheets[0].state, SheetState::Arrived { file: 1, marks: 1, is_finished: false });
    let severe: Vec<String> =
        together.notices.iter().filter(|notice| notice.severity == Severity::Check).map(ToString::to_string).collect();
    assert!(severe.iter().any(|text| text.contains("saved before its last cup was finished")), "{severe:?}");
    assert!(
        severe.iter().any(|text| text.contains("1 of 1 rest ended early, the shortest after 12 of 60")),
        "{severe:?}"
    );
}

#[test]
fn a_damaged_results_file_is_refused_and_says_what_to_do() {
    let plan = plan();
    let run = tasted(&form(&plan), 0, |_, _| Some(473));
    let text = OnScreenResults::of_run(&run, &at(100)).to_text();
    assert!(text.contains("47.3"), "marks stand in the file in mm to 0.1");
    let why = |text: &str| OnScreenResults::from_text(text).expect_err("refused").to_string();
    assert!(why(&text.replacen("47.3", "48.3", 1)).contains("Save it again where it was made"));
    assert!(why(&text[..text.len() / 2]).contains("cut off"));
    let mut moved = OnScreenResults::of_run(&run, &at(100));
    moved.pages[0].code = moved.pages[1].code.clone();
    assert!(why(&moved.to_text()).contains("contradicts itself"));
    let mut beyond = OnScreenResults::of_run(&run, &at(100));
    beyond.pages[0].marks_mm[0] = Some(100.1);
    assert!(why(&beyond.to_text()).contains("contradicts itself"));
}

#[test]
fn typing_is_put_aside_taken_up_and_carried_to_a_changed_plan() {
    let plan = plan();
    let mut data_entry = DataEntry::of_plan(&plan, EntryOptions { ask_page_code: false, rows_between_checks: 0 });
    (0..14).for_each(|row| _ = data_entry.enter(&row.to_string()));
    let file = EntryFile { study: plan.study_id(), data_entry: data_entry.clone() };
    assert_eq!(EntryFile::from_text(&file.to_text()), Ok(file.clone()));
    let mut bent = file.clone();
    bent.data_entry.first.pop();
    assert!(EntryFile::from_text(&bent.to_text()).is_err());
    assert!(data_entry.fits(&plan));
    let changed = plan.with_absent("Dan", 2, 3, "2026-03-03 09:00").expect("a change");
    assert!(!data_entry.fits(&changed));
    let carried = data_entry.carried_to(&changed);
    assert!(carried.data_entry.fits(&changed));
    assert_eq!((carried.left_behind, carried.data_entry.typed_by_anybody()), (0, 14));
    assert_eq!(carried.data_entry.first[0][13], Entry::Score(13.0));
    let without = plan.with_absent("Anna", 1, 3, "2026-03-03 09:00").expect("a change");
    assert_eq!(data_entry.carried_to(&without).left_behind, 14);
    data_entry.begin_pass(Pass::Second);
    assert!(data_entry.is_typed_twice());
}

#[test]
fn the_record_of_the_day_comes_into_the_study_with_its_reasons() {
    let mut plan = plan();
    let code = plan.servings()[1].code.clone();
    let entry = |kind, assessor, code: Option<&String>, note: &str| RecordEntry {
        when: "2026-03-02 10:10".to_owned(),
        session: 1,
        kind,
        assessor,
        code: code.cloned(),
        note: note.to_owned(),
    };
    plan.record = vec![
        entry(RecordKind::SessionStarted, None, None, ""),
        entry(RecordKind::SpiltSample, Some(0), Some(&code), "half of it"),
        entry(RecordKind::BlockedNose, Some(1), None, ""),
    ];
    let study = plan.study_skeleton("2026-03-02 12:00");
    assert_eq!(study.faults(), Vec::<String>::new());
    assert_eq!(study.record.len(), 3);
    assert_eq!((study.record[1].serving, study.record[1].assessor), (Some(1), Some(0)));
    assert_eq!(
        study.recorded_in_words(&study.record[1]),
        format!("Session 1, Anna, cup {code}: sample spilt (half of it)")
    );
    assert_eq!(study.record[0].exclusion_reason, None);
    let reason = study.record[2].exclusion_reason.as_deref();
    assert_eq!(reason, Some("blocked nose (noted in session 1, 2026-03-02 10:10)"));
    assert_eq!(study.notices.len(), 2);
    let text = serde_json::to_string(&study).expect("text");
    let back: likeness_core::study::Study = serde_json::from_str(&text).expect("a study");
    assert_eq!(back, study);
    plan.record.clear();
    let old = serde_json::to_string(&plan.study_skeleton("")).expect("text");
    assert!(!old.contains("\"record\""), "a study without a record is written as before");
    assert!(serde_json::from_str::<likeness_core::study::Study>(&old).is_ok(), "and opens");
}
