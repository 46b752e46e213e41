//! A browser that refuses: nothing may be kept, no room is left, a file can't be read. The page says so and goes on.

use likeness_tests::browser::{Browser, PATIENCE, Site, bundle, file_address};
use serde_json::json;
use std::path::Path;

fn open_demo(browser: &Browser) {
    browser.find("[data-test=open-demo]").click();
    browser.wait_until("the verdict", PATIENCE, || browser.has("[data-test=verdict-sentence]"));
}

fn error_message(browser: &Browser) -> String {
    browser.wait_until("the message", PATIENCE, || browser.has("[data-test=error-message]"));
    browser.find("[data-test=error-message]").text()
}

#[test]
fn a_browser_that_keeps_nothing_still_opens_studies() {
    let browser = Browser::start();
    // What a browser does that was told to keep nothing: looking at either store is an error already.
    let refuse = "for (const name of ['localStorage', 'indexedDB'])
        Object.defineProperty(window, name, { get() { throw new DOMException('denied', 'SecurityError'); } });";
    browser.cdp("Page.addScriptToEvaluateOnNewDocument", &json!({ "source": refuse }));
    browser.open(&file_address(&bundle("likeness.html")));
    open_demo(&browser);
    browser.wait_until("the warning", PATIENCE, || browser.text().contains("not kept by this browser"));
    browser.assert_quiet();
}

#[test]
fn a_store_that_is_full_when_a_study_is_written_says_so() {
    let site = Site::serve(&bundle("site"), "panel");
    let browser = Browser::start();
    browser.open(site.address());
    browser.find("[data-test=open-demo]");
    // Chromium's own limit: the browser takes the study and gives up when it writes it.
    let origin = site.address().trim_end_matches("/panel/");
    browser.cdp("Storage.overrideQuotaForOrigin", &json!({ "origin": origin, "quotaSize": 1 }));
    open_demo(&browser);
    let said = error_message(&browser);
    assert!(said.contains("no room left"), "{said}");
    assert!(browser.has("[data-test=verdict-sentence]"), "the study is still open");
    browser.assert_quiet();
}

#[test]
fn a_file_that_is_gone_before_it_is_read_is_named() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/browser-files/gone");
    std::fs::create_dir_all(&folder).expect("a folder can be made");
    let file = folder.join("gone.csv");
    std::fs::write(&file, "assessor,sample,ripe\nAda,T,60\n").expect("a file can be written");
    let browser = Browser::start();
    browser.open(&file_address(&bundle("likeness.html")));
    browser.find("[data-test=open-demo]");
    let field = "document.body.append(Object.assign(document.createElement('input'), { type: 'file', id: 'aside' }))";
    browser.script(field, &[]);
    browser.find("#aside").set_files(&[&file]);
    std::fs::remove_file(&file).expect("the file can be removed");
    let drop = "const carried = new DataTransfer();
        carried.items.add(document.getElementById('aside').files[0]);
        document.body.dispatchEvent(new DragEvent('drop', { dataTransfer: carried, bubbles: true, cancelable: true }));";
    browser.script(drop, &[]);
    let said = error_message(&browser);
    assert!(said.contains("gone.csv: The browser could not read the file."), "{said}");
    browser.assert_quiet();
}
