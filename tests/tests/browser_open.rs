//! Opening what a leader has: a workbook with its key, the files of two sessions, a workbook that is broken.

use likeness_tests::browser::{Browser, DroppedFile, PATIENCE, SIZES, bundle, file_address};
use likeness_tests::workbooks::{Sheet, xlsx};

const PANEL: &str = "\
assessor,code,replicate,green,ripe
Anna,417,1,45,62
Anna,417,2,47,60
Anna,822,1,21,80
Anna,822,2,25,78
Ben,417,1,51,58
Ben,417,2,55,57
Ben,822,1,30,71
Ben,822,2,33,74
Eva,417,1,40,66
Eva,417,2,44,61
Eva,822,1,18,83
Eva,822,2,22,88
";
const KEY: &str = "code,sample\n417,Fresh mango\n822,Candidate A\n";

/// The page opened from disk.
fn page() -> Browser {
    let browser = Browser::start();
    browser.open(&file_address(&bundle("likeness.html")));
    browser
}

fn wait_for(browser: &Browser, hook: &str) {
    browser.wait_until(hook, PATIENCE, || browser.has(&format!("[data-test={hook}]")));
}

fn dropped(name: &str, bytes: Vec<u8>) -> DroppedFile {
    DroppedFile { name: name.to_owned(), bytes }
}

fn replicate(number: &str) -> Vec<u8> {
    let keep = |(row, line): &(usize, &str)| *row == 0 || line.split(',').nth(2) == Some(number);
    let rows = PANEL.lines().enumerate().filter(keep);
    rows.fold(String::new(), |text, (_, line)| text + line + "\n").into_bytes()
}

#[test]
fn a_workbook_with_a_key_goes_from_the_drop_to_the_verdict() {
    let browser = page();
    let book = xlsx(&[Sheet::of("Scores", PANEL), Sheet::of("Key", KEY).hidden(), Sheet::of("Notes", "room,2\n")]);
    browser.drop_files(&[dropped("panel.xlsx", book)]);
    wait_for(&browser, "preview");
    let sheets = browser.find("[data-test=sheets]").text();
    assert!(
        sheets.contains("Key (panel.xlsx)") && sheets.contains("tells which sample each code stood for"),
        "{sheets}"
    );
    assert!(browser.find("[data-test=counts]").text().contains("24 scores"));
    let summary = browser.find("[data-test=cell-map-summary]").text();
    assert_eq!(summary, "Every assessor scored every sample in full: 4 scores in each of 6 cells.");
    for size in SIZES {
        browser.resize(size);
        browser.screenshot("open-workbook");
        assert_eq!(browser.sticks_out(), Vec::<String>::new(), "{size:?}: a person would have to scroll sideways");
    }
    browser.find("[data-test=preview-target]").choose("Fresh mango");
    browser.find("[data-test=use-scores]").click();
    wait_for(&browser, "show-verdict");
    browser.find("[data-test=show-verdict]").click();
    wait_for(&browser, "verdict-sentence");
    assert!(browser.find("[data-test=verdict-sentence]").text().contains("Candidate A"));
    browser.assert_quiet();
    browser.assert_nothing_outside();
}

#[test]
fn a_sheet_is_left_out_by_hand_and_the_cell_map_shows_what_is_missing() {
    let browser = page();
    let missing = PANEL.replace("Ben,822,1,30,71", "Ben,822,1,,71").replace("Eva,822,1,18,83\nEva,822,2,22,88\n", "");
    browser.drop_files(&[dropped("panel.xlsx", xlsx(&[Sheet::of("Scores", &missing), Sheet::of("Key", KEY)]))]);
    wait_for(&browser, "cell-map");
    let summary = browser.find("[data-test=cell-map-summary]").text();
    assert_eq!(summary, "Of 6 pairs of assessors and samples, 4 full (4 scores), 1 in part, 1 empty.");
    browser.screenshot("open-missing");
    browser.find("[data-test=sheet-use][data-sheet='1']").choose("left out");
    browser.wait_until("the codes", PATIENCE, || browser.find("[data-test=cell-map]").text().contains("417"));
    browser.assert_quiet();
}

#[test]
fn two_files_picked_together_are_two_sessions() {
    let browser = page();
    let folder = likeness_tests::reference::path("../../target/browser-files");
    std::fs::create_dir_all(&folder).expect("a folder can be made");
    let paths = ["Day 1.csv", "Day 2.csv"].map(|name| folder.join(name));
    std::fs::write(&paths[0], replicate("1")).expect("a file");
    std::fs::write(&paths[1], replicate("2")).expect("a file");
    browser.find("[data-test=open-file]").set_files(&[&paths[0], &paths[1]]);
    wait_for(&browser, "preview");
    let counts = browser.find("[data-test=counts]").text();
    assert!(counts.contains("2 sessions") && counts.contains("24 scores"), "{counts}");
    browser.resize(SIZES[2]);
    browser.screenshot("open-sessions");
    assert_eq!(browser.sticks_out(), Vec::<String>::new());
    browser.find_text("Yes, each file is one session").click();
    browser.wait_until("the question gone", PATIENCE, || !browser.text().contains("What does each file stand for?"));
    browser.find("[data-test=use-scores]").click();
    wait_for(&browser, "study-state");
    browser.assert_quiet();
}

#[test]
fn a_broken_workbook_leaves_the_open_study_alone() {
    let browser = page();
    browser.find("[data-test=open-demo]").click();
    wait_for(&browser, "study-state");
    let before = browser.find("[data-test=study-state]").text();
    let whole = xlsx(&[Sheet::of("Scores", PANEL)]);
    browser.drop_files(&[dropped("broken.xlsx", whole[..whole.len() / 2].to_vec())]);
    wait_for(&browser, "error-message");
    let message = browser.find("[data-test=error-message]").text();
    assert!(message.contains("broken.xlsx") && message.contains("The workbook is damaged"), "{message}");
    assert_eq!(browser.find("[data-test=study-state]").text(), before);
    browser.assert_quiet();
}
