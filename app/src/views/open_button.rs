//! Picking files, and opening what was picked or dropped. It must not know what is in them.

use super::plan::scan_pages::intake;
use crate::browser::files::{self, File};
use crate::state::session::scan_desk;
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

/// Opens files that were dropped anywhere: pictures and PDFs are filled pages, where a plan is open that they may belong to.
pub fn open_dropped(context: AppContext, dropped: Vec<File>) {
    let has_plan = context.app.plan.with_untracked(Option::is_some);
    let (pictures, others): (Vec<File>, Vec<File>) = dropped.into_iter().partition(intake::is_picture);
    if !others.is_empty() {
        open(context.app, others);
    }
    match (pictures.is_empty(), has_plan) {
        (true, _) => {}
        (false, true) => {
            scan_desk::look_at_desk(context.app);
            intake::take_in(context, pictures);
        }
        (false, false) => {
            let names: Vec<String> = pictures.iter().map(File::name).collect();
            actions::say(
                context.app,
                Message::refused(words::scan_pages::pictures_need_plan(&names), words::scan_pages::NEEDS_PLAN),
            );
        }
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
