//! The house rules that a compiler does not check: who may know whom, who writes, and how files open.

use likeness_tests::imports::{Imports, Module, circles_of, code_of, imports_of, rust_files};
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// A room, which is a folder or file below `src`, and the rooms that it must not name.
type Rule = (&'static str, &'static [&'static str]);

/// Every room of core. What is no result knows no results, what computes knows no words, what is read knows no method;
/// a catalogue of methods may know whatever a method is made of, and nothing that a method is made of knows it.
const CORE: &[Rule] = &[
    (
        "numeric",
        &[
            "text",
            "notice",
            "study",
            "read",
            "stats",
            "plan",
            "figures",
            "table",
            "tables",
            "run",
            "catalogue",
            "write",
            "self_check",
            "scan",
            "scan_desk",
            "pdf",
        ],
    ),
    (
        "text",
        &[
            "notice",
            "study",
            "read",
            "stats",
            "plan",
            "figures",
            "table",
            "tables",
            "run",
            "catalogue",
            "write",
            "self_check",
            "scan",
            "scan_desk",
            "pdf",
        ],
    ),
    (
        "notice",
        &[
            "study",
            "read",
            "stats",
            "plan",
            "figures",
            "table",
            "tables",
            "run",
            "catalogue",
            "write",
            "self_check",
            "scan",
            "scan_desk",
            "pdf",
        ],
    ),
    (
        "study",
        &[
            "text",
            "read",
            "stats",
            "plan",
            "figures",
            "table",
            "tables",
            "run",
            "catalogue",
            "write",
            "self_check",
            "scan",
            "scan_desk",
            "pdf",
        ],
    ),
    (
        "read",
        &[
            "stats",
            "plan",
            "figures",
            "table",
            "tables",
            "run",
            "catalogue",
            "write",
            "self_check",
            "scan",
            "scan_desk",
            "pdf",
        ],
    ),
    (
        "stats",
        &[
            "text",
            "read",
            "plan",
            "figures",
            "table",
            "tables",
            "catalogue",
            "write",
            "self_check",
            "scan",
            "scan_desk",
            "pdf",
        ],
    ),
    (
        "run",
        &[
            "text",
            "read",
            "plan",
            "figures",
            "table",
            "tables",
            "catalogue",
            "write",
            "self_check",
            "scan",
            "scan_desk",
            "pdf",
        ],
    ),
    (
        "table",
        &["read", "plan", "figures", "tables", "run", "catalogue", "write", "self_check", "scan", "scan_desk", "pdf"],
    ),
    (
        "plan",
        &["read", "stats", "table", "tables", "run", "catalogue", "write", "self_check", "scan", "scan_desk", "pdf"],
    ),
    (
        "figures",
        &["read", "plan", "table", "tables", "run", "catalogue", "write", "self_check", "scan", "scan_desk", "pdf"],
    ),
    ("tables", &["read", "plan", "figures", "run", "catalogue", "write", "self_check", "scan", "scan_desk", "pdf"]),
    ("catalogue", &["read", "plan", "write", "self_check", "scan", "scan_desk", "pdf"]),
    ("write", &["read", "plan", "self_check", "scan", "scan_desk", "pdf"]),
    (
        "defined",
        &[
            "notice",
            "study",
            "read",
            "stats",
            "plan",
            "figures",
            "table",
            "tables",
            "run",
            "catalogue",
            "write",
            "self_check",
            "scan",
            "scan_desk",
            "pdf",
        ],
    ),
    (
        "planning",
        &["read", "figures", "table", "tables", "run", "catalogue", "write", "self_check", "scan", "scan_desk", "pdf"],
    ),
    ("self_check", &["text", "figures", "table", "tables", "catalogue", "write", "scan", "scan_desk", "pdf"]),
    (
        "scan",
        &[
            "text",
            "read",
            "stats",
            "planning",
            "figures",
            "table",
            "tables",
            "catalogue",
            "write",
            "self_check",
            "scan_desk",
            "pdf",
        ],
    ),
    (
        "scan_desk",
        &["read", "stats", "planning", "figures", "table", "tables", "run", "catalogue", "write", "self_check", "pdf"],
    ),
    (
        "pdf",
        &[
            "numeric",
            "text",
            "notice",
            "defined",
            "study",
            "read",
            "stats",
            "plan",
            "planning",
            "figures",
            "table",
            "tables",
            "run",
            "catalogue",
            "write",
            "self_check",
            "scan_desk",
        ],
    ),
];

/// Rooms of core that have a rule before they are built.
const NOT_YET_BUILT: &[&str] = &[];

/// Every room of the page. Words are what is said, and know at most the state's own types; parts are handed what they
/// show; browser and persistence know nothing of what is seen; state is what everything else stands on.
const APP: &[Rule] = &[
    ("browser", &["state", "persistence", "parts", "views"]),
    ("words", &["state", "persistence", "parts", "views", "browser"]),
    ("state", &["persistence", "parts", "views", "browser"]),
    ("persistence", &["parts", "views"]),
    ("shared", &["state", "persistence", "parts", "views", "browser", "words"]),
    ("parts", &["state", "persistence", "views"]),
    ("views", &["persistence"]),
    ("bench", &["persistence", "views", "words"]),
];

/// Imports of the page that break a rule today, as (file, room), each with what will undo it. The list may only shrink.
const KNOWN_IMPORTS: &[(&str, &str, &str)] = &[
    ("views", "persistence", "what starts the page is to stand in `main`"),
    ("views::on_screen_ballot::names", "persistence", "to go by way of an action"),
    ("views::plan::tablet_scores", "persistence", "to go by way of an action"),
    ("views::start::saved_studies", "persistence", "to go by way of an action"),
];

/// Files that know each other because their types define each other, and so make one thing in two files.
const PAIRS: &[(&str, &str, &str)] = &[
    ("study", "study::edits", "a study holds its corrections, and a correction is made on a study"),
    ("study", "study::log", "a study holds its record, and a line is written by a study"),
    ("study", "study::record", "a study holds what was noted, and its words need the names of the study"),
    ("figures::scene::primitives", "figures::scene::regions", "a scene holds regions, and a region is made of places"),
    (
        "figures::scene::primitives",
        "figures::scene::theme",
        "a stroke has a colour, and a style of a sample has a marker",
    ),
    (
        "figures::match::differences::frame",
        "figures::match::differences::rows",
        "a frame draws its rows, and a row stands in its frame",
    ),
];

/// Circles of today, as the files in them, each with what will undo it. The list may only shrink.
const KNOWN_CIRCLES: &[(&[&str], &str)] = &[];

/// Places outside `state` that write to the state today, as (file, how often), each with what will undo it. The list may
/// only shrink.
const KNOWN_WRITERS: &[(&str, usize, &str)] = &[];

/// What only the page may depend on.
const PAGE_ONLY: &[&str] = &["leptos", "gloo", "js-sys", "web-sys", "wasm-bindgen", "plotters-canvas"];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("the tests lie in the workspace").to_owned()
}

fn named(module: &Module) -> String {
    module.join("::")
}

/// Lines of code, with comments taken away.
fn code_lines(path: &Path) -> Vec<String> {
    let text = fs::read_to_string(path).expect("source files are readable text");
    text.lines().map(|line| line.split("//").next().unwrap_or_default().to_owned()).collect()
}

/// Imports that break a rule, as (file, room).
fn broken_rules(imports: &Imports, rules: &[Rule]) -> BTreeSet<(String, String)> {
    let forbidden =
        |room: &str| rules.iter().find(|(name, _)| *name == room).map_or(&[][..], |(_, forbidden)| *forbidden);
    let mut broken = BTreeSet::new();
    for (module, others) in imports.iter().filter(|(module, _)| !module.is_empty()) {
        let rooms = others.iter().filter_map(|other| other.first());
        for room in rooms.filter(|room| forbidden(&module[0]).contains(&room.as_str())) {
            broken.insert((named(module), room.clone()));
        }
    }
    broken
}

/// Rooms that stand in the source without a rule, and rules without a room.
fn rooms_without_rules(imports: &Imports, rules: &[Rule]) -> Vec<String> {
    let rooms: BTreeSet<&str> = imports.keys().filter_map(|module| module.first()).map(String::as_str).collect();
    let ruled: BTreeSet<&str> = rules.iter().map(|(room, _)| *room).collect();
    rooms
        .symmetric_difference(&ruled)
        .filter(|room| !NOT_YET_BUILT.contains(room))
        .map(|room| (*room).to_owned())
        .collect()
}

/// What is found and not known, and what is known and no longer found.
fn against_known(found: &BTreeSet<String>, known: &BTreeSet<String>) -> String {
    let new = found.difference(known).map(|one| format!("new: {one}"));
    let gone = known.difference(found).map(|one| format!("gone, so take it off the list: {one}"));
    new.chain(gone).collect::<Vec<_>>().join("\n")
}

#[test]
fn rooms_of_core_do_not_see_what_they_must_not() {
    let imports = imports_of(&root().join("core/src"));
    assert!(imports.len() > 100, "the source of core was not found");
    assert_eq!(rooms_without_rules(&imports, CORE), Vec::<String>::new());
    assert_eq!(broken_rules(&imports, CORE), BTreeSet::new());
}

#[test]
fn rooms_of_the_page_do_not_see_what_they_must_not() {
    let imports = imports_of(&root().join("app/src"));
    assert!(imports.len() > 100, "the source of the page was not found");
    assert_eq!(rooms_without_rules(&imports, APP), Vec::<String>::new());
    let found = broken_rules(&imports, APP).iter().map(|(file, room)| format!("{file} knows {room}")).collect();
    let known = KNOWN_IMPORTS.iter().map(|(file, room, _)| format!("{file} knows {room}")).collect();
    let difference = against_known(&found, &known);
    assert!(difference.is_empty(), "{difference}");
}

#[test]
fn no_file_leads_back_to_itself_except_named_pairs() {
    let mut found = BTreeSet::new();
    for folder in ["core/src", "app/src"] {
        let mut imports = imports_of(&root().join(folder));
        for (one, other, _) in PAIRS {
            cut(&mut imports, one, other);
        }
        found.extend(circles_of(&imports).iter().map(circle_in_words));
    }
    let known = KNOWN_CIRCLES.iter().map(|(files, _)| files.iter().map(|file| (*file).to_owned()).collect());
    let known = known.map(|files: BTreeSet<String>| files.into_iter().collect::<Vec<_>>().join(", ")).collect();
    let difference = against_known(&found, &known);
    assert!(difference.is_empty(), "{difference}");
}

fn circle_in_words(circle: &BTreeSet<Module>) -> String {
    circle.iter().map(named).collect::<BTreeSet<_>>().into_iter().collect::<Vec<_>>().join(", ")
}

/// Takes the imports of a pair out, which must be there both ways.
fn cut(imports: &mut Imports, one: &str, other: &str) {
    let module = |path: &str| -> Module { path.split("::").map(str::to_owned).collect() };
    let (one, other) = (module(one), module(other));
    if imports.contains_key(&one) {
        for (from, to) in [(&one, &other), (&other, &one)] {
            let was_there = imports.get_mut(from).is_some_and(|others| others.remove(to));
            assert!(was_there, "{} no longer knows {}: no pair", named(from), named(to));
        }
    }
}

#[test]
fn only_state_writes_to_the_state() {
    let app = root().join("app/src");
    let mut found = BTreeSet::new();
    for file in rust_files(&app).into_iter().filter(|file| !file.starts_with(app.join("state"))) {
        let source = fs::read_to_string(&file).expect("source files are readable text");
        let writes = writes_to_the_state(&code_of(&source));
        if writes > 0 {
            let inside = file.strip_prefix(&app).expect("a file of the page");
            found.insert(format!("{} {writes} times", inside.display()));
        }
    }
    let known = KNOWN_WRITERS.iter().map(|(file, times, _)| format!("{file} {times} times")).collect();
    let difference = against_known(&found, &known);
    assert!(difference.is_empty(), "{difference}");
}

/// How often code sets a field of the state: `app.field.set(`, also by way of `context.app` and of fields of fields.
fn writes_to_the_state(code: &str) -> usize {
    let bare: String = code.chars().filter(|letter| !letter.is_whitespace()).collect();
    let writers = [".set(", ".update(", ".maybe_update(", ".write(", ".update_untracked(", ".try_update("];
    let is_path = |letter: char| letter.is_alphanumeric() || matches!(letter, '_' | '.');
    let places = writers.iter().flat_map(|writer| bare.match_indices(writer).map(|(place, _)| place));
    let written = places.filter_map(|place| bare[..place].rsplit(|letter| !is_path(letter)).next());
    written.filter(|path| path.split('.').rev().skip(1).any(|part| part == "app")).count()
}

#[test]
fn writing_to_the_state_is_seen_however_it_is_broken_into_lines() {
    assert_eq!(
        writes_to_the_state("app.view.set(View::Match); context.app\n    .learning.is_open\n    .update(|o| {})"),
        2
    );
    assert_eq!(writes_to_the_state("open.set(true); app.view.get(); wrapper.app_name.set(1)"), 0);
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
