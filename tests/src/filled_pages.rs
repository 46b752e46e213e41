//! The filled pages that the tests in a browser put in, with their plan and their truth, and how they are put in.

use crate::browser::{Browser, DroppedFile, PATIENCE, bundle, file_address};
use likeness_core::plan::brief::attributes::AttributeList;
use likeness_core::plan::brief::draft::PlanDraft;
use likeness_core::plan::brief::study_brief::{PlannedSample, SampleRole};
use likeness_core::plan::tasting_plan::TastingPlan;
use likeness_core::scan_desk::desk::ScanDesk;
use std::path::{Path, PathBuf};

/// Where the generator drew the marks, in mm, nothing where it left the row empty.
pub const TRUTH: [(&str, [Option<f64>; 12]); 2] = include!("../../core/tests/scans/truth.in");

/// Where they lie.
pub fn scans() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../core/tests/scans")
}

/// The plan of the fixtures, as core/tests/scans/README.md has the shell draft it.
pub fn plan() -> TastingPlan {
    let words = std::fs::read_to_string(scans().join("words.csv")).expect("the list of the fixtures");
    let numbered = |what: &str, count: usize| (1..=count).map(|number| format!("{what} {number}")).collect::<Vec<_>>();
    let mut draft = PlanDraft {
        attributes: AttributeList::read_csv(&words, "words.csv").list,
        assessors_typed: numbered("Assessor", 10).join("\n"),
        replicates: 2,
        seed: 8,
        ..PlanDraft::default()
    };
    draft.brief.title = "Study drafted in the shell".to_owned();
    let role = |index: usize| if index == 0 { SampleRole::Target } else { SampleRole::Candidate };
    let samples = numbered("Sample", 4);
    draft.brief.samples =
        samples.iter().enumerate().map(|(index, name)| PlannedSample::named(name, role(index))).collect();
    draft.make("").expect("a sound draft")
}

/// The page with the plan open at its filled pages.
pub fn page_with(plan: &TastingPlan) -> Browser {
    let browser = Browser::start();
    browser.open(&file_address(&bundle("likeness.html")));
    browser.find("[data-test=open-file]");
    let file = DroppedFile { name: "plan.likeness.json".to_owned(), bytes: plan.to_json().into_bytes() };
    browser.drop_files(&[file]);
    go_to_pictures(&browser);
    browser
}

/// Goes to the filled pages.
pub fn go_to_pictures(browser: &Browser) {
    browser.wait_until("the plan", PATIENCE, || browser.has("[data-test=view-plan]"));
    browser.find("[data-test=view-plan]").click();
    browser.wait_until("the parts", PATIENCE, || browser.has("[data-test=plan-part-pictures]"));
    browser.find("[data-test=plan-part-pictures]").click();
    browser.wait_until("the desk", PATIENCE, || browser.has("[data-test=scan-pages]"));
}

/// Drops files and waits until all of them are on the list.
pub fn put_in(browser: &Browser, files: &[DroppedFile], on_the_list: usize) {
    browser.drop_files(files);
    let rows = || browser.script("return document.querySelectorAll('[data-test=pictures] tbody tr').length", &[]);
    browser.wait_until("the pictures", 4 * PATIENCE, || rows().as_u64() == Some(on_the_list as u64));
}

/// The two pages.
pub fn fixtures() -> Vec<DroppedFile> {
    TRUTH.iter().map(|(name, _)| DroppedFile::from_disk(&scans().join(name))).collect()
}

/// What the page keeps of the desk at each step.
pub fn desk(browser: &Browser, plan: &TastingPlan) -> ScanDesk {
    let kept = browser
        .script("return localStorage.getItem(arguments[0])", &[format!("likeness-reading-{}", plan.study_id()).into()]);
    ScanDesk::from_text(kept.as_str().expect("the desk is kept")).expect("a sound desk")
}
