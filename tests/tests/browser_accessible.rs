//! Every screen through an accessibility checker, on a desktop and a phone, light and dark; and the page for learning.

use likeness_tests::browser::{Browser, PATIENCE, SIZES, bundle, file_address};
use likeness_tests::reference::path;

fn page() -> Browser {
    let browser = Browser::start();
    browser.open(&file_address(&bundle("likeness.html")));
    browser.wait_until("the start of the page", PATIENCE, || browser.has("[data-test=learn-open]"));
    browser
}

fn open_demo(browser: &Browser) {
    browser.find("[data-test=open-demo]").click();
    browser.wait_until("the verdict", PATIENCE, || browser.has("[data-test=verdict-sentence]"));
}

/// The names of the views whose buttons can be pressed now.
fn views(browser: &Browser) -> Vec<String> {
    let buttons = browser.find_all("nav.views button:not(:disabled)");
    buttons.iter().filter_map(|button| button.attribute("data-test")).collect()
}

fn check_every_screen(browser: &Browser, scheme: &str) {
    browser.assert_accessible(&format!("the start ({scheme})"));
    browser.find("[data-test=learn-open]").click();
    browser.find("[data-test=run-checks]").click();
    browser.wait_until("the checks", PATIENCE, || browser.has("[data-test=checks]"));
    browser.assert_accessible(&format!("learn and check ({scheme})"));
    browser.find("[data-test=learn-back]").click();
    browser.find("[data-test=open-file]").set_files(&[&path("data/tvbo8_wide.csv")]);
    browser.wait_until("the preview", PATIENCE, || browser.has("[data-test=preview]"));
    browser.assert_accessible(&format!("the preview ({scheme})"));
    browser.reload();
    open_demo(browser);
    let views = views(browser);
    assert!(views.len() >= 7, "{views:?}");
    for view in views {
        // By script: what is kept may still be arriving and move the header under a pointer.
        browser.find(&format!("[data-test={view}]")).script("this_element.click()", &[]);
        browser.assert_accessible(&format!("{view} ({scheme})"));
    }
}

#[test]
fn every_screen_can_be_used_by_everybody_on_a_light_desktop() {
    let browser = page();
    check_every_screen(&browser, "light desktop");
}

#[test]
fn every_screen_can_be_used_by_everybody_on_a_dark_phone() {
    let browser = page();
    browser.prefer("prefers-color-scheme", "dark");
    browser.resize(SIZES[2]);
    check_every_screen(&browser, "dark phone");
}

#[test]
fn the_checker_finds_what_is_wrong() {
    let browser = page();
    browser.script("document.querySelector('main').innerHTML = '<img src=\"data:,\"><input>'", &[]);
    let caught =
        std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| browser.assert_accessible("a broken screen")));
    let why = *caught.expect_err("an unnamed picture and field are faults").downcast::<String>().expect("a sentence");
    assert!(why.contains("image-alt") && why.contains("label"), "{why}");
}

#[test]
fn published_figures_agree_in_the_browser_and_an_invented_study_opens_from_there() {
    let browser = page();
    browser.press("?");
    browser.wait_until("the page for learning", PATIENCE, || browser.has("[data-test=learn]"));
    browser.find("[data-test=run-checks]").click();
    browser.wait_until("the checks", PATIENCE, || browser.has("[data-test=checks]"));
    let said = browser.find("[data-test=checks-summary]").text();
    assert!(said.starts_with("All ") && said.contains("figures agree"), "{said}");
    // As many rows as the engine has checks, each with what came out.
    let rows = browser.find_all("[data-test=checks] td.number").len();
    assert_eq!(rows, 3 * likeness_core::self_check::run().len());
    browser.find("[data-test=learn-open-large]").click();
    browser.wait_until("the verdict", PATIENCE, || browser.has("[data-test=verdict-sentence]"));
    assert!(browser.text().contains("Candidate E matches the target"));
    browser.press("]");
    browser.wait_until("the panel, which comes after the verdict", PATIENCE, || {
        browser.find("[data-test=view-panel]").attribute("aria-current").as_deref() == Some("page")
    });
}
