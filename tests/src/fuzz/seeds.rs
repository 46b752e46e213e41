//! What mutations start from: small tables of several forms, and each file that Likeness writes, made by Likeness.

use super::Input;
use super::tables::Grid;
use crate::studies::{PANEL, invented_nectar};
use crate::tasting::{invented_marks, small_plan, study_of};
use likeness_core::plan::data_entry::entry::{DataEntry, EntryOptions};
use likeness_core::plan::data_entry::entry_file::EntryFile;
use likeness_core::plan::on_screen::ballot_file::{OnScreenBallot, OnScreenScope, allergen_sentences};
use likeness_core::plan::on_screen::ballot_run::{Finished, Moment, OnScreenRun, OnScreenStep};
use likeness_core::plan::on_screen::results_file::OnScreenResults;
use likeness_core::plan::tasting_plan::TastingPlan;
use likeness_core::study::{Exclusion, ExclusionScope, Study};
use likeness_core::write::study_file::study_file_text;
use likeness_core::write::tidy::tidy_csv;
use serde_json::Value;
use std::sync::OnceLock;

/// Tables: wide, long, with codes and their key below, matrices, means, sessions and positions.
pub(super) fn tables() -> &'static [Grid] {
    static TABLES: OnceLock<Vec<Grid>> = OnceLock::new();
    TABLES.get_or_init(|| {
        let tidy = tidy_csv(&small_study());
        let long = "judge,product,attribute,score\nAnna,A,green,45\nAnna,B,green,21\nBen,A,green,51\nBen,B,green,30\n\
            Anna,A,ripe,62\nAnna,B,ripe,80\nBen,A,ripe,58\nBen,B,ripe,71\n";
        let coded = "session,assessor,position,code,green,ripe\n1,Anna,1,417,45,62\n1,Anna,2,803,21,80\n\
            1,Ben,1,803,30,71\n1,Ben,2,417,51,58\n2,Anna,1,095,44,61\n2,Ben,1,095,40,66\n";
        let key = "code,sample,lot\n417,A,L1\n803,B,L2\n095,A,L1\n";
        let matrix = ",Anna,Ben,Eva\nA,45,51,40\nB,21,30,18\n";
        let means = "sample,green,ripe,sweet\nA,45.5,60.1,30\nB,21.2,75.3,41\nC,30,70,38\n";
        let nectar: String = include_str!("../../../public/demo/invented-mango-nectar.csv")
            .lines()
            .take(30)
            .fold(String::new(), |text, line| text + line + "\n");
        [PANEL, &tidy, long, coded, key, matrix, means, &nectar].into_iter().map(grid).collect()
    })
}

fn grid(csv: &str) -> Grid {
    csv.lines().map(|line| line.split(',').map(str::to_owned).collect()).collect()
}

/// Files of one kind as JSON.
pub(super) fn files(input: Input) -> &'static [Value] {
    static STUDIES: OnceLock<Vec<Value>> = OnceLock::new();
    static PLANS: OnceLock<Vec<Value>> = OnceLock::new();
    static BALLOTS: OnceLock<Vec<Value>> = OnceLock::new();
    static RESULTS: OnceLock<Vec<Value>> = OnceLock::new();
    static TYPING: OnceLock<Vec<Value>> = OnceLock::new();
    let plans = || [small_plan(false), small_plan(true)];
    match input {
        Input::PlanFile => PLANS.get_or_init(|| plans().iter().map(|plan| value(&plan.to_json())).collect()),
        Input::OnScreenBallot => {
            BALLOTS.get_or_init(|| plans().iter().map(|plan| value(&form(plan).to_text())).collect())
        }
        Input::OnScreenResults => RESULTS.get_or_init(|| plans().iter().map(|plan| value(&results(plan))).collect()),
        Input::TypingFile => TYPING.get_or_init(|| plans().iter().map(|plan| value(&typing(plan))).collect()),
        _ => STUDIES.get_or_init(|| {
            let earlier = include_str!("../../study_files/form-1.likeness.json");
            let nectar = study_file_text(&invented_nectar());
            [value(&study_file_text(&small_study())), value(&nectar), value(earlier)].to_vec()
        }),
    }
}

fn value(text: &str) -> Value {
    serde_json::from_str(text).expect("what Likeness writes is JSON")
}

/// Three assessors, three samples, with one of them left out and one score hidden.
fn small_study() -> Study {
    let plan = small_plan(false);
    let mut study = study_of(&plan, &invented_marks(&plan));
    let left_out =
        |scope| Exclusion { scope, reason: "a cold".to_owned(), when: "2026-03-02 10:00".to_owned(), late: true };
    study.exclusions.push(left_out(ExclusionScope::Assessor(2)));
    study.exclusions.push(left_out(ExclusionScope::Score { serving: 1, attribute: 0 }));
    study
}

fn form(plan: &TastingPlan) -> OnScreenBallot {
    OnScreenBallot::of_plan(plan, OnScreenScope::default(), 60, &allergen_sentences(plan)).expect("a form")
}

/// The first assessor's sheet, tasted to its end.
fn results(plan: &TastingPlan) -> String {
    let at = |seconds: u64| Moment { local: "2026-03-02 10:00".to_owned(), seconds };
    let mut run = OnScreenRun::of_form(&form(plan), 0).expect("a sheet");
    run.consent(&at(0));
    run.warm_up_done(&at(0));
    let mut now = 0;
    while run.step != OnScreenStep::Done {
        now += 60;
        run.end_rest(&at(now));
        (0..run.attributes.len()).for_each(|row| run.mark(row, Some(100 + row as u16 * 40)));
        while matches!(run.finish_cup(&at(now)), Finished::Asked { .. }) {}
    }
    OnScreenResults::of_run(&run, &at(now)).to_text()
}

/// Half of the marks typed.
fn typing(plan: &TastingPlan) -> String {
    let mut data_entry = DataEntry::of_plan(plan, EntryOptions::default());
    for number in 0..24 {
        data_entry.enter(&(number * 4).to_string());
    }
    EntryFile { study: plan.study_id(), data_entry }.to_text()
}
