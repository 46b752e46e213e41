//! The browser's own store: what is kept between visits. A browser may refuse it, and then nothing is kept. Texts stand
//! in it as they are: gloo would wrap each in JSON, and could not read what earlier versions kept.

use gloo::storage::{LocalStorage, Storage as _};
use gloo::utils::window;
use web_sys::Storage;

/// What was kept under a name.
pub fn kept(name: &str) -> Option<String> {
    store()?.get_item(name).ok().flatten()
}

/// Keeps a text under a name; `false` where the browser refuses or the text is too long for it.
pub fn keep(name: &str, text: &str) -> bool {
    store().is_some_and(|store| store.set_item(name, text).is_ok())
}

/// The names that begin so, in order.
pub fn names_beginning(start: &str) -> Vec<String> {
    let Some(store) = store() else { return Vec::new() };
    let names = (0..store.length().unwrap_or(0)).filter_map(|index| store.key(index).ok().flatten());
    let mut found: Vec<String> = names.filter(|name| name.starts_with(start)).collect();
    found.sort();
    found
}

pub fn forget(name: &str) {
    if let Some(store) = store() {
        let _ = store.remove_item(name);
    }
}

/// gloo stops the page where the browser refuses, so the browser is asked before.
fn store() -> Option<Storage> {
    let is_given = window().local_storage().is_ok_and(|given| given.is_some());
    is_given.then(LocalStorage::raw)
}
