//! Getting Rust's standard library for WebAssembly: by rustup, or, where rustup can't reach its servers, by Debian's compiler
//! and library source. It must not know what is compiled with it.

use crate::run::{self, Failure};
use crate::setup_browser::install_by_apt;
use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::process::Command;

const TARGET: &str = "wasm32-unknown-unknown";
const DEBIAN_RUSTC: &str = "/usr/bin/rustc";
const DEBIAN_SOURCE: &str = "/usr/lib/rustlib/src/rust/library/Cargo.toml";

/// How cargo is to be called to compile for WebAssembly.
#[derive(Default)]
pub struct Wasm {
    pub environment: Vec<(String, OsString)>,
    /// A folder to put on PATH so that the linker is found.
    pub linker_folder: Option<PathBuf>,
}

/// Finds or installs the library. LIKENESS_WASM=debian takes the second path even where the first is open, to test it.
pub fn ready() -> Result<Wasm, Failure> {
    let forced = std::env::var("LIKENESS_WASM").is_ok_and(|value| value == "debian");
    if !forced && active_toolchain_has_it() {
        println!("    Rust's library for WebAssembly: here");
        return Ok(Wasm::default());
    }
    if debian_has_it() {
        println!("    Rust's library for WebAssembly: from Debian's rustc-web and rust-web-src, here");
        return debian();
    }
    if !forced && by_rustup() {
        return Ok(Wasm::default());
    }
    install_debian()?;
    debian()
}

fn active_toolchain_has_it() -> bool {
    let folder = run::output_of(Command::new("rustc").args(["--print", "target-libdir", "--target", TARGET]));
    let Some(entries) = folder.and_then(|folder| std::fs::read_dir(folder).ok()) else {
        return false;
    };
    entries.flatten().any(|entry| entry.file_name().to_string_lossy().starts_with("libstd-"))
}

fn by_rustup() -> bool {
    if run::find_program("rustup").is_none() {
        return false;
    }
    println!("    Rust's library for WebAssembly: missing. rustup downloads it (about 20 MB, under a minute).");
    let added = run::run(Command::new("rustup").args(["target", "add", TARGET]));
    if let Err(Failure(message)) = &added {
        println!("    {message}: rustup's servers may be out of reach. Trying Debian's packages instead.");
    }
    added.is_ok() && active_toolchain_has_it()
}

fn debian_has_it() -> bool {
    Path::new(DEBIAN_SOURCE).is_file() && version_is_enough() && linker().is_ok()
}

/// The workspace asks for Rust 1.90 (rust-version in Cargo.toml); Debian's plain `rustc` may be older than its `rustc-web`.
fn version_is_enough() -> bool {
    let text = run::output_of(Command::new(DEBIAN_RUSTC).arg("--version")).unwrap_or_default();
    minor_version(&text).is_some_and(|minor| minor >= 90)
}

fn minor_version(text: &str) -> Option<u32> {
    let version = text.split_whitespace().nth(1)?;
    version.split('.').nth(1)?.parse().ok()
}

fn install_debian() -> Result<(), Failure> {
    println!("    Installing Debian's compiler with its library source (about 150 MB, 1 to 2 minutes).");
    install_by_apt(&["rustc-web", "rust-web-src", "lld"]).map_err(|Failure(why)| {
        Failure(format!(
            "Rust's library for WebAssembly could not be installed. Run `rustup target add {TARGET}` on a machine \
             that reaches rustup's servers, and start again. ({why})"
        ))
    })?;
    if debian_has_it() {
        return Ok(());
    }
    Err(Failure(format!(
        "Debian's rustc-web is too old or has no library source. Run `rustup target add {TARGET}` and start again."
    )))
}

/// Debian's compiler builds the standard library itself, which stable Rust allows only to those who ask by RUSTC_BOOTSTRAP.
/// Its artefacts go to a folder of their own, so that the other compiler's are not thrown away by turns.
fn debian() -> Result<Wasm, Failure> {
    let linker = linker()?;
    let pair = |name: &str, value: &str| (name.to_string(), OsString::from(value));
    Ok(Wasm {
        environment: vec![
            pair("RUSTC", DEBIAN_RUSTC),
            pair("RUSTC_BOOTSTRAP", "1"),
            pair("CARGO_UNSTABLE_BUILD_STD", "std,panic_abort"),
            ("CARGO_TARGET_DIR".to_string(), run::root()?.join("target").join("wasm").into_os_string()),
            ("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER".to_string(), linker.clone().into_os_string()),
        ],
        linker_folder: linker.parent().map(Path::to_path_buf),
    })
}

/// rust-lld of the active toolchain, which is as new as the compiler; else one on PATH; else Debian's wasm-ld.
fn linker() -> Result<PathBuf, Failure> {
    let folder = run::output_of(Command::new("rustc").args(["--print", "target-libdir"]));
    let beside = folder.and_then(|folder| {
        let program = Path::new(&folder).parent()?.join("bin").join("rust-lld");
        program.is_file().then_some(program)
    });
    beside
        .or_else(|| run::find_program("rust-lld"))
        .or_else(|| run::find_program("wasm-ld"))
        .ok_or_else(|| Failure("no linker for WebAssembly: install Debian's `lld`".to_string()))
}

#[cfg(test)]
mod tests {
    use super::minor_version;

    #[test]
    fn the_minor_version_of_a_compiler_is_read() {
        let text = "rustc 1.96.0 (ac68faa20 2026-05-25) (built from a source tarball)";
        assert_eq!(minor_version(text), Some(96));
        assert_eq!(minor_version("no compiler"), None);
    }
}
