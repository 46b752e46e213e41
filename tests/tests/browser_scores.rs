//! Marks in the real page: seen, filtered, corrected and left out with a reason; reached from every number of Panel;
//! long work that can be stopped; a hundred thousand rows.

use likeness_tests::browser::{Browser, DroppedFile, PATIENCE, SIZES, Size, bundle, file_address};
use serde_json::{Value, json};
use std::time::Duration;

const DESKTOP: Size = SIZES[0];
const PHONE: Size = SIZES[2];
/// For a page that reads and analyses a large file, as built quickly.
const LONG: Duration = Duration::from_secs(120);

fn page(size: Size) -> Browser {
    let browser = Browser::start();
    browser.resize(size);
    browser.open(&file_address(&bundle("likeness.html")));
    browser
}

fn demo(size: Size) -> Browser {
    let browser = page(size);
    browser.find("[data-test=open-demo]").click();
    browser.wait_until("the verdict", PATIENCE, || browser.has("[data-test=verdict-sentence]"));
    browser
}

fn view(browser: &Browser, name: &str) {
    press(browser, &format!("view-{name}"));
}

/// Presses what may lie below the fold or under the sticky head: by its own click, as a screen reader does.
fn press(browser: &Browser, test: &str) {
    browser.find(&format!("[data-test={test}]")).script("this_element.click()", &[]);
}

fn fill(browser: &Browser, test: &str, text: &str) {
    let set = "this_element.value = arguments[0]; this_element.dispatchEvent(new Event('input', {bubbles: true}))";
    browser.find(&format!("[data-test={test}]")).script(set, &[json!(text)]);
}

fn click_cell(browser: &Browser, row: usize, column: usize) {
    let cell = format!("[data-row=\"{row}\"][data-column=\"{column}\"]");
    browser.find(&cell).script("this_element.click()", &[]);
    browser.wait_until("the cell under the cursor", PATIENCE, || browser.has(&format!("{cell}.is-cursor")));
}

/// The column of the table of marks whose head reads like this, scrolled into sight: only what is seen is drawn.
fn column_of(browser: &Browser, head: &str) -> usize {
    let found = browser.script(
        "const frame = () => new Promise((done) => requestAnimationFrame(done));
         for (let n = 0; n < 200; n += 1) {
           const heads = [...document.querySelectorAll('.grid-head [data-column]')];
           const head = heads.find((head) => head.title === arguments[0]);
           if (head) return Number(head.dataset.column);
           const grid = document.querySelector('[data-test=marks-grid]');
           if (grid) grid.scrollLeft = (n * 100) % (grid.scrollWidth + 100);
           await frame();
         }
         return null;",
        &[json!(head)],
    );
    found.as_u64().unwrap_or_else(|| panic!("no column is headed {head}")) as usize
}

/// A number as computed, from the table of differences of the Match view.
fn difference(browser: &Browser, attribute: &str) -> f64 {
    view(browser, "match");
    let cell = format!("[data-test=differences-table] [data-field=difference][data-attribute=\"{attribute}\"]");
    browser.find(&cell).attribute("data-value").expect("a number").parse().expect("a number")
}

fn text_of(browser: &Browser, test: &str) -> String {
    browser.find(&format!("[data-test={test}]")).text()
}

/// A wide file of marks that nobody made: each follows from its place by Knuth's MMIX generator.
fn invented(assessors: usize, samples: usize, replicates: usize, attributes: usize) -> DroppedFile {
    let mut state: u64 = 12_000;
    let mut text = "assessor,sample,replicate".to_owned();
    (1..=attributes).for_each(|attribute| text.push_str(&format!(",k{attribute}")));
    for assessor in 1..=assessors {
        for sample in 1..=samples {
            for replicate in 1..=replicates {
                text.push_str(&format!("\nA{assessor},S{sample},{replicate}"));
                for attribute in 0..attributes {
                    state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
                    let level = 20 + (sample * 7 + attribute * 13) % 40;
                    text.push_str(&format!(",{}", level as u64 + (state >> 33) % 30));
                }
            }
        }
    }
    DroppedFile { name: "invented.csv".to_owned(), bytes: text.into_bytes() }
}

fn open_invented(browser: &Browser, file: DroppedFile) {
    browser.drop_files(&[file]);
    browser.wait_until("the preview", LONG, || browser.has("[data-test=preview]"));
    browser.find("[data-test=preview-target]").choose("S1");
    press(browser, "use-scores");
    browser.wait_until("the views", LONG, || browser.has("[data-test=view-scores]"));
}

fn a_mark_is_corrected_and_taken_back(size: Size) {
    let browser = demo(size);
    let before = difference(&browser, "ripe mango");
    view(&browser, "scores");
    // Candidate A is looked at first in Match; the second row of the file is Amara's first cup of it.
    let column = column_of(&browser, "ripe mango");
    click_cell(&browser, 2, column);
    let card = text_of(&browser, "mark-card");
    assert!(card.contains("Amara") && card.contains("Candidate A"), "{card}");
    let old: f64 = text_of(&browser, "mark-now").trim_end_matches(" mm").parse().expect("a mark in mm");
    assert!(text_of(&browser, "mark-origin").contains("invented-mango-nectar.csv, row 3"), "{card}");
    fill(&browser, "mark-value", "0");
    press(&browser, "mark-correct");
    browser.wait_until("a reason to be asked for", PATIENCE, || browser.has("[data-test=mark-refused]"));
    fill(&browser, "mark-reason", "sheet read again");
    press(&browser, "mark-correct");
    browser.wait_until("the correction", PATIENCE, || text_of(&browser, "mark-now") == "0 mm");
    assert_eq!(text_of(&browser, "mark-as-it-came"), format!("{old} mm"));
    let cell = browser.find(&format!("[data-row=\"2\"][data-column=\"{column}\"]"));
    assert!(cell.text().contains('\u{270e}'), "a sign, not colour alone: {}", cell.text());
    assert!(text_of(&browser, "scores-log").contains(&format!("from {old} mm to 0 mm: sheet read again.")));
    browser.screenshot("scores-corrected");
    assert_eq!(browser.sticks_out(), Vec::<String>::new());
    // By hand: twelve assessors, two replicates each; the mean difference moves by a twenty-fourth of the change.
    let moved = difference(&browser, "ripe mango") - before;
    assert!((moved + old / 24.0).abs() < 1e-9, "moved by {moved}, the mark by -{old}");
    press(&browser, "undo");
    browser.wait_until("the old number", PATIENCE, || (difference(&browser, "ripe mango") - before).abs() < 1e-12);
    view(&browser, "scores");
    let now = browser.find(&format!("[data-row=\"2\"][data-column=\"{column}\"]")).text();
    assert_eq!(now.trim(), old.to_string());
    assert!(text_of(&browser, "scores-log").contains("Undone: Corrected"));
}

#[test]
fn a_mark_is_corrected_with_a_reason_and_the_numbers_follow_and_come_back() {
    a_mark_is_corrected_and_taken_back(DESKTOP);
}

#[test]
fn a_mark_is_corrected_with_a_reason_on_a_phone_too() {
    a_mark_is_corrected_and_taken_back(PHONE);
}

#[test]
fn marks_are_filtered_sorted_left_out_and_walked_by_keyboard() {
    let browser = demo(DESKTOP);
    view(&browser, "scores");
    assert_eq!(text_of(&browser, "pages-shown"), "120 pages");
    browser.find("[data-test=filter-assessor]").choose("Bruno");
    browser.wait_until("Bruno's pages", PATIENCE, || text_of(&browser, "pages-shown") == "10 of 120 pages");
    browser.find("[data-test=filter-sample]").choose("Candidate B");
    browser.wait_until("two of them", PATIENCE, || text_of(&browser, "pages-shown") == "2 of 120 pages");
    press(&browser, "filter-none");
    browser.wait_until("all pages", PATIENCE, || text_of(&browser, "pages-shown") == "120 pages");
    let column = column_of(&browser, "ripe mango");
    let marks = || -> Vec<f64> {
        let cells = browser.find_all(&format!(".grid-row:not(.grid-head) [data-column=\"{column}\"]"));
        let mut rows: Vec<(u64, f64)> = cells
            .iter()
            .map(|cell| {
                let row = cell.attribute("data-row").expect("a row").parse().expect("a number");
                (row, cell.text().trim().parse().expect("a mark"))
            })
            .collect();
        rows.sort_by_key(|row| row.0);
        rows.into_iter().map(|row| row.1).collect()
    };
    click_cell(&browser, 0, column);
    browser.wait_until("rising marks", PATIENCE, || marks().windows(2).all(|two| two[0] <= two[1]));
    click_cell(&browser, 0, column);
    browser.wait_until("falling marks", PATIENCE, || marks().windows(2).all(|two| two[0] >= two[1]));
    // By keyboard: from the head to the first row, to the last column and the last row, and into the card.
    browser.find("[data-test=marks-grid]").script("this_element.focus()", &[]);
    browser.press_with('\u{e009}', '\u{e010}');
    browser.wait_until("the last cell", PATIENCE, || browser.has("[data-row=\"120\"].is-cursor"));
    let active = browser.find("[data-test=marks-grid]").attribute("aria-activedescendant");
    assert_eq!(active.as_deref(), Some("grid-cursor"));
    browser.press("\u{e013}\u{e011}");
    browser.wait_until("the row above, first column", PATIENCE, || {
        browser.has("[data-row=\"119\"][data-column=\"0\"].is-cursor")
    });
    browser.press("\u{e007}");
    let focused = || browser.script("return document.activeElement.id", &[]);
    browser.wait_until("the focus in the card", PATIENCE, || focused() == json!("mark-reason"));
    fill(&browser, "mark-reason", "blocked nose");
    press(&browser, "mark-leave-out");
    browser.wait_until("the page left out", PATIENCE, || browser.has("[data-test=mark-take-back]"));
    press(&browser, "only-left-out");
    browser.wait_until("one page", PATIENCE, || text_of(&browser, "pages-shown") == "1 of 120 pages");
    press(&browser, "undo");
    browser.wait_until("no page", PATIENCE, || text_of(&browser, "pages-shown") == "0 of 120 pages");
}

fn from_a_number_to_its_mark(size: Size) {
    let browser = demo(size);
    view(&browser, "panel");
    let number = "[data-test=assessor-grid-table] [data-test=number][data-attribute=cooked][data-sample=Chiyo]";
    browser.wait_until("the grid of numbers", PATIENCE, || browser.has(number));
    // First click: a number. The marks behind it stand in the figure and its table.
    browser.find(number).script("this_element.click()", &[]);
    browser.wait_until("the marks behind it", PATIENCE, || {
        browser.find("[data-test=close-assessor]").value() == "Chiyo"
            && browser.find("[data-test=close-attribute]").value() == "cooked"
            && browser.find("[data-test=marks-figure] h2").text().starts_with("Chiyo on cooked")
    });
    browser.screenshot("panel-marks");
    assert_eq!(browser.sticks_out(), Vec::<String>::new());
    // Second click: the same marks in Scores. Third: one of them, with its place in the file.
    press(&browser, "open-in-scores");
    browser.wait_until("Chiyo's pages", PATIENCE, || browser.has("[data-test=pages-shown]"));
    assert_eq!(text_of(&browser, "pages-shown"), "10 of 120 pages");
    click_cell(&browser, 2, column_of(&browser, "cooked"));
    let card = text_of(&browser, "mark-card");
    assert!(card.contains("cooked: Chiyo") && card.contains("invented-mango-nectar.csv, row "), "{card}");
}

#[test]
fn what_is_shown_of_the_marks_and_behind_a_figure_is_saved_as_csv() {
    let browser = demo(DESKTOP);
    browser.catch_saved_files();
    view(&browser, "scores");
    browser.find("[data-test=filter-assessor]").choose("Chiyo");
    browser.wait_until("Chiyo's pages", PATIENCE, || text_of(&browser, "pages-shown") == "10 of 120 pages");
    press(&browser, "marks-csv");
    let text = browser.next_saved_file();
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines.len(), 11, "{text}");
    assert!(lines[0].starts_with("assessor,sample,") && lines[0].ends_with(",left out"), "{}", lines[0]);
    assert!(lines[1..].iter().all(|line| line.starts_with("Chiyo,") && line.ends_with(',')), "{text}");
    for what in ["sample Candidate A", "attribute cooked"] {
        browser.find("[data-test=leave-out]").choose(what);
        fill(&browser, "reason", "wrong cup");
        press(&browser, "leave-out-button");
    }
    press(&browser, "marks-csv");
    let text = browser.next_saved_file();
    let ends = |line: &&str| line.contains(",Candidate A,") == line.ends_with(",the whole page");
    assert!(text.lines().skip(1).all(|line| ends(&line)), "{text}");
    assert_eq!(text.lines().filter(|line| line.ends_with(",cooked")).count(), 8, "{text}");
    view(&browser, "map");
    browser.wait_until("the map", PATIENCE, || browser.has("[data-test=map-figure] canvas"));
    browser.find("[data-test=map-figure] .figure-numbers summary").click();
    browser.wait_until("what is folded", PATIENCE, || browser.has("[data-test=map-numbers-csv]"));
    press(&browser, "map-numbers-csv");
    let text = browser.next_saved_file();
    assert!(text.lines().any(|line| line.starts_with("Fresh mango,")), "{text}");
    assert!(!text.contains('\u{2212}'), "numbers are for programs: {text}");
    browser.assert_quiet();
}

#[test]
fn a_number_of_the_panel_is_reached_and_pressed_by_keyboard() {
    let browser = demo(DESKTOP);
    view(&browser, "panel");
    let table = "[data-test=assessor-grid-table] .table-place";
    browser.wait_until("the grid of numbers", PATIENCE, || browser.has(table));
    browser.find(table).script("this_element.focus()", &[]);
    // Into the table, two rows down to the third attribute, two columns right to the third assessor, past neither end.
    browser.press("\u{e015}\u{e012}\u{e015}\u{e015}\u{e014}\u{e014}");
    let focused = browser.script(
        "const cell = document.activeElement; return cell.dataset.attribute + ' / ' + cell.dataset.sample",
        &[],
    );
    assert_eq!(focused, json!("cooked / Chiyo"));
    browser.press("\u{e007}");
    browser.wait_until("the marks behind it", PATIENCE, || {
        browser.find("[data-test=close-assessor]").value() == "Chiyo"
            && browser.find("[data-test=close-attribute]").value() == "cooked"
    });
    browser.assert_quiet();
}

#[test]
fn a_number_of_the_panel_leads_to_a_raw_mark_in_three_clicks() {
    from_a_number_to_its_mark(DESKTOP);
}

#[test]
fn a_number_of_the_panel_leads_to_a_raw_mark_on_a_phone_too() {
    from_a_number_to_its_mark(PHONE);
}

#[test]
fn a_clean_panel_raises_no_suspicion_and_long_work_can_be_stopped() {
    let browser = demo(DESKTOP);
    view(&browser, "panel");
    browser.wait_until("the search", LONG, || browser.has("[data-test=no-slips]"));
    browser.wait_until("what hangs on one person", LONG, || browser.has("[data-test=influence-table]"));
    assert_eq!(browser.find_all("[data-test=influence-table] tbody tr").len(), 13, "everybody and twelve without");
    // 400 pages of 100 lines: too much to search without being asked.
    open_invented(&browser, invented(20, 10, 2, 100));
    view(&browser, "panel");
    browser.wait_until("the button that starts", LONG, || browser.has("[data-test=slips-start]"));
    press(&browser, "slips-start");
    browser.wait_until("progress", LONG, || browser.has("[data-test=slips-work] progress"));
    let done = || -> f64 {
        let value = browser.find("[data-test=slips-work] progress").attribute("value");
        value.and_then(|value| value.parse().ok()).unwrap_or(0.0)
    };
    browser.wait_until("more progress", LONG, || done() > 0.0);
    press(&browser, "slips-stop");
    browser.wait_until("the stop", PATIENCE, || browser.has("[data-test=slips-start]"));
    let said = text_of(&browser, "slips-work");
    assert!(said.contains("Stopped at"), "{said}");
    std::thread::sleep(Duration::from_millis(400));
    assert_eq!(text_of(&browser, "slips-work"), said, "it went on after it was stopped");
    assert!(!browser.has("[data-test=suspicions]") && !browser.has("[data-test=no-slips]"));
}

/// Milliseconds from an action to the second frame after it: by then its effect is painted.
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
    let browser = page(DESKTOP);
    open_invented(&browser, invented(100, 20, 50, 1));
    view(&browser, "scores");
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

#[test]
fn each_change_on_a_typical_study_reaches_the_screen() {
    let browser = page(DESKTOP);
    open_invented(&browser, invented(12, 5, 2, 34));
    browser.wait_until("the verdict", LONG, || {
        browser.has("[data-test=verdict-sentence]") || browser.has("[data-test=margin]")
    });
    let script = format!(
        "{TIMED}
        const result = {{}};
        const frames = async (act) => {{
          await frame(); await frame(); await new Promise((done) => setTimeout(done, 800));
          const start = performance.now(); act(); const handled = performance.now();
          await frame(); await frame();
          return {{ handled_ms: handled - start, painted_ms: performance.now() - start }};
        }};
        const margin = at('margin');
        result.margin = [];
        for (const width of ['12', '9', '11', '10']) {{
          result.margin.push(await frames(() => {{
            margin.value = width; margin.dispatchEvent(new Event('change', {{ bubbles: true }}));
          }}));
        }}
        at('view-scores').click();
        await new Promise((done) => setTimeout(done, 500));
        const type = (test, text) => {{ at(test).value = text; at(test).dispatchEvent(new Event('input', {{ bubbles: true }})); }};
        document.querySelector('[data-row=\"1\"][data-column=\"0\"]').click();
        await new Promise((done) => setTimeout(done, 300));
        type('mark-reason', 'blocked nose'); choose('mark-leave-out-what', 'assessor A1');
        result.leave_out_in_scores = await frames(() => at('mark-leave-out').click());
        result.left_out = document.querySelectorAll('[data-test=mark-take-back]').length;
        at('view-match').click();
        await new Promise((done) => setTimeout(done, 500));
        result.undo_in_match = await frames(() => at('undo').click());
        result.redo_in_match = await frames(() => at('redo').click());
        return result;"
    );
    let found = browser.script(&script, &[]);
    println!("12 x 34 x 5 x 2: {found}");
    assert_eq!(found["left_out"], json!(1), "{found}");
}
