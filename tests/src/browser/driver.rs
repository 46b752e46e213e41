//! The processes behind a browser: ChromeDriver on a free port, and the Chromium that it starts with an empty profile.

use super::wire::Wire;
use serde_json::{Value, json};
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::atomic::{AtomicU32, Ordering};

/// A running ChromeDriver and the folder that its browser keeps its things in.
pub struct Driver {
    process: Child,
    port: u16,
    profile: PathBuf,
    /// The browser's first process, once it was started.
    browser: Option<u64>,
}

/// No sandbox: it opens our own page only, and Chromium's sandbox runs neither as root nor on every Linux.
const FLAGS: [&str; 10] = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-dev-shm-usage",
    "--window-size=1440,900",
];

static STARTED: AtomicU32 = AtomicU32::new(0);

impl Driver {
    /// Starts ChromeDriver on a port of its own choice.
    pub fn start() -> Driver {
        let program = program("LIKENESS_CHROMEDRIVER", &["chromedriver", "chromium.chromedriver"]);
        let mut process = Command::new(&program)
            .arg("--port=0")
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap_or_else(|error| panic!("{} could not be started: {error}", program.display()));
        let mut lines = BufReader::new(process.stdout.take().expect("stdout is piped")).lines();
        let port = lines.by_ref().map_while(Result::ok).find_map(|line| port_in(&line));
        let Some(port) = port else {
            let _ = process.kill();
            panic!("{} ended without telling its port", program.display());
        };
        // Read on, so that the driver never waits for somebody to read.
        std::thread::spawn(move || lines.map_while(Result::ok).for_each(drop));
        let number = STARTED.fetch_add(1, Ordering::Relaxed);
        let profile = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("../target/browser-profiles")
            .join(format!("{}-{number}", std::process::id()));
        Driver { process, port, profile, browser: None }
    }

    /// Starts Chromium and gives the line to it.
    pub fn open_session(&mut self) -> Wire {
        let wire = Wire::to_port(self.port);
        let answer = wire
            .send("POST", "/session", Some(&self.capabilities()))
            .unwrap_or_else(|error| panic!("Chromium could not be started: {error}"));
        self.browser = answer["capabilities"]["goog:processID"].as_u64();
        let id = answer.get("sessionId").and_then(Value::as_str).expect("a new session has an id");
        wire.session(id)
    }

    /// Ends the browser's first process at once, with no word to it; the others end with it.
    ///
    /// # Panics
    /// When the driver never said which process it is.
    pub fn kill_browser(&mut self) {
        let process = self.browser.take().expect("the driver says which process the browser is");
        let killed = Command::new("kill").args(["-KILL", &process.to_string()]).status();
        assert!(killed.is_ok_and(|status| status.success()), "process {process} could not be ended");
        // A lock that a browser which still lives would hold; this one is gone.
        for left in ["SingletonLock", "SingletonCookie", "SingletonSocket", "DevToolsActivePort"] {
            let _ = std::fs::remove_file(self.profile.join(left));
        }
    }

    /// Ends the browser and the driver, and removes the profile.
    pub fn end(&mut self, wire: &Wire) {
        wire.delete();
        let _ = self.process.kill();
        let _ = self.process.wait();
        let _ = std::fs::remove_dir_all(&self.profile);
    }

    fn capabilities(&self) -> Value {
        std::fs::create_dir_all(&self.profile).expect("the profile folder can be made");
        let profile = self.profile.canonicalize().expect("the profile folder is there");
        let mut flags: Vec<String> = FLAGS.iter().map(ToString::to_string).collect();
        flags.push(format!("--user-data-dir={}", profile.display()));
        let names = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable"];
        json!({ "capabilities": { "alwaysMatch": {
            "browserName": "chrome",
            "goog:loggingPrefs": { "browser": "ALL", "performance": "ALL" },
            "goog:chromeOptions": { "binary": program("LIKENESS_CHROMIUM", &names), "args": flags },
        } } })
    }
}

/// "ChromeDriver was started successfully on port 36341."
fn port_in(line: &str) -> Option<u16> {
    let rest = line.split_once("started successfully on port ")?.1;
    rest.trim_end_matches('.').parse().ok()
}

/// A program named by an environment variable (`cargo xtask` sets it), else the first of these on PATH.
fn program(variable: &str, names: &[&str]) -> PathBuf {
    if let Some(path) = std::env::var_os(variable) {
        return PathBuf::from(path);
    }
    let path = std::env::var_os("PATH").unwrap_or_default();
    let folders: Vec<PathBuf> = std::env::split_paths(&path).collect();
    let mut candidates = names.iter().flat_map(|name| folders.iter().map(move |folder| folder.join(name)));
    candidates
        .find(|candidate| candidate.is_file())
        .unwrap_or_else(|| panic!("none of {names:?} is on PATH: start by `cargo xtask test`, which installs it"))
}
