//! The browser is ended at moments drawn from a seed, with no word to it, and started again with the same profile: at most the
//! last keystroke is gone. Ended often enough to hit the time in which a browser still holds back what it will write.

use likeness_core::numeric::random::Random;
use likeness_core::plan::on_screen::ballot_file::{OnScreenBallot, OnScreenScope};
use likeness_core::plan::tasting_plan::TastingPlan;
use likeness_tests::browser::{Browser, DroppedFile, PATIENCE, bundle, file_address};
use likeness_tests::tasting::{invented_marks, small_plan};
use serde_json::json;
use std::time::Duration;

const ENTER: char = '\u{e007}';
const SEED: u64 = 20_261_129;
const KILLS: usize = 5;

fn open_page(browser: &Browser) {
    browser.open(&file_address(&bundle("likeness.html")));
    browser.wait_until("the page", PATIENCE, || browser.has("[data-test=learn-open], [data-test=booth]"));
}

fn drop_file(browser: &Browser, name: &str, text: String) {
    browser.drop_files(&[DroppedFile { name: name.to_owned(), bytes: text.into_bytes() }]);
}

/// Between two keys of fast hands.
const BETWEEN_KEYS: Duration = Duration::from_millis(80);

/// A moment of up to this many milliseconds.
fn wait_a_while(chance: &mut Random, most_ms: u64) {
    std::thread::sleep(Duration::from_millis((chance.unit() * most_ms as f64) as u64));
}

fn begin_typing(browser: &Browser) {
    browser.wait_until("the plan", PATIENCE, || browser.has("[data-test=view-plan]"));
    browser.find("[data-test=view-plan]").click();
    browser.find("[data-test=plan-part-typing]").click();
    browser.wait_until("typing", PATIENCE, || browser.has("[data-test=begin-typing], [data-test=type-here]"));
}

fn typed_so_far(browser: &Browser) -> usize {
    // "0 of 9 pages, 3 of 36 marks"
    let text = browser.find("[data-test=typing-count]").text();
    let marks = text.split(", ").nth(1).and_then(|marks| marks.split(' ').next()).and_then(|count| count.parse().ok());
    marks.unwrap_or_else(|| panic!("{text}"))
}

/// Types the mark with this number in ballot order, and the code of its page before the first one.
fn type_mark(browser: &Browser, plan: &TastingPlan, marks: &[Vec<f64>], number: usize) {
    let rows = plan.attributes.attributes.len();
    browser.find("[data-test=type-here]").click();
    if number.is_multiple_of(rows) {
        browser.press(&format!("{}{ENTER}", plan.servings()[number / rows].code));
    }
    browser.press(&format!("{}{ENTER}", marks[number / rows][number % rows]));
}

#[test]
fn scores_typed_from_paper_outlive_a_browser_that_is_ended_at_once() {
    let (plan, mut chance) = (small_plan(false), Random::seeded(SEED));
    let marks = invented_marks(&plan);
    let mut browser = Browser::start();
    open_page(&browser);
    drop_file(&browser, "plan.likeness.json", plan.to_json());
    begin_typing(&browser);
    browser.find("[data-test=begin-typing]").click();
    browser.wait_until("the field", PATIENCE, || browser.has("[data-test=type-here]"));
    // The plan itself was no keystroke: it is written before the first one is looked at.
    std::thread::sleep(Duration::from_secs(1));
    let mut typed = 0;
    for kill in 0..KILLS {
        for _ in 0..1 + (chance.unit() * 6.0) as usize {
            std::thread::sleep(BETWEEN_KEYS);
            type_mark(&browser, &plan, &marks, typed);
            typed += 1;
        }
        assert_eq!(typed_so_far(&browser), typed, "before kill {kill}");
        wait_a_while(&mut chance, 120);
        browser.kill_and_start_again();
        open_page(&browser);
        begin_typing(&browser);
        browser.wait_until("the field", PATIENCE, || browser.has("[data-test=type-here]"));
        let found = typed_so_far(&browser);
        println!("kill {kill}: {found} of {typed} marks came back");
        assert!(found + 1 >= typed, "kill {kill}: {found} of {typed} marks came back");
        typed = found;
    }
}

#[test]
fn marks_made_on_a_screen_outlive_a_browser_that_is_ended_at_once() {
    let mut chance = Random::seeded(SEED + 1);
    let form = OnScreenBallot::of_plan(&small_plan(false), OnScreenScope::default(), 0, &[]).expect("a form");
    let mut browser = Browser::start();
    open_page(&browser);
    drop_file(&browser, "form.likeness-booth.json", form.to_text());
    browser.find("[data-test=sheet-0]").click();
    browser.find("[data-test=consent]").click();
    browser.wait_until("the first cup", PATIENCE, || browser.has("[data-test=booth-cup], [data-test=end-rest]"));
    if browser.has("[data-test=end-rest]") {
        browser.find("[data-test=end-rest]").click();
    }
    let place = |browser: &Browser| -> i64 {
        let now = browser.find("[data-test=line-1]").attribute("aria-valuenow");
        now.and_then(|now| now.parse().ok()).unwrap_or(0)
    };
    browser.find("[data-test=line-1]").script("this_element.focus()", &[]);
    browser.press("\u{e011}");
    for kill in 0..KILLS {
        browser.find("[data-test=line-1]").script("this_element.focus()", &[]);
        for _ in 0..1 + (chance.unit() * 5.0) as usize {
            std::thread::sleep(BETWEEN_KEYS);
            browser.press("\u{e014}");
        }
        let marked = place(&browser);
        wait_a_while(&mut chance, 120);
        browser.kill_and_start_again();
        open_page(&browser);
        browser.wait_until("the sheet", PATIENCE, || browser.has("[data-test=line-1]"));
        let found = place(&browser);
        println!("kill {kill}: the mark stands at {found} mm, it stood at {marked}");
        // One press of the arrow key moves the mark by a millimetre.
        assert!((found - marked).abs() <= 1, "kill {kill}: {found} instead of {marked} mm");
    }
}

#[test]
fn a_correction_outlives_a_browser_that_is_ended_at_once() {
    let mut chance = Random::seeded(SEED + 2);
    let mut browser = Browser::start();
    open_page(&browser);
    browser.find("[data-test=open-demo]").click();
    browser.wait_until("the verdict", PATIENCE, || browser.has("[data-test=verdict-sentence]"));
    let state = "this_element.value = arguments[0]; this_element.dispatchEvent(new Event('change', {bubbles: true}))";
    std::thread::sleep(Duration::from_millis(600));
    let mut margin = 4;
    for kill in 0..KILLS {
        for _ in 0..1 + (chance.unit() * 4.0) as usize {
            std::thread::sleep(BETWEEN_KEYS);
            margin += 1;
            browser.find("[data-test=margin]").script(state, &[json!(margin.to_string())]);
        }
        wait_a_while(&mut chance, 120);
        browser.kill_and_start_again();
        open_page(&browser);
        browser.wait_until("the study", PATIENCE, || browser.has("[data-test=margin]"));
        let found: i64 = browser.find("[data-test=margin]").value().parse().expect("a number");
        println!("kill {kill}: the margin is {found}, it was {margin}");
        assert!(found + 1 >= margin, "kill {kill}: {found} instead of {margin}");
        margin = found;
    }
}
