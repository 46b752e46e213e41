//! Files dropped anywhere on the page.

use super::events::on_window;
use super::files::{self, File};
use leptos::prelude::*;
use web_sys::DragEvent;

/// Listens on the whole page: `hover` says whether a file hangs over it, `dropped` gets the files.
pub fn listen(hover: WriteSignal<bool>, dropped: impl Fn(Vec<File>) + 'static) {
    on_window("dragover", move |event: &DragEvent| {
        if carries_files(event) {
            event.prevent_default();
            hover.set(true);
        }
    });
    on_window("dragleave", move |event: &DragEvent| {
        // The browser says "left" for each element; only leaving the window has nothing to go to.
        if event.related_target().is_none() {
            hover.set(false);
        }
    });
    on_window("drop", move |event: &DragEvent| {
        hover.set(false);
        if !carries_files(event) {
            return;
        }
        event.prevent_default();
        dropped(files::all_in(event.data_transfer().and_then(|carried| carried.files())));
    });
}

fn carries_files(event: &DragEvent) -> bool {
    event.data_transfer().is_some_and(|carried| carried.types().iter().any(|kind| kind == "Files"))
}
