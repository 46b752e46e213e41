//! Typing in the browser's own store: written at each Enter, read when the page opens.

use crate::browser::store;
use crate::state::{Ground, typing};
use leptos::prelude::*;
use likeness_core::plan::keying_file::KeyingFile;

const KEPT_AS: &str = "likeness-typing";
const PUT_ASIDE_AS: &str = "likeness-typing-before";

/// Brings back what was typed at the last visit. What can't be read stays in the store until something is typed.
pub fn restore(ground: Ground) {
    let (kept, before) = (store::kept(KEPT_AS), store::kept(PUT_ASIDE_AS));
    typing::restore(ground, kept.as_deref(), before.as_deref());
}

/// Keeps the typing whenever it changes, at once: the tab may be closed in the next moment.
pub fn keep_always(ground: Ground) {
    keep_whenever(ground, ground.typing.file, KEPT_AS);
    keep_whenever(ground, ground.typing.before, PUT_ASIDE_AS);
}

fn keep_whenever(ground: Ground, file: RwSignal<Option<KeyingFile>>, name: &'static str) {
    Effect::new(move |before: Option<()>| {
        let text = file.with(|file| file.as_ref().map(KeyingFile::to_text));
        // What was just read need not be written.
        if let (Some(()), Some(text)) = (before, text) {
            typing::note_kept(ground, store::keep(name, &text));
        }
    });
}
