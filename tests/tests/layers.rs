//! The house rules that a compiler does not check: who may know whom, and how files open.

use std::fs;
use std::path::{Path, PathBuf};

/// Rooms of core and what each must not name. Rooms of one level do not see each other.
const FORBIDDEN: &[(&str, &[&str])] = &[
    ("numeric", &["study", "read", "stats", "plan", "figures", "tables", "text", "write", "notice"]),
    ("text", &["study", "read", "stats", "plan", "figures", "tables", "write", "notice"]),
    ("study", &["numeric", "read", "stats", "plan", "figures", "tables", "text", "write"]),
    ("read", &["stats", "plan", "figures", "tables", "write"]),
    ("stats", &["read", "plan", "planning", "figures", "tables", "text", "write"]),
    ("plan", &["read", "stats", "tables", "planning"]),
    ("planning", &["read", "figures", "tables", "write"]),
    ("figures", &["read", "write", "tables", "plan"]),
    ("tables", &["read", "plan", "figures", "write"]),
    ("write", &["read", "plan"]),
];

/// What only the page may depend on.
const PAGE_ONLY: &[&str] = &["leptos", "gloo", "js-sys", "web-sys", "wasm-bindgen", "plotters-canvas"];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("the tests lie in the workspace").to_owned()
}

fn rust_files(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let path = entry.path();
        if path.is_dir() {
            if !path.ends_with("target") {
                found.extend(rust_files(&path));
            }
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
    found.sort();
    found
}

/// Lines of code, with comments taken away.
fn code_lines(path: &Path) -> Vec<String> {
    let text = fs::read_to_string(path).expect("source files are readable text");
    text.lines().map(|line| line.split("//").next().unwrap_or_default().to_owned()).collect()
}

/// Whether a line of `use` or a path names a room of core.
fn names_room(line: &str, room: &str) -> bool {
    line.contains(&format!("crate::{room}::")) || line.contains(&format!("crate::{room};"))
}

#[test]
fn rooms_of_core_do_not_see_what_they_must_not() {
    let mut broken = Vec::new();
    for (room, forbidden) in FORBIDDEN {
        let mut files = rust_files(&root().join("core/src").join(room));
        files.extend(Some(root().join(format!("core/src/{room}.rs"))).filter(|path| path.exists()));
        for file in files {
            for (number, line) in code_lines(&file).iter().enumerate() {
                for other in forbidden.iter().filter(|other| names_room(line, other)) {
                    broken.push(format!("{}:{} knows {other}", file.display(), number + 1));
                }
            }
        }
    }
    assert!(broken.is_empty(), "{}", broken.join("\n"));
}

#[test]
fn the_engine_does_not_depend_on_the_page() {
    let manifest = fs::read_to_string(root().join("core/Cargo.toml")).expect("core has a manifest");
    for name in PAGE_ONLY {
        let depends = manifest.lines().any(|line| line.trim_start().starts_with(name));
        assert!(!depends, "core must not depend on {name}");
    }
}

#[test]
fn every_source_file_says_what_it_is_and_none_asks_clock_or_chance() {
    let mut broken = Vec::new();
    for folder in ["core", "app", "tests"] {
        for file in rust_files(&root().join(folder)) {
            let lines = fs::read_to_string(&file).expect("source files are readable text");
            if !lines.starts_with("//!") {
                broken.push(format!("{} does not open with //!", file.display()));
            }
        }
    }
    for file in rust_files(&root().join("core/src")) {
        for (number, line) in code_lines(&file).iter().enumerate() {
            if ["SystemTime::now", "Instant::now", "thread_rng", "from_entropy", "getrandom"]
                .iter()
                .any(|word| line.contains(word))
            {
                broken.push(format!("{}:{} asks the clock or chance", file.display(), number + 1));
            }
        }
    }
    assert!(broken.is_empty(), "{}", broken.join("\n"));
}
