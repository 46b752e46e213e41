//! Tables of results: each has a cell for each of its columns, and the target under another code stands last in all.

use likeness_core::catalogue::Results;
use likeness_core::catalogue::r#match::Closeness;
use likeness_core::stats::panel::performance::performance;
use likeness_core::stats::{Analysis, analyse};
use likeness_core::study::Study;
use likeness_core::table::{Role, Table, Value};
use likeness_core::tables::{r#match, panel, samples};
use likeness_core::write::report_html::report_html;
use likeness_tests::studies::invented_nectar;

/// The invented study, the candidate that lies closest said to be the target again.
fn with_target_again() -> (Study, Analysis, String) {
    let mut study = invented_nectar();
    let again = analyse(&study).most_alike_first()[0].sample.clone();
    study.settings.blind_duplicate = Some(again.clone());
    let analysis = analyse(&study);
    (study, analysis, again)
}

fn names(table: &Table) -> Vec<&str> {
    table.rows.iter().map(likeness_core::table::Row::name).collect()
}

#[test]
fn the_target_under_another_code_stands_last_everywhere() {
    let (study, analysis, again) = with_target_again();
    let results = Results::of(&study);
    let distances = results.get::<Closeness>().expect("a target is settled");
    assert_eq!(analysis.most_alike_first().last().expect("candidates").sample, again);
    let (verdicts, closeness) = (r#match::verdicts(&analysis), r#match::closeness(&analysis, distances));
    for table in [&verdicts, &closeness] {
        assert_eq!(table.rows.len(), analysis.candidates.len());
        assert_eq!(names(table).last(), Some(&again.as_str()), "{}", table.name);
        let marked: Vec<usize> =
            (0..table.rows.len()).filter(|row| !table.rows[*row].cells[0].detail.is_empty()).collect();
        assert_eq!(marked, [table.rows.len() - 1], "{}", table.name);
    }
    // Nobody asks whether the target is closer than a candidate, and the last candidate has none below it.
    let next = |row: usize| &closeness.cell(row, "closer_than_next").expect("a cell").value;
    let last = closeness.rows.len() - 1;
    assert!(matches!(next(last), Value::NotDefined(because) if because == "the target again"));
    assert!(matches!(next(last - 1), Value::NotDefined(because) if because.contains("farther")));
    let (first, second) = (closeness.rows[0].name(), closeness.rows[1].name());
    let closer = distances.closer.iter().find(|one| one.sample == first && one.than == second).expect("every pair");
    assert_eq!(*next(0), Value::Number(*closer.share.as_ref().expect("it was drawn")));
    let html = report_html(&study);
    let place = |name: &str| html.find(&format!("<span>{name} ")).unwrap_or_else(|| panic!("no verdict on {name}"));
    assert!(analysis.candidates.iter().all(|one| one.sample == again || place(&one.sample) < place(&again)));
}

#[test]
fn each_row_has_a_cell_for_each_column_and_one_column_is_teaching() {
    let study = invented_nectar();
    let analysis = analyse(&study);
    let found = performance(&study, &analysis.sample_p());
    let one = &analysis.candidates[0].sample;
    let tables = [
        samples::means(&analysis, &[]),
        samples::means_long(&analysis),
        samples::anova(&analysis),
        r#match::verdicts(&analysis),
        r#match::differences(&analysis, one),
        r#match::all_differences(&analysis),
        panel::assessors(&analysis, &found),
        panel::attributes(&analysis, &found),
        panel::grid(&analysis, &found),
    ];
    for table in &tables {
        assert!(!table.rows.is_empty() && table.rows.iter().all(|row| row.cells.len() == table.columns.len()));
        assert!(table.columns[0].role == Role::Name, "{}", table.name);
    }
    let warnings = |table: &Table| table.columns.iter().filter(|column| column.role == Role::Warning).count();
    assert_eq!(tables.iter().map(warnings).collect::<Vec<_>>(), [0, 0, 1, 0, 0, 0, 0, 0, 0]);
    // The last note of that table speaks of its last column.
    assert_eq!(tables[2].columns.last().expect("columns").role, Role::Warning);
    // All candidates below each other hold the rows of each.
    let all = &tables[5];
    let rows: Vec<_> = all.rows.iter().filter(|row| row.name() == one).map(|row| row.cells[1..].to_vec()).collect();
    assert!(rows == tables[4].rows.iter().map(|row| row.cells.clone()).collect::<Vec<_>>());
}

#[test]
fn samples_that_are_not_shown_are_left_out_of_the_means() {
    let analysis = analyse(&invented_nectar());
    let shown = [analysis.samples[2].clone(), analysis.samples[0].clone()];
    let table = samples::means(&analysis, &shown);
    let selected: Vec<&String> = table.rows[0].cells[1..].iter().map(|cell| &cell.selects).collect();
    assert_eq!(selected, [&analysis.samples[0], &analysis.samples[2]], "in the order of the study");
    let mean = analysis.attributes[0].mean_of(&analysis.samples[2]).expect("scores");
    assert_eq!(table.rows[0].cells[2].as_number(), Some(mean));
}
