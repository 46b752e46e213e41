//! Marks in the real page: seen, filtered, corrected and left out with a reason; reached from every number of Panel;
//! long work that can be stopped; a hundred thousand rows.

use likeness_tests::browser::{Browser, PATIENCE, SIZES, Size, bundle, file_address};
use serde_json::json;
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
    browser.unfold("differences");
    let cell = format!("[data-test=differences-table] [data-field=difference][data-attribute=\"{attribute}\"]");
    browser.find(&cell).attribute("data-value").expect("a number").parse().expect("a number")
}

fn text_of(browser: &Browser, test: &str) -> String {
    browser.find(&format!("[data-test={test}]")).text()
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
    browser.unfold("panel-tables");
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
    browser.unfold("panel-tables");
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
fn a_clean_panel_raises_no_suspicion() {
    let browser = demo(DESKTOP);
    view(&browser, "panel");
    let line = || browser.find("[data-test=fold-slips] summary").text();
    browser.wait_until("the search", LONG, || line().contains("No form fault is suspected"));
    browser.unfold("slips");
    browser.wait_until("the answer", LONG, || browser.has("[data-test=no-slips]"));
    // Twelve equal people: each has a row, and nobody is named.
    assert_eq!(browser.find_all("[data-test=person]").len(), 12);
    assert!(!browser.has("[data-test=person][data-standing=unlike]"));
    browser.unfold("influence");
    browser.wait_until("what hangs on one person", LONG, || browser.has("[data-test=influence-table]"));
    assert_eq!(browser.find_all("[data-test=influence-table] tbody tr").len(), 13, "everybody and twelve without");
}
