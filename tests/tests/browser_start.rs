//! The shipped page starts in a real browser, from disk and from a server, and nothing can leave it.

use likeness_tests::browser::{Browser, PATIENCE, SIZES, Site, bundle, file_address};
use serde_json::{Value, json};
use std::path::Path;

/// What the page says first, before anything is opened.
const HEADING: &str = "Does the candidate match its target, and which characters are off?";

/// What both forms must do; the form differs only in its address.
fn starts_and_stays_inside(address: &str) {
    let browser = Browser::start();
    browser.open(address);
    assert_eq!(browser.find("h1").text(), HEADING);
    browser.wait_until("the notice of the start to go", PATIENCE, || !browser.has("#start-notice"));
    assert!(policy(&browser).contains("connect-src 'none'"), "the policy is {}", policy(&browser));
    assert!(policy(&browser).contains("default-src 'none'"), "the policy is {}", policy(&browser));
    assert!(!browser.requests().is_empty(), "the log of requests must at least hold the page itself");
    browser.assert_quiet();
    browser.assert_nothing_outside();
}

fn policy(browser: &Browser) -> String {
    let meta = browser.find("meta[http-equiv='Content-Security-Policy']");
    meta.attribute("content").unwrap_or_default()
}

#[test]
fn the_single_file_starts_from_disk() {
    starts_and_stays_inside(&file_address(&bundle("likeness.html")));
}

#[test]
fn the_folder_starts_from_a_server_at_any_path() {
    let site = Site::serve(&bundle("site"), "panel/tools/likeness");
    starts_and_stays_inside(site.address());
    let prefix = "/panel/tools/likeness/";
    assert!(site.asked().iter().all(|path| path.starts_with(prefix)), "asked for {:?}", site.asked());
}

#[test]
fn the_folder_starts_from_disk_as_well() {
    starts_and_stays_inside(&file_address(&bundle("site/index.html")));
}

#[test]
fn the_single_file_is_alone() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/browser-files/alone");
    std::fs::create_dir_all(&folder).expect("a folder can be made");
    let lonely = folder.join("a copy, renamed é.html");
    std::fs::copy(bundle("likeness.html"), &lonely).expect("the page can be copied");
    starts_and_stays_inside(&file_address(&lonely));
}

#[test]
fn the_page_fits_each_screen() {
    let browser = Browser::start();
    browser.open(&file_address(&bundle("likeness.html")));
    for size in SIZES {
        browser.resize(size);
        assert_eq!(browser.script("return [screen.width, screen.height]", &[]), json!([size.width_px, size.height_px]));
        assert_eq!(browser.find("h1").text(), HEADING);
        browser.screenshot("start");
        assert_eq!(browser.sticks_out(), Vec::<String>::new(), "{size:?}: a person would have to scroll sideways");
    }
}

/// Tries every way out that a page has, to an address where a server listens, and tells what the policy refused.
const TRY_TO_LEAVE: &str = "
    const address = arguments[0];
    const refused = [];
    document.addEventListener('securitypolicyviolation', (event) => refused.push(event.effectiveDirective));
    const errors = [];
    const attempt = async (name, leave) => { try { await leave(); } catch (error) { errors.push(name); } };
    await attempt('fetch', () => fetch(address + 'fetch'));
    await attempt('XMLHttpRequest', () => new Promise((resolve, reject) => {
      const request = new XMLHttpRequest();
      request.onload = resolve;
      request.onerror = reject;
      request.open('GET', address + 'xhr');
      request.send();
    }));
    await attempt('WebSocket', () => new Promise((resolve, reject) => {
      const socket = new WebSocket(address.replace('http', 'ws') + 'socket');
      socket.onopen = resolve;
      socket.onerror = reject;
    }));
    await attempt('EventSource', () => new Promise((resolve, reject) => {
      const source = new EventSource(address + 'events');
      source.onopen = resolve;
      source.onerror = () => { source.close(); reject(); };
    }));
    await attempt('beacon', () => { if (!navigator.sendBeacon(address + 'beacon', 'x')) throw 'refused'; });
    const element = (name, attributes) => new Promise((resolve, reject) => {
      const made = Object.assign(document.createElement(name), attributes);
      made.onload = resolve;
      made.onerror = reject;
      document.head.append(made);
    });
    await attempt('image', () => element('img', { src: address + 'image.svg' }));
    await attempt('script', () => element('script', { src: address + 'script.js' }));
    await attempt('stylesheet', () => element('link', { rel: 'stylesheet', href: address + 'style.css' }));
    await attempt('inline script', () => {
      const made = document.createElement('script');
      made.textContent = 'window.smuggled = true';
      document.head.append(made);
      if (!window.smuggled) throw 'refused';
    });
    await attempt('form', () => new Promise((resolve, reject) => {
      document.addEventListener('securitypolicyviolation', reject);
      const form = Object.assign(document.createElement('form'), { action: address + 'form', method: 'post' });
      form.target = 'elsewhere';
      document.body.append(form);
      form.submit();
      setTimeout(resolve, 1000);
    }));
    await new Promise((resolve) => setTimeout(resolve, 300));
    return { refused, errors };";

/// A folder with the files that the attempts ask for, so that an attempt that gets out succeeds.
fn elsewhere() -> Site {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/browser-files/elsewhere");
    std::fs::create_dir_all(&folder).expect("a folder can be made");
    let files = [
        ("open.html", "<!doctype html><title>A page without a policy</title><h1>Open</h1>"),
        ("fetch", ""),
        ("xhr", ""),
        ("form", ""),
        ("script.js", ""),
        ("style.css", ""),
        ("image.svg", "<svg xmlns='http://www.w3.org/2000/svg' width='1' height='1'/>"),
    ];
    for (name, text) in files {
        std::fs::write(folder.join(name), text).expect("a file can be written");
    }
    Site::serve(&folder, "elsewhere")
}

fn words(value: &Value) -> Vec<&str> {
    value.as_array().into_iter().flatten().filter_map(Value::as_str).collect()
}

#[test]
fn nothing_can_leave_the_single_file() {
    let elsewhere = elsewhere();
    let browser = Browser::start();
    browser.open(&file_address(&bundle("likeness.html")));
    browser.find("h1");
    browser.allow_console_errors();
    browser.allow_outside_requests();
    let left = browser.script(TRY_TO_LEAVE, &[json!(elsewhere.address())]);
    let refused = words(&left["refused"]);
    for directive in ["connect-src", "img-src", "script-src-elem", "style-src-elem", "form-action"] {
        assert!(refused.contains(&directive), "no refusal by {directive} in {left}");
    }
    let connections = refused.iter().filter(|directive| **directive == "connect-src").count();
    assert_eq!(connections, 5, "fetch, XMLHttpRequest, WebSocket, EventSource and beacon: {left}");
    for attempt in ["fetch", "XMLHttpRequest", "WebSocket", "EventSource", "image", "script", "stylesheet"] {
        assert!(words(&left["errors"]).contains(&attempt), "{attempt} went through: {left}");
    }
    assert!(words(&left["errors"]).contains(&"inline script"), "an inline script ran: {left}");
    assert_eq!(elsewhere.asked(), Vec::<String>::new(), "the server elsewhere was asked");
}

#[test]
fn the_attempts_to_leave_do_leave_a_page_without_a_policy() {
    let elsewhere = elsewhere();
    let browser = Browser::start();
    browser.open(&format!("{}open.html", elsewhere.address()));
    browser.allow_console_errors();
    browser.allow_outside_requests();
    let left = browser.script(TRY_TO_LEAVE, &[json!(elsewhere.address())]);
    assert_eq!(words(&left["refused"]), Vec::<&str>::new());
    let asked = elsewhere.asked();
    for name in ["fetch", "xhr", "socket", "events", "beacon", "image.svg", "script.js", "style.css", "form"] {
        assert!(asked.contains(&format!("/elsewhere/{name}")), "{name} was not asked for: {asked:?}");
        // The form opens another tab, whose requests are in a log of its own.
        let seen = name == "form" || browser.requests().iter().any(|request| request.address.ends_with(name));
        assert!(seen, "the log of requests lacks {name}: it can't be trusted to show that nothing was asked for");
    }
}

#[test]
fn a_start_that_fails_says_so_in_plain_words() {
    let page = std::fs::read_to_string(bundle("likeness.html")).expect("the page can be read");
    // Any change to the script makes its hash wrong: the browser refuses it, as it would refuse a damaged file.
    let damaged = page.replacen("wasm_bindgen({ module_or_path", "wasm_bindgen({  module_or_path", 1);
    assert_ne!(page, damaged, "the script to damage was not found");
    let browser = open_changed("damaged.html", &damaged);
    browser.allow_console_errors();
    assert!(browser.text().contains("If these lines stay, this browser can't run the page"), "{}", browser.text());
    assert!(!browser.has("h1"));
}

#[test]
fn without_javascript_the_page_says_that_it_needs_it() {
    let browser = Browser::start();
    browser.cdp("Emulation.setScriptExecutionDisabled", &json!({ "value": true }));
    browser.open(&file_address(&bundle("likeness.html")));
    assert!(browser.find("noscript").text().contains("JavaScript is switched off"));
    assert!(!browser.text().contains("is starting"), "nothing is starting: {}", browser.text());
    browser.screenshot("without-javascript");
}

#[test]
fn without_webassembly_the_page_says_what_it_needs() {
    let browser = Browser::start();
    browser.cdp("Page.addScriptToEvaluateOnNewDocument", &json!({ "source": "delete globalThis.WebAssembly" }));
    browser.open(&file_address(&bundle("likeness.html")));
    browser.allow_console_errors();
    assert!(browser.find("#start-reason").text().contains("WebAssembly is missing or switched off"));
    assert!(browser.find("#start-line").text().contains("could not start"));
    browser.screenshot("without-webassembly");
}

fn open_changed(name: &str, html: &str) -> Browser {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/browser-files");
    std::fs::create_dir_all(&folder).expect("a folder can be made");
    std::fs::write(folder.join(name), html).expect("a file can be written");
    let browser = Browser::start();
    browser.open(&file_address(&folder.join(name)));
    browser
}
