//! One study, one plan, one sheet in two tabs: each is told at once, neither overwrites the other, and both versions are there
//! in the end. In the single file opened from disk, whose tabs share what the browser keeps.

use likeness_core::plan::on_screen::ballot_file::{OnScreenBallot, OnScreenScope};
use likeness_tests::browser::{Browser, DroppedFile, PATIENCE, Tab, bundle, file_address};
use likeness_tests::tasting::small_plan;
use serde_json::json;
use std::time::Duration;

const ELSEWHERE: &str = "open in another tab too";
const BESIDE: &str = "changed in another tab meanwhile";
/// Longer than a change waits to be kept.
const KEPT: Duration = Duration::from_millis(1200);

fn open_page(browser: &Browser) {
    browser.open(&file_address(&bundle("likeness.html")));
    browser.wait_until("the page", PATIENCE, || browser.has("[data-test=learn-open], [data-test=booth]"));
}

/// A second tab with the page, which brings back what is open in the first.
fn second_tab(browser: &Browser) -> Tab {
    let tab = browser.new_tab();
    open_page(browser);
    tab
}

fn drop_file(browser: &Browser, name: &str, text: String) {
    browser.drop_files(&[DroppedFile { name: name.to_owned(), bytes: text.into_bytes() }]);
}

fn wait_for_words(browser: &Browser, words: &str) {
    browser.wait_until(words, PATIENCE, || browser.text().contains(words));
}

fn state(browser: &Browser, hook: &str, value: &str) {
    browser.find(&format!("[data-test={hook}]")).script(
        "this_element.value = arguments[0]; for (const kind of ['input', 'change']) \
         this_element.dispatchEvent(new Event(kind, {bubbles: true}))",
        &[json!(value)],
    );
}

#[test]
fn a_study_in_two_tabs_is_told_at_once_and_both_versions_stay() {
    let browser = Browser::start();
    open_page(&browser);
    let first = browser.tab();
    browser.find("[data-test=open-demo]").click();
    browser.wait_until("the verdict", PATIENCE, || browser.has("[data-test=verdict-sentence]"));
    std::thread::sleep(KEPT);
    let second = second_tab(&browser);
    wait_for_words(&browser, ELSEWHERE);
    browser.go_to_tab(&first);
    wait_for_words(&browser, ELSEWHERE);
    // The second tab writes first: it keeps the name.
    browser.go_to_tab(&second);
    state(&browser, "margin", "7");
    std::thread::sleep(KEPT);
    assert!(!browser.text().contains(BESIDE), "nobody else has written");
    browser.go_to_tab(&first);
    state(&browser, "margin", "5");
    wait_for_words(&browser, BESIDE);
    wait_for_words(&browser, "(other version, ");
    browser.screenshot("two-tabs");
    assert_eq!(browser.find("[data-test=margin]").value(), "5", "what is shown here stays");
    // Both go on, each in its own place.
    state(&browser, "margin", "4");
    std::thread::sleep(KEPT);
    browser.go_to_tab(&second);
    state(&browser, "margin", "8");
    std::thread::sleep(KEPT);
    assert!(!browser.text().contains(BESIDE), "each has a place of its own now");
    browser.find("[data-test=close-study]").click();
    browser.reload();
    browser.wait_until("both kept", PATIENCE, || browser.find_all("[data-test=kept-study]").len() == 2);
    let lines: Vec<String> = browser.find_all("[data-test=kept-study]").iter().map(|line| line.text()).collect();
    // Each stands there with its time, "2026-03-14 09:26, 39 kB".
    assert!(lines.iter().all(|line| line.contains(" kB") || line.contains("\u{a0}kB")), "{lines:?}");
    let other = lines.iter().position(|line| line.contains("(other version, ")).expect("the other version");
    browser.find_all("[data-test=open-kept]")[1 - other].click();
    browser.wait_until("the study", PATIENCE, || browser.has("[data-test=margin]"));
    assert_eq!(browser.find("[data-test=margin]").value(), "8");
    browser.find("[data-test=close-study]").click();
    browser.wait_until("both kept", PATIENCE, || browser.find_all("[data-test=open-kept]").len() == 2);
    let lines: Vec<String> = browser.find_all("[data-test=kept-study]").iter().map(|line| line.text()).collect();
    let other = lines.iter().position(|line| line.contains("(other version, ")).expect("the other version");
    browser.find_all("[data-test=open-kept]")[other].click();
    browser.wait_until("the study", PATIENCE, || browser.has("[data-test=margin]"));
    assert_eq!(browser.find("[data-test=margin]").value(), "4");
    browser.assert_quiet();
}

#[test]
fn a_plan_in_two_tabs_is_told_at_once_and_both_versions_stay() {
    let browser = Browser::start();
    open_page(&browser);
    let first = browser.tab();
    drop_file(&browser, "plan.likeness.json", small_plan(false).to_json());
    browser.wait_until("the plan", PATIENCE, || browser.has("[data-test=plan-part-question]"));
    browser.find("[data-test=plan-part-question]").click();
    std::thread::sleep(KEPT);
    let second = second_tab(&browser);
    wait_for_words(&browser, ELSEWHERE);
    browser.go_to_tab(&first);
    wait_for_words(&browser, ELSEWHERE);
    state(&browser, "plan-title", "Mango, first tab");
    std::thread::sleep(KEPT);
    browser.go_to_tab(&second);
    browser.find("[data-test=plan-part-question]").click();
    state(&browser, "plan-title", "Mango, second tab");
    wait_for_words(&browser, "This plan was changed in another tab meanwhile.");
    assert!(browser.find("[data-test=plan-title]").value().starts_with("Mango, second tab (other version, "));
    std::thread::sleep(KEPT);
    browser.reload();
    browser.wait_until("the plan", PATIENCE, || browser.has("[data-test=kept-plans-menu]"));
    browser.find("[data-test=kept-plans-menu]").script("this_element.open = true", &[]);
    browser.wait_until("both kept", PATIENCE, || browser.find_all("[data-test=kept-plan]").len() == 2);
    let lines: Vec<String> = browser.find_all("[data-test=kept-plan]").iter().map(|line| line.text()).collect();
    assert!(lines.iter().any(|line| line.contains("Mango, first tab")), "{lines:?}");
    assert!(lines.iter().any(|line| line.contains("Mango, second tab (other version, ")), "{lines:?}");
    browser.assert_quiet();
}

#[test]
fn a_sheet_in_two_tabs_is_told_at_once_and_the_marks_of_both_stay() {
    let plan = small_plan(false);
    let form = OnScreenBallot::of_plan(&plan, OnScreenScope::default(), 0, &[]).expect("a form can be made");
    let browser = Browser::start();
    open_page(&browser);
    let first = browser.tab();
    drop_file(&browser, "form.likeness-booth.json", form.to_text());
    browser.find("[data-test=sheet-0]").click();
    browser.find("[data-test=consent]").click();
    browser.wait_until("the first cup", PATIENCE, || browser.has("[data-test=booth-cup], [data-test=end-rest]"));
    if browser.has("[data-test=end-rest]") {
        browser.find("[data-test=end-rest]").click();
    }
    mark(&browser, 2);
    let second = second_tab(&browser);
    browser.wait_until("the sheet", PATIENCE, || browser.has("[data-test=line-1]"));
    browser.wait_until("told at once", PATIENCE, || browser.has("[data-test=sheet-elsewhere]"));
    assert_eq!(marked(&browser), "20");
    browser.go_to_tab(&first);
    browser.wait_until("told at once", PATIENCE, || browser.has("[data-test=sheet-elsewhere]"));
    mark(&browser, 3);
    browser.go_to_tab(&second);
    mark(&browser, 5);
    wait_for_words(&browser, "This sheet was marked in another tab meanwhile.");
    browser.screenshot("two-tabs-sheet");
    // A reload comes back to what this tab had before it, and the list of names has both.
    browser.reload();
    browser.wait_until("the sheet", PATIENCE, || browser.has("[data-test=line-1]"));
    assert_eq!(marked(&browser), "70");
    browser.find("[data-test=leave]").click();
    browser.find("[data-test=leave-sure]").click();
    browser.wait_until("the page", PATIENCE, || browser.has("[data-test=open-file]"));
    drop_file(&browser, "form.likeness-booth.json", form.to_text());
    browser.wait_until("the names", PATIENCE, || browser.has("[data-test=version-of-sheet-0]"));
    assert!(browser.find("[data-test=version-of-sheet-0]").text().contains("other version, 20"));
    browser.find("[data-test=sheet-0]").click();
    browser.wait_until("the sheet", PATIENCE, || browser.has("[data-test=line-1]"));
    assert_eq!(marked(&browser), "50", "the first tab's marks");
    browser.assert_quiet();
}

/// Ten millimetres further on the first line, so many times, by keys.
fn mark(browser: &Browser, steps: u32) {
    browser.find("[data-test=line-1]").script("this_element.focus()", &[]);
    if marked(browser).is_empty() {
        browser.press("\u{e011}");
    }
    (0..steps).for_each(|_| browser.press_with('\u{e008}', '\u{e014}'));
}

fn marked(browser: &Browser) -> String {
    browser.find("[data-test=line-1]").attribute("aria-valuenow").unwrap_or_default()
}
