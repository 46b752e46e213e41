//! Files dropped anywhere on the page.

use super::files;
use leptos::ev;
use leptos::prelude::*;
use web_sys::{DragEvent, File};

/// Listens on the whole page: `hover` says whether a file hangs over it, `dropped` gets the files.
pub fn listen(hover: WriteSignal<bool>, dropped: impl Fn(Vec<File>) + 'static) {
    let over = window_event_listener(ev::dragover, move |event| {
        if carries_files(&event) {
            event.prevent_default();
            hover.set(true);
        }
    });
    let left = window_event_listener(ev::dragleave, move |event| {
        // The browser says "left" for each element; only leaving the window has nothing to go to.
        if event.related_target().is_none() {
            hover.set(false);
        }
    });
    let let_go = window_event_listener(ev::drop, move |event| {
        hover.set(false);
        if !carries_files(&event) {
            return;
        }
        event.prevent_default();
        dropped(files::all_in(event.data_transfer().and_then(|carried| carried.files())));
    });
    on_cleanup(move || {
        over.remove();
        left.remove();
        let_go.remove();
    });
}

fn carries_files(event: &DragEvent) -> bool {
    event.data_transfer().is_some_and(|carried| carried.types().iter().any(|kind| kind == "Files"))
}
