//! Several studies kept by the browser: listed, opened, renamed, saved, deleted and had back, also after a reload, in the
//! single file opened from disk.

use likeness_core::read::study_file::study_in;
use likeness_tests::browser::{Browser, PATIENCE, SIZES, bundle, file_address};
use serde_json::json;
use std::path::Path;

const PASTED: &str = "assessor\tsample\treplicate\tripe\tgreen\nAda\tT\t1\t60\t20\nAda\tC\t1\t58\t24\nBea\tT\t1\t70\t31\nBea\tC\t1\t64\t30\n";

fn page() -> Browser {
    let browser = Browser::start();
    browser.open(&file_address(&bundle("likeness.html")));
    browser
}

fn open_demo(browser: &Browser) {
    browser.find("[data-test=open-demo]").click();
    browser.wait_until("the verdict", PATIENCE, || browser.has("[data-test=verdict-sentence]"));
}

fn close(browser: &Browser) {
    browser.find("[data-test=close-study]").click();
    browser.wait_until("the start", PATIENCE, || browser.has("[data-test=open-demo]"));
}

fn kept(browser: &Browser) -> Vec<String> {
    // All at once: the list may be made anew while it is read.
    let titles = "return [...document.querySelectorAll('[data-test=kept-study] strong')].map((one) => one.innerText)";
    let found = browser.script(titles, &[]);
    found.as_array().into_iter().flatten().filter_map(|title| title.as_str().map(str::to_owned)).collect()
}

/// Two studies kept, none open: the invented one and a pasted one.
fn page_with_two() -> Browser {
    let browser = page();
    open_demo(&browser);
    close(&browser);
    browser.wait_until("one kept", PATIENCE, || kept(&browser).len() == 1);
    browser.find("[data-test=paste]").paste(PASTED);
    browser.wait_until("the preview", PATIENCE, || browser.has("[data-test=preview]"));
    browser.find("[data-test=use-scores]").click();
    browser.wait_until("the study", PATIENCE, || browser.has("[data-test=study-state]"));
    close(&browser);
    browser.wait_until("two kept", PATIENCE, || kept(&browser).len() == 2);
    browser
}

#[test]
fn studies_stay_kept_when_they_are_closed_and_the_page_is_loaded_again() {
    let browser = page_with_two();
    browser.reload();
    browser.wait_until("two kept", PATIENCE, || kept(&browser).len() == 2);
    for size in SIZES {
        browser.resize(size);
        browser.screenshot("kept-start");
        assert_eq!(browser.sticks_out(), Vec::<String>::new(), "{size:?}");
    }
    let demo = kept(&browser).iter().position(|title| title.contains("ango")).expect("the demo is kept");
    browser.find_all("[data-test=open-kept]")[demo].click();
    browser.wait_until("the verdict", PATIENCE, || browser.has("[data-test=verdict-sentence]"));
    // What is changed in a kept study is kept, and comes back on the next visit.
    let margin = browser.find("[data-test=margin]");
    margin.script("this_element.value = '7'; this_element.dispatchEvent(new Event('change', {bubbles: true}))", &[]);
    std::thread::sleep(std::time::Duration::from_millis(1200));
    browser.reload();
    browser.wait_until("the study", PATIENCE, || browser.has("[data-test=margin]"));
    assert_eq!(browser.find("[data-test=margin]").value(), "7");
    close(&browser);
    browser.wait_until("still two", PATIENCE, || kept(&browser).len() == 2);
    browser.assert_quiet();
    browser.assert_nothing_outside();
}

#[test]
fn a_change_is_kept_even_when_the_study_is_closed_at_once() {
    let browser = page();
    open_demo(&browser);
    let margin = browser.find("[data-test=margin]");
    margin.script("this_element.value = '6'; this_element.dispatchEvent(new Event('change', {bubbles: true}))", &[]);
    close(&browser);
    browser.wait_until("one kept", PATIENCE, || kept(&browser).len() == 1);
    browser.find("[data-test=open-kept]").click();
    browser.wait_until("the study", PATIENCE, || browser.has("[data-test=margin]"));
    assert_eq!(browser.find("[data-test=margin]").value(), "6");
    browser.assert_quiet();
}

#[test]
fn a_deleted_study_can_be_had_back_and_a_kept_one_is_renamed_and_saved() {
    let browser = page_with_two();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/browser-downloads/kept");
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).expect("a folder can be made");
    let folder = folder.canonicalize().expect("it is there");
    browser.cdp("Browser.setDownloadBehavior", &json!({"behavior": "allow", "downloadPath": folder.to_str()}));
    let before = kept(&browser);
    browser.find("[data-test=delete-kept]").click();
    browser.wait_until("one left", PATIENCE, || kept(&browser).len() == 1);
    browser.find("[data-test=undo-delete]").click();
    browser.wait_until("two again", PATIENCE, || kept(&browser).len() == 2);
    let mut after = kept(&browser);
    let mut expected = before;
    after.sort();
    expected.sort();
    assert_eq!(after, expected);
    browser.find("[data-test=rename-kept]").click();
    browser.wait_until("the field", PATIENCE, || browser.has("[data-test=new-name]"));
    browser.find("[data-test=new-name]").clear();
    browser.find("[data-test=new-name]").type_text("Round two");
    browser.find("[data-test=rename-done]").click();
    browser.wait_until("the new name", PATIENCE, || kept(&browser).contains(&"Round two".to_owned()));
    let place = kept(&browser).iter().position(|title| title == "Round two").expect("it is listed");
    browser.find_all("[data-test=save-kept]")[place].click();
    let file = folder.join("Round-two.likeness.json");
    browser.wait_until("the file", PATIENCE, || file.exists());
    std::thread::sleep(std::time::Duration::from_millis(200));
    let study = study_in(&std::fs::read_to_string(&file).expect("it can be read")).expect("a sound file");
    assert_eq!(study.title, "Round two");
    browser.assert_quiet();
}

#[test]
fn a_full_browser_says_so_and_loses_nothing() {
    let browser = page();
    // The store of the browser is made to refuse, as it does when the disk is full.
    browser.script(
        "IDBObjectStore.prototype.put = function () { throw new DOMException('no room', 'QuotaExceededError'); };",
        &[],
    );
    open_demo(&browser);
    browser.wait_until("the message", PATIENCE, || browser.has("[data-test=error-message]"));
    let said = browser.find("[data-test=error-message]").text();
    assert!(said.contains("no room left"), "{said}");
    assert!(browser.has("[data-test=verdict-sentence]"), "the study is still open");
    browser.assert_quiet();
}
