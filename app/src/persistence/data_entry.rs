//! Data entry in the browser's own store: written at each Enter, read when the page opens.

use super::versions::{self, TextKept};
use crate::browser::kept_texts;
use crate::state::AppState;
use crate::state::session::data_entry;
use crate::state::tabs;
use leptos::prelude::*;
use likeness_core::plan::data_entry::entry_file::EntryFile;

const SAVED_AS: &str = "likeness-typing";
const PUT_ASIDE_AS: &str = "likeness-typing-before";

/// Brings back what was typed at the last visit. What can't be read stays in the store until something is typed.
pub fn restore(app: AppState) {
    put_version_aside();
    let (saved, before) = (versions::read_text(app, SAVED_AS), versions::read_text(app, PUT_ASIDE_AS));
    data_entry::restore(app, saved.as_deref(), before.as_deref());
}

/// Saves what is typed whenever it changes, at once: the tab may be closed in the next moment.
pub fn save_always(app: AppState) {
    save_whenever(app, app.data_entry.file, SAVED_AS);
    save_whenever(app, app.data_entry.before, PUT_ASIDE_AS);
}

fn save_whenever(app: AppState, file: RwSignal<Option<EntryFile>>, name: &'static str) {
    Effect::new(move |before: Option<()>| {
        let text = file.with(|file| file.as_ref().map(EntryFile::to_text));
        // What was just read need not be written.
        if let (Some(()), Some(text)) = (before, text) {
            let kept = versions::keep_text(app, name, &text);
            data_entry::note_saved(app, kept != TextKept::Not);
            if kept == TextKept::BesideNow {
                tabs::say_typing_beside(app);
            }
        }
    });
}

/// What a second tab typed while another one typed too becomes what was put aside, once that place is free.
fn put_version_aside() {
    if kept_texts::kept(PUT_ASIDE_AS).is_some() {
        return;
    }
    let versions = kept_texts::names_beginning(&tabs::versions_begin(SAVED_AS));
    let Some(oldest) = versions.first() else { return };
    if kept_texts::kept(oldest).is_some_and(|text| kept_texts::keep(PUT_ASIDE_AS, &text)) {
        kept_texts::forget(oldest);
    }
}
