//! Text from files is never code: names that try to be markup, scripts, formulas and addresses go through every view, the
//! report, figures, tables and the workbook. A listener hears what the policy refuses, a marker hears what runs; a control
//! at the end shows that both would tell.

use calamine::{Data, Reader, Xlsx};
use likeness_core::study::{Scale, ScoreAddress, Study, StudyBuilder};
use likeness_core::write::study_file::study_file_text;
use likeness_tests::browser::{Browser, DroppedFile, PATIENCE, bundle, file_address};
use serde_json::json;
use std::io::Cursor;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// What a name may be that wants to be something else. Each sets the marker if it runs.
const HOSTILE: [&str; 8] = [
    "<img src=x onerror=\"ran.push('img')\">",
    "=HYPERLINK(\"x\")",
    "javascript:alert(1)",
    "]]><script>ran.push('cdata')</script>",
    "</title></style></svg><svg onload=\"ran.push('svg')\">",
    "\u{202e}gnam\u{2066}o\u{2069}",
    "'\"--><a href=\"javascript:ran.push('a')\">x</a>{{7*7}}${ran.push('template')}",
    "@SUM(1+1)*cmd|' /C x'!A0",
];

/// Before anything of a page runs: lists of what ran and of what the policy refused.
const LISTEN: &str = "window.ran = []; window.refused = [];
    window.alert = (what) => window.ran.push('alert ' + what);
    document.addEventListener('securitypolicyviolation', (event) =>
        window.refused.push(event.effectiveDirective + ' ' + event.blockedURI));";

/// What would be code if text were taken for it.
const MARKUP: &str = "return [...document.querySelectorAll('img[onerror], svg[onload], a[href^=\"javascript:\" i], \
    body script:not([type=\"application/json\"]):not([src])')].map((one) => one.outerHTML.slice(0, 200))
    .filter((text) => /ran|alert|onerror|onload/.test(text) && !/wasm|__wbg/.test(text))";

fn long_name() -> String {
    "mango ".repeat(334).trim().to_owned()
}

/// Three of each, so that every method runs: assessors, samples and attributes with hostile names, scores from no tasting.
fn hostile_study() -> Study {
    let mut builder = StudyBuilder::new(Scale::default());
    let long = long_name();
    let attributes: Vec<&str> = HOSTILE[..5].iter().copied().chain([long.as_str()]).collect();
    for (person, assessor) in HOSTILE.iter().enumerate() {
        for (place, sample) in HOSTILE.iter().take(4).chain([&long.as_str()]).enumerate() {
            for replicate in 1..=2_u32 {
                for (row, attribute) in attributes.iter().enumerate() {
                    let address = ScoreAddress {
                        assessor,
                        sample,
                        replicate,
                        session: Some(HOSTILE[0]),
                        position: Some(place as u32 + 1),
                        label: None,
                    };
                    let score = 20 + 9 * row + (person * 7 + place * 3 + replicate as usize * 5) % 17;
                    builder.add(address, attribute, score as f64).expect("each score once");
                }
            }
        }
    }
    let mut study = builder.finish(HOSTILE[0]);
    study.settings.target = Some(HOSTILE[0].to_owned());
    study
}

fn folder() -> PathBuf {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/browser-downloads/never-code");
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).expect("a folder can be made");
    folder.canonicalize().expect("it is there")
}

fn page(folder: &Path) -> Browser {
    let browser = Browser::start();
    browser.cdp("Page.addScriptToEvaluateOnNewDocument", &json!({ "source": LISTEN }));
    browser.cdp("Browser.setDownloadBehavior", &json!({"behavior": "allow", "downloadPath": folder.to_str()}));
    browser.open(&file_address(&bundle("likeness.html")));
    browser.find("[data-test=open-file]");
    browser
}

/// Fails when anything ran, was refused, or became markup.
fn assert_nothing_ran(browser: &Browser, place: &str) {
    let nothing = json!([]);
    assert_eq!(browser.script("return window.ran", &[]), nothing, "{place}: text ran");
    assert_eq!(browser.script("return window.refused", &[]), nothing, "{place}: the policy had to refuse something");
    assert_eq!(browser.script(MARKUP, &[]), nothing, "{place}: text became markup");
}

/// What a button saves, whole.
fn saved(browser: &Browser, folder: &Path, button: &str, ending: &str) -> Vec<u8> {
    let found = || {
        let files = std::fs::read_dir(folder).into_iter().flatten().flatten().map(|entry| entry.path());
        files.into_iter().find(|path| path.to_string_lossy().ends_with(ending))
    };
    browser.unfold("save");
    browser.find(&format!("[data-test={button}]")).click();
    browser.wait_until(&format!("a file {ending}"), Duration::from_secs(60), || found().is_some());
    std::thread::sleep(Duration::from_millis(300));
    let path = found().expect("it was there");
    let name = path.file_name().expect("a name").to_string_lossy().into_owned();
    assert!(!name.contains(['<', '>', '"', ':', '/', '\\', '|', '\u{202e}']) && name.len() < 200, "{name}");
    std::fs::read(path).expect("it can be read")
}

/// Opens a saved document by itself, as a person may.
fn open_alone(browser: &Browser, path: &Path, place: &str) {
    browser.open(&file_address(path));
    std::thread::sleep(Duration::from_millis(300));
    assert_nothing_ran(browser, place);
}

#[test]
fn names_that_try_to_be_code_are_text_in_every_view_and_file() {
    let folder = folder();
    let browser = page(&folder);
    let text = study_file_text(&hostile_study());
    browser.drop_files(&[DroppedFile { name: "<b>study</b>.likeness.json".to_owned(), bytes: text.into_bytes() }]);
    browser.wait_until("the study", PATIENCE, || browser.has("[data-test=study-state]"));
    if browser.has("[data-test=show-verdict]") {
        browser.find("[data-test=show-verdict]").click();
    }
    browser.wait_until("the verdict", PATIENCE, || browser.has("[data-test=verdict-sentence]"));
    browser.catch_saved_files();
    walk(&browser);
    browser.find("[data-test=view-report]").click();
    browser.wait_until("the report", Duration::from_secs(120), || browser.has("[data-test=report][aria-busy=false]"));
    assert!(browser.find(".likeness-report").text().contains(HOSTILE[0]), "the name is readable as text");
    assert_nothing_ran(&browser, "report");
    check_workbook(saved(&browser, &folder, "save-workbook", "results.xlsx"));
    check_csv(&String::from_utf8(saved(&browser, &folder, "save-scores", "scores.csv")).expect("UTF-8"));
    saved(&browser, &folder, "save-report", "report.html");
    assert_nothing_ran(&browser, "saving");
    open_saved_documents(&browser, &folder);
    control(&browser);
    browser.allow_console_errors();
    browser.assert_nothing_outside();
}

/// Every view with everything unfolded; the figures of each are saved.
fn walk(browser: &Browser) {
    let buttons = browser.find_all("nav.views button:not(:disabled)");
    let views: Vec<String> = buttons.iter().filter_map(|button| button.attribute("data-test")).collect();
    assert!(views.len() >= 6, "{views:?}");
    for view in views {
        browser.find(&format!("[data-test={view}]")).click();
        browser.wait_until(&view, PATIENCE, || browser.has(&format!("[data-test={view}][aria-current]")));
        browser.script("document.querySelectorAll('main details').forEach((one) => { one.open = true })", &[]);
        std::thread::sleep(Duration::from_millis(600));
        assert_nothing_ran(browser, &view);
        let svg = "[...document.querySelectorAll('main button')].filter((one) => /SVG/.test(one.innerText))\
                   .slice(0, 3).forEach((one) => one.click())";
        browser.script(svg, &[]);
        std::thread::sleep(Duration::from_millis(300));
        assert_nothing_ran(browser, &format!("figures of {view}"));
    }
}

/// No cell is a formula, and the names are there as text.
fn check_workbook(bytes: Vec<u8>) {
    let mut book = Xlsx::new(Cursor::new(bytes)).expect("another reader opens it");
    let mut words = Vec::new();
    for name in book.sheet_names() {
        let formulas = book.worksheet_formula(&name).expect("it can be read");
        let found: Vec<&String> = formulas.cells().map(|(_, _, text)| text).filter(|text| !text.is_empty()).collect();
        assert_eq!(found, Vec::<&String>::new(), "{name} holds formulas");
        let range = book.worksheet_range(&name).expect("the sheet is there");
        words.extend(range.cells().filter_map(|(_, _, cell)| match cell {
            Data::String(text) => Some(text.clone()),
            _ => None,
        }));
    }
    for name in HOSTILE {
        assert!(words.iter().any(|text| text.contains(name)), "{name} is not in the workbook as text");
    }
    assert!(words.contains(&long_name()), "the long name is whole");
}

/// No cell begins as a formula would.
fn check_csv(text: &str) {
    let rows = rows_of(text);
    assert!(rows.len() > 300, "{} rows", rows.len());
    let is_number = |cell: &str| cell.parse::<f64>().is_ok();
    let bad = rows.iter().flatten().find(|cell| cell.starts_with(['=', '+', '-', '@']) && !is_number(cell));
    assert_eq!(bad, None, "a spreadsheet would run it");
    assert!(rows.iter().flatten().any(|cell| cell == "'=HYPERLINK(\"x\")"), "the name is there");
}

/// Cells of comma-separated text with quotation marks (RFC 4180).
fn rows_of(text: &str) -> Vec<Vec<String>> {
    let (mut rows, mut row, mut cell, mut is_quoted) = (Vec::new(), Vec::new(), String::new(), false);
    let mut letters = text.chars().peekable();
    while let Some(letter) = letters.next() {
        match letter {
            '"' if is_quoted && letters.peek() == Some(&'"') => cell.extend(letters.next()),
            '"' => is_quoted = !is_quoted,
            ',' if !is_quoted => row.push(std::mem::take(&mut cell)),
            '\n' if !is_quoted => {
                row.push(std::mem::take(&mut cell));
                rows.push(std::mem::take(&mut row));
            }
            other => cell.push(other),
        }
    }
    rows
}

/// The report and every figure that was saved, each as a document of its own.
fn open_saved_documents(browser: &Browser, folder: &Path) {
    let files = std::fs::read_dir(folder).expect("the folder is there").flatten().map(|entry| entry.path());
    let is_document = |path: &PathBuf| path.extension().is_some_and(|ending| ending == "svg" || ending == "html");
    let documents: Vec<PathBuf> = files.filter(is_document).collect();
    assert!(documents.iter().any(|path| path.extension().is_some_and(|ending| ending == "svg")), "{documents:?}");
    assert!(documents.iter().any(|path| path.extension().is_some_and(|ending| ending == "html")), "{documents:?}");
    for path in &documents {
        open_alone(browser, path, &path.display().to_string());
    }
}

/// In the page, markup that wants to run is heard by the listener; where no policy stands, by the marker.
fn control(browser: &Browser) {
    browser.open(&file_address(&bundle("likeness.html")));
    browser.wait_until("the page", PATIENCE, || browser.has("[data-test=learn-open]"));
    let inject = "document.body.insertAdjacentHTML('beforeend', arguments[0]); \
                  await new Promise((done) => setTimeout(done, 300)); return [window.ran.length, window.refused.length]";
    let heard = browser.script(inject, &[json!("<img src=\"data:,\" onerror=\"ran.push('img')\">")]);
    assert_eq!(heard[0], json!(0), "the policy of the page stops it");
    assert!(heard[1].as_u64().is_some_and(|refused| refused > 0), "and the listener hears that: {heard}");
    browser.open("about:blank");
    let heard = browser.script(inject, &[json!("<img src=\"data:,\" onerror=\"ran.push('img')\">")]);
    assert_eq!(heard[0], json!(1), "without a policy it runs, and the marker hears it");
}
