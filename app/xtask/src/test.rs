//! `cargo xtask test`: set-up, every test, the shipped page in a browser, formatting and clippy. All steps run even when one
//! fails, so that one run tells everything; the end says which failed and how long each took.

use crate::bundle::{self, Speed};
use crate::run::{self, Failure};
use crate::setup_browser;
use std::path::Path;
use std::time::{Duration, Instant};

/// Everything that must hold before a change is taken.
pub fn everything() -> Result<(), Failure> {
    let mut steps = Steps::default();
    steps.take("formatting", || {
        run::heading("Formatting");
        run::run(run::cargo()?.args(["fmt", "--all", "--check"]))
    });
    steps.take("tests without a browser", || {
        run::heading("Tests without a browser (building them takes some minutes the first time)");
        run::run(run::cargo()?.args(["test", "--workspace", "--no-fail-fast"]))
    });
    steps.take("clippy", || {
        run::heading("Clippy, warnings as errors");
        run::run(run::cargo()?.args(["clippy", "--workspace", "--all-targets"]).args([
            "--features",
            "likeness-tests/browser",
            "--",
            "-D",
            "warnings",
        ]))
    });
    let built = steps.take("bundle", || bundle::bundle(Speed::Shipped));
    if let Some(folder) = built {
        steps.take("tests in a browser", || browser_tests(&folder, None));
    }
    steps.end()
}

/// Only the browser tests, on a page that is built quickly.
pub fn browser_only(name: Option<&str>) -> Result<(), Failure> {
    let folder = bundle::bundle(Speed::Quick)?;
    browser_tests(&folder, name)
}

fn browser_tests(bundle: &Path, name: Option<&str>) -> Result<(), Failure> {
    let tools = setup_browser::browser()?;
    run::heading("Tests in a browser");
    let mut command = run::cargo()?;
    command
        .args(["test", "--package", "likeness-tests", "--features", "browser"])
        .args(["--test", "browser_*", "--no-fail-fast"])
        .args(name)
        // Each test starts a browser of its own: more than two at a time only wait for each other.
        .args(["--", "--test-threads", "2"])
        .env("LIKENESS_BUNDLE", bundle)
        .env("LIKENESS_CHROMIUM", tools.chromium)
        .env("LIKENESS_CHROMEDRIVER", tools.driver);
    run::run(&mut command)
}

/// The steps taken so far.
#[derive(Default)]
struct Steps {
    taken: Vec<Step>,
}

struct Step {
    name: &'static str,
    took: Duration,
    failure: Option<Failure>,
}

impl Steps {
    fn take<T>(&mut self, name: &'static str, step: impl FnOnce() -> Result<T, Failure>) -> Option<T> {
        let start = Instant::now();
        let (value, failure) = match step() {
            Ok(value) => (Some(value), None),
            Err(failure) => (None, Some(failure)),
        };
        if let Some(Failure(message)) = &failure {
            eprintln!("\n{name} FAILED: {message}");
        }
        self.taken.push(Step { name, took: start.elapsed(), failure });
        value
    }

    fn end(self) -> Result<(), Failure> {
        run::heading("How it went");
        for step in &self.taken {
            let result = match &step.failure {
                None => "good".to_string(),
                Some(Failure(message)) => format!("FAILED: {message}"),
            };
            println!("    {:<26}{:>6.0} s   {result}", step.name, step.took.as_secs_f64());
        }
        let failed: Vec<&str> = self.taken.iter().filter(|step| step.failure.is_some()).map(|step| step.name).collect();
        if failed.is_empty() {
            return Ok(());
        }
        Err(Failure(format!("not good: {}", failed.join(", "))))
    }
}
