//! The browser harness itself: that it does what a person does, and that its guards do fail a test. On small pages of its
//! own, so that it says where the fault is when a test of the real page fails.

use likeness_tests::browser::{Browser, DroppedFile, PATIENCE, SIZES, Site, file_address};
use serde_json::json;
use std::path::{Path, PathBuf};

/// A page with one of everything; what happens to it is written into #said.
const PAGE: &str = r#"<!doctype html>
<meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>Harness</title>
<p id="said">nothing yet</p>
<button>Press   me</button><span hidden>Hidden words</span>
<input id="field"><input id="files" type="file" multiple>
<select id="list"><option value="a">Sample A<option value="b">Sample B</select>
<script>
  const say = (text) => { said.textContent = text; };
  document.querySelector("button").onclick = () => say("pressed");
  list.onchange = () => say("chosen " + list.value);
  files.onchange = async () => say("files " + (await read(files.files)));
  const read = async (list) => (await Promise.all([...list].map(async (f) => f.name + "=" + (await f.text())))).join(",");
  addEventListener("dragover", (event) => event.preventDefault());
  addEventListener("drop", async (event) => { event.preventDefault(); say("dropped " + (await read(event.dataTransfer.files))); });
  addEventListener("paste", (event) => say("pasted " + event.clipboardData.getData("text/plain") + " on " + event.target.id));
  addEventListener("keydown", (event) => { if (event.ctrlKey && event.key === "z") say("undone"); });
</script>"#;

fn files_folder() -> PathBuf {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/browser-files");
    std::fs::create_dir_all(&folder).expect("a folder can be made");
    folder
}

/// Each test has a file of its own: they run at the same time.
fn written(name: &str, text: &str) -> PathBuf {
    let path = files_folder().join(name);
    std::fs::write(&path, text).expect("a file can be written");
    path
}

fn opened(name: &str) -> Browser {
    let browser = Browser::start();
    browser.open(&file_address(&written(name, PAGE)));
    browser
}

fn said(browser: &Browser, words: &str) {
    browser.wait_until(words, PATIENCE, || browser.script("return said.textContent", &[]) == words);
}

#[test]
fn it_clicks_types_and_chooses() {
    let browser = opened("harness-acts.html");
    browser.find_text("Press me").click();
    said(&browser, "pressed");
    browser.find("#field").type_text("47");
    assert_eq!(browser.find("#field").value(), "47");
    browser.find("#list").choose("Sample B");
    said(&browser, "chosen b");
    browser.press_with('\u{e009}', 'z');
    said(&browser, "undone");
    assert!(!browser.text().contains("Hidden words"));
}

#[test]
fn it_gives_drops_and_pastes() {
    let browser = opened("harness-gives.html");
    let file = written("harness-given.csv", "a,b");
    browser.find("#files").set_files(&[&file]);
    said(&browser, "files harness-given.csv=a,b");
    browser.drop_files(&[DroppedFile { name: "µ.csv".to_string(), bytes: "x;ä".into() }]);
    said(&browser, "dropped µ.csv=x;ä");
    browser.find("#field").paste("a\tb");
    said(&browser, "pasted a\tb on field");
}

#[test]
fn a_phone_is_as_narrow_as_a_phone() {
    let browser = opened("harness-phone.html");
    browser.resize(SIZES[2]);
    assert_eq!(browser.sticks_out(), Vec::<String>::new());
    assert_eq!(browser.script("return [innerWidth, screen.width]", &[]), json!([390, 390]));
    browser.script(
        "document.body.append(Object.assign(document.createElement('hr'), { style: 'width: 600px; margin: 0' }))",
        &[],
    );
    // The body's margin of 8 px, the 600, and the rule's border of 1 px on each side.
    assert_eq!(browser.sticks_out(), ["hr \"\" ends at 610 px of 390"]);
    let picture = std::fs::read(browser.screenshot("harness")).expect("a picture was written");
    // A PNG has its width in bytes 16 to 19 (W3C PNG, section 11.2.2).
    assert_eq!(picture[16..20], 390_u32.to_be_bytes());
    let print = std::fs::read(browser.print_pdf("harness")).expect("a print was written");
    assert!(print.starts_with(b"%PDF-"));
}

#[test]
#[should_panic(expected = "errors to the console")]
fn an_error_in_the_console_fails_the_test() {
    let browser = opened("harness-error.html");
    browser.script("setTimeout(() => { throw new Error('broken') })", &[]);
    browser.script("await new Promise((resolve) => setTimeout(resolve, 200))", &[]);
}

#[test]
#[should_panic(expected = "asked for something outside")]
fn asking_for_something_outside_fails_the_test() {
    let elsewhere = Site::serve(&files_folder(), "elsewhere");
    let browser = opened("harness-outside.html");
    browser.script("await fetch(arguments[0])", &[json!(format!("{}harness-outside.html", elsewhere.address()))]);
}

#[test]
#[should_panic(expected = "in vain")]
fn waiting_for_what_never_comes_fails_the_test() {
    let browser = opened("harness-never.html");
    browser.wait_until("a thing that never comes", std::time::Duration::from_millis(300), || browser.has("#never"));
}

#[test]
#[should_panic(expected = "the script says so")]
fn a_script_that_throws_fails_the_test() {
    let browser = opened("harness-throws.html");
    browser.script("throw new Error('the script says so')", &[]);
}
