//! The Match view in the shipped page, on a real panel, on a desktop and on a phone: what counts as a match is settled
//! before the verdict is seen, later changes are marked, the brief can be copied, and marks hold in every view.

use likeness_tests::browser::{Browser, PATIENCE, SIZES, bundle, file_address};
use likeness_tests::reference::path;
use serde_json::Value;

/// Data set `TVbo` of the R package lmerTest; see tests/reference/SOURCE.md.
const PANEL: &str = "data/tvbo8_wide.csv";
const TARGET: &str = "TV1:1";
const DESKTOP_AND_PHONE: [usize; 2] = [0, 2];

/// The page from disk with the real panel in use, its target named, nothing settled yet.
fn page_with_panel(size: usize) -> Browser {
    let browser = Browser::start();
    browser.resize(SIZES[size]);
    browser.open(&file_address(&bundle("likeness.html")));
    browser.find("[data-test=open-file]").set_files(&[&path(PANEL)]);
    browser.wait_until("the preview", PATIENCE, || browser.has("[data-test=preview]"));
    browser.find("[data-test=preview-target]").choose(TARGET);
    browser.find("[data-test=use-scores]").click();
    browser.wait_until("the decisions", PATIENCE, || browser.has("[data-test=decide-first]"));
    browser
}

fn show_verdict(browser: &Browser) {
    browser.find("[data-test=show-verdict]").click();
    browser.wait_until("the verdict", PATIENCE, || browser.has("[data-test=verdict-sentence]"));
}

/// Sets a field as a person does: the value, then the event that leaving the field sends.
fn set(browser: &Browser, css: &str, value: &str) {
    let body = "this_element.value = arguments[0]; this_element.dispatchEvent(new Event('change', {bubbles: true}))";
    browser.find(css).script(body, &[Value::from(value)]);
}

fn look_at(browser: &Browser, view: &str) {
    browser.find(&format!("[data-test=view-{view}]")).click();
}

/// Distance of an element's top from the top of the window, in CSS pixels.
fn top_of(browser: &Browser, css: &str) -> f64 {
    browser.find(css).script("return this_element.getBoundingClientRect().top", &[]).as_f64().expect("a number")
}

#[test]
fn what_counts_as_a_match_is_settled_before_the_verdict_and_changed_with_a_trace_after() {
    for size in DESKTOP_AND_PHONE {
        let browser = page_with_panel(size);
        assert!(!browser.has("[data-test=verdict-sentence]"), "nobody has asked for the verdict");
        browser.screenshot("decide-first");
        look_at(&browser, "profile");
        browser.wait_until("the profile", PATIENCE, || browser.has("[data-test=not-settled]"));
        assert!(!browser.has("[data-test=all-differences-figure]"), "differences to the target tell the verdict");
        look_at(&browser, "match");
        // The target was named in the preview: the rest is folded behind what stands.
        browser.unfold("decide");
        set(&browser, "[data-test=margin]", "2");
        show_verdict(&browser);
        let height = browser.script("return innerHeight", &[]).as_f64().expect("a number");
        assert!(top_of(&browser, "[data-test=headline]") < 0.6 * height, "the verdict is seen first");
        assert!(top_of(&browser, "[data-test=headline]") < top_of(&browser, "[data-test=settings]"));
        let settled = browser.find("[data-test=settled-line]").text();
        assert!(settled.contains(TARGET) && settled.contains("\u{b1}2"), "{settled}");
        assert!(!browser.has("[data-test=changed-after-verdict]"), "nothing was changed yet");
        set(&browser, "[data-test=margin]", "5");
        browser.wait_until("the trace", PATIENCE, || browser.has("[data-test=changed-after-verdict]"));
        let late = browser.find("[data-test=changed-after-verdict]").text();
        assert!(late.contains("Margin changed after the verdict was seen: 2 to 5"), "{late}");
        browser.screenshot("verdict-changed");
        assert_eq!(browser.sticks_out(), Vec::<String>::new(), "a person would have to scroll sideways");
        browser.assert_quiet();
        browser.assert_nothing_outside();
    }
}

#[test]
fn the_brief_has_five_sentences_at_most_and_is_copied_or_saved() {
    let browser = page_with_panel(0);
    show_verdict(&browser);
    browser.wait_until("the brief", PATIENCE, || browser.has("[data-test=brief-sentence]"));
    let sentences: Vec<String> =
        browser.find_all("[data-test=brief-sentence]").iter().map(|sentence| sentence.text()).collect();
    assert!((2..=5).contains(&sentences.len()), "{sentences:?}");
    let catch = "Object.defineProperty(navigator, 'clipboard', {configurable: true, value: \
                 {writeText: text => { window.caught = text; return Promise.resolve(); }}})";
    browser.script(catch, &[]);
    browser.find("[data-test=copy-brief]").click();
    browser.wait_until("the copy", PATIENCE, || browser.find("[data-test=brief-said]").text().contains("Copied"));
    let caught = browser.script("return window.caught", &[]);
    assert_eq!(caught.as_str().expect("text"), sentences.join(" "));
    browser.script("Object.defineProperty(navigator, 'clipboard', {configurable: true, value: undefined})", &[]);
    browser.find("[data-test=copy-brief]").click();
    browser
        .wait_until("the file", PATIENCE, || browser.find("[data-test=brief-said]").text().contains("saved as a file"));
    browser.assert_quiet();
}

#[test]
fn a_sample_and_an_attribute_that_are_clicked_are_marked_in_every_view() {
    for size in DESKTOP_AND_PHONE {
        let browser = page_with_panel(size);
        show_verdict(&browser);
        let candidates = browser.find_all("[data-test=verdict]");
        let last = candidates.last().expect("there are candidates");
        let sample = last.attribute("data-sample").expect("a name");
        last.click();
        let marked = || {
            if browser.has("[data-test=marked]") { browser.find("[data-test=marked]").text() } else { String::new() }
        };
        browser.wait_until("the mark", PATIENCE, || marked().contains(&sample));
        look_at(&browser, "profile");
        browser.unfold("means");
        browser.wait_until("the means", PATIENCE, || browser.has("[data-test=means-table]"));
        let cell = format!("[data-test=means-table] td[data-sample=\"{sample}\"]");
        assert!(browser.find(&cell).attribute("class").unwrap_or_default().contains("is-marked"));
        browser.find("[data-test=means-table] [data-test=row-name]").click();
        let attribute = browser.find("[data-test=means-table] [data-test=row-name]").text();
        browser.wait_until("both marks", PATIENCE, || marked().contains(&attribute) && marked().contains(&sample));
        look_at(&browser, "map");
        browser.wait_until("the map", PATIENCE, || browser.has("[data-test=map-figure]"));
        assert!(marked().contains(&sample) && marked().contains(&attribute));
        look_at(&browser, "match");
        browser.unfold("differences");
        browser.wait_until("the table", PATIENCE, || browser.has("[data-test=differences-table]"));
        let rows = browser.script(
            "return [...document.querySelectorAll('[data-test=differences-table] tr.is-marked th')].map(cell => cell.innerText.trim())",
            &[],
        );
        assert_eq!(rows, serde_json::json!([attribute]));
        browser.find("[data-test=unmark]").click();
        browser.wait_until("no mark", PATIENCE, || !browser.has("[data-test=marked]"));
        browser.assert_quiet();
    }
}

/// The invented study of twenty-four assessors, in which the target was served twice.
#[test]
fn a_match_as_a_whole_is_settled_beforehand_and_said_in_its_own_words() {
    let browser = Browser::start();
    browser.resize(SIZES[0]);
    browser.open(&file_address(&bundle("likeness.html")));
    browser.wait_until("the start", PATIENCE, || browser.has("[data-test=open-demo]"));
    browser.press("?");
    browser.wait_until("the studies to learn from", PATIENCE, || browser.has("[data-test=learn-open-large]"));
    browser.find("[data-test=learn-open-large]").click();
    browser.wait_until("the verdict", PATIENCE, || browser.has("[data-test=verdict-sentence]"));
    let headline = || browser.find("[data-test=headline]").text();
    assert!(headline().contains("Candidate E matches Fresh mango within 10 mm."), "{}", headline());
    // The second cup of the target is no candidate, and there is nothing to be alarmed about.
    assert!(!headline().contains("again") && !browser.has("[data-test=alarm]"));
    // A match is shown, so the chance to show one stands folded.
    browser.unfold("chances");
    browser.wait_until("the chances", PATIENCE, || {
        browser.find("[data-test=chances-said]").text().contains("a true duplicate would be shown to match")
    });
    browser.find("[data-test=settings] summary").click();
    set(&browser, "[data-test=profile-share]", "seven");
    browser.wait_until("a refusal", PATIENCE, || browser.has("[data-test=settings] .refused"));
    set(&browser, "[data-test=profile-share]", "0,5");
    browser.wait_until("the new share", PATIENCE, || {
        browser.find("[data-test=settled-line]").text().contains("as a whole 0.5 of the margins")
    });
    assert!(browser.find("[data-test=changed-after-verdict]").text().contains("0.7 to 0.5 of the margins"));
    set(&browser, "[data-test=margin]", "5");
    browser.wait_until("a match as a whole", PATIENCE, || headline().contains("matches Fresh mango as a whole"));
    let sentences = browser.find_all("[data-test=verdict-sentence]");
    assert!(sentences[0].text().contains("could still differ by up to"), "{}", sentences[0].text());
    // Settled once, and changed since.
    assert!(browser.find("[data-test=settings]").text().contains("changed after the verdict was seen"));
    // Held against both cups, and said so.
    browser.find("[data-test=both-cups]").click();
    browser.wait_until("both cups", PATIENCE, || browser.has("[data-test=cups]"));
    assert!(browser.find("[data-test=cups]").text().contains("the mean of both cups"));
}
