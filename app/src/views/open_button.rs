//! Picking files, and opening what was picked or dropped. It must not know what is in them.

use crate::browser::files::{self, File};
use crate::state::study::opening;
use crate::state::{AppContext, AppState, Message, actions};
use crate::words;
use leptos::html;
use leptos::prelude::*;

/// Picks one file or several; looks like a button.
#[component]
pub fn OpenButton(#[prop(into)] label: ViewFn, #[prop(optional)] is_main: bool) -> impl IntoView {
    let context: AppContext = expect_context();
    let input: NodeRef<html::Input> = NodeRef::new();
    let picked = move |_| {
        if let Some(input) = input.get_untracked() {
            open(context.app, files::picked(&input));
        }
    };
    view! {
        <label class=if is_main { "button is-main" } else { "button" }>
            <input type="file" multiple=true class="heard" node_ref=input accept=words::FILE_KINDS data-test="open-file" on:change=picked/>
            <span>{label.run()}</span>
        </label>
    }
}

/// Reads files that were picked or dropped together, and opens them.
pub fn open(app: AppState, chosen: Vec<File>) {
    files::read_all(chosen, move |arrived| {
        let unreadable: Vec<String> =
            arrived.iter().filter(|file| file.bytes.is_none()).map(|file| file.name.clone()).collect();
        if !unreadable.is_empty() {
            let what = format!("{}: {}", unreadable.join(", "), words::opening::FILE_UNREADABLE_BY_BROWSER);
            actions::say(app, Message::refused(what, words::opening::FILE_UNREADABLE_HINT));
            return;
        }
        opening::open_many(app, arrived.into_iter().filter_map(|file| Some((file.name, file.bytes?))).collect());
    });
}
