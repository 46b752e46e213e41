//! `cargo xtask bundle`: from Trunk's output to what is shipped: dist/site/ (a static folder) and dist/likeness.html (one file).
//! Both carry the program inside their script, packed, so that `connect-src 'none'` holds for both.

use crate::html::{self, Form, Page, Part};
use crate::licences;
use crate::run::{self, Failure};
use crate::setup;
use crate::style;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use flate2::Compression;
use flate2::write::GzEncoder;
use sha2::{Digest, Sha256};
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Which profile the program is compiled by.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Speed {
    /// What is shipped: small, slow to build.
    Shipped,
    /// For tests while working: large, fast to build. The pipeline is the very same.
    Quick,
}

const START_SCRIPT: &str = include_str!("start.js");

/// Builds both forms and gives the folder that holds them.
pub fn bundle(speed: Speed) -> Result<PathBuf, Failure> {
    // First of all: a broken stylesheet is told before minutes of compiling.
    let sheet = style::sheet(&run::root()?)?;
    let tools = setup::page_tools()?;
    let staging = build(&tools, speed)?;
    run::heading("Putting the page together");
    let target = match speed {
        Speed::Shipped => run::root()?.join("dist"),
        Speed::Quick => run::root()?.join("target").join("quick"),
    };
    let built = read(&staging, sheet)?;
    write(&built, &target)?;
    print_sizes(&built, &target)?;
    Ok(target)
}

struct Built {
    trunk_html: String,
    wasm: Vec<u8>,
    packed: Vec<u8>,
    style: Part,
    icon: Part,
    script: Part,
}

fn build(tools: &setup::PageTools, speed: Speed) -> Result<PathBuf, Failure> {
    let (what, profile, folder) = match speed {
        Speed::Shipped => {
            ("small and optimised as a whole (about 8 processor minutes from nothing)", "shipped", "page-shipped")
        }
        Speed::Quick => ("by the quick profile (about 4 processor minutes from nothing)", "dev", "page-quick"),
    };
    run::heading(&format!("Compiling the page, {what}"));
    let staging = run::root()?.join("target").join(folder);
    let mut trunk = Command::new(&tools.trunk);
    trunk
        .current_dir(run::root()?)
        .args(["build", "--offline", "--skip-version-check"])
        .args(["--cargo-profile", profile, "--public-url", "./", "--dist"])
        .arg(&staging)
        .envs(tools.environment.iter().map(|(name, value)| (name, value)));
    // Trunk reads NO_COLOR as a yes or a no and refuses any other value.
    trunk.env_remove("NO_COLOR");
    run::run(&mut trunk)?;
    Ok(staging)
}

fn read(staging: &Path, sheet: String) -> Result<Built, Failure> {
    let text = |path: &Path| {
        std::fs::read_to_string(path).map_err(|error| Failure(format!("{} can't be read: {error}", path.display())))
    };
    let wasm = std::fs::read(only(staging, "wasm")?)?;
    let packed = gzip(&wasm)?;
    let glue = text(&only(staging, "js")?)?;
    let start = START_SCRIPT.replace("@PACKED@", &STANDARD.encode(&packed));
    Ok(Built {
        trunk_html: text(&staging.join("index.html"))?,
        wasm,
        packed,
        style: part("page", "css", sheet),
        icon: part("icon", "svg", text(&only(staging, "svg")?)?),
        script: part("page", "js", format!("{glue}\n{start}")),
    })
}

/// A part whose file name changes with its content, so that no browser shows an old one.
fn part(name: &str, extension: &str, text: String) -> Part {
    let text = text.replace("\r\n", "\n");
    let hash: String = Sha256::digest(text.as_bytes())[..6].iter().map(|byte| format!("{byte:02x}")).collect();
    Part { file_name: format!("{name}-{hash}.{extension}"), text }
}

/// The one file with this extension that Trunk wrote.
fn only(staging: &Path, extension: &str) -> Result<PathBuf, Failure> {
    let mut found: Vec<PathBuf> = std::fs::read_dir(staging)?
        .flatten()
        .map(|entry| entry.path())
        .filter(|path| path.extension().is_some_and(|end| end == extension))
        .collect();
    match (found.pop(), found.len()) {
        (Some(path), 0) => Ok(path),
        _ => Err(Failure(format!("`bundle` expects exactly one .{extension} file in {}", staging.display()))),
    }
}

fn write(built: &Built, target: &Path) -> Result<(), Failure> {
    let page = Page { trunk_html: &built.trunk_html, style: &built.style, icon: &built.icon, script: &built.script };
    let single = html::assemble(&page, Form::SingleFile)?;
    let index = html::assemble(&page, Form::Folder)?;
    // Files of an earlier bundle have other names and would stay.
    let site = target.join("site");
    if site.exists() {
        std::fs::remove_dir_all(&site)?;
    }
    std::fs::create_dir_all(&site)?;
    std::fs::write(target.join("likeness.html"), single)?;
    std::fs::write(site.join("index.html"), index)?;
    for part in [&built.style, &built.icon, &built.script] {
        std::fs::write(site.join(&part.file_name), &part.text)?;
    }
    std::fs::copy(licences::path()?, site.join("licences.txt"))?;
    Ok(())
}

fn print_sizes(built: &Built, target: &Path) -> Result<(), Failure> {
    let single_path = target.join("likeness.html");
    let single = std::fs::read(&single_path)?;
    let line = |what: &str, bytes: usize| println!("    {what:<28}{:>9.1} KB", bytes as f64 / 1000.0);
    line("WebAssembly", built.wasm.len());
    line("WebAssembly, gzipped", built.packed.len());
    line("single file", single.len());
    line("single file, gzipped", gzip(&single)?.len());
    println!("    {}", single_path.display());
    println!("    {}", target.join("site").display());
    Ok(())
}

fn gzip(bytes: &[u8]) -> Result<Vec<u8>, Failure> {
    let mut encoder = GzEncoder::new(Vec::new(), Compression::best());
    encoder.write_all(bytes)?;
    Ok(encoder.finish()?)
}
