//! Who imports whom in a crate, file by file, read from its source: braces in `use`, `super`, paths written out, and
//! re-exports followed to the file that defines the name. It knows no rule of the house.
//!
//! Code that only tests use is left aside: inline test modules, and files declared under `#[cfg(test)]`.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// A module as its path from the root of the crate, such as `["stats", "match", "verdict"]`; the root itself is empty.
pub type Module = Vec<String>;

/// Modules and the modules that each of them names.
pub type Imports = BTreeMap<Module, BTreeSet<Module>>;

/// One file of a crate.
struct SourceModule {
    /// Without comments, without inline tests, without the `use` lines.
    body: String,
    /// What its `use` lines and written-out paths name.
    named: Vec<Named>,
}

/// One name as a module uses it.
struct Named {
    /// From the root of the crate.
    path: Vec<String>,
    /// What it is called here; `*` for everything.
    called: String,
    /// Whether it is handed on to others.
    is_handed_on: bool,
}

/// All files of Rust below a folder, sorted; what was built is left aside.
pub fn rust_files(folder: &Path) -> Vec<PathBuf> {
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

/// Source without comments and without what stands behind `#[cfg(test)] mod name {`, which ends a file in this house.
pub fn code_of(source: &str) -> String {
    let bare: String = source.lines().flat_map(|line| [line.split("//").next().unwrap_or_default(), "\n"]).collect();
    let inline_tests = bare.match_indices("#[cfg(test)]").map(|(place, _)| place).find(|place| {
        let behind = bare[*place + "#[cfg(test)]".len()..].trim_start();
        let brace = behind.find('{').unwrap_or(usize::MAX);
        behind.starts_with("mod ") && brace < behind.find(';').unwrap_or(usize::MAX)
    });
    bare[..inline_tests.unwrap_or(bare.len())].to_owned()
}

/// The module that a file of a crate is.
pub fn module_of(file: &Path, root: &Path) -> Module {
    let inside = file.strip_prefix(root).unwrap_or(file).with_extension("");
    let mut module: Module = inside.iter().map(|part| part.to_string_lossy().into_owned()).collect();
    if module.last().is_some_and(|last| ["mod", "lib", "main"].contains(&last.as_str())) {
        module.pop();
    }
    module
}

/// The imports of all files below `root`, the folder `src` of a crate. Binaries in `bin` are crates of their own and are
/// left aside.
pub fn imports_of(root: &Path) -> Imports {
    let mut codes: BTreeMap<Module, String> = BTreeMap::new();
    for file in rust_files(root).into_iter().filter(|file| !file.starts_with(root.join("bin"))) {
        let source = fs::read_to_string(&file).expect("source files are readable text");
        codes.insert(module_of(&file, root), code_of(&source));
    }
    imports_in(codes)
}

/// The same of codes at hand.
pub fn imports_in(mut codes: BTreeMap<Module, String>) -> Imports {
    let only_tests: Vec<Module> = codes.iter().flat_map(|(module, code)| test_modules(module, code)).collect();
    codes.retain(|module, _| !only_tests.iter().any(|test| module.starts_with(test)));
    let known: BTreeSet<Module> = codes.keys().cloned().collect();
    let modules: BTreeMap<Module, SourceModule> =
        codes.iter().map(|(module, code)| (module.clone(), SourceModule::of(module, code, &known))).collect();
    let imports = modules.iter().map(|(module, source)| {
        let used = source.named.iter().filter(|one| !one.is_handed_on || source.uses_itself(&one.called));
        let found = used.filter_map(|one| resolved(&modules, &one.path, 0));
        (module.clone(), found.filter(|other| other != module).collect())
    });
    imports.collect()
}

/// Circles among imports: sets of modules each of which leads to every other, larger ones than one.
pub fn circles_of(imports: &Imports) -> Vec<BTreeSet<Module>> {
    let reached: BTreeMap<&Module, BTreeSet<&Module>> =
        imports.keys().map(|module| (module, reached_from(imports, module))).collect();
    let mut circles: Vec<BTreeSet<Module>> = Vec::new();
    for (module, others) in &reached {
        let back = others.iter().filter(|other| reached.get(**other).is_some_and(|back| back.contains(module)));
        let circle: BTreeSet<Module> = back.map(|other| (**other).clone()).collect();
        if !circle.is_empty() && !circles.contains(&circle) {
            circles.push(circle);
        }
    }
    circles
}

/// Everything that a module leads to; itself only by a circle.
fn reached_from<'i>(imports: &'i Imports, module: &Module) -> BTreeSet<&'i Module> {
    let mut reached = BTreeSet::new();
    let mut open: Vec<&Module> = imports.get(module).into_iter().flatten().collect();
    while let Some(next) = open.pop() {
        if reached.insert(next) {
            open.extend(imports.get(next).into_iter().flatten());
        }
    }
    reached
}

/// Modules of files that are declared under `#[cfg(test)]`.
fn test_modules(module: &Module, code: &str) -> Vec<Module> {
    let declared = code.split("#[cfg(test)]").skip(1).filter_map(|behind| {
        let line = behind.trim_start().split(';').next()?;
        let name = line.split("mod ").nth(1)?.trim();
        name.chars().all(|letter| letter.is_alphanumeric() || letter == '_').then(|| name.to_owned())
    });
    declared.map(|name| [module.as_slice(), &[name]].concat()).collect()
}

impl SourceModule {
    fn of(module: &Module, code: &str, known: &BTreeSet<Module>) -> Self {
        let code = without_restrictions(code);
        let (mut body, mut named) = (String::new(), Vec::new());
        let mut rest = code.as_str();
        while let Some(place) = find_word(rest, "use") {
            let (before, behind) = rest.split_at(place + "use".len());
            let line = rest[..place].rsplit('\n').next().unwrap_or_default().trim();
            let is_handed_on = line == "pub" || line.starts_with("pub(");
            if !(line.is_empty() || is_handed_on) {
                // A word of a text.
                body.push_str(before);
                rest = behind;
                continue;
            }
            body.push_str(&rest[..place]);
            let (tree, behind) = behind.split_once(';').unwrap_or((behind, ""));
            for (path, called) in names_in(tree) {
                named.extend(from_root(module, &path, known).map(|path| Named { path, called, is_handed_on }));
            }
            rest = behind;
        }
        body.push_str(rest);
        for path in written_out(&body) {
            named.extend(from_root(module, &path, known).map(|path| Named {
                path,
                called: String::new(),
                is_handed_on: false,
            }));
        }
        SourceModule { body, named }
    }

    /// Whether a name stands in the code of the module itself, beside handing it on.
    fn uses_itself(&self, name: &str) -> bool {
        find_word(&self.body, name).is_some()
    }

    fn hands_on(&self, name: &str) -> Option<&Named> {
        self.named.iter().find(|one| one.is_handed_on && one.called == name)
    }

    fn defines(&self, name: &str) -> bool {
        let kinds = ["fn", "struct", "enum", "type", "const", "static", "trait"];
        kinds.iter().any(|kind| find_word(&self.body, &format!("{kind} {name}")).is_some())
    }
}

/// `pub(in crate::room)` names a room without importing it.
fn without_restrictions(code: &str) -> String {
    let mut parts = code.split("pub(in ");
    let mut out = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        out.push_str("pub");
        out.push_str(part.split_once(')').map_or("", |(_, behind)| behind));
    }
    out
}

/// Where a word stands by itself.
fn find_word(text: &str, word: &str) -> Option<usize> {
    let is_part = |letter: Option<char>| letter.is_some_and(|letter| letter.is_alphanumeric() || letter == '_');
    let stands_alone = |place: &usize| {
        !is_part(text[..*place].chars().next_back()) && !is_part(text[place + word.len()..].chars().next())
    };
    if word.is_empty() || word == "*" {
        return None;
    }
    text.match_indices(word).map(|(place, _)| place).find(stands_alone)
}

/// The paths of a tree of `use`, each with what its end is called here.
fn names_in(tree: &str) -> Vec<(Vec<String>, String)> {
    let tree = tree.trim();
    let Some((head, inner)) = tree.split_once('{') else {
        let (path, called) = tree.split_once(" as ").unwrap_or((tree, ""));
        let path = segments(path);
        let called =
            if called.is_empty() { path.last().cloned().unwrap_or_default() } else { called.trim().to_owned() };
        return if path.is_empty() { Vec::new() } else { vec![(path, called)] };
    };
    let inner = inner.rsplit_once('}').map_or(inner, |(inner, _)| inner);
    let head = segments(head);
    let whole = |(path, called): (Vec<String>, String)| {
        let path: Vec<String> = head.iter().cloned().chain(path.into_iter().filter(|part| part != "self")).collect();
        let called = if called == "self" { path.last().cloned().unwrap_or_default() } else { called };
        (path, called)
    };
    branches(inner).into_iter().flat_map(|branch| names_in(&branch)).map(whole).collect()
}

/// What stands between the commas of a list, commas in braces aside.
fn branches(list: &str) -> Vec<String> {
    let (mut branches, mut depth) = (vec![String::new()], 0);
    for letter in list.chars() {
        match letter {
            ',' if depth == 0 => {
                branches.push(String::new());
                continue;
            }
            '{' => depth += 1,
            '}' => depth -= 1,
            _ => {}
        }
        branches.last_mut().expect("never empty").push(letter);
    }
    branches
}

fn segments(path: &str) -> Vec<String> {
    let clean = path.split("::").map(|part| part.trim().trim_start_matches("r#").to_owned());
    clean.filter(|part| !part.is_empty()).collect()
}

/// Paths in code that start at the root, at the parent or here.
fn written_out(body: &str) -> Vec<Vec<String>> {
    let is_part = |letter: char| letter.is_alphanumeric() || matches!(letter, '_' | ':' | '#');
    let words = body.split(|letter: char| !is_part(letter));
    let starts = ["crate::", "super::", "self::"];
    words.filter(|word| starts.iter().any(|start| word.starts_with(start))).map(segments).collect()
}

/// A path from the root of the crate; nothing where it leads out of the crate.
fn from_root(module: &Module, path: &[String], known: &BTreeSet<Module>) -> Option<Vec<String>> {
    let ups = path.iter().take_while(|part| *part == "super").count();
    match path.first()?.as_str() {
        "crate" => Some(path[1..].to_vec()),
        "self" => Some([module.as_slice(), &path[1..]].concat()),
        "super" => Some([&module[..module.len().checked_sub(ups)?], &path[ups..]].concat()),
        first => {
            let child = [module.as_slice(), &[first.to_owned()]].concat();
            known.contains(&child).then(|| [module.as_slice(), path].concat())
        }
    }
}

/// The module that defines what a path names: re-exports are followed.
fn resolved(modules: &BTreeMap<Module, SourceModule>, path: &[String], depth: usize) -> Option<Module> {
    let length = (0..=path.len()).rev().find(|length| modules.contains_key(&path[..*length]))?;
    let (module, rest) = path.split_at(length);
    let source = &modules[module];
    // A chain of re-exports longer than this would be a riddle by itself.
    let (Some(name), true) = (rest.first(), depth < 8) else { return Some(module.to_vec()) };
    if let Some(handed_on) = source.hands_on(name) {
        return resolved(modules, &[handed_on.path.as_slice(), &rest[1..]].concat(), depth + 1);
    }
    let everything = source.named.iter().filter(|one| one.is_handed_on && one.called == "*");
    let from_there = everything.map(|one| one.path[..one.path.len() - 1].to_vec());
    let defines = |other: &Module| modules.get(other).is_some_and(|source| source.defines(name));
    Some(from_there.into_iter().find(defines).unwrap_or_else(|| module.to_vec()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn module(path: &str) -> Module {
        segments(path)
    }

    fn imports(files: &[(&str, &str)]) -> Imports {
        imports_in(files.iter().map(|(path, code)| (module(path), code_of(code))).collect())
    }

    fn seen(imports: &Imports, from: &str) -> Vec<String> {
        imports[&module(from)].iter().map(|other| other.join("::")).collect()
    }

    #[test]
    fn braces_parents_and_written_out_paths_are_seen() {
        let found = imports(&[
            ("", "pub mod a; pub mod b;"),
            ("a", "mod inner;\nuse crate::{b::{self, Thing as Other}, r#match::One};\nuse std::fmt;"),
            ("a::inner", "use super::super::b::Thing;\nfn f() { crate::c::run(super::g) }"),
            ("b", "// use crate::c;\npub struct Thing;"),
            ("c", "#[cfg(test)]\nmod tests {\n use crate::a;\n}"),
            ("match", "pub struct One;"),
        ]);
        assert_eq!(seen(&found, "a"), ["b", "match"]);
        assert_eq!(seen(&found, "a::inner"), ["a", "b", "c"]);
        assert!(seen(&found, "b").is_empty() && seen(&found, "c").is_empty() && seen(&found, "").is_empty());
    }

    #[test]
    fn a_name_leads_to_the_file_that_defines_it() {
        let found = imports(&[
            (
                "room",
                "mod one; mod two;\npub use one::One;\npub(in crate::room) use two::*;\n#[cfg(test)]\nmod made_up;",
            ),
            ("room::one", "use super::Two;\npub struct One;"),
            ("room::two", "pub struct Two;"),
            ("room::made_up", "use crate::room::One;"),
            ("other", "use crate::room::{One, Two};"),
        ]);
        assert_eq!(seen(&found, "other"), ["room::one", "room::two"]);
        assert_eq!(seen(&found, "room::one"), ["room::two"]);
        // Handing names on is no use of them, and test files are left aside.
        assert!(seen(&found, "room").is_empty() && !found.contains_key(&module("room::made_up")));
    }

    #[test]
    fn circles_are_found_whole() {
        let found = imports(&[
            ("a", "use crate::b::B;\npub struct A;"),
            ("b", "use crate::c::C;\npub struct B;"),
            ("c", "use crate::a::A;\nuse crate::d::D;\npub struct C;"),
            ("d", "pub struct D;"),
        ]);
        assert_eq!(circles_of(&found), [["a", "b", "c"].map(module).into_iter().collect()]);
    }
}
