//! A real browser for tests: Chromium, driven through ChromeDriver by the WebDriver protocol, seen as a person sees it.
//! It must not know what Likeness computes. Its functions panic with a sentence when the browser does not do as asked:
//! they are called by tests, where a panic is a failed test.
//!
//! A `Browser` that is dropped without `allow_console_errors` fails its test when the page wrote an error to the console,
//! and one without `allow_outside_requests` when the page asked for anything outside of itself.

mod accessibility;
mod driver;
mod element;
mod logs;
mod page;
mod site;
mod tabs;
mod wire;

pub use element::{DroppedFile, Element};
pub use logs::{ConsoleLine, Request};
pub use page::{SIZES, Size};
pub use site::Site;
pub use tabs::Tab;

use driver::Driver;
use logs::Logs;
use serde_json::{Value, json};
use std::cell::{Cell, RefCell};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};
use wire::Wire;

/// How long a thing may take to appear on the page before a test gives up.
pub const PATIENCE: Duration = Duration::from_secs(20);

/// The file or folder that `cargo xtask` built and wants tested.
///
/// # Panics
/// When the tests were not started by `cargo xtask test`.
#[must_use]
pub fn bundle(name: &str) -> PathBuf {
    let Some(folder) = std::env::var_os("LIKENESS_BUNDLE") else {
        panic!(
            "LIKENESS_BUNDLE is not set: it names the folder with the built page. Start the browser tests by \
             `cargo xtask test --browser`, or build by `cargo xtask bundle` and set LIKENESS_BUNDLE to the folder dist."
        );
    };
    let path = Path::new(&folder).join(name);
    assert!(path.exists(), "{} is missing: build it by `cargo xtask bundle`", path.display());
    path
}

/// The file:// address of a path.
///
/// # Panics
/// When there is no such file.
#[must_use]
pub fn file_address(path: &Path) -> String {
    let full = path.canonicalize().unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    let mut address = String::from("file://");
    for byte in full.to_string_lossy().bytes() {
        match byte {
            b'A'..=b'Z' | b'a'..=b'z' | b'0'..=b'9' | b'/' | b'-' | b'.' | b'_' => address.push(byte as char),
            other => address.push_str(&format!("%{other:02X}")),
        }
    }
    address
}

/// One browser window with an empty profile of its own. It closes when it is dropped.
pub struct Browser {
    wire: Wire,
    logs: RefCell<Logs>,
    console_errors_allowed: Cell<bool>,
    outside_allowed: Cell<bool>,
    // Dropped last: it ends the processes.
    driver: Driver,
}

impl Browser {
    /// Starts a browser of the desktop size, 1440 x 900.
    ///
    /// # Panics
    /// When Chromium or its driver is missing or does not start.
    #[must_use]
    pub fn start() -> Browser {
        let mut driver = Driver::start();
        let wire = driver.open_session();
        let browser = Browser {
            wire,
            logs: RefCell::default(),
            console_errors_allowed: Cell::new(false),
            outside_allowed: Cell::new(false),
            driver,
        };
        browser.begin_blank();
        browser
    }

    /// Ends the browser's processes at once, as a power cut would, and starts it again with the same profile.
    ///
    /// # Panics
    /// When it can't be ended or doesn't start again.
    pub fn kill_and_start_again(&mut self) {
        self.driver.kill_browser();
        self.wire.delete();
        self.wire = self.driver.open_session();
        self.begin_blank();
    }

    /// Chromium opens with a page of its own, which loads parts of its own: away from it, and forget them.
    fn begin_blank(&self) {
        self.open("about:blank");
        self.logs.borrow_mut().forget(&self.wire);
        self.resize(SIZES[0]);
    }

    /// Opens an address and waits until the document is loaded. `file_address` makes one from a path.
    pub fn open(&self, address: &str) {
        self.logs.borrow_mut().opened(address);
        self.wire.post("/url", &json!({ "url": address }));
    }

    /// Loads the page again.
    pub fn reload(&self) {
        self.wire.post("/refresh", &json!({}));
    }

    /// The first element that the CSS selector names, waiting until there is one.
    pub fn find(&self, css: &str) -> Element<'_> {
        self.wait_for(&format!("an element `{css}`"), || self.find_all(css).into_iter().next())
    }

    /// Unfolds what is folded under this hook, as a reader does, unless it is unfolded already.
    pub fn unfold(&self, hook: &str) {
        let fold = format!("details[data-test=fold-{hook}]");
        let script = "if (!this_element.open) this_element.querySelector('summary').click()";
        self.find(&fold).script(script, &[]);
        self.wait_for(&format!("{hook} unfolded"), || self.find_all(&format!("{fold}[open]")).into_iter().next());
    }

    /// All elements that the CSS selector names now.
    #[must_use]
    pub fn find_all(&self, css: &str) -> Vec<Element<'_>> {
        let found = self.wire.post("/elements", &json!({ "using": "css selector", "value": css }));
        found.as_array().into_iter().flatten().map(|value| Element::new(&self.wire, value)).collect()
    }

    /// Whether there is such an element now.
    #[must_use]
    pub fn has(&self, css: &str) -> bool {
        !self.find_all(css).is_empty()
    }

    /// The innermost shown element whose text contains these words, waiting until there is one.
    pub fn find_text(&self, words: &str) -> Element<'_> {
        self.wait_for(&format!("the words \"{words}\""), || {
            let found = self.script(FIND_TEXT, &[json!(words)]);
            (!found.is_null()).then(|| Element::new(&self.wire, &found))
        })
    }

    /// All that can be read on the page.
    #[must_use]
    pub fn text(&self) -> String {
        self.script("return document.body.innerText", &[]).as_str().unwrap_or_default().to_string()
    }

    /// Runs JavaScript as the body of a function; it may `await`, and reads its arguments from `arguments`.
    ///
    /// # Panics
    /// When the script throws.
    pub fn script(&self, body: &str, arguments: &[Value]) -> Value {
        let script = format!("const given = arguments; return (async function () {{ {body} }}).apply(null, given);");
        self.wire.post("/execute/sync", &json!({ "script": script, "args": arguments }))
    }

    /// Waits until something is true.
    ///
    /// # Panics
    /// When it is not true within the limit; the message shows what is on the page then.
    pub fn wait_until(&self, what: &str, limit: Duration, mut is_true: impl FnMut() -> bool) {
        self.wait(what, limit, || is_true().then_some(()));
    }

    /// Sends one command of Chromium's own protocol (CDP) and gives its answer.
    pub fn cdp(&self, command: &str, parameters: &Value) -> Value {
        self.wire.post("/goog/cdp/execute", &json!({ "cmd": command, "params": parameters }))
    }

    /// From now on errors in the console don't fail the test: for a test that provokes them.
    pub fn allow_console_errors(&self) {
        self.console_errors_allowed.set(true);
    }

    /// From now on asking for something outside does not fail the test: for a test that provokes it.
    pub fn allow_outside_requests(&self) {
        self.outside_allowed.set(true);
    }

    /// What the page and the browser have written to the console so far.
    #[must_use]
    pub fn console(&self) -> Vec<ConsoleLine> {
        let mut logs = self.logs.borrow_mut();
        logs.update(&self.wire);
        logs.console().to_vec()
    }

    /// What the page has asked for so far, blocked or not.
    #[must_use]
    pub fn requests(&self) -> Vec<Request> {
        let mut logs = self.logs.borrow_mut();
        logs.update(&self.wire);
        logs.requests().to_vec()
    }

    /// Fails the test when the page has written an error to the console.
    pub fn assert_quiet(&self) {
        let errors: Vec<ConsoleLine> = self.console().into_iter().filter(ConsoleLine::is_error).collect();
        assert!(errors.is_empty(), "the page wrote errors to the console: {errors:#?}");
    }

    /// Fails the test when the page has asked for anything but file:, data:, blob: or its own loopback address.
    pub fn assert_nothing_outside(&self) {
        let _ = self.requests();
        let outside = self.logs.borrow().outside();
        assert!(outside.is_empty(), "the page asked for something outside: {outside:#?}");
    }

    fn wait_for<T>(&self, what: &str, find: impl FnMut() -> Option<T>) -> T {
        self.wait(what, PATIENCE, find)
    }

    fn wait<T>(&self, what: &str, limit: Duration, mut find: impl FnMut() -> Option<T>) -> T {
        let start = Instant::now();
        loop {
            if let Some(found) = find() {
                return found;
            }
            if start.elapsed() > limit {
                let text: String = self.text().chars().take(3000).collect();
                let console = self.console();
                panic!("waited {limit:?} for {what}, in vain.\nConsole: {console:#?}\nThe page reads:\n{text}");
            }
            std::thread::sleep(Duration::from_millis(40));
        }
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        if !std::thread::panicking() {
            if !self.console_errors_allowed.get() {
                self.assert_quiet();
            }
            if !self.outside_allowed.get() {
                self.assert_nothing_outside();
            }
        }
        self.driver.end(&self.wire);
    }
}

/// Looks through the shown elements, innermost first, for these words.
const FIND_TEXT: &str = "
    const squeeze = (text) => text.replace(/\\s+/g, ' ').trim();
    const words = squeeze(arguments[0]);
    const walk = (element) => {
      for (const child of element.children) {
        const found = walk(child);
        if (found) return found;
      }
      const shown = element.getClientRects().length > 0 && getComputedStyle(element).visibility !== 'hidden';
      return shown && squeeze(element.innerText ?? element.textContent).includes(words) ? element : null;
    };
    return walk(document.body);";
