//! A whole plan: its study, its sheets, its file, its late changes.

use likeness_core::plan::brief::attributes::AttributeList;
use likeness_core::plan::brief::study_brief::{Brief, PlannedSample, SampleRole};
use likeness_core::plan::orders::serving_orders::Coverage;
use likeness_core::plan::session::brief_sheet::brief_sheet;
use likeness_core::plan::session::checklist::{CHECKLIST, CHECKLIST_CAUTION, checklist};
use likeness_core::plan::session::session_record::{RecordEntry, RecordKind};
use likeness_core::plan::session::sheets::{cup_labels, key_sheet, kitchen_sheet, preparation_sheet, serving_grid};
use likeness_core::plan::tasting_plan::{PlanRequest, TastingPlan, make_plan};
use likeness_core::study::{Margin, Scale};
use std::collections::BTreeSet;

fn request() -> PlanRequest {
    let mut samples = vec![PlannedSample::named("Fresh mango", SampleRole::Target)];
    samples.extend(["A", "B", "C"].map(|name| PlannedSample {
        lot: format!("lot {name}"),
        dose: "0.1 %".to_owned(),
        allergens: if name == "B" { "sulphites".to_owned() } else { String::new() },
        ..PlannedSample::named(&format!("Candidate {name}"), SampleRole::Candidate)
    }));
    let mut brief = Brief {
        title: "Mango nectar (invented)".to_owned(),
        samples,
        warm_up: Some(PlannedSample::named("Commercial nectar", SampleRole::Candidate)),
        margin: Margin::of(8.0),
        deciding: vec!["green".to_owned(), "ripe flesh".to_owned()],
        ..Brief::default()
    };
    brief.add_blind_duplicate();
    PlanRequest {
        brief,
        attributes: AttributeList::mango_nectar_example(),
        assessors: (1..=12).map(|number| format!("Assessor {number}")).collect(),
        scale: Scale::default(),
        replicates: 2,
        samples_per_session: None,
        coverage: Coverage::OneSession,
        target_in_each_session: false,
        used_codes: Vec::new(),
        seed: 7,
        made_at: "2026-03-02 09:00".to_owned(),
    }
}

fn plan() -> TastingPlan {
    make_plan(request()).expect("a plan")
}

#[test]
fn the_study_of_a_plan_knows_each_cup() {
    let plan = plan();
    let study = plan.study_skeleton("2026-03-09 10:00");
    assert_eq!(study.servings.len(), 12 * 5 * 2);
    assert_eq!(study.score_count(), 0);
    assert_eq!(study.settings.target.as_deref(), Some("Fresh mango"));
    assert_eq!(study.settings.deciding, ["green", "ripe flesh"]);
    assert_eq!(study.attributes.len(), 14);
    assert!(study.attributes.iter().all(|attribute| !attribute.low_end.is_empty()));
    for (serving, cup) in study.servings.iter().zip(plan.servings()) {
        assert_eq!(study.assessors[serving.assessor as usize].name, plan.assessors[cup.assessor]);
        assert_eq!(study.samples[serving.sample as usize].name, plan.brief.samples[cup.sample].name);
        assert_eq!((serving.replicate, serving.position), (cup.replicate, Some(cup.position)));
        assert!(study.samples[serving.sample as usize].codes.contains(&cup.code));
        assert_eq!(plan.serving_of_code(cup.assessor, &cup.code), Some(cup));
    }
    // A code is in one list only: a swapped code can't go unseen.
    let codes: Vec<&String> = study.samples.iter().flat_map(|sample| &sample.codes).collect();
    assert_eq!(codes.len(), codes.iter().collect::<BTreeSet<_>>().len());
}

#[test]
fn sheets_hold_every_cup_and_only_the_confidential_ones_name_samples() {
    let plan = plan();
    let names = ["Fresh mango", "Candidate A", "Candidate B", "Candidate C", "Commercial"];
    for (sheet, rows) in [
        (kitchen_sheet(&plan, 1), 60),
        (cup_labels(&plan, 1), 60),
        (preparation_sheet(&plan, 1), 6),
        (key_sheet(&plan), 12),
    ] {
        assert_eq!(sheet.rows.len(), rows, "{}", sheet.title);
        assert!(sheet.rows.iter().all(|row| row.len() == sheet.columns.len()));
        let named = names.iter().any(|name| sheet.to_csv().contains(name));
        assert_eq!(named, sheet.confidential, "{}", sheet.title);
    }
    let kitchen = kitchen_sheet(&plan, 2);
    let positions: Vec<u32> = kitchen.rows.iter().map(|row| row[1].parse().expect("a number")).collect();
    assert!(positions.windows(2).all(|pair| pair[0] <= pair[1]));
    assert!(kitchen.notes[1].contains("warm-up cup"));
    // The grid of who serves: 12 assessors, a warm-up and 5 cups each, every code of the session beside a box to tick.
    let grid = serving_grid(&plan, 2);
    assert_eq!((grid.rows.len(), grid.columns.len()), (12, 2 + 1 + 5));
    assert!(grid.rows.iter().all(|row| row.len() == grid.columns.len()));
    assert!(grid.rows.iter().flat_map(|row| &row[2..]).all(|cell| cell.starts_with("\u{2610} ")));
    for row in &kitchen.rows {
        let line = grid.rows.iter().find(|line| line[1] == row[2]).expect("each assessor has a line");
        let position: usize = row[1].parse().expect("a number");
        assert_eq!(line[2 + position], format!("\u{2610} {}", row[3]));
    }
    assert!(!names.iter().any(|name| grid.to_csv().contains(name)));
    let prepared: usize =
        preparation_sheet(&plan, 1).rows.iter().map(|row| row[5].parse::<usize>().expect("cups")).sum();
    assert_eq!(prepared, 60 + 12);
    assert!(key_sheet(&plan).notes[0].starts_with("CONFIDENTIAL"));
}

#[test]
fn separate_preparations_take_turns_and_stand_on_sheets_labels_and_checklist() {
    let with = |preparations: usize, replicates: usize| {
        let mut request = PlanRequest { replicates, ..request() };
        request.brief.preparations = preparations;
        make_plan(request)
    };
    let plan = with(2, 3).expect("a plan");
    let turns: Vec<Option<u32>> = plan.sessions.iter().map(|session| plan.preparation_in(session.number)).collect();
    assert_eq!(turns, [Some(1), Some(2), Some(1)]);
    for sheet in [kitchen_sheet(&plan, 2), preparation_sheet(&plan, 2), cup_labels(&plan, 2)] {
        let column = sheet.columns.iter().position(|head| head == "preparation").expect("its own column");
        assert!(sheet.rows.iter().all(|row| row.len() == sheet.columns.len() && row[column] == "2"), "{}", sheet.title);
    }
    assert!(preparation_sheet(&plan, 2).notes.iter().any(|note| note.contains("no interval would show it")));
    assert!(checklist(&plan, 2).to_csv().contains("Preparation 2 of each sample was made anew"));
    assert!(checklist(&with(1, 3).expect("a plan"), 2).to_csv().contains("One preparation of each sample serves all"));
    assert_eq!(
        with(3, 2).expect_err("more pots than replicates").to_string(),
        "3 preparations of each sample don't fit 2 replicates. Give one preparation, or as many as replicates at most: a \
         replicate is served from one."
    );
    assert!(with(0, 2).is_err());
}

#[test]
fn the_checklist_names_what_must_not_be_forgotten() {
    let sheet = checklist(&plan(), 1);
    // One line on preparations and one on allergens come from the plan itself.
    assert_eq!(sheet.rows.len(), CHECKLIST.len() + 2);
    assert_eq!(sheet.notes, [CHECKLIST_CAUTION]);
    let text = sheet.to_csv();
    for word in [
        "light masks",
        "temperature",
        "crackers",
        "rest is kept",
        "consent",
        "Neat aroma chemicals",
        "personal data",
        "permitted",
    ] {
        assert!(text.contains(word), "{word}");
    }
    assert!(text.contains("Allergens named in the plan: sulphites."));
}

#[test]
fn a_plan_comes_back_from_its_file() {
    let mut plan = plan();
    plan.record.push(RecordEntry {
        when: "2026-03-09 10:20".to_owned(),
        session: 1,
        kind: RecordKind::BlockedNose,
        assessor: Some(3),
        code: None,
        note: "since yesterday".to_owned(),
    });
    let text = plan.to_json();
    assert_eq!(TastingPlan::from_json(&text).expect("opens"), plan);
    assert_eq!(plan.to_json(), text);
    assert_eq!(
        plan.record[0].exclusion_reason().as_deref(),
        Some("blocked nose: since yesterday (noted in session 1, 2026-03-09 10:20)")
    );
}

#[test]
fn a_file_that_cannot_be_opened_says_why() {
    let text = plan().to_json();
    let cases = [
        ("not json".to_owned(), "The file is no plan (line 1, column 2: "),
        (
            text.replace("likeness-plan", "likeness-study"),
            "The file calls itself “likeness-study” and not “likeness-plan”.",
        ),
        (
            text.replace("\"version\":3,\"program\"", "\"version\":4,\"program\""),
            "The plan was saved in version 4 and this program reads up to 3. Open it with a newer program.",
        ),
        (text[..text.len() / 2].to_owned(), "The file is no plan (line 1, column "),
        (text.replace("\"replicates\":2", "\"replicates\":\"two\""), "The plan is damaged (line 1, column "),
        (text.replace("\"order\":[", "\"order\":[77,"), "The orders of the plan don't fit its samples and assessors."),
    ];
    for (text, begins) in cases {
        let message = TastingPlan::from_json(&text).expect_err(begins).to_string();
        assert!(message.starts_with(begins), "{message}");
    }
}

/// A plan file as version 1 wrote it, counts and all: four samples, three a session with the target in each, one absent.
const VERSION_1: &str = include_str!("plans/plan_version_1.json");

#[test]
fn a_plan_of_version_1_opens_and_what_it_stored_is_computed() {
    let plan = TastingPlan::from_json(VERSION_1).expect("opens");
    // The file itself holds what the program computed when it was written.
    let file: serde_json::Value = serde_json::from_str(VERSION_1).expect("sound");
    let stored = &file["plan"]["orders"];
    let computed = |value: serde_json::Result<serde_json::Value>| value.expect("plain data");
    assert_eq!(computed(serde_json::to_value(&plan.orders.balance)), stored["balance"]);
    assert_eq!(computed(serde_json::to_value(&plan.orders.balance_by_replicate)), stored["balance_by_replicate"]);
    assert_eq!(computed(serde_json::to_value(&plan.orders.blocks)), stored["blocks"]);
    assert_eq!(computed(serde_json::to_value(&plan.orders.in_words)), stored["in_words"]);
    let rows = stored["rows"].as_array().expect("rows");
    assert_eq!(rows.len(), plan.orders.rows.len());
    for (row, stored) in plan.orders.rows.iter().zip(rows) {
        assert_eq!(computed(serde_json::to_value(&row.codes)), stored["codes"]);
    }
}

#[test]
fn a_plan_file_holds_no_counts_and_no_sentences() {
    let plan = TastingPlan::from_json(VERSION_1).expect("opens");
    let text = plan.to_json();
    let file: serde_json::Value = serde_json::from_str(&text).expect("sound");
    for name in ["balance", "balance_by_replicate", "blocks", "in_words"] {
        assert_eq!(file["plan"]["orders"].get(name), None, "{name}");
    }
    assert_eq!(file["plan"]["orders"]["rows"][0].get("codes"), None);
    assert_eq!(TastingPlan::from_json(&text).expect("opens"), plan);
}

#[test]
fn a_plan_of_version_2_opens_with_the_usual_profile_margin() {
    let mut older: serde_json::Value = serde_json::from_str(&plan().to_json()).expect("JSON");
    older["version"] = 2.into();
    let brief = older["plan"]["brief"].as_object_mut().expect("a brief");
    assert!(brief.remove("profile_share").is_some() && brief.remove("preparations").is_some());
    assert_eq!(TastingPlan::from_json(&older.to_string()).expect("opens"), plan());
}

#[test]
fn the_brief_is_printed_with_what_was_decided_and_goes_into_the_study() {
    let mut request = request();
    request.brief.profile_share = 0.5;
    let plan = make_plan(request).expect("a plan");
    let sheet = brief_sheet(&plan);
    assert!(sheet.confidential, "it names the samples");
    let decided =
        |what: &str| sheet.rows.iter().filter(|row| row[0] == what).map(|row| row[1].as_str()).collect::<Vec<_>>();
    let profile_margin = "0.5 of the margins: a typical difference of 4 mm beside a margin of 8 mm";
    assert_eq!(decided("margin"), ["\u{b1} 8 mm"]);
    assert_eq!(decided("profile margin"), [profile_margin]);
    assert_eq!(decided("target"), ["Fresh mango"]);
    assert_eq!(decided("deciding attributes"), ["green, ripe flesh"]);
    let study = plan.study_skeleton("2026-03-09 10:00");
    assert!((study.settings.profile_share - 0.5).abs() < 1e-12, "{:?}", study.settings);
}

#[test]
fn a_row_that_contradicts_the_key_is_refused() {
    // In the file the first row's first cup is 672, by the row and by the key.
    let text = VERSION_1.replacen("\"codes\":[\"672\"", "\"codes\":[\"673\"", 1);
    assert_ne!(text, VERSION_1);
    let message = TastingPlan::from_json(&text).expect_err("contradicts").to_string();
    assert!(message.starts_with("The orders of the plan don't fit"), "{message}");
}

#[test]
fn late_changes_go_by_name_and_are_logged() {
    let mut plan = plan();
    for assessor in 0..12 {
        plan.orders.mark_served(assessor, 1, 5).expect("served");
    }
    let changed = plan
        .with_absent("assessor 4", 2, 5, "2026-03-10 08:00")
        .and_then(|plan| plan.with_added("Assessor 13", 2, 6, "2026-03-10 08:05"))
        .expect("changed");
    assert_eq!(changed.assessors.len(), 13);
    assert_eq!(changed.servings().iter().filter(|cup| cup.session == 1).count(), 60);
    let second: BTreeSet<usize> =
        changed.servings().iter().filter(|cup| cup.session == 2).map(|cup| cup.assessor).collect();
    assert_eq!(second, (0..13).filter(|assessor| *assessor != 3).collect());
    assert_eq!(changed.log.len(), 3);
    assert_eq!(changed.log[2].what, "Assessor 13 takes part from session 2 on; the rest was laid out anew, seed 6.");
    assert_eq!(TastingPlan::from_json(&changed.to_json()).expect("opens"), changed);
    assert_eq!(
        plan.with_absent("Nobody", 2, 5, "").expect_err("nobody").to_string(),
        "There is no assessor “Nobody” in this plan. Check the name against the list."
    );
}

#[test]
fn names_must_be_there_once() {
    let twice = |change: fn(&mut PlanRequest)| {
        let mut request = request();
        change(&mut request);
        make_plan(request).expect_err("a fault").to_string()
    };
    assert_eq!(
        twice(|request| request.assessors[1] = "assessor  1".to_owned()),
        "“assessor  1” is the name of more than one assessor. Give each assessor a name of its own."
    );
    assert_eq!(
        twice(|request| request.attributes.attributes[3].name = "GREEN".to_owned()),
        "“GREEN” is the name of more than one attribute. Give each attribute a name of its own."
    );
    assert_eq!(
        twice(|request| request.brief.samples[1].name.clear()),
        "One sample has no name. Name it or take it out."
    );
    assert_eq!(
        twice(|request| request.attributes.attributes.clear()),
        "The plan has no attributes. Add the words the panel uses."
    );
}
