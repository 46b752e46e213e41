//! Chromium and its driver for the browser tests, and the one way in which this program installs system packages.

use crate::run::{self, Failure};
use std::path::{Path, PathBuf};
use std::process::Command;

/// A browser and the driver that belongs to it.
pub struct BrowserTools {
    pub chromium: PathBuf,
    pub driver: PathBuf,
}

const CHROMIUM_NAMES: [&str; 5] = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome"];
const DRIVER_NAMES: [&str; 2] = ["chromedriver", "chromium.chromedriver"];
const MAC_CHROME: &str = "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome";

/// Finds or installs the browser and its driver.
pub fn browser() -> Result<BrowserTools, Failure> {
    run::heading("Looking for the browser that the tests drive");
    if let Some(tools) = found() {
        println!("    {}: here", tools.chromium.display());
        println!("    {}: here", tools.driver.display());
        return Ok(tools);
    }
    println!("    Chromium or its driver: missing. Installing both (about 350 MB, 1 to 3 minutes).");
    let installed = install_by_apt(&["chromium", "chromium-driver"])
        .or_else(|_| install_by_apt(&["chromium-browser", "chromium-chromedriver"]));
    match (installed, found()) {
        (_, Some(tools)) => Ok(tools),
        (Err(Failure(why)), None) => Err(Failure(format!("{ADVICE} ({why})"))),
        (Ok(()), None) => Err(Failure(ADVICE.to_string())),
    }
}

const ADVICE: &str = "Chromium (or Chrome) and ChromeDriver are needed for the browser tests and could not be installed \
    here. Install both, of the same version, and put `chromium` (or `google-chrome`) and `chromedriver` on PATH, or name \
    them in LIKENESS_CHROMIUM and LIKENESS_CHROMEDRIVER. On macOS: `brew install --cask google-chrome chromedriver`; on \
    Fedora: `dnf install chromium chromedriver`; on Arch: `pacman -S chromium`.";

/// Installs Debian packages: as root directly, else by sudo.
pub fn install_by_apt(packages: &[&str]) -> Result<(), Failure> {
    if run::find_program("apt-get").is_none() {
        return Err(Failure("this machine has no apt-get".to_string()));
    }
    run::run(apt()?.arg("update"))?;
    run::run(apt()?.args(["install", "--yes", "--no-install-recommends"]).args(packages))
}

fn apt() -> Result<Command, Failure> {
    let is_root = run::output_of(Command::new("id").arg("-u")).as_deref() == Some("0");
    let mut command = if is_root {
        let mut command = Command::new("env");
        command.arg("DEBIAN_FRONTEND=noninteractive");
        command
    } else if run::find_program("sudo").is_some() {
        let mut command = Command::new("sudo");
        command.args(["env", "DEBIAN_FRONTEND=noninteractive"]);
        command
    } else {
        return Err(Failure("installing packages needs root or sudo".to_string()));
    };
    // Another installation may be running: wait for it rather than fail at once.
    command.args(["apt-get", "-q", "-o", "DPkg::Lock::Timeout=300"]);
    Ok(command)
}

fn found() -> Option<BrowserTools> {
    let chromium = named("LIKENESS_CHROMIUM")
        .or_else(|| CHROMIUM_NAMES.iter().find_map(|name| run::find_program(name)))
        .or_else(|| Path::new(MAC_CHROME).is_file().then(|| MAC_CHROME.into()))?;
    let driver =
        named("LIKENESS_CHROMEDRIVER").or_else(|| DRIVER_NAMES.iter().find_map(|name| run::find_program(name)))?;
    Some(BrowserTools { chromium, driver })
}

fn named(variable: &str) -> Option<PathBuf> {
    let path = PathBuf::from(std::env::var_os(variable)?);
    path.is_file().then_some(path)
}
