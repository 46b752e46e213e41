//! `cargo xtask bench`: measurements, never tests. The native benchmarks first, then the shipped page in a browser.

use crate::bundle::{self, Speed};
use crate::run::{self, Failure};
use crate::setup_browser;

/// Runs both and prints what they say.
pub fn bench() -> Result<(), Failure> {
    run::heading("Native benchmarks");
    run::run(run::cargo()?.args(["bench", "--package", "likeness-core", "--bench", "analyse"]))?;
    run::heading("The same work by numpy");
    let peer = ["core/benches/peer/numpy_closed_form.py", "target"];
    if let Err(Failure(why)) = run::run(std::process::Command::new("python3").args(peer)) {
        println!("    left out: it takes python3 with numpy ({why})");
    }
    let folder = bundle::bundle(Speed::Shipped)?;
    let tools = setup_browser::browser()?;
    run::heading("The page in a browser");
    let mut command = run::cargo()?;
    command
        .args(["run", "--quiet", "--package", "likeness-tests", "--features", "browser"])
        .args(["--bin", "bench_page", "--"])
        .arg(folder.join("likeness.html"))
        .env("LIKENESS_CHROMIUM", tools.chromium)
        .env("LIKENESS_CHROMEDRIVER", tools.driver);
    run::run(&mut command)
}
