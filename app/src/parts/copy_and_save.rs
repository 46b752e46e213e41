//! The two buttons by which any table leaves the page: to the clipboard, and as a CSV file.

use crate::browser::{clipboard, download};
use crate::words;
use leptos::prelude::*;
use likeness_core::figures::FigureTable;

/// The table behind a figure as rows of text, heads first.
pub fn rows_of_figure(table: &FigureTable) -> impl Iterator<Item = Vec<String>> + '_ {
    let heads = table.columns.iter().map(|column| column.heading.clone()).collect();
    std::iter::once(heads).chain(table.rows.iter().cloned())
}

/// Copies and saves what the two functions give when a button is pressed. Where the browser refuses the clipboard, the
/// file is saved instead, and that is said.
#[component]
pub fn CopyAndSave(
    /// Stem of the file's name, and hook for tests.
    name: String,
    /// The table as CSV text.
    #[prop(into)]
    csv: Callback<(), String>,
    /// The table as a spreadsheet takes it from the clipboard.
    #[prop(into)]
    for_clipboard: Callback<(), String>,
) -> impl IntoView {
    let (said, set_said) = signal("");
    let file = format!("{name}.csv");
    let save = {
        let file = file.clone();
        move |_| download::save_text(&file, "text/csv", &csv.run(()))
    };
    let copy = move |_| {
        let file = file.clone();
        clipboard::copy(for_clipboard.run(()), move |copied| {
            if !copied {
                download::save_text(&file, "text/csv", &csv.run(()));
            }
            set_said.set(if copied { words::COPIED } else { words::COPY_REFUSED });
        });
    };
    view! {
        <div class="tools">
            <span class="said" role="status">{said}</span>
            <button type="button" class="small" data-test=format!("{name}-copy") on:click=copy>{words::COPY_TABLE}</button>
            <button type="button" class="small" data-test=format!("{name}-csv") on:click=save>{words::SAVE_CSV}</button>
        </div>
    }
}
