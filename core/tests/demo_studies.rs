//! The demo files that ship are what the generator writes, byte for byte, and show what they are meant to show.

#[path = "../examples/demo_studies/generator.rs"]
mod generator;

use likeness_core::read::{ReadOptions, read_text};
use likeness_core::stats::panel::form_faults::{FormFaultKind, suspected_form_faults};
use likeness_core::stats::{Analysis, AttributeAnalysis, Verdict, analyse};
use likeness_core::study::Study;

#[test]
fn the_shipped_demo_studies_are_what_the_generator_writes() {
    for demo in generator::all() {
        let path = format!("{}/../public/demo/{}", env!("CARGO_MANIFEST_DIR"), demo.file_name);
        let shipped = std::fs::read_to_string(&path).unwrap_or_else(|why| panic!("{path}: {why}"));
        assert_eq!(shipped, demo.csv(), "run `cargo run -p likeness-core --example demo_studies`");
    }
}

#[test]
fn every_demo_says_in_its_name_that_it_is_invented() {
    assert!(generator::all().iter().all(|demo| demo.file_name.starts_with("invented-")));
}

fn verdict_of(analysis: &Analysis, sample: &str) -> Verdict {
    analysis.candidates.iter().find(|candidate| candidate.sample == sample).expect("a candidate").verdict
}

fn judged(file_name: &str) -> (Study, Analysis) {
    let demo = generator::all().into_iter().find(|demo| demo.file_name == file_name).expect("a demo");
    let reading = read_text(file_name, demo.csv().as_bytes(), &ReadOptions::default());
    let mut study = reading.study.expect("a demo can be read");
    study.settings.target = Some("Fresh mango".to_owned());
    let analysis = analyse(&study);
    (study, analysis)
}

// What is true of each sample stands in the generator; these tests hold that the studies show it.

#[test]
fn the_large_panel_shows_the_true_match_and_the_one_that_is_off() {
    let (study, analysis) = judged("invented-mango-large-panel.csv");
    assert_eq!(verdict_of(&analysis, "Fresh mango again"), Verdict::Match);
    assert_eq!(verdict_of(&analysis, "Candidate E"), Verdict::Match);
    assert_eq!(verdict_of(&analysis, "Candidate F"), Verdict::Off);
    let off = |attribute: &&AttributeAnalysis| {
        attribute.difference_of("Candidate F").is_some_and(|found| found.verdict == Verdict::Off)
    };
    let names: Vec<&str> = analysis.attributes.iter().filter(off).map(|found| found.attribute.as_str()).collect();
    assert_eq!(names, ["peel", "sweet"]);
    assert!(suspected_form_faults(&study).suspicions.is_empty());
}

#[test]
fn the_small_panel_shows_no_match_and_its_slipped_page_is_found() {
    let (study, analysis) = judged("invented-mango-small-panel.csv");
    assert_eq!(verdict_of(&analysis, "Candidate G"), Verdict::NotShown);
    let found = suspected_form_faults(&study).suspicions;
    assert_eq!(found.len(), 1, "{found:#?}");
    assert_eq!((found[0].kind, found[0].assessor.as_str()), (FormFaultKind::ShiftedDown, "Dina"));
    assert_eq!((found[0].samples.as_slice(), found[0].replicate), (["Candidate G".to_owned()].as_slice(), Some(2)));
}
