//! Every entry of the catalogue comes out of every face: text, JSON, report and workbook, with the same numbers.

use calamine::{Data, Reader, Xlsx};
use likeness_core::catalogue::{CATALOGUE, Given, JsonPlace, Results, ResultsRun};
use likeness_core::run::Run;
use likeness_core::table::Table;
use likeness_core::text::markup::escape;
use likeness_core::write::json::results_json;
use likeness_core::write::report_html::report_html;
use likeness_core::write::report_text::results_text;
use likeness_core::write::workbook::workbook_bytes;
use likeness_tests::studies::{invented_nectar, study_for_every_method};
use std::io::Cursor;

/// The tables of every entry that has a result.
fn all_tables(results: &Results) -> Vec<Table> {
    let tables = results.iter().filter_map(|(entry, found)| Some(entry.tables(&results.given, found.as_ref().ok()?)));
    tables.flatten().collect()
}

#[test]
fn the_study_of_this_file_leaves_no_entry_without_a_result() {
    let results = Results::of(&study_for_every_method());
    for (entry, found) in results.iter() {
        let reason = found.as_ref().err().map(ToString::to_string);
        assert_eq!(reason, None, "{}", entry.about.id);
        let found = found.as_ref().expect("it was just looked at");
        assert!(!entry.tables(&results.given, found).is_empty(), "{} shows no table", entry.about.id);
    }
}

#[test]
fn every_entry_stands_in_the_text_with_its_tables() {
    let study = study_for_every_method();
    let results = Results::of(&study);
    let text = results_text(&results, &study.notices);
    for (entry, _) in results.iter() {
        assert_eq!(text.matches(&format!("\n{}\n=", entry.about.title)).count(), 1, "{}", entry.about.id);
    }
    for table in all_tables(&results) {
        assert!(text.contains(&table.caption), "{}", table.name);
    }
}

#[test]
fn every_entry_stands_in_the_json_in_its_place() {
    let study = study_for_every_method();
    let results = Results::of(&study);
    let all = results_json(&results, &study.notices);
    let mut parts = 0;
    for (entry, found) in results.iter() {
        for part in entry.json(&results.given, found) {
            parts += 1;
            match part.place {
                JsonPlace::Top(name) => assert_eq!(all[name], part.value, "{}", entry.about.id),
                JsonPlace::EachAttribute(name) => {
                    let attributes = all["attributes"].as_array().expect("a list");
                    let stands: Vec<_> = attributes.iter().map(|attribute| attribute[name].clone()).collect();
                    assert_eq!(serde_json::Value::from(stands), part.value, "{}", entry.about.id);
                }
            }
        }
    }
    // All but the three entries that stand in the analysis itself.
    assert!(parts >= CATALOGUE.len() - 3, "{parts} parts");
}

#[test]
fn every_entry_stands_in_the_report_with_its_figures_and_tables() {
    let study = study_for_every_method();
    let results = Results::of(&study);
    let html = report_html(&study);
    let mut figures = 0;
    for (entry, found) in results.iter() {
        assert_eq!(html.matches(&format!("<h3>{}</h3>", escape(entry.about.title))).count(), 1, "{}", entry.about.id);
        figures += entry.figure_count(&results.given, found.as_ref().expect("every entry has a result"));
    }
    // The first page, which stands alone, shows the figure of the verdicts once more.
    assert_eq!(html.matches("<svg ").count(), figures + 1);
    for table in all_tables(&results) {
        assert!(html.contains(&format!("<caption>{}</caption>", escape(&table.caption))), "{}", table.caption);
    }
}

#[test]
fn every_entry_stands_in_the_workbook_with_its_numbers() {
    let study = study_for_every_method();
    let results = Results::of(&study);
    let bytes = workbook_bytes(&study, &results).expect("it can be written");
    let mut numbers = 0;
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).expect("it can be read");
    let sheets = results
        .iter()
        .flat_map(|(entry, found)| entry.sheets(&results.given, found.as_ref().expect("every entry has a result")));
    for table in sheets {
        let range = book.worksheet_range(&table.sheet()).unwrap_or_else(|_| panic!("no sheet {}", table.sheet()));
        let heads: Vec<String> = range.rows().next().expect("a header").iter().map(ToString::to_string).collect();
        for (place, column) in table.columns.iter().enumerate() {
            let at = heads.iter().position(|head| *head == column.full_head());
            let at = at.unwrap_or_else(|| panic!("{}: no column {} in {heads:?}", table.name, column.full_head()));
            for (row, found) in table.rows.iter().zip(range.rows().skip(1)) {
                if let (Some(number), Data::Float(found)) = (row.cells[place].as_number(), &found[at]) {
                    numbers += 1;
                    // Twelve digits are written.
                    assert!((number - found).abs() <= 1e-11 * number.abs(), "{}: {number} {found}", table.name);
                }
            }
        }
    }
    assert!(numbers > 1000, "only {numbers} numbers were compared");
}

#[test]
fn any_slicing_of_the_run_gives_the_same_numbers() {
    let study = invented_nectar();
    let whole = results_json(&Results::of(&study), &study.notices);
    let mut run = ResultsRun::start(Given::of(&study));
    let mut steps = 0;
    while !run.is_done() {
        run.step();
        steps += 1;
    }
    assert!(steps > 100, "{steps} steps are too few to be listened to in between");
    assert_eq!(results_json(&run.into_results(), &study.notices), whole);
}

#[test]
fn without_a_target_nothing_is_compared_and_the_rest_stands() {
    let mut study = study_for_every_method();
    study.decided_at = None;
    let results = Results::of(&study);
    let all = results_json(&results, &study.notices);
    assert!(all["target"].is_null() && all["distance"].is_null() && all["influence"].is_null());
    assert!(all["panel"]["assessors"].is_array() && all["map"]["axes"].is_array());
}
