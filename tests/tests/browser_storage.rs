//! What the browser keeps goes wrong: no room, nothing may be kept, a damaged record, a database of another form. Each is said
//! once, the study stays in memory, and the export works.

use likeness_core::read::study_file::study_in;
use likeness_tests::browser::{Browser, PATIENCE, Site, bundle};
use serde_json::{Value, json};
use std::time::Duration;

const KEPT: Duration = Duration::from_millis(1000);
const NOT_KEPT: &str = "not kept by this browser";

/// Opens the database and does something with it; `arguments[0]` are stores.
const WITH_DATABASE: &str = "const opened = (version, made) => new Promise((done, failed) => {
        const request = indexedDB.open('likeness', version);
        request.onupgradeneeded = () => made && made(request.result);
        request.onsuccess = () => done(request.result);
        request.onerror = () => failed(request.error);
    });";

fn page(site: &Site) -> Browser {
    let browser = Browser::start();
    browser.open(site.address());
    browser.find("[data-test=open-demo]");
    browser
}

fn open_demo(browser: &Browser) {
    browser.find("[data-test=open-demo]").click();
    browser.wait_until("the verdict", PATIENCE, || browser.has("[data-test=verdict-sentence]"));
}

fn state_margin(browser: &Browser, margin: &str) {
    browser.find("[data-test=margin]").script(
        "this_element.value = arguments[0]; this_element.dispatchEvent(new Event('change', {bubbles: true}))",
        &[json!(margin)],
    );
}

/// The study is still open, and the file that the page saves holds the last change.
fn assert_export_works(browser: &Browser, margin: f64) {
    browser.catch_saved_files();
    browser.find("[data-test=view-report]").click();
    browser.wait_until("the report", PATIENCE, || browser.has("[data-test=save-study]"));
    browser.unfold("save");
    browser.find("[data-test=save-study]").click();
    let study = study_in(&browser.next_saved_file()).expect("a sound study file");
    assert!((study.settings.margin.width_mm - margin).abs() < 1e-9, "{}", study.settings.margin.width_mm);
    assert_eq!(study.assessors.len(), 12, "the whole invented study");
}

/// A change after the trouble was said and put away: it is not said again, the header goes on saying it.
fn assert_said_once(browser: &Browser, margin: &str) {
    state_margin(browser, margin);
    std::thread::sleep(KEPT);
    assert!(!browser.has("[data-test=error-message]"), "it was said before");
    assert!(browser.text().contains(NOT_KEPT), "the header goes on saying it");
}

#[test]
fn a_full_store_is_said_once_and_the_study_can_be_saved_as_a_file() {
    let site = Site::serve(&bundle("site"), "panel");
    let browser = page(&site);
    let origin = site.address().trim_end_matches("/panel/");
    browser.cdp("Storage.overrideQuotaForOrigin", &json!({ "origin": origin, "quotaSize": 1 }));
    open_demo(&browser);
    browser.wait_until("the message", PATIENCE, || browser.has("[data-test=error-message]"));
    let said = browser.find("[data-test=error-message]").text();
    assert!(said.contains("no room left"), "{said}");
    browser.find("[data-test=error-message] button").click();
    assert_said_once(&browser, "6");
    assert_export_works(&browser, 6.0);
    // Room again: the next change is kept, and the header stops.
    browser.cdp("Storage.overrideQuotaForOrigin", &json!({ "origin": origin }));
    browser.find("[data-test=view-match]").click();
    state_margin(&browser, "7");
    browser.wait_until("kept again", PATIENCE, || !browser.text().contains(NOT_KEPT));
    browser.assert_quiet();
}

#[test]
fn storage_switched_off_is_said_and_the_study_can_be_saved_as_a_file() {
    let site = Site::serve(&bundle("site"), "panel");
    let browser = Browser::start();
    let refuse = "for (const name of ['localStorage', 'indexedDB'])
        Object.defineProperty(window, name, { get() { throw new DOMException('denied', 'SecurityError'); } });";
    browser.cdp("Page.addScriptToEvaluateOnNewDocument", &json!({ "source": refuse }));
    browser.open(site.address());
    open_demo(&browser);
    browser.wait_until("the warning", PATIENCE, || browser.text().contains(NOT_KEPT));
    assert_said_once(&browser, "6");
    assert_export_works(&browser, 6.0);
    browser.assert_quiet();
}

#[test]
fn a_damaged_record_is_said_stays_as_it_is_and_hinders_nothing() {
    let site = Site::serve(&bundle("site"), "panel");
    let browser = page(&site);
    open_demo(&browser);
    std::thread::sleep(KEPT);
    let damage = format!(
        "{WITH_DATABASE} const database = await opened(1);
        const change = database.transaction(['texts', 'about'], 'readwrite');
        const keys = await new Promise((done) => {{
            const asked = change.objectStore('about').getAllKeys(); asked.onsuccess = () => done(asked.result); }});
        const key = keys.find((key) => key.startsWith('study-'));
        change.objectStore('texts').put('{{\"format\": \"likeness-study\", \"version\": 3, \"stu', key);
        change.objectStore('about').put('no JSON', key);
        await new Promise((done) => {{ change.oncomplete = done; }});
        database.close(); return key;"
    );
    let key = browser.script(&damage, &[]);
    browser.reload();
    browser.wait_until("the message", PATIENCE, || browser.has("[data-test=error-message]"));
    let said = browser.find("[data-test=error-message]").text();
    assert!(said.contains("was not opened") && said.contains("It stays kept as it is"), "{said}");
    assert_eq!(browser.find_all("[data-test=kept-study]").len(), 1, "it is listed");
    assert!(browser.find("[data-test=kept-study]").text().contains(key.as_str().expect("a key")));
    browser.catch_saved_files();
    browser.find("[data-test=save-kept]").click();
    assert_eq!(browser.next_saved_file(), "{\"format\": \"likeness-study\", \"version\": 3, \"stu", "as it lies there");
    // Said once: after another reload nothing is open, and another study is kept beside it.
    browser.reload();
    browser.wait_until("the start", PATIENCE, || browser.has("[data-test=kept-study]"));
    std::thread::sleep(KEPT);
    assert!(!browser.has("[data-test=error-message]"), "it was said before");
    open_demo(&browser);
    state_margin(&browser, "6");
    std::thread::sleep(KEPT);
    assert_export_works(&browser, 6.0);
    browser.find("[data-test=close-study]").click();
    browser.wait_until("both", PATIENCE, || browser.find_all("[data-test=kept-study]").len() == 2);
    browser.assert_quiet();
}

#[test]
fn a_database_of_another_form_is_said_and_the_study_can_be_saved_as_a_file() {
    // One without the descriptions, and one that a newer program has changed. It is made before the page asks for it.
    for (store, version) in [("texts", 1), ("other", 7)] {
        let site = Site::serve(&bundle("site"), "panel");
        let browser = Browser::start();
        let make = format!(
            "if (indexedDB && location.protocol === 'http:') indexedDB.open('likeness', {version}).onupgradeneeded = \
             (event) => event.target.result.createObjectStore('{store}');"
        );
        browser.cdp("Page.addScriptToEvaluateOnNewDocument", &json!({ "source": make }));
        browser.open(site.address());
        open_demo(&browser);
        browser.wait_until("the warning", PATIENCE, || browser.text().contains(NOT_KEPT));
        assert_said_once(&browser, "6");
        assert_export_works(&browser, 6.0);
        browser.assert_quiet();
    }
}

#[test]
fn what_an_earlier_program_kept_opens_and_is_written_on() {
    let site = Site::serve(&bundle("site"), "panel");
    let browser = page(&site);
    open_demo(&browser);
    std::thread::sleep(KEPT);
    // As an earlier program left it: no revision in the description, no number of writings, no second copy of short texts.
    let earlier = format!(
        "{WITH_DATABASE} const database = await opened(1);
        const change = database.transaction(['texts', 'about'], 'readwrite');
        const all = (store, what) => new Promise((done) => {{
            const asked = change.objectStore(store)[what](); asked.onsuccess = () => done(asked.result); }});
        const keys = await all('about', 'getAllKeys'), abouts = await all('about', 'getAll');
        keys.forEach((key, place) => {{
            const about = JSON.parse(abouts[place] || '{{}}'); delete about.revision;
            change.objectStore('about').put(JSON.stringify(about), key); }});
        (await all('texts', 'getAllKeys')).filter((key) => key.startsWith('text-'))
            .forEach((key) => change.objectStore('texts').delete(key));
        await new Promise((done) => {{ change.oncomplete = done; }});
        localStorage.removeItem('likeness-writings'); database.close(); return keys.length;"
    );
    assert_eq!(browser.script(&earlier, &[]), Value::from(1));
    browser.reload();
    browser.wait_until("the study", PATIENCE, || browser.has("[data-test=margin]"));
    state_margin(&browser, "6");
    std::thread::sleep(KEPT);
    browser.reload();
    browser.wait_until("the study", PATIENCE, || browser.has("[data-test=margin]"));
    assert_eq!(browser.find("[data-test=margin]").value(), "6");
    browser.find("[data-test=close-study]").click();
    browser.wait_until("the list", PATIENCE, || browser.has("[data-test=kept-study]"));
    assert_eq!(browser.find_all("[data-test=kept-study]").len(), 1, "no second version of it");
    browser.assert_quiet();
}
