//! Scores typed from paper: what is taken, what is stopped, and the way from a plan to a verdict.

use likeness_core::numeric::random::Random;
use likeness_core::plan::brief::attributes::{AttributeList, ListedAttribute};
use likeness_core::plan::brief::study_brief::{Brief, PlannedSample, SampleRole};
use likeness_core::plan::data_entry::entry::{Awaiting, DataEntry, Entry, EntryOptions, Pass, Reply};
use likeness_core::plan::data_entry::entry_file::EntryFile;
use likeness_core::plan::data_entry::page_guard::PageSlipAlarm;
use likeness_core::plan::orders::serving_orders::Coverage;
use likeness_core::plan::tasting_plan::{PlanRequest, TastingPlan, make_plan, session_name};
use likeness_core::stats::analyse;
use likeness_core::study::{Margin, Scale, ScoreAddress, StudyBuilder};

fn plan(attributes: usize, assessors: usize) -> TastingPlan {
    let attribute = |number| ListedAttribute { name: format!("attribute {number}"), ..ListedAttribute::default() };
    make_plan(PlanRequest {
        brief: Brief {
            title: "Typed from paper".to_owned(),
            samples: vec![
                PlannedSample::named("Target", SampleRole::Target),
                PlannedSample::named("Candidate A", SampleRole::Candidate),
                PlannedSample::named("Candidate B", SampleRole::Candidate),
            ],
            margin: Margin::of(10.0),
            ..Brief::default()
        },
        attributes: AttributeList { attributes: (1..=attributes).map(attribute).collect(), ..AttributeList::default() },
        assessors: (1..=assessors).map(|number| format!("Assessor {number}")).collect(),
        scale: Scale::default(),
        replicates: 2,
        samples_per_session: None,
        coverage: Coverage::OneSession,
        target_in_each_session: false,
        used_codes: Vec::new(),
        seed: 3,
        made_at: "2026-03-02 09:00".to_owned(),
    })
    .expect("a plan")
}

fn why(reply: Reply) -> String {
    match reply {
        Reply::Stopped { why } => why,
        other => panic!("not stopped: {other:?}"),
    }
}

/// Types what is due until the state waits for a score.
fn confirm(data_entry: &mut DataEntry) {
    while matches!(data_entry.awaiting, Awaiting::PageCode | Awaiting::RowNumber) {
        let answer = match data_entry.awaiting {
            Awaiting::PageCode => data_entry.pages[data_entry.page].code.clone(),
            _ => (data_entry.row + 1).to_string(),
        };
        assert_eq!(data_entry.enter(&answer), Reply::Confirmed);
    }
}

fn type_page(data_entry: &mut DataEntry, scores: &[String]) -> Reply {
    let mut last = Reply::Accepted;
    for score in scores {
        confirm(data_entry);
        last = data_entry.enter(score);
        assert!(!matches!(last, Reply::Stopped { .. }), "{score}: {last:?}");
    }
    last
}

#[test]
fn numbers_are_taken_and_nonsense_is_stopped() {
    let mut data_entry = DataEntry::of_plan(&plan(5, 3), EntryOptions::default());
    confirm(&mut data_entry);
    let cases = [
        ("105", "105 is outside the scale 0 to 100. Was 10.5 meant?"),
        ("-3", "-3 is outside the scale 0 to 100."),
        ("4o", "“4o” is no number. Type the mark, or - where there is no mark."),
        ("", "Type the mark, or - where there is no mark."),
        ("1e1", "“1e1” is no number. Type the mark, or - where there is no mark."),
        ("NaN", "“NaN” is no number. Type the mark, or - where there is no mark."),
        ("4750", "4750 is outside the scale 0 to 100."),
    ];
    for (text, message) in cases {
        assert_eq!(why(data_entry.enter(text)), message);
        assert_eq!(data_entry.row, 0);
    }
    for (text, entry) in [("47", 47.0), (" 47,5 ", 47.5), ("0", 0.0), ("100", 100.0)] {
        let row = data_entry.row;
        assert_eq!(data_entry.enter(text), Reply::Accepted);
        assert_eq!(data_entry.first[0][row], Entry::Score(entry));
    }
    assert_eq!(data_entry.enter("-"), Reply::PageDone { page: 0 });
    assert_eq!(data_entry.first[0][4], Entry::NoMark);
    assert_eq!((data_entry.count().typed, data_entry.count().total, data_entry.count().pages_done), (5, 5 * 18, 1));
}

#[test]
fn the_wrong_page_is_stopped_at_its_code() {
    let mut data_entry = DataEntry::of_plan(&plan(5, 3), EntryOptions::default());
    let expected = data_entry.pages[0].code.clone();
    let other = data_entry.pages[1].code.clone();
    assert_eq!(
        why(data_entry.enter(&other)),
        format!("{other} is another page. The page due is {expected}: find it, or go to the page of {other}.")
    );
    // A code never given: what is said of it is one sentence, with at most one code that it may have been.
    let said = why(data_entry.enter("275"));
    assert!(said.starts_with("No such code. ") && !said.contains("can't exist"), "{said}");
    let swapped: String = [1, 0, 2].iter().map(|index| &expected[*index..=*index]).collect();
    let said = why(data_entry.enter(&swapped));
    assert!(said == format!("No such code. Did you mean {expected}?") || said.ends_with("Look at the page again."));
    let anna = data_entry.pages[0].assessor.clone();
    assert!(data_entry.why_no_page(&anna, "275").starts_with("No such code. "));
    assert_eq!(data_entry.enter(&expected), Reply::Confirmed);
}

#[test]
fn the_row_number_catches_a_slip() {
    let options = EntryOptions { rows_between_checks: 3, ..EntryOptions::default() };
    let mut data_entry = DataEntry::of_plan(&plan(8, 3), options);
    confirm(&mut data_entry);
    ["10", "20", "30"].iter().for_each(|score| assert_eq!(data_entry.enter(score), Reply::Accepted));
    assert_eq!(data_entry.awaiting, Awaiting::RowNumber);
    assert_eq!(
        why(data_entry.enter("5")),
        "The ruler lies at row 5 and row 4 is due: a row was skipped or typed twice. Go back to the last row that is right."
    );
    assert_eq!(why(data_entry.enter("40")), "Type a row number from 1 to 8.");
    data_entry.back();
    assert_eq!((data_entry.row, data_entry.awaiting), (2, Awaiting::Score));
    data_entry.enter("31");
    assert_eq!(data_entry.first[0][2], Entry::Score(31.0));
    assert_eq!(data_entry.enter("4"), Reply::Confirmed);
    assert_eq!(data_entry.awaiting, Awaiting::Score);
}

#[test]
fn work_goes_on_where_it_was_saved() {
    let mut data_entry = DataEntry::of_plan(&plan(5, 3), EntryOptions::default());
    type_page(&mut data_entry, &["1", "2", "3", "4", "5"].map(str::to_owned));
    confirm(&mut data_entry);
    data_entry.enter("6");
    let saved = serde_json::to_string(&data_entry).expect("plain data");
    let mut again: DataEntry = serde_json::from_str(&saved).expect("opens");
    assert_eq!(again, data_entry);
    assert_eq!(again.enter("7"), Reply::Accepted);
    // Left in the middle of a page and begun again: the first open row is due.
    again.begin_pass(Pass::First);
    confirm(&mut again);
    assert_eq!((again.page, again.row), (1, 2));
    again.back();
    again.back();
    again.back();
    assert_eq!((again.page, again.row), (0, 4));
}

#[test]
fn a_typing_file_of_version_1_opens_and_keeps_its_form() {
    let text = include_str!("plans/typing_version_1.json");
    let file = EntryFile::from_text(text).expect("opens");
    let plan = TastingPlan::from_json(include_str!("plans/plan_version_1.json")).expect("opens");
    assert_eq!(file.study, plan.study_id());
    assert!(file.data_entry.fits(&plan));
    // As it stands in the file: 42.5 on the first line of the first page, and no mark on the second.
    assert_eq!(file.data_entry.first[0], [Entry::Score(42.5), Entry::NoMark]);
    assert_eq!(file.to_text(), text.trim_end());
}

#[test]
fn a_second_person_finds_what_the_first_mistyped() {
    let plan = plan(3, 2);
    let mut data_entry = DataEntry::of_plan(&plan, EntryOptions { ask_page_code: false, rows_between_checks: 0 });
    for page in 0..data_entry.pages.len() {
        type_page(&mut data_entry, &[10, 20, 30].map(|score| (score + page).to_string()));
    }
    assert_eq!(data_entry.awaiting, Awaiting::Nothing);
    assert_eq!(why(data_entry.enter("1")), "All pages are typed. Go to a page to change it.");
    data_entry.begin_pass(Pass::Second);
    assert_eq!(data_entry.count().typed, 0, "the second person does not see the first");
    for page in 0..data_entry.pages.len() {
        let mut scores = [10, 20, 30].map(|score| (score + page).to_string());
        match page {
            0 => scores[1] = "21".to_owned(),
            1 => scores[1] = "12".to_owned(),
            2 => scores[2] = "-".to_owned(),
            _ => {}
        }
        type_page(&mut data_entry, &scores);
    }
    let found: Vec<(usize, usize)> = data_entry.differences(1.0).iter().map(|found| (found.page, found.row)).collect();
    assert_eq!(found, [(1, 1), (2, 2)]);
    let undecided = data_entry.keyed_study(&plan, 1.0, "2026-03-09 12:00");
    assert_eq!((undecided.undecided, undecided.not_typed, undecided.typed_once), (2, 0, 0));
    data_entry.resolve(1, 1, Entry::Score(12.0));
    data_entry.resolve(2, 2, Entry::NoMark);
    let keyed = data_entry.keyed_study(&plan, 1.0, "2026-03-09 12:00");
    assert_eq!(keyed.undecided, 0);
    assert_eq!(keyed.study.score(1, 1), Some(12.0));
    assert_eq!(keyed.study.score(2, 2), None);
    assert_eq!(keyed.study.score(0, 1), Some(20.0), "within the tolerance the first entry stands");
}

/// Scores of an invented panel: a profile a sample, a level an assessor, noise.
fn invented_scores(plan: &TastingPlan, seed: u64) -> Vec<Vec<f64>> {
    let mut random = Random::seeded(seed);
    let attributes = plan.attributes.attributes.len();
    let profile: Vec<f64> = (0..attributes).map(|_| 15.0 + 70.0 * random.unit()).collect();
    let shifts: Vec<Vec<f64>> = (0..3).map(|_| (0..attributes).map(|_| 6.0 * random.normal()).collect()).collect();
    let levels: Vec<f64> = plan.assessors.iter().map(|_| 6.0 * random.normal()).collect();
    let score = |value: f64| (value.clamp(0.0, 100.0) * 2.0).round() / 2.0;
    plan.servings()
        .iter()
        .map(|cup| {
            (0..attributes)
                .map(|row| score(profile[row] + shifts[cup.sample][row] + levels[cup.assessor] + 9.0 * random.normal()))
                .collect()
        })
        .collect()
}

fn typed(plan: &TastingPlan, scores: &[Vec<f64>]) -> DataEntry {
    let mut data_entry = DataEntry::of_plan(plan, EntryOptions::default());
    for page in scores {
        let texts: Vec<String> = page.iter().map(f64::to_string).collect();
        type_page(&mut data_entry, &texts);
    }
    data_entry
}

#[test]
fn honest_pages_raise_no_alarm_and_slipped_ones_do() {
    let plan = plan(20, 8);
    let (mut false_alarms, mut caught, mut mirrored, mut pages) = (0, 0, 0, 0);
    for seed in 0..6 {
        let scores = invented_scores(&plan, seed);
        let honest = typed(&plan, &scores);
        for page in 0..scores.len() {
            pages += 1;
            false_alarms += usize::from(honest.slip_alarm(page).is_some());
            let mut slipped = scores.clone();
            // Row 5 is typed twice: all after it lands a row too low.
            let twice = slipped[page][4];
            slipped[page].insert(5, twice);
            slipped[page].pop();
            let alarm = typed(&plan, &slipped).slip_alarm(page);
            caught += usize::from(matches!(alarm, Some(PageSlipAlarm::Shifted { by: 1, .. })));
            let mut turned = scores.clone();
            turned[page].iter_mut().for_each(|score| *score = 100.0 - *score);
            mirrored +=
                usize::from(matches!(typed(&plan, &turned).slip_alarm(page), Some(PageSlipAlarm::Mirrored { .. })));
        }
    }
    println!("{pages} pages: {false_alarms} false alarms, {caught} slips caught, {mirrored} mirrored pages caught");
    assert_eq!(false_alarms, 0);
    assert!(caught * 10 >= pages * 9, "{caught} of {pages}");
    assert!(mirrored * 10 >= pages * 9, "{mirrored} of {pages}");
}

#[test]
fn an_alarm_says_where_to_look() {
    let alarm = PageSlipAlarm::Shifted { first_row: 4, by: 1, as_typed: 0.21, moved: 0.93 };
    assert_eq!(
        alarm.sentence(),
        "From row 5 on the page fits the panel better one row higher (correlation 0.93 instead of 0.21). Look at the paper: \
         was a row typed twice?"
    );
}

#[test]
fn from_plan_over_keying_to_the_same_verdict_as_from_a_file() {
    let plan = plan(6, 10);
    let scores = invented_scores(&plan, 4);
    let keyed = typed(&plan, &scores).keyed_study(&plan, 1.0, "2026-03-09 12:00");
    assert_eq!((keyed.study.score_count(), keyed.typed_once), (6 * 60, 6 * 60));

    let mut builder = StudyBuilder::new(Scale::default());
    // A file names samples in any order; the plan's order makes the two comparable line by line.
    plan.brief.samples.iter().for_each(|sample| _ = builder.sample(&sample.name));
    for (cup, page) in plan.servings().iter().zip(&scores) {
        for (attribute, score) in plan.attributes.attributes.iter().zip(page) {
            let address = ScoreAddress {
                assessor: &plan.assessors[cup.assessor],
                sample: &plan.brief.samples[cup.sample].name,
                replicate: cup.replicate,
                session: Some(&session_name(cup.session)),
                position: Some(cup.position),
                label: None,
            };
            builder.add(address, &attribute.name, *score).expect("no cell twice");
        }
    }
    let mut from_file = builder.finish("from a file");
    from_file.settings = keyed.study.settings.clone();
    let (typed, read) = (analyse(&keyed.study), analyse(&from_file));
    assert_eq!(typed.candidates.len(), 2);
    assert_eq!(typed.candidates, read.candidates);
    assert_eq!(typed.attributes, read.attributes);
}
