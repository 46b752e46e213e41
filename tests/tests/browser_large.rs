//! Large studies in the real page: what is drawn of a hundred thousand rows, and long work that can be stopped.

use likeness_tests::browser::{Browser, DroppedFile, PATIENCE, bundle, file_address};
use likeness_tests::studies::uniform_marks;
use serde_json::Value;
use std::time::Duration;

/// For a page that reads and analyses a large file, as built quickly.
const LONG: Duration = Duration::from_secs(120);

fn page() -> Browser {
    let browser = Browser::start();
    browser.open(&file_address(&bundle("likeness.html")));
    browser
}

fn open_invented(browser: &Browser, text: String) {
    browser.drop_files(&[DroppedFile { name: "invented.csv".to_owned(), bytes: text.into_bytes() }]);
    browser.wait_until("the preview", LONG, || browser.has("[data-test=preview]"));
    browser.find("[data-test=preview-target]").choose("S1");
    press(browser, "use-scores");
    browser.wait_until("the views", LONG, || browser.has("[data-test=view-scores]"));
}

/// Presses what may lie below the fold, as a screen reader does.
fn press(browser: &Browser, test: &str) {
    browser.find(&format!("[data-test={test}]")).script("this_element.click()", &[]);
}

#[test]
fn long_work_can_be_stopped() {
    let browser = page();
    // 400 pages of 100 lines: too much to search without being asked.
    open_invented(&browser, uniform_marks(20, 10, 2, 100));
    press(&browser, "view-panel");
    browser.unfold("slips");
    browser.wait_until("the button that starts", LONG, || browser.has("[data-test=slips-start]"));
    press(&browser, "slips-start");
    browser.wait_until("progress", LONG, || browser.has("[data-test=slips-work] progress"));
    // Asked in one go: the bar may be drawn anew between finding it and reading it.
    let value = "return document.querySelector('[data-test=slips-work] progress')?.value ?? 0";
    let done = || browser.script(value, &[]).as_f64().unwrap_or(0.0);
    browser.wait_until("more progress", LONG, || done() > 0.0);
    press(&browser, "slips-stop");
    browser.wait_until("the stop", PATIENCE, || browser.has("[data-test=slips-start]"));
    let said = browser.find("[data-test=slips-work]").text();
    assert!(said.contains("Stopped at"), "{said}");
    std::thread::sleep(Duration::from_millis(400));
    assert_eq!(browser.find("[data-test=slips-work]").text(), said, "it went on after it was stopped");
    assert!(!browser.has("[data-test=suspicions]") && !browser.has("[data-test=no-slips]"));
}

/// Milliseconds from an action to the frame that shows what is waited for.
const TIMED: &str = "
    const frame = () => new Promise((done) => requestAnimationFrame(done));
    const until = async (isTrue) => { for (let n = 0; n < 600 && !isTrue(); n += 1) await frame(); return isTrue(); };
    const timed = async (act, isTrue) => {
      await frame(); await frame();
      const start = performance.now();
      act();
      const reached = await until(isTrue);
      return reached ? performance.now() - start : -1;
    };
    const at = (test) => document.querySelector(`[data-test=${test}]`);
    const choose = (test, text) => {
      const list = at(test);
      list.value = [...list.options].find((option) => option.text === text).value;
      list.dispatchEvent(new Event('change', { bubbles: true }));
    };";

#[test]
fn a_hundred_thousand_rows_scroll_sort_and_filter_at_once() {
    let browser = page();
    open_invented(&browser, uniform_marks(100, 20, 50, 1));
    press(&browser, "view-scores");
    browser.wait_until("the table", LONG, || browser.has("[data-row=\"1\"]"));
    assert_eq!(browser.find("[data-test=marks-grid]").attribute("aria-rowcount").as_deref(), Some("100001"));
    let script = format!(
        "{TIMED}
        const grid = at('marks-grid');
        const row = (number) => grid.querySelector(`[data-row=\"${{number}}\"]`) !== null;
        const result = {{}};
        const jumps = [];
        for (const to of [10, 25000, 50000, 75000, 99990, 40000])
          jumps.push(await timed(() => {{ grid.scrollTop = 28 * to; }}, () => row(to + 1)));
        result.jump_ms = jumps;
        const steps = [];
        for (let n = 0; n < 20; n += 1) {{
          const to = Math.round(grid.scrollTop / 28) + 3;
          steps.push(await timed(() => {{ grid.scrollTop = 28 * to; }}, () => row(to + 1)));
        }}
        result.step_ms = steps;
        const shown = (text) => at('pages-shown').textContent.replace(/\\s/g, '') === text;
        result.filter_ms = await timed(() => choose('filter-assessor', 'A57'), () => shown('1000of100000pages'));
        result.unfilter_ms = await timed(() => choose('filter-assessor', 'all'), () => shown('100000pages'));
        result.only_missing_ms = await timed(() => at('only-missing').click(), () => shown('0of100000pages'));
        result.any_ms = await timed(() => at('only-any').click(), () => shown('100000pages'));
        grid.scrollTop = 0;
        await timed(() => {{}}, () => row(1));
        const head = grid.querySelector('[data-row=\"0\"][data-column=\"3\"]');
        const sorted = () => grid.querySelector('[data-row=\"0\"][data-column=\"3\"]').getAttribute('aria-sort') === 'ascending';
        result.sort_ms = await timed(() => head.click(), sorted);
        result.rows_drawn = grid.querySelectorAll('.grid-row').length;
        return result;"
    );
    let found = browser.script(&script, &[]);
    println!("100,000 rows: {found}");
    let all = found.as_object().expect("an object");
    let numbers = all.iter().filter(|(name, _)| name.ends_with("_ms")).flat_map(|(name, value)| match value {
        Value::Array(list) => list.iter().map(|one| (name.clone(), one.clone())).collect::<Vec<_>>(),
        one => vec![(name.clone(), one.clone())],
    });
    for (name, value) in numbers {
        let ms = value.as_f64().expect("a time");
        assert!(ms >= 0.0, "{name}: it never happened");
    }
    assert!(all["rows_drawn"].as_u64().is_some_and(|rows| (10..60).contains(&rows)), "{found}");
}
