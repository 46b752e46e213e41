//! A tasting planned in the page by keyboard alone: brief, words, orders, codes, ballots printed from the page itself and
//! measured, the plan file saved and opened, all of it back after a reload.

use base64::Engine;
use likeness_core::plan::ballot::geometry::Paper;
use likeness_core::plan::ballot::pages::ballot_pages;
use likeness_core::plan::brief::draft::PlanDraft;
use likeness_core::plan::orders::codes::check_code_in;
use likeness_core::plan::tasting_plan::TastingPlan;
use likeness_core::planning::draft_power::panel_of;
use likeness_core::stats::r#match::power::{PlannedTest, verdict_power};
use likeness_tests::browser::{Browser, PATIENCE, SIZES, bundle, file_address};
use likeness_tests::pdf_lines::{lines_to_scale, page_sizes_mm, printed_lines};
use serde_json::json;
use std::path::Path;

/// What the issue allows: a tenth of a millimetre on a line of 100.
const TOLERANCE_MM: f64 = 0.1;
/// Chromium rounds a sheet to a third of a point or so.
const SHEET_TOLERANCE_MM: f64 = 0.2;
/// WebDriver's character for the Enter key.
const ENTER: &str = "\u{e007}";

fn page() -> Browser {
    let browser = Browser::start();
    browser.open(&file_address(&bundle("likeness.html")));
    // Printing is caught, since no printer is there, and so is what is saved.
    browser.script("window.printed = 0; window.print = () => { window.printed += 1; };", &[]);
    browser.catch_saved_files();
    browser
}

fn press(browser: &Browser, hook: &str) {
    browser.find(&format!("[data-test={hook}]")).type_text(ENTER);
}

fn fill(browser: &Browser, hook: &str, text: &str) {
    let field = browser.find(&format!("[data-test={hook}]"));
    field.clear();
    field.type_text(text);
}

/// From the start screen to a made plan: 3 assessors, target twice, one candidate, a warm-up, 2 replicates.
fn plan_by_keyboard(browser: &Browser) {
    press(browser, "plan-a-tasting");
    fill(browser, "plan-title", "Mango nectar (invented)");
    fill(browser, "plan-asked-by", "The flavourist");
    fill(browser, "plan-question", "Can candidate A stand in for fresh mango?");
    press(browser, "to-samples");
    browser.wait_until("the samples", PATIENCE, || browser.has("[data-test=sample-name]"));
    let names = browser.find_all("[data-test=sample-name]");
    assert_eq!(names.len(), 2, "a target and a candidate wait to be named");
    names[0].type_text("Fresh mango");
    names[1].type_text("Candidate A");
    press(browser, "add-twin");
    browser.find("[data-test=plan-warm-up]").type_text(" ");
    browser.find("[data-test=plan-assessors]").type_text(&format!("Ada{ENTER}Ben{ENTER}Cleo"));
    press(browser, "to-words");
    press(browser, "use-example");
    press(browser, "to-orders");
    press(browser, "make-plan");
    browser.wait_until("the plan", PATIENCE, || browser.has("[data-test=plan-made]"));
}

/// The plan file as the page saves it.
fn saved_plan(browser: &Browser) -> String {
    press(browser, "save-plan");
    browser.next_saved_file()
}

#[test]
fn a_tasting_is_planned_by_keyboard_saved_opened_and_restored() {
    let browser = page();
    plan_by_keyboard(&browser);
    let text = saved_plan(&browser);
    let plan = TastingPlan::from_json(&text).expect("the page saves what the engine opens");
    assert_eq!(plan.assessors, ["Ada", "Ben", "Cleo"]);
    let samples: Vec<&str> = plan.brief.samples.iter().map(|sample| sample.name.as_str()).collect();
    assert_eq!(samples, ["Fresh mango", "Candidate A", "Fresh mango (blind duplicate)"]);
    assert!(plan.brief.warm_up.is_some());
    assert_eq!(plan.sessions.len(), 2, "each replicate is a session of its own");
    assert!(!plan.brief.written_at.is_empty(), "the brief is dated when the plan is made");

    // The code box answers as one types, as the engine does.
    fill(&browser, "code-box", "275");
    let expected = check_code_in("275", &plan.orders.code_set());
    assert!(!expected.can_exist());
    assert_eq!(browser.find("[data-test=code-answer]").text(), expected.sentence());
    let code = plan.orders.rows[0].codes[0].clone();
    fill(&browser, "code-box", &code);
    assert_eq!(browser.find("[data-test=code-answer]").text(), format!("{code} is a code of this study."));

    // The key is on the screen only while it is asked for.
    assert!(!browser.has("[data-test=key-sheet]"));
    press(&browser, "show-key");
    assert!(browser.find("[data-test=key-sheet]").text().contains("CONFIDENTIAL"));
    press(&browser, "show-key");
    browser.wait_until("the key to go", PATIENCE, || !browser.has("[data-test=key-sheet]"));

    // Another plan is begun and undone; then the file is opened in place of a blank one.
    press(&browser, "begin-anew");
    browser.wait_until("a blank plan", PATIENCE, || browser.find("[data-test=plan-title]").value().is_empty());
    press(&browser, "undo");
    browser.wait_until("the title", PATIENCE, || browser.find("[data-test=plan-title]").value() == plan.brief.title);
    press(&browser, "begin-anew");
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/browser-files");
    std::fs::create_dir_all(&folder).expect("a folder can be made");
    let file = folder.join("plan.likeness.json");
    std::fs::write(&file, &text).expect("a file can be written");
    browser.find("[data-test=open-file]").set_files(&[&file]);
    browser.wait_until("the opened plan", PATIENCE, || browser.has("[data-test=plan-made]"));

    // A reload brings it back, and the page saves the same plan again.
    browser.reload();
    browser.wait_until("the restored plan", PATIENCE, || browser.has("[data-test=plan]"));
    press(&browser, "plan-part-orders");
    browser.wait_until("the plan", PATIENCE, || browser.has("[data-test=plan-made]"));
    browser.catch_saved_files();
    assert_eq!(TastingPlan::from_json(&saved_plan(&browser)), Ok(plan));
}

#[test]
fn the_power_sentence_is_that_of_the_engine_and_follows_typing() {
    let browser = page();
    press(&browser, "plan-a-tasting");
    for margin in [10.0, 15.0] {
        fill(&browser, "plan-margin", &margin.to_string());
        // The assumed scatter that the page starts with, and ten assessors while none are named.
        let panel = panel_of(&PlanDraft::default(), 10).expect("the scatter that a draft begins with");
        let power = verdict_power(panel, PlannedTest { margin, alpha: 0.05 }, 0.0).expect("a sound plan").p_match;
        let said = format!("would be shown {:.0} times in 100, at a margin of {margin} mm", 100.0 * power);
        browser.wait_until(&said, PATIENCE, || browser.find("[data-test=power]").text().contains(&said));
    }
    fill(&browser, "plan-margin", "wide");
    browser.wait_until("a refusal", PATIENCE, || browser.text().contains("\u{201c}wide\u{201d} is not a length"));
}

#[test]
fn ballots_printed_from_the_page_are_true_to_size() {
    let browser = page();
    plan_by_keyboard(&browser);
    let plan = TastingPlan::from_json(&saved_plan(&browser)).expect("a plan");
    press(&browser, "to-papers");
    browser.wait_until("a preview", PATIENCE, || browser.has(".paper-preview svg"));
    assert!(!browser.text().contains("Candidate A"), "no sample is named beside ballots");
    for (option, paper) in [("A4", Paper::A4), ("Letter", Paper::Letter)] {
        browser.find("[data-test=paper-size]").choose(option);
        press(&browser, "print-paper");
        browser.wait_until("the sheets", PATIENCE, || browser.has(".ballot-sheet"));
        let answer = browser.cdp("Page.printToPDF", &json!({ "preferCSSPageSize": true, "printBackground": true }));
        let data = answer["data"].as_str().expect("a PDF");
        let pdf = base64::engine::general_purpose::STANDARD.decode(data).expect("base64");
        assert_true_to_size(&pdf, &plan, paper);
    }
    assert_eq!(browser.script("return window.printed", &[]), json!(2), "the browser was asked to print");
    let printed = || browser.find("[data-test=printed-papers]").text();
    assert_eq!(printed().matches("fits the plan").count(), 2, "{}", printed());
    assert!(!browser.has("[data-test=printed-out-of-date]"));
    // A word is changed after printing: told at once, and in the list of papers once the plan is made anew.
    press(&browser, "plan-part-words");
    browser.find("[data-test=word-high]").type_text("er");
    browser.wait_until("the warning", PATIENCE, || browser.has("[data-test=printed-out-of-date]"));
    let said = browser.find("[data-test=printed-out-of-date]").text();
    assert!(said.contains("Once the plan is made anew, all") && said.contains("are out of date"), "{said}");
    for size in SIZES {
        browser.resize(size);
        browser.screenshot("plan-printed-changed");
        assert_eq!(browser.sticks_out(), Vec::<String>::new(), "{size:?}");
    }
    press(&browser, "plan-part-orders");
    press(&browser, "make-plan");
    press(&browser, "plan-part-papers");
    browser.wait_until("the old papers", PATIENCE, || printed().matches("out of date: all").count() == 2);
    browser.screenshot("plan-printed-old");
}

#[test]
fn several_plans_are_kept_and_their_steps_outlive_a_reload() {
    let browser = page();
    plan_by_keyboard(&browser);
    let title = || browser.find("[data-test=plan-title]").value();
    let kept = || browser.find_all("[data-test=kept-plan]").len();
    press(&browser, "begin-anew");
    browser.wait_until("a blank plan", PATIENCE, || browser.has("[data-test=plan-title]") && title().is_empty());
    fill(&browser, "plan-title", "Second tasting (invented)");
    browser.wait_until("both plans in the list", PATIENCE, || kept() == 2);
    browser.reload();
    browser.wait_until("the second plan", PATIENCE, || {
        browser.has("[data-test=plan-title]") && title() == "Second tasting (invented)"
    });
    browser.wait_until("both plans in the list", PATIENCE, || kept() == 2);
    browser.wait_until("the steps", PATIENCE, || browser.find("[data-test=undo]").attribute("disabled").is_none());
    press(&browser, "undo");
    browser.wait_until("the first plan", PATIENCE, || title() == "Mango nectar (invented)");
    browser.find("[data-test=kept-plans-menu] summary").click();
    for size in SIZES {
        browser.resize(size);
        browser.screenshot("kept-plans");
        assert_eq!(browser.sticks_out(), Vec::<String>::new(), "{size:?}");
    }
    browser.find("[data-test=open-kept-plan]").click();
    browser.wait_until("the second plan", PATIENCE, || title() == "Second tasting (invented)");
    browser.find("[data-test=delete-kept-plan]").click();
    browser.wait_until("one plan less", PATIENCE, || kept() == 1);
    browser.find("[data-test=undo-delete-plan]").click();
    browser.wait_until("both plans in the list", PATIENCE, || kept() == 2);
    browser.assert_quiet();
}

fn assert_true_to_size(pdf: &[u8], plan: &TastingPlan, paper: Paper) {
    let pages = ballot_pages(plan, paper).expect("pages");
    let sheets = page_sizes_mm(pdf);
    assert_eq!(sheets.len(), pages.len(), "{paper:?}: one page a sheet and nothing else of the page");
    for sheet in sheets {
        assert!((sheet.0 - paper.width_mm()).abs() < SHEET_TOLERANCE_MM, "{paper:?}: {sheet:?}");
        assert!((sheet.1 - paper.height_mm()).abs() < SHEET_TOLERANCE_MM, "{paper:?}: {sheet:?}");
    }
    let printed = printed_lines(pdf);
    assert_eq!(printed.len(), pages.len());
    for (lines, page) in printed.iter().zip(&pages) {
        let level = lines_to_scale(lines, TOLERANCE_MM);
        assert_eq!(level.len(), page.rows.len() + 1, "the rows and the check bar, {paper:?}");
        for row in &page.geometry.rows {
            let from_bottom = paper.height_mm() - row.line_left.y_mm;
            let there = level.iter().any(|line| {
                (line.x1_mm - row.line_left.x_mm).abs() < TOLERANCE_MM
                    && (line.y1_mm - from_bottom).abs() < TOLERANCE_MM
            });
            assert!(there, "{paper:?}, row {}: {level:?}", row.number);
        }
    }
}

#[test]
fn each_part_of_the_plan_fits_each_screen_and_can_be_used_by_everybody() {
    let browser = page();
    plan_by_keyboard(&browser);
    for size in SIZES {
        browser.resize(size);
        for part in ["question", "samples", "words", "orders", "papers", "day", "short-tests"] {
            press(&browser, &format!("plan-part-{part}"));
            assert_eq!(
                browser.sticks_out(),
                Vec::<String>::new(),
                "{part} at {size:?}: a person would have to scroll sideways"
            );
            browser.assert_accessible(&format!("the plan's {part} at {size:?}"));
        }
    }
}

#[test]
fn a_triangle_is_laid_out_answered_and_tested() {
    let browser = page();
    press(&browser, "plan-a-tasting");
    press(&browser, "plan-part-short-tests");
    browser.find("[data-test=short-samples]").type_text(&format!("Fresh mango{ENTER}Candidate A"));
    fill(&browser, "short-people", "6");
    press(&browser, "short-make");
    browser.wait_until("the answers", PATIENCE, || browser.has("[data-test=short-answers]"));
    assert!(browser.find("[data-test=short-result]").text().contains("No answers are ticked in yet."));
    let answers = browser.find_all("[data-test=short-answer]");
    assert_eq!(answers.len(), 6);
    // The first cup of each: each of the six orders is used once, so two of them begin with the odd cup (AAB, ABA, BAA,
    // ABB, BAB, BBA: BAA and ABB), by hand.
    for answer in &answers {
        answer.script(
            "this_element.selectedIndex = 1; this_element.dispatchEvent(new Event('change', {bubbles: true}));",
            &[],
        );
    }
    browser.wait_until("the result", PATIENCE, || {
        browser.find("[data-test=short-result]").text().contains("2 of 6 named the odd cup")
    });
}
