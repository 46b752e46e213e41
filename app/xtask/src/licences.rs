//! `cargo xtask licences`: public/licences.txt, which names every crate that the page is made of, with its version and licence,
//! from what Cargo says of Cargo.lock. It must not know what a crate does.

use crate::run::{self, Failure};
use std::collections::BTreeSet;
use std::path::PathBuf;

const PAGE: &str = "likeness-app";
const HEAD: &str = "\
Likeness is under the MIT licence. Its page is made of these crates, each under its own licence: name, version, SPDX expression.
Written by `cargo xtask licences` from Cargo.lock; what runs only while the page is built is left out.
";

/// Writes the notice anew.
pub fn licences() -> Result<(), Failure> {
    let (path, text) = (path()?, notice()?);
    println!("    {} crates in {}", text.lines().count() - HEAD.lines().count() - 1, path.display());
    std::fs::write(path, text)?;
    Ok(())
}

/// Where the notice lies.
pub fn path() -> Result<PathBuf, Failure> {
    Ok(run::root()?.join("public").join("licences.txt"))
}

/// The notice as Cargo.lock asks for it.
fn notice() -> Result<String, Failure> {
    let mut tree = run::cargo()?;
    tree.args(["tree", "--locked", "--package", PAGE, "--target", "wasm32-unknown-unknown"]);
    // Macros run while the page is built, and so does all that they alone need.
    tree.args(["--edges", "normal,no-proc-macro", "--prefix", "none", "--format", "{p}|{l}|"]);
    let text = run::output_of(&mut tree).ok_or_else(|| Failure("`cargo tree --locked` failed".to_string()))?;
    let lines = lines_of(&text)?;
    Ok(format!("{HEAD}\n{}\n", lines.into_iter().collect::<Vec<_>>().join("\n")))
}

/// One line a crate, in order of names, from lines such as "zip v9.8.2|MIT|"; our own, which have a path behind them, are left out.
fn lines_of(tree: &str) -> Result<BTreeSet<String>, Failure> {
    let is_ours = |line: &str| line.split('|').next().is_some_and(|name| name.contains(" ("));
    let others = tree.lines().filter(|line| !line.trim().is_empty() && !is_ours(line));
    others.map(line).collect()
}

fn line(of_tree: &str) -> Result<String, Failure> {
    let mut parts = of_tree.split('|').map(str::trim);
    let (name, licence) = (parts.next().unwrap_or_default(), parts.next().unwrap_or_default());
    let name = name.replacen(" v", " ", 1);
    if licence.is_empty() {
        return Err(Failure(format!("{name} names no licence: look at it before it goes into the page")));
    }
    // Older crates part their licences by a slash, which SPDX calls OR.
    Ok(format!("{name}: {}", licence.split('/').map(str::trim).collect::<Vec<_>>().join(" OR ")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_notice_is_what_the_lock_file_asks_for() {
        let written = std::fs::read_to_string(path().expect("a path")).expect("the notice is there");
        let asked = notice().expect("Cargo says what the page is made of");
        assert!(written == asked, "run `cargo xtask licences`: public/licences.txt is not that of Cargo.lock");
    }

    #[test]
    fn each_crate_stands_there_once_and_one_without_a_licence_is_refused() {
        let tree =
            "likeness-app v0.1.0 (/somewhere)|MIT|\nused v1.0.0|MIT/Apache-2.0|\nused v1.0.0|MIT/Apache-2.0| (*)\n";
        let lines = lines_of(tree).expect("all have a licence");
        assert_eq!(lines.into_iter().collect::<Vec<_>>(), ["used 1.0.0: MIT OR Apache-2.0"]);
        assert!(lines_of("used v1.0.0||").is_err_and(|why| why.0.contains("used 1.0.0 names no licence")));
    }
}
