//! Measures the page in a browser: first what it measures of itself, then how soon a change is seen.
//!
//!     cargo run -p likeness-tests --features browser --bin bench_page -- dist/likeness.html
//!
//! The page's own figures are the JSON text in `[data-test=bench]` when `#bench` stands behind its address. How soon a
//! change is seen: on a study of 12 assessors, 34 attributes, 5 samples and 2 replicates with its verdict shown, the time
//! from the action to the end of the first frame that was painted after it, again and again; a frame of a 60 Hz screen,
//! 16.7 ms, is what it is held against. What is measured is the page's own affair; this program must not know it.

use likeness_tests::browser::{Browser, DroppedFile, SIZES, file_address};
use likeness_tests::studies::uniform_marks;
use serde_json::{Value, json};
use std::path::Path;
use std::time::Duration;

const LIMIT: Duration = Duration::from_secs(300);
/// Milliseconds of a frame at 60 Hz.
const FRAME_MS: f64 = 1000.0 / 60.0;

/// What is done, as a line of JavaScript that gives a list of times in ms; `seen(act)` measures one action.
const CHANGES: [(&str, &str); 7] = [
    ("a margin", "return each(['12', '9', '11', '10', '13', '8'], (width) => set(at('margin'), width))"),
    ("undo", "return each([1, 2, 3, 4], () => at('undo').click())"),
    ("redo", "return each([1, 2, 3, 4], () => at('redo').click())"),
    (
        "another candidate",
        "return each([1, 2, 3, 0, 1, 2], (n) => document.querySelectorAll('[data-test=verdict]')[n].click())",
    ),
    (
        "a view looked at for the first time",
        "return each(['panel', 'profile', 'map', 'scores', 'report', 'match'], (view) => at('view-' + view).click())",
    ),
    (
        "a view looked at again",
        "return each(['panel', 'profile', 'map', 'scores', 'report', 'match'], (view) => at('view-' + view).click())",
    ),
    (
        "samples shown in Profile",
        "at('view-profile').click(); await rest();
         return each([1, 2, 3, 1, 2, 3], (n) => document.querySelectorAll('.shown-samples input')[n].click())",
    ),
];

/// Tools of the lines above. The message is handled once the frame that was asked for is done.
const TOOLS: &str = "
    const at = (test) => document.querySelector(`[data-test=${test}]`);
    const set = (field, text) => { field.value = text; field.dispatchEvent(new Event('change', { bubbles: true })); };
    const rest = () => new Promise((done) => setTimeout(done, 1500));
    const painted = () => new Promise((done) => requestAnimationFrame(() => {
      const after = new MessageChannel();
      after.port1.onmessage = done;
      after.port2.postMessage(0);
    }));
    const seen = async (act) => {
      await rest(); await painted();
      const start = performance.now();
      act();
      await painted();
      return performance.now() - start;
    };
    const each = async (list, act) => {
      const times = [];
      for (const one of list) times.push(await seen(() => act(one)));
      return times;
    };";

fn main() {
    let Some(page) = std::env::args().nth(1) else {
        eprintln!("bench_page PAGE");
        std::process::exit(2);
    };
    let address = file_address(Path::new(&page));
    let browser = Browser::start();
    browser.open(&format!("{address}#bench"));
    browser.wait_until("the page to start", LIMIT, || !browser.has("#start-notice"));
    browser.wait_until("the result", LIMIT, || browser.has("[data-test=bench]"));
    println!("{}", browser.find("[data-test=bench]").text());
    drop(browser);
    changes(&address);
}

/// Prints how soon each change is seen.
fn changes(address: &str) {
    let browser = Browser::start();
    browser.resize(SIZES[0]);
    browser.open(address);
    browser.wait_until("the page to start", LIMIT, || !browser.has("#start-notice"));
    let file = DroppedFile { name: "invented.csv".to_owned(), bytes: uniform_marks(12, 5, 2, 34).into_bytes() };
    browser.drop_files(&[file]);
    browser.find("[data-test=preview-target]").choose("S1");
    browser.find("[data-test=use-scores]").click();
    browser.find("[data-test=show-verdict]").script("this_element.click()", &[]);
    browser.wait_until("the verdict", LIMIT, || browser.has("[data-test=verdict-sentence]"));
    println!("From a change to the end of the frame that shows it, in ms (frames of {FRAME_MS:.1} ms):");
    for (what, act) in CHANGES {
        let found = browser.script(&format!("{TOOLS}\n{act}"), &[]);
        let times: Vec<f64> = found.as_array().into_iter().flatten().filter_map(Value::as_f64).collect();
        println!("    {}", line(what, &times));
    }
    browser.assert_quiet();
}

fn line(what: &str, times: &[f64]) -> String {
    let mut sorted = times.to_vec();
    sorted.sort_by(f64::total_cmp);
    let median = sorted.get(sorted.len() / 2).copied().unwrap_or(f64::NAN);
    let all = json!(times.iter().map(|ms| ms.round()).collect::<Vec<_>>());
    format!("{what}: median {median:.0} ms, {:.1} frames; {all}", median / FRAME_MS)
}
