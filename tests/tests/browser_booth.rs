//! From a plan over the on-screen ballot to the verdict, in the page: a booth file is saved, opened on a tablet and on a
//! phone, marked by mouse, finger and keyboard, and the results files end at the verdict of the same marks.

use likeness_core::plan::tasting_plan::TastingPlan;
use likeness_core::stats::analyse;
use likeness_core::write::json::analysis_json;
use likeness_tests::browser::{Browser, DroppedFile, PATIENCE, SIZES, bundle, file_address};
use likeness_tests::page_results::{assert_alike, results};
use likeness_tests::tasting::{invented_marks, small_plan, study_of};
use serde_json::{Value, json};

/// How a line is marked.
#[derive(Clone, Copy, PartialEq)]
enum Hand {
    Mouse,
    Finger,
    Keys,
}

fn page() -> Browser {
    let browser = Browser::start();
    browser.open(&file_address(&bundle("likeness.html")));
    browser.find("[data-test=open-file]");
    browser.catch_saved_files();
    browser
}

fn drop_text(browser: &Browser, files: &[(&str, &str)]) {
    let file = |(name, text): &(&str, &str)| DroppedFile { name: (*name).to_owned(), bytes: text.as_bytes().to_vec() };
    browser.drop_files(&files.iter().map(file).collect::<Vec<_>>());
}

fn open_plan(browser: &Browser, plan: &TastingPlan) {
    drop_text(browser, &[("plan.likeness.json", &plan.to_json())]);
    browser.wait_until("the plan", PATIENCE, || browser.has("[data-test=plan-part-screen-forms]"));
    browser.find("[data-test=plan-part-screen-forms]").click();
    browser.wait_until("the part", PATIENCE, || browser.has("[data-test=screen-forms]"));
}

/// The booth file of all sheets, with a rest of two seconds, as the page saves it.
fn booth_file(plan: &TastingPlan) -> String {
    let browser = page();
    open_plan(&browser, plan);
    let rest = browser.find("[data-test=booth-rest]");
    rest.clear();
    rest.type_text("2");
    for size in SIZES {
        browser.resize(size);
        browser.screenshot("screen-forms");
        assert_eq!(browser.sticks_out(), Vec::<String>::new(), "{size:?}");
    }
    browser.find("[data-test=save-booth]").click();
    let text = browser.next_saved_file();
    for sample in &plan.brief.samples {
        assert!(!text.contains(&sample.name), "{} is in the booth file", sample.name);
    }
    assert!(text.contains("What is served here may contain: sulphites."));
    browser.assert_quiet();
    text
}

/// Marks a line at this many millimetres of 100, as far as the hand is exact.
fn mark(browser: &Browser, row: usize, mm: f64, hand: Hand) {
    let line = browser.find(&format!("[data-test=line-{}]", row + 1));
    if hand == Hand::Keys {
        line.script("this_element.focus()", &[]);
        browser.press("\u{e011}");
        (0..(mm / 10.0) as u32).for_each(|_| browser.press_with('\u{e008}', '\u{e014}'));
        browser.press(&"\u{e014}".repeat((mm % 10.0) as usize));
        return;
    }
    let place = line.script(
        "this_element.scrollIntoView({block: 'center'}); \
         const box = this_element.querySelector('.booth-track').getBoundingClientRect(); \
         return [box.left, box.width, box.top + box.height / 2]",
        &[],
    );
    let number = |index: usize| place[index].as_f64().expect("a number");
    let (x, y) = (number(0) + number(1) * mm / 100.0, number(2));
    if hand == Hand::Mouse {
        let event =
            |kind: &str| json!({ "type": kind, "x": x, "y": y, "button": "left", "buttons": 1, "clickCount": 1 });
        browser.cdp("Input.dispatchMouseEvent", &event("mousePressed"));
        browser.cdp("Input.dispatchMouseEvent", &event("mouseReleased"));
    } else {
        browser.cdp("Input.dispatchTouchEvent", &json!({ "type": "touchStart", "touchPoints": [{ "x": x, "y": y }] }));
        browser.cdp("Input.dispatchTouchEvent", &json!({ "type": "touchEnd", "touchPoints": [] }));
    }
}

fn go_on_after_rest(browser: &Browser) {
    browser.wait_until("the end of the rest", PATIENCE, || browser.has("[data-test=end-rest]"));
    browser.find("[data-test=end-rest]").click();
    browser.wait_until("the next sample", PATIENCE, || browser.has("[data-test=booth-cup]"));
}

fn begin(browser: &Browser, booth: &str, sheet: usize) {
    drop_text(browser, &[("booth.likeness-booth.json", booth)]);
    browser.wait_until("the names", PATIENCE, || browser.has("[data-test=booth-names]"));
    browser.find(&format!("[data-test=sheet-{sheet}]")).click();
    browser.wait_until("the consent", PATIENCE, || browser.has("[data-test=booth-consent]"));
    browser.find("[data-test=consent]").click();
    browser.wait_until("the warm-up", PATIENCE, || browser.has("[data-test=booth-warm-up]"));
    browser.find("[data-test=warm-up-done]").click();
}

/// Goes through one sheet; gives the text of its results file.
fn taste(browser: &Browser, plan: &TastingPlan, marks: &[Vec<f64>], assessor: usize, hand: Hand) -> String {
    let servings = plan.servings();
    let own: Vec<usize> = (0..servings.len()).filter(|index| servings[*index].assessor == assessor).collect();
    for index in &own {
        go_on_after_rest(browser);
        assert_eq!(browser.find("[data-test=code]").text(), servings[*index].code);
        assert_eq!(browser.find("[data-test=line-1]").attribute("aria-valuetext").as_deref(), Some("not marked"));
        assert_eq!(browser.find("[data-test=line-1]").attribute("aria-valuenow"), None);
        for (row, mm) in marks[*index].iter().enumerate() {
            mark(browser, row, *mm, hand);
        }
        browser.wait_until("the last mark", PATIENCE, || browser.find("[data-test=state-4]").text().contains("marked"));
        browser.find("[data-test=finish-cup]").click();
    }
    browser.wait_until("the end", PATIENCE, || browser.has("[data-test=booth-done]"));
    browser.next_saved_file()
}

/// The marks in a results file, put where the plan says that their codes belong.
fn read_marks(plan: &TastingPlan, text: &str, into: &mut [Vec<f64>]) {
    let file: Value = serde_json::from_str(text).expect("JSON");
    let results = &file["results"];
    let assessor = results["assessor"].as_u64().expect("a number") as usize - 1;
    let servings = plan.servings();
    for page in results["pages"].as_array().expect("pages") {
        let code = page["code"].as_str().expect("a code");
        let of_page = |serving: &likeness_core::plan::tasting_plan::PlannedServing| {
            serving.assessor == assessor && serving.code == code
        };
        let place = servings.iter().position(of_page).expect("a cup of the plan");
        into[place] =
            page["marks_mm"].as_array().expect("marks").iter().map(|mm| mm.as_f64().expect("a mark")).collect();
    }
}

#[test]
fn tasted_on_tablet_phone_and_by_keyboard_ends_at_the_verdict_of_the_same_marks() {
    let plan = small_plan(true);
    let aimed = invented_marks(&plan);
    let booth = booth_file(&plan);
    let mut files = Vec::new();
    for (assessor, hand) in [Hand::Mouse, Hand::Finger, Hand::Keys].into_iter().enumerate() {
        let tablet = page();
        tablet.resize(if hand == Hand::Finger { SIZES[2] } else { SIZES[1] });
        begin(&tablet, &booth, assessor);
        files.push(taste(&tablet, &plan, &aimed, assessor, hand));
        assert!(!tablet.has("[data-test=view-plan]"), "nothing but the form is on the page");
        tablet.assert_quiet();
        tablet.assert_nothing_outside();
    }
    let mut marked = vec![Vec::new(); aimed.len()];
    files.iter().for_each(|text| read_marks(&plan, text, &mut marked));
    for (got, wanted) in marked.iter().flatten().zip(aimed.iter().flatten()) {
        // A phone's line is about 300 px long: one px is a third of a millimetre.
        assert!((got - wanted).abs() < 0.5, "{got} mm instead of {wanted}");
    }
    let leader = page();
    open_plan(&leader, &plan);
    let cut = &files[0][..files[0].len() / 2];
    drop_text(
        &leader,
        &[("anna.json", &files[0]), ("ben.json", &files[1]), ("anna again.json", &files[0]), ("cut.json", cut)],
    );
    leader.wait_until("the sheets", PATIENCE, || {
        leader.find("[data-test=came-back]").text().starts_with("2 of 3 sheets")
    });
    let said = leader.find("[data-test=screen-forms]").text();
    assert!(said.contains("cut.json: The results file is damaged"), "{said}");
    assert!(said.contains("It holds the same marks as anna.json"), "{said}");
    assert!(said.contains("missing"), "{said}");
    drop_text(&leader, &[("cleo.json", &files[2])]);
    leader.wait_until("all sheets", PATIENCE, || {
        leader.find("[data-test=came-back]").text() == "3 of 3 sheets, 36 marks"
    });
    for size in SIZES {
        leader.resize(size);
        leader.screenshot("came-back");
        assert_eq!(leader.sticks_out(), Vec::<String>::new(), "{size:?}");
    }
    leader.resize(SIZES[0]);
    leader.find("[data-test=use-results]").click();
    leader.wait_until("the verdict", PATIENCE, || leader.has("[data-test=verdict-sentence]"));
    let expected = analysis_json(&analyse(&study_of(&plan, &marked)), &[]);
    let got = results(&leader);
    for part in ["target", "margin", "attributes", "candidates"] {
        assert_alike(&got[part], &expected[part], part);
    }
    leader.assert_quiet();
}

#[test]
fn a_closed_tab_loses_no_mark_and_nothing_is_skipped_silently() {
    let plan = small_plan(true);
    let booth = booth_file(&plan);
    let tablet = page();
    tablet.resize(SIZES[1]);
    begin(&tablet, &booth, 0);
    tablet.wait_until("the rest", PATIENCE, || tablet.has("[data-test=booth-rest]"));
    tablet.screenshot("booth-rest");
    if tablet.has("[data-test=end-rest-early]") {
        tablet.find("[data-test=end-rest-early]").click();
    }
    tablet.wait_until("the sample", PATIENCE, || tablet.has("[data-test=booth-cup]"));
    for size in SIZES {
        tablet.resize(size);
        tablet.screenshot("booth-cup");
        assert_eq!(tablet.sticks_out(), Vec::<String>::new(), "{size:?}");
    }
    tablet.resize(SIZES[1]);
    mark(&tablet, 0, 40.0, Hand::Keys);
    mark(&tablet, 2, 70.0, Hand::Mouse);
    tablet.reload();
    tablet.wait_until("the sample again", PATIENCE, || tablet.has("[data-test=booth-cup]"));
    assert_eq!(tablet.find("[data-test=line-1]").attribute("aria-valuenow").as_deref(), Some("40"));
    assert!(tablet.find("[data-test=state-1]").text().contains("marked"));
    assert_eq!(tablet.find("[data-test=state-2]").text(), "not marked");
    tablet.find("[data-test=finish-cup]").click();
    tablet.wait_until("the question", PATIENCE, || tablet.has("[data-test=unmarked]"));
    assert!(tablet.find("[data-test=unmarked]").text().contains("These lines have no mark: green, sour."));
    tablet.screenshot("booth-unmarked");
    let shown = tablet.find(".booth-lines").text();
    assert!(!shown.contains(|letter: char| letter.is_ascii_digit()), "no number is visible to the assessor: {shown}");
    // The button that finishes goes back to the first open line now: a second tap on it skips nothing.
    assert!(tablet.find("[data-test=finish-cup]").text().contains("green"));
    assert!(tablet.find("[data-test=go-on-without]").text().contains("green, sour"));
    tablet.find("[data-test=finish-cup]").click();
    tablet.wait_until("the line", PATIENCE, || {
        tablet.script("return document.activeElement.getAttribute('data-test')", &[]) == "line-2"
    });
    assert!(tablet.has("[data-test=booth-cup]") && !tablet.has("[data-test=unmarked]"));
    mark(&tablet, 1, 10.0, Hand::Keys);
    tablet.find("[data-test=finish-cup]").click();
    tablet.wait_until("the question", PATIENCE, || tablet.has("[data-test=unmarked]"));
    tablet.find("[data-test=go-on-without]").click();
    tablet.wait_until("the rest", PATIENCE, || tablet.has("[data-test=booth-rest]"));
    // What is dropped on a form does not come onto its screen.
    drop_text(&tablet, &[("scores.csv", "assessor,sample,ripe\nA,B,1\n")]);
    tablet.find("[data-test=leave]").click();
    tablet.find("[data-test=leave-sure]").click();
    tablet.wait_until("the page", PATIENCE, || tablet.has("[data-test=open-file]"));
    assert!(!tablet.has("[data-test=preview]"));
    drop_text(&tablet, &[("booth.likeness-booth.json", &booth)]);
    tablet.wait_until("the names", PATIENCE, || tablet.has("[data-test=booth-names]"));
    assert!(tablet.find("[data-test=sheet-0]").text().contains("1 of 3 samples finished"));
    tablet.find("[data-test=sheet-0]").click();
    go_on_after_rest(&tablet);
    assert_eq!(tablet.find("[data-test=code]").text(), plan.servings()[1].code);
    // Back on the page, what the tablet kept is named, and removed when that is said twice.
    tablet.find("[data-test=leave]").click();
    tablet.find("[data-test=leave-sure]").click();
    tablet.wait_until("the page", PATIENCE, || tablet.has("[data-test=open-file]"));
    open_plan(&tablet, &plan);
    let kept = || tablet.find("[data-test=kept-marks]").text();
    tablet.wait_until("what is kept", PATIENCE, || tablet.has("[data-test=kept-marks]"));
    assert!(kept().contains("session 1: 1 of 3 samples finished"), "{}", kept());
    tablet.screenshot("kept-marks");
    tablet.find("[data-test=remove-marks]").click();
    assert!(kept().contains("They can't be had back") && kept().contains("None of them was saved"), "{}", kept());
    tablet.find("[data-test=keep-marks]").click();
    tablet.find("[data-test=remove-marks]").click();
    tablet.find("[data-test=remove-marks-sure]").click();
    tablet.wait_until("nothing kept", PATIENCE, || !tablet.has("[data-test=kept-marks]"));
    let left = "return Object.keys(localStorage).filter(name => name.startsWith('likeness-booth-sheet')).length";
    assert_eq!(tablet.script(left, &[]), serde_json::json!(0));
    tablet.assert_quiet();
}
