//! Every view with a real panel, at desktop and phone size: nothing sticks out, nothing complains, a reload brings the
//! study back, each view prints.

use likeness_core::catalogue::CATALOGUE;
use likeness_tests::browser::{Browser, DroppedFile, PATIENCE, SIZES, Size, bundle, file_address};
use likeness_tests::reference::path;
use std::collections::BTreeSet;

const TARGET: &str = "TV1:1";

/// The page opened from disk, the real panel dropped on it, its target named.
fn page_with_real_panel(size: Size) -> Browser {
    let browser = Browser::start();
    browser.resize(size);
    browser.open(&file_address(&bundle("likeness.html")));
    browser.wait_until("the start", PATIENCE, || browser.has("[data-test=open-file]"));
    browser.drop_files(&[DroppedFile::from_disk(&path("data/tvbo8_wide.csv"))]);
    browser.wait_until("the preview", PATIENCE, || browser.has("[data-test=preview]"));
    browser.find("[data-test=preview-target]").choose(TARGET);
    browser.find("[data-test=use-scores]").click();
    browser.wait_until("the study", PATIENCE, || browser.has("nav.views button[aria-current=page]"));
    browser
}

fn views(browser: &Browser) -> Vec<String> {
    let buttons = browser.find_all("nav.views button:not(:disabled)");
    buttons.iter().filter_map(|button| button.attribute("data-test")).collect()
}

fn walk(browser: &Browser, size: Size) {
    for view in views(browser) {
        browser.find(&format!("[data-test={view}]")).click();
        let is_here = || browser.find(&format!("[data-test={view}]")).attribute("aria-current").is_some();
        browser.wait_until(&view, PATIENCE, is_here);
        assert_eq!(browser.sticks_out(), Vec::<String>::new(), "{view}: a person would have to scroll sideways");
        let tab = "const strip = document.querySelector('.views ol').getBoundingClientRect(); \
                   const tab = document.querySelector('.views [aria-current=page]').getBoundingClientRect(); \
                   return tab.left >= strip.left - 1 && tab.right <= strip.right + 1;";
        browser.wait_until(&format!("{view} in sight among the views"), PATIENCE, || {
            browser.script(tab, &[]) == serde_json::Value::Bool(true)
        });
        let printed = std::fs::read(browser.print_pdf(&format!("{view}-{}", size.width_px))).expect("a PDF");
        assert!(printed.starts_with(b"%PDF-") && printed.len() > 5_000, "{view}: {} bytes", printed.len());
        browser.assert_quiet();
    }
    browser.assert_nothing_outside();
}

#[test]
fn every_view_of_a_real_panel_fits_and_prints_on_a_desktop() {
    walk(&page_with_real_panel(SIZES[0]), SIZES[0]);
}

#[test]
fn every_view_of_a_real_panel_fits_and_prints_on_a_phone() {
    walk(&page_with_real_panel(SIZES[2]), SIZES[2]);
}

#[test]
fn every_entry_of_the_catalogue_stands_on_a_view() {
    let browser = page_with_real_panel(SIZES[0]);
    browser.find("[data-test=view-match]").click();
    browser.wait_until("the settled margin", PATIENCE, || {
        browser.has("[data-test=show-verdict]") || browser.has("[data-test=verdict-sentence]")
    });
    if browser.has("[data-test=show-verdict]") {
        browser.find("[data-test=show-verdict]").click();
    }
    browser.wait_until("the verdict", PATIENCE, || browser.has("[data-test=verdict-sentence]"));
    let mut seen = BTreeSet::new();
    for view in views(&browser) {
        browser.find(&format!("[data-test={view}]")).click();
        let is_here = || browser.find(&format!("[data-test={view}]")).attribute("aria-current").is_some();
        browser.wait_until(&view, PATIENCE, is_here);
        let here =
            browser.script("return [...document.querySelectorAll('[data-entry]')].map(e => e.dataset.entry)", &[]);
        seen.extend(here.as_array().into_iter().flatten().filter_map(|id| Some(id.as_str()?.to_owned())));
    }
    let all: BTreeSet<String> = CATALOGUE.iter().map(|entry| entry.about.id.to_owned()).collect();
    assert_eq!(seen, all);
    browser.assert_quiet();
}

#[test]
fn a_reload_brings_the_study_back_with_what_was_decided() {
    let browser = page_with_real_panel(SIZES[0]);
    let state = browser.find("[data-test=study-state]").text();
    // It is kept a moment after the change.
    let is_kept = || browser.script("return localStorage.length > 0", &[]) == serde_json::Value::Bool(true);
    browser.wait_until("the browser's store", PATIENCE, is_kept);
    std::thread::sleep(std::time::Duration::from_millis(800));
    browser.reload();
    browser.wait_until("the study", PATIENCE, || browser.has("[data-test=study-state]"));
    assert_eq!(browser.find("[data-test=study-state]").text(), state);
    browser.find("[data-test=view-match]").click();
    browser.wait_until("the verdict", PATIENCE, || browser.text().contains(TARGET));
}

/// Means of 16 olive oils over a panel, opened as what they are.
fn page_with_means(size: Size) -> Browser {
    let browser = Browser::start();
    browser.resize(size);
    browser.open(&file_address(&bundle("likeness.html")));
    browser.wait_until("the start", PATIENCE, || browser.has("[data-test=open-file]"));
    browser.find("[data-test=open-file]").set_files(&[&path("data/oliveoil_sensory_long.csv")]);
    browser.wait_until("the reason", PATIENCE, || browser.text().contains("Means over assessors can't be judged"));
    assert!(browser.find_all("[data-test=use-scores]:not(:disabled)").is_empty(), "there is nothing to judge");
    browser.find_text("Nobody: these are means over a panel, for profile and map only").click();
    browser.wait_until("the means", PATIENCE, || browser.has("[data-test=use-scores]:not(:disabled)"));
    assert!(browser.text().contains("were read as means over a panel"));
    browser.find("[data-test=preview-target]").choose("G1");
    browser.find("[data-test=use-scores]").click();
    browser.wait_until("the study", PATIENCE, || browser.has("nav.views button[aria-current=page]"));
    browser
}

#[test]
fn means_without_assessors_show_profile_and_map_and_no_verdict() {
    let browser = page_with_means(SIZES[0]);
    walk(&browser, SIZES[0]);
    browser.find("[data-test=view-match]").click();
    browser.find("[data-test=show-verdict]").click();
    browser.wait_until("the verdicts", PATIENCE, || browser.has("[data-test=verdict-sentence]"));
    let sentences = browser.find_all("[data-test=verdict-sentence]");
    assert_eq!(sentences.len(), 15);
    assert!(sentences.iter().all(|one| one.text().contains("not shown to match")), "{}", sentences[0].text());
    browser.find("[data-test=view-map]").click();
    browser.wait_until("the map", PATIENCE, || browser.text().contains("Map of 16 samples"));
    browser.assert_quiet();
}

#[test]
fn means_without_assessors_fit_a_phone() {
    walk(&page_with_means(SIZES[2]), SIZES[2]);
}
