//! The report in the page: the same bytes as the engine makes, fields that are kept and undone, printed on A4 and Letter.

use likeness_core::catalogue::Results;
use likeness_core::read::study_file::study_in;
use likeness_core::write::report_html::report_html;
use likeness_core::write::tidy::tidy_csv;
use likeness_core::write::workbook::workbook_bytes;
use likeness_tests::browser::{Browser, PATIENCE, SIZES, bundle, file_address};
use serde_json::json;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// A page with the invented study on its report, saving into a folder of its own.
fn report_page(name: &str) -> (Browser, PathBuf) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/browser-downloads").join(name);
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).expect("a folder can be made");
    let folder = folder.canonicalize().expect("it is there");
    let browser = Browser::start();
    browser.cdp("Browser.setDownloadBehavior", &json!({"behavior": "allow", "downloadPath": folder.to_str()}));
    browser.open(&file_address(&bundle("likeness.html")));
    browser.find("[data-test=open-demo]").click();
    browser.wait_until("the verdict", PATIENCE, || browser.has("[data-test=verdict-sentence]"));
    browser.find("[data-test=view-report]").click();
    browser.wait_until("the report", PATIENCE, || browser.has("[data-test=report][aria-busy=false]"));
    (browser, folder)
}

/// What a button saves, once the browser has written it whole.
fn saved(browser: &Browser, folder: &Path, button: &str, file: &str) -> Vec<u8> {
    // Files are named by title and day, and end as they always did.
    let found = || {
        let files = std::fs::read_dir(folder).into_iter().flatten().flatten().map(|entry| entry.path());
        files.filter(|path| path.to_string_lossy().ends_with(file)).collect::<Vec<_>>()
    };
    found().iter().for_each(|path| drop(std::fs::remove_file(path)));
    browser.unfold("save");
    browser.find(&format!("[data-test={button}]")).click();
    browser.wait_until(&format!("the file {file}"), PATIENCE, || !found().is_empty());
    // The name appears when the file is complete; a moment more does no harm.
    std::thread::sleep(Duration::from_millis(200));
    let files = found();
    let name = files[0].file_name().expect("a name").to_string_lossy().into_owned();
    assert!(name.starts_with("mango-nectar") && name.ends_with(&format!("-{file}")), "{name}");
    std::fs::read(&files[0]).expect("it can be read")
}

fn state(browser: &Browser, hook: &str, text: &str) {
    browser.find(&format!("[data-test={hook}]")).script(
        "this_element.value = arguments[0]; this_element.dispatchEvent(new Event('change', {bubbles: true}))",
        &[json!(text)],
    );
}

#[test]
fn the_page_saves_the_bytes_that_the_engine_makes_of_the_saved_study() {
    let (browser, folder) = report_page("bytes");
    browser.find("[data-test=report-details] summary").click();
    state(&browser, "report-purpose", "To choose one of four <candidates> & say why.\nSecond line.");
    state(&browser, "report-title", "Mango nectar, round 2");
    browser.wait_until("the title", PATIENCE, || browser.find(".likeness-report h1").text() == "Mango nectar, round 2");
    let study = saved(&browser, &folder, "save-study", "study.likeness.json");
    let study = study_in(&String::from_utf8(study).expect("UTF-8")).expect("the page saves sound files");
    let report = String::from_utf8(saved(&browser, &folder, "save-report", "report.html")).expect("UTF-8");
    let expected = report_html(&study);
    let differs = report.bytes().zip(expected.bytes()).position(|(got, expected)| got != expected);
    if let Some(place) = differs {
        let around =
            |text: &str| String::from_utf8_lossy(&text.as_bytes()[place.saturating_sub(60)..place + 60]).into_owned();
        panic!("the page writes\n{}\nthe engine\n{}", around(&report), around(&expected));
    }
    assert_eq!(report.len(), expected.len());
    assert!(report.contains("&lt;candidates&gt; &amp; say why.<br>Second line."));
    let scores = saved(&browser, &folder, "save-scores", "scores.csv");
    assert!(scores == tidy_csv(&study).into_bytes(), "the tidy tables differ");
    let workbook = saved(&browser, &folder, "save-workbook", "results.xlsx");
    assert!(
        workbook == workbook_bytes(&study, &Results::of(&study)).expect("it can be written"),
        "the workbooks differ"
    );
    browser.assert_quiet();
    browser.assert_nothing_outside();
}

#[test]
fn what_is_stated_is_undone_and_names_become_numbers() {
    let (browser, _folder) = report_page("stated");
    browser.find("[data-test=report-details] summary").click();
    let report = || browser.find(".likeness-report").text();
    state(&browser, "report-responsible", "Somebody of the invented laboratory");
    browser.wait_until("the statement", PATIENCE, || report().contains("Somebody of the invented laboratory"));
    browser.find("[data-test=undo]").click();
    browser.wait_until("it taken back", PATIENCE, || browser.find("[data-test=report-responsible]").value().is_empty());
    assert!(report().contains("Amara"));
    browser.find("[data-test=assessors-as-numbers]").click();
    browser.wait_until("numbers", PATIENCE, || !report().contains("Amara"));
    assert!(report().contains("assessor 12"));
    browser.assert_quiet();
}

#[test]
fn the_report_fits_every_screen_and_prints_on_both_papers() {
    let (browser, folder) = report_page("paper");
    for size in SIZES {
        browser.resize(size);
        browser.screenshot("report");
        assert_eq!(browser.sticks_out(), Vec::<String>::new(), "{size:?}: a person would have to scroll sideways");
        // Wide tables scroll within the sheet; its text must not.
        let fits = "const sheet = document.querySelector('.report-sheet'); \
                    return sheet.querySelector('.likeness-report').offsetWidth <= sheet.clientWidth";
        assert_eq!(browser.script(fits, &[]), json!(true), "{size:?}: text of the report is cut");
    }
    // Paper sizes in inches (ISO 216 and ANSI/ASME Y14.1).
    for (paper, width, height) in [("a4", 8.27, 11.69), ("letter", 8.5, 11.0)] {
        let printed = browser.cdp(
            "Page.printToPDF",
            &json!({"paperWidth": width, "paperHeight": height, "printBackground": false, "preferCSSPageSize": false}),
        );
        let data = printed["data"].as_str().or_else(|| printed["value"]["data"].as_str()).expect("a PDF");
        let bytes = base64::Engine::decode(&base64::engine::general_purpose::STANDARD, data).expect("base64");
        assert!(bytes.starts_with(b"%PDF-"));
        std::fs::write(folder.join(format!("{paper}.pdf")), &bytes).expect("a file");
        // Text and drawings of a dozen pages.
        assert!(bytes.len() > 50_000, "{} bytes on {paper}", bytes.len());
    }
    browser.assert_quiet();
}
