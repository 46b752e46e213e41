//! What must be on the machine before the page can be built: each tool is looked for, and installed when it is missing.
//! Nothing here builds or tests Likeness.

use crate::run::{self, Failure};
use crate::{setup_browser, wasm};
use std::ffi::OsString;
use std::path::PathBuf;
use std::process::Command;

/// The version of Trunk that is known to work; 0.22 wants a newer compiler than the workspace asks for.
const TRUNK_VERSION: &str = "0.21.14";

/// What building the page needs: environment for Trunk and the PATH with the right tools first.
pub struct PageTools {
    pub trunk: PathBuf,
    pub environment: Vec<(String, OsString)>,
}

/// Installs everything that any command needs.
pub fn everything() -> Result<(), Failure> {
    page_tools()?;
    setup_browser::browser()?;
    println!("\nEverything is here.");
    Ok(())
}

/// Finds or installs the wasm32 library, Trunk and the wasm-bindgen program.
pub fn page_tools() -> Result<PageTools, Failure> {
    run::heading("Looking for the tools that build the page");
    let wasm = wasm::ready()?;
    let trunk = cargo_tool(&CargoTool {
        name: "trunk",
        version: TRUNK_VERSION,
        install: &["trunk", "--locked", "--no-default-features", "--features", "rustls"],
        takes: "Trunk compiles the page and serves it. Building it takes about 13 processor minutes, once",
    })?;
    let bindgen_version = pinned_wasm_bindgen()?;
    // No --locked: the lock file that comes with this program names a crate version that not every registry has.
    let bindgen = cargo_tool(&CargoTool {
        name: "wasm-bindgen",
        version: &bindgen_version,
        install: &["wasm-bindgen-cli", "--no-default-features"],
        takes: "wasm-bindgen joins WebAssembly and JavaScript. Building it takes about 4 processor minutes, once",
    })?;
    let mut environment = wasm.environment;
    let folders = bindgen.parent().map(PathBuf::from).into_iter();
    environment.push(("PATH".to_string(), path_with_first(folders.chain(wasm.linker_folder))?));
    Ok(PageTools { trunk, environment })
}

struct CargoTool<'a> {
    name: &'a str,
    version: &'a str,
    install: &'a [&'a str],
    takes: &'a str,
}

/// A tool of exactly this version: from PATH, from this workspace's own tools, or freshly installed.
fn cargo_tool(tool: &CargoTool) -> Result<PathBuf, Failure> {
    let own_root = run::root()?.join("target").join("tools");
    let own = own_root.join("bin").join(format!("{}{}", tool.name, std::env::consts::EXE_SUFFIX));
    let on_path = run::find_program(tool.name);
    for candidate in on_path.iter().chain([&own]) {
        if version_of(candidate).as_deref() == Some(tool.version) {
            println!("    {} {}: here", tool.name, tool.version);
            return Ok(candidate.clone());
        }
    }
    println!("    {} {}: missing. {}.", tool.name, tool.version, tool.takes);
    let mut install = run::cargo()?;
    install.arg("install").args(tool.install).args(["--version", tool.version]);
    // Another version on PATH may serve another project: then ours goes beside it, into target/tools.
    if on_path.is_some() {
        install.arg("--root").arg(&own_root);
        run::run(&mut install)?;
        return Ok(own);
    }
    run::run(&mut install)?;
    run::find_program(tool.name).or_else(|| cargo_home_program(tool.name)).ok_or_else(|| {
        Failure(format!(
            "{} was installed but is not on PATH: add cargo's bin folder (usually ~/.cargo/bin) to PATH",
            tool.name
        ))
    })
}

/// The second word of `NAME --version`.
fn version_of(program: &PathBuf) -> Option<String> {
    let text = run::output_of(Command::new(program).arg("--version"))?;
    text.split_whitespace().nth(1).map(str::to_string)
}

fn cargo_home_program(name: &str) -> Option<PathBuf> {
    let home = std::env::var_os("CARGO_HOME")
        .map(PathBuf::from)
        .or_else(|| std::env::var_os("HOME").map(|home| PathBuf::from(home).join(".cargo")))?;
    let program = home.join("bin").join(format!("{name}{}", std::env::consts::EXE_SUFFIX));
    program.is_file().then_some(program)
}

/// The version that the workspace pins the wasm-bindgen crate to: the program must have the very same.
fn pinned_wasm_bindgen() -> Result<String, Failure> {
    let manifest = std::fs::read_to_string(run::root()?.join("Cargo.toml"))?;
    pin_in(&manifest).ok_or_else(|| {
        Failure("Cargo.toml must pin wasm-bindgen in a line such as `wasm-bindgen = \"=0.2.130\"`".to_string())
    })
}

fn pin_in(manifest: &str) -> Option<String> {
    let line = manifest.lines().find(|line| line.split('=').next().is_some_and(|key| key.trim() == "wasm-bindgen"))?;
    let pin = line.split_once("\"=")?.1.split('"').next()?;
    Some(pin.trim().to_string())
}

fn path_with_first(first: impl Iterator<Item = PathBuf>) -> Result<OsString, Failure> {
    let old = std::env::var_os("PATH").unwrap_or_default();
    std::env::join_paths(first.chain(std::env::split_paths(&old)))
        .map_err(|error| Failure(format!("PATH can't be extended: {error}")))
}

#[cfg(test)]
mod tests {
    use super::pin_in;

    #[test]
    fn the_pinned_version_is_read_from_the_manifest() {
        let manifest = "serde = \"1\"\nwasm-bindgen-futures = \"0.4\"\nwasm-bindgen = \"=0.2.130\"\n";
        assert_eq!(pin_in(manifest).as_deref(), Some("0.2.130"));
    }

    #[test]
    fn a_version_that_is_not_pinned_is_refused() {
        assert_eq!(pin_in("wasm-bindgen = \"0.2.130\"\n"), None);
    }
}
