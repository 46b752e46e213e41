//! From a plan over scores typed from paper to the verdict, in the page, by keyboard alone and on a phone. What the page
//! computes is compared with what the engine says of the same marks put together by names.

use likeness_core::plan::tasting_plan::TastingPlan;
use likeness_core::stats::analyse;
use likeness_core::write::json::analysis_json;
use likeness_tests::browser::{Browser, DroppedFile, PATIENCE, SIZES, bundle, file_address};
use likeness_tests::page_results::{assert_alike, results};
use likeness_tests::tasting::{invented_marks, small_plan, study_of};

const ENTER: char = '\u{e007}';

/// The page with the plan open at a part of it.
fn page_with(plan: &TastingPlan, part: &str) -> Browser {
    let browser = Browser::start();
    browser.open(&file_address(&bundle("likeness.html")));
    browser.find("[data-test=open-file]");
    let file = DroppedFile { name: "plan.likeness.json".to_owned(), bytes: plan.to_json().into_bytes() };
    browser.drop_files(&[file]);
    go_to_part(&browser, part);
    browser
}

fn go_to_part(browser: &Browser, part: &str) {
    let hook = format!("[data-test=plan-part-{part}]");
    browser.wait_until("the plan", PATIENCE, || browser.has("[data-test=view-plan]"));
    browser.find("[data-test=view-plan]").click();
    browser.wait_until("the parts of the plan", PATIENCE, || browser.has(&hook));
    browser.find(&hook).click();
}

fn answer(browser: &Browser) -> String {
    browser.find("[data-test=answer]").text()
}

/// A line and Enter, pressed on the keyboard where the focus is.
fn send(browser: &Browser, text: &str) {
    browser.press(&format!("{text}{ENTER}"));
}

/// All that is asked for on one page of paper: its code, its marks, a row number after two rows.
fn type_page(browser: &Browser, code: &str, marks: &[f64]) {
    send(browser, code);
    for (row, mark) in marks.iter().enumerate() {
        if row == 2 {
            send(browser, "3");
        }
        send(browser, &mark.to_string());
    }
}

fn set_row_checks(browser: &Browser, rows: &str) {
    browser.find("[data-test=guards]").script("this_element.open = true", &[]);
    let field = browser.find("[data-test=check-rows]");
    field.script(
        &format!("this_element.value = '{rows}'; this_element.dispatchEvent(new Event('change', {{bubbles: true}}))"),
        &[],
    );
    browser.find("[data-test=type-here]").click();
}

#[test]
fn typed_from_paper_by_keyboard_alone_ends_at_the_verdict_of_the_same_marks() {
    let plan = small_plan(false);
    let marks = invented_marks(&plan);
    let servings = plan.servings();
    let browser = page_with(&plan, "typing");
    browser.find("[data-test=begin-typing]").click();
    browser.wait_until("the field", PATIENCE, || browser.has("[data-test=type-here]"));
    set_row_checks(&browser, "2");
    // The wrong page, then the right one; a mark beyond the scale; a wrong row number.
    send(&browser, &servings[1].code);
    assert!(answer(&browser).contains("is another page"), "{}", answer(&browser));
    send(&browser, &servings[0].code);
    assert!(answer(&browser).starts_with('\u{2713}'), "{}", answer(&browser));
    send(&browser, "147");
    assert!(answer(&browser).contains("outside the scale 0 to 100. Was 14.7 meant?"), "{}", answer(&browser));
    send(&browser, &marks[0][0].to_string());
    send(&browser, &marks[0][1].to_string());
    send(&browser, "4");
    assert!(answer(&browser).contains("a row was skipped or typed twice"), "{}", answer(&browser));
    send(&browser, "3");
    send(&browser, &marks[0][2].to_string());
    browser.screenshot("typing");
    // Closing the tab in the middle of a page loses nothing.
    browser.reload();
    go_to_part(&browser, "typing");
    browser.wait_until("the field", PATIENCE, || browser.has("[data-test=type-here]"));
    let count = browser.find("[data-test=typing-count]").text();
    assert_eq!(count, format!("0 of {} pages, 3 of {} marks", servings.len(), servings.len() * 4));
    send(&browser, &marks[0][3].to_string());
    for (serving, line) in servings.iter().zip(&marks).skip(1) {
        type_page(&browser, &serving.code, line);
    }
    assert!(answer(&browser).contains("The last page is full."), "{}", answer(&browser));
    browser.find("[data-test=use-typed]").click();
    browser.wait_until("the verdict", PATIENCE, || browser.has("[data-test=verdict-sentence]"));
    let got = results(&browser);
    let study = study_of(&plan, &marks);
    let expected = analysis_json(&analyse(&study), &[]);
    for part in ["target", "margin", "attributes", "candidates"] {
        assert_alike(&got[part], &expected[part], part);
    }
    browser.assert_quiet();
    browser.assert_nothing_outside();
}

#[test]
fn a_second_person_types_on_a_phone_and_the_difference_is_decided() {
    let plan = small_plan(false);
    let marks = invented_marks(&plan);
    let servings = plan.servings();
    let browser = page_with(&plan, "typing");
    browser.find("[data-test=begin-typing]").click();
    browser.wait_until("the field", PATIENCE, || browser.has("[data-test=type-here]"));
    set_row_checks(&browser, "0");
    send(&browser, &servings[0].code);
    marks[0].iter().for_each(|mark| send(&browser, &mark.to_string()));
    browser.resize(SIZES[2]);
    browser.find("[data-test=second-person]").click();
    browser.find("[data-test=type-here]").click();
    send(&browser, &servings[0].code);
    assert!(
        !browser.find("[data-test=typed-rows]").text().contains(&marks[0][0].to_string()),
        "the first entries are hidden"
    );
    for text in ["99", &marks[0][1].to_string(), &marks[0][2].to_string()] {
        browser.find("[data-test=type-here]").type_text(text);
        browser.find("[data-test=next]").click();
    }
    browser.find("[data-test=no-mark]").click();
    browser.find("[data-test=differences] summary").click();
    assert!(browser.find("[data-test=differences]").text().contains("2, of these 2 open"));
    browser.find("[data-test=decide-second]").click();
    browser.wait_until("a decision", PATIENCE, || browser.find("[data-test=decided]").text() == "decided: 99");
    browser.screenshot("typing-differences");
    assert_eq!(browser.sticks_out(), Vec::<String>::new());
    browser.find("[data-test=use-typed]").click();
    browser.wait_until("the scores", PATIENCE, || browser.has("[data-test=view-scores]"));
    browser.find("[data-test=view-scores]").click();
    browser.wait_until("the notices", PATIENCE, || browser.has("[data-test=notices]"));
    let notices = browser.find("[data-test=notices]").text();
    assert!(notices.contains("32 marks not typed from paper and missing."), "{notices}");
    assert!(notices.contains("1 mark typed differently by two people and not decided"), "{notices}");
    browser.assert_quiet();
}

#[test]
fn what_was_noted_on_the_day_is_offered_as_the_reason_and_stands_in_the_record() {
    let plan = small_plan(false);
    let code = plan.servings()[0].code.clone();
    let browser = page_with(&plan, "day");
    browser.wait_until("the day", PATIENCE, || browser.has("[data-test=day]"));
    browser.find("[data-test=session-start]").click();
    browser.find("[data-test=note-1-spilt]").click();
    assert!(browser.find("[data-test=day]").text().contains("Choose the cup first."));
    browser.find("[data-test=cup-1]").choose(&format!("{code} (cup 1)"));
    browser.find("[data-test=note-1]").type_text("half of it");
    browser.find("[data-test=note-1-spilt]").click();
    browser.find("[data-test=note-2-blocked-nose]").click();
    let record = browser.find("[data-test=day-record]").text();
    assert!(record.contains(&format!("Session 1, Anna, cup {code}: sample spilt (half of it)")), "{record}");
    for size in SIZES {
        browser.resize(size);
        browser.screenshot("day");
        assert_eq!(browser.sticks_out(), Vec::<String>::new(), "{size:?}");
    }
    browser.resize(SIZES[0]);
    browser.reload();
    go_to_part(&browser, "typing");
    browser.find("[data-test=begin-typing]").click();
    browser.wait_until("the field", PATIENCE, || browser.has("[data-test=type-here]"));
    send(&browser, &code);
    send(&browser, "50");
    browser.find("[data-test=use-typed]").click();
    browser.wait_until("the scores", PATIENCE, || browser.has("[data-test=view-scores]"));
    browser.find("[data-test=view-scores]").click();
    browser.wait_until("the form", PATIENCE, || browser.has("[data-test=leave-out]"));
    browser.find("[data-test=leave-out]").choose("assessor Ben");
    browser.wait_until("the reason", PATIENCE, || browser.has("[data-test=noted-reason]"));
    browser.find("[data-test=noted-reason]").click();
    let reason = browser.find("[data-test=reason]").value();
    assert!(reason.starts_with("blocked nose (noted in session 1, "), "{reason}");
    browser.assert_quiet();
}
