//! The main job in the shipped page, as a new user does it: open a file, check it, name the target, read the verdict.
//! What the page shows is compared with what the shell program prints for the same file.

use likeness_core::catalogue::Results;
use likeness_core::read::{ReadOptions, read_text};
use likeness_core::stats::{Analysis, analyse};
use likeness_core::tables::r#match::sentences::candidate_sentence;
use likeness_core::write::json::results_json;
use likeness_tests::browser::{Browser, PATIENCE, SIZES, bundle, file_address};
use likeness_tests::page_results::{assert_alike, results};
use likeness_tests::reference::path;
use serde_json::Value;
use std::path::Path;

const TARGET: &str = "TV1:1";

/// The page opened from disk.
fn page() -> Browser {
    let browser = Browser::start();
    browser.open(&file_address(&bundle("likeness.html")));
    browser
}

fn open_file(browser: &Browser, file: &Path) {
    browser.find("[data-test=open-file]").set_files(&[file]);
}

/// What the engine says of the real panel, by the same calls as the shell program.
fn engine() -> (Analysis, Value) {
    let name = "tvbo8_wide.csv";
    let bytes = std::fs::read(path(&format!("data/{name}"))).expect("the reference data are in the repository");
    let mut study = read_text(name, &bytes, &ReadOptions::default()).study.expect("a sound file");
    study.settings.target = Some(TARGET.to_owned());
    study.decided_at = Some(String::new());
    let analysis = analyse(&study);
    let json = results_json(&Results::of(&study), &study.notices);
    (analysis, json)
}

fn open_real_panel(browser: &Browser) {
    open_file(browser, &path("data/tvbo8_wide.csv"));
    browser.wait_until("the preview", PATIENCE, || browser.has("[data-test=preview]"));
    browser.find("[data-test=preview-target]").choose(TARGET);
    browser.find("[data-test=use-scores]").click();
    browser.wait_until("the decisions", PATIENCE, || browser.has("[data-test=show-verdict]"));
    assert!(!browser.has("[data-test=verdict-sentence]"), "the verdict must not be seen before it is asked for");
    browser.find("[data-test=show-verdict]").click();
    browser.wait_until("the verdict", PATIENCE, || browser.has("[data-test=verdict-sentence]"));
}

#[test]
fn a_real_panel_gives_the_same_verdict_and_numbers_as_the_shell() {
    let browser = page();
    open_real_panel(&browser);
    let (analysis, expected) = engine();
    let sentences: Vec<String> =
        browser.find_all("[data-test=verdict-sentence]").iter().map(|sentence| sentence.text()).collect();
    assert_eq!(sentences.len(), analysis.candidates.len());
    for candidate in &analysis.candidates {
        let sentence = candidate_sentence(&analysis, candidate).replace('-', "\u{2212}");
        let shown = sentences.iter().any(|shown| shown.replace('-', "\u{2212}") == sentence);
        assert!(shown, "“{sentence}” is not among {sentences:#?}");
    }
    let got = results(&browser);
    for part in ["target", "margin", "attributes", "candidates"] {
        assert_alike(&got[part], &expected[part], part);
    }
    browser.assert_quiet();
    browser.assert_nothing_outside();
}

#[test]
fn a_bad_file_says_what_is_wrong_and_leaves_the_open_study_alone() {
    let browser = page();
    open_real_panel(&browser);
    let before = results(&browser);
    let folder = path("../../target/browser-files");
    std::fs::create_dir_all(&folder).expect("a folder can be made");
    let picture = folder.join("panel.csv");
    // The first bytes of any PNG picture (PNG specification, signature).
    std::fs::write(&picture, [0x89, b'P', b'N', b'G', 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13]).expect("a file");
    open_file(&browser, &picture);
    browser.wait_until("the message", PATIENCE, || browser.has("[data-test=error-message]"));
    let message = browser.find("[data-test=error-message]").text();
    assert!(message.contains("panel.csv") && message.contains("image"), "{message}");
    assert_eq!(results(&browser), before);
    browser.assert_quiet();
}

#[test]
fn the_invented_study_opens_in_one_click_and_can_be_undone_and_printed() {
    let browser = page();
    browser.find("[data-test=open-demo]").click();
    browser.wait_until("the verdict", PATIENCE, || browser.has("[data-test=verdict-sentence]"));
    let headline = browser.find("[data-test=headline]").text();
    assert!(headline.contains("Fresh mango"), "{headline}");
    for size in SIZES {
        browser.resize(size);
        browser.screenshot("verdict");
        assert_eq!(browser.sticks_out(), Vec::<String>::new(), "{size:?}: a person would have to scroll sideways");
    }
    let wider = browser.find("[data-test=margin]");
    wider.script("this_element.value = '40'; this_element.dispatchEvent(new Event('change', {bubbles: true}))", &[]);
    browser.wait_until("a new verdict", PATIENCE, || browser.find("[data-test=headline]").text() != headline);
    browser.find("[data-test=undo]").click();
    browser.wait_until("the old verdict", PATIENCE, || browser.find("[data-test=headline]").text() == headline);
    browser.find("[data-test=view-report]").click();
    // It stands on panels that are drawn again in slices; on a slow machine that takes a moment.
    browser.wait_until("the report", PATIENCE, || browser.has("[data-test=report][aria-busy=false]"));
    let printed = std::fs::read(browser.print_pdf("report")).expect("a PDF");
    assert!(printed.starts_with(b"%PDF-") && printed.len() > 20_000, "{} bytes", printed.len());
    browser.assert_quiet();
    browser.assert_nothing_outside();
}

#[test]
fn dropping_and_pasting_open_a_preview_too() {
    let table = "assessor\tsample\treplicate\tripe\tgreen\nAda\tT\t1\t60\t20\nAda\tC\t1\t58\t24\nBea\tT\t1\t70\t31\nBea\tC\t1\t64\t30\n";
    let browser = page();
    browser.find("[data-test=paste]").paste(table);
    browser.wait_until("the preview", PATIENCE, || browser.has("[data-test=preview]"));
    assert!(browser.find("[data-test=counts]").text().contains("2 assessors"));
    let again = page();
    let file = path("data/machines_long.csv");
    again.drop_files(&[likeness_tests::browser::DroppedFile::from_disk(&file)]);
    again.wait_until("the preview", PATIENCE, || again.has("[data-test=preview]"));
    assert!(again.find("[data-test=counts]").text().contains("6 assessors"));
    browser.assert_quiet();
    again.assert_quiet();
}
