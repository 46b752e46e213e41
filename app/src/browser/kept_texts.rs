//! Short texts by name that outlive even a browser that is ended at once: each stands in local storage, where it is written before
//! the next event, and again in the database. A browser hands local storage to the disk seconds later, and what is ended before
//! that comes back as it was then; the database is on its way to the disk at once. One counter in local storage numbers all
//! writings: what the database holds under a higher number is what local storage lost.

use super::{indexed_db, local_storage};
use leptos::task::spawn_local;
use serde::{Deserialize, Serialize};

pub use local_storage::{kept, names_beginning};

/// Name of the number of the latest writing.
const WRITINGS: &str = "likeness-writings";
/// How the keys of texts begin in the database that they share with studies and plans.
const KEY_BEGINS: &str = "text-";

/// A text as the database has it.
#[derive(Serialize, Deserialize)]
struct Twin {
    /// Number of the writing.
    writing: u64,
    /// `None` where it was forgotten.
    text: Option<String>,
}

/// Keeps a text under a name; `false` where the browser refuses or the text is too long for it.
pub fn keep(name: &str, text: &str) -> bool {
    let is_kept = local_storage::keep(name, text);
    write_twin(name, Some(text.to_owned()));
    is_kept
}

pub fn forget(name: &str) {
    if local_storage::kept(name).is_some() {
        local_storage::forget(name);
        write_twin(name, None);
    }
}

/// Puts into local storage what it lost when the browser was ended; to be called before anything is read from it. `may` is
/// asked once everything was looked up: from then on it may be too late.
pub async fn catch_up(may: impl FnOnce() -> bool) {
    let Ok(found) = indexed_db::texts_beginning(KEY_BEGINS).await else { return };
    if !may() {
        return;
    }
    let known = latest_writing();
    let read = |(key, text): &(String, String)| {
        let twin: Twin = serde_json::from_str(text).ok()?;
        Some((key.strip_prefix(KEY_BEGINS)?.to_owned(), twin))
    };
    let mut lost: Vec<(String, Twin)> =
        found.iter().filter_map(read).filter(|(_, twin)| twin.writing > known).collect();
    lost.sort_by_key(|(_, twin)| twin.writing);
    for (name, twin) in &lost {
        match &twin.text {
            Some(text) => _ = local_storage::keep(name, text),
            None => local_storage::forget(name),
        }
        local_storage::keep(WRITINGS, &twin.writing.to_string());
    }
}

fn write_twin(name: &str, text: Option<String>) {
    let writing = latest_writing() + 1;
    local_storage::keep(WRITINGS, &writing.to_string());
    let key = format!("{KEY_BEGINS}{name}");
    let Ok(twin) = serde_json::to_string(&Twin { writing, text }) else { return };
    // Local storage has it too: a database that refuses is told of where it alone is written.
    spawn_local(async move { _ = indexed_db::keep_aside(&key, &twin).await });
}

fn latest_writing() -> u64 {
    local_storage::kept(WRITINGS).and_then(|text| text.parse().ok()).unwrap_or(0)
}
