//! A sheet of the plan on the screen: its notes, its table, copying and saving.

use crate::browser::{clipboard, download};
use crate::words;
use crate::words::plan::orders as say;
use leptos::prelude::*;
use likeness_core::plan::sheet_table::SheetTable;

/// Shows a sheet. `hook` names it for tests and as a file.
#[component]
pub fn SheetView(sheet: SheetTable, hook: &'static str) -> impl IntoView {
    let title = sheet.title.clone();
    view! {
        <section class="table-part" data-test=format!("{hook}-sheet")>
            <div class="part-head">
                <h3>{title.clone()}{sheet.confidential.then(|| view! { " "<span class="confidential">{say::CONFIDENTIAL}</span> })}</h3>
                <SheetTools sheet=sheet.clone() hook/>
            </div>
            {sheet.notes.iter().map(|note| view! { <p class="note">{note.clone()}</p> }).collect_view()}
            <div class="table-place is-tall" tabindex="0" role="region" aria-label=title>{sheet_table(&sheet)}</div>
        </section>
    }
}

/// Copy and save as CSV.
#[component]
pub fn SheetTools(sheet: SheetTable, hook: &'static str) -> impl IntoView {
    let (said, set_said) = signal("");
    let text = sheet.to_csv();
    let save = {
        let text = text.clone();
        move |_| download::save_text(&format!("{hook}.csv"), "text/csv", &text)
    };
    let copy = move |_| {
        let text = text.clone();
        clipboard::copy(tabbed(&sheet), move |copied| {
            if !copied {
                download::save_text(&format!("{hook}.csv"), "text/csv", &text);
            }
            set_said.set(if copied { words::COPIED } else { words::COPY_REFUSED });
        });
    };
    view! {
        <div class="tools">
            <span class="said" role="status">{said}</span>
            <button type="button" class="small" on:click=copy>{words::COPY_TABLE}</button>
            <button type="button" class="small" data-test=format!("{hook}-csv") on:click=save>{words::SAVE_CSV}</button>
        </div>
    }
}

/// The table itself, on the screen and in print. Numbers stand to the right.
pub fn sheet_table(sheet: &SheetTable) -> impl IntoView + use<> {
    let is_number: Vec<bool> = (0..sheet.columns.len())
        .map(|column| sheet.rows.iter().all(|row| row.get(column).is_some_and(|cell| is_plain_number(cell))))
        .map(|is_number| is_number && !sheet.rows.is_empty())
        .collect();
    let class = |column: usize| if is_number.get(column) == Some(&true) { "number" } else { "words" };
    let heads = sheet.columns.iter().enumerate().map(|(column, head)| {
        view! { <th scope="col" class=class(column)>{head.clone()}</th> }
    });
    let rows = sheet.rows.iter().map(|row| {
        let cells = row.iter().enumerate().map(|(column, cell)| view! { <td class=class(column)>{cell.clone()}</td> });
        view! { <tr>{cells.collect_view()}</tr> }
    });
    view! {
        <table class="results sheet">
            <thead><tr>{heads.collect_view()}</tr></thead>
            <tbody>{rows.collect_view()}</tbody>
        </table>
    }
}

fn is_plain_number(cell: &str) -> bool {
    !cell.is_empty() && cell.bytes().all(|byte| byte.is_ascii_digit())
}

/// For a spreadsheet: cells parted by tabs, none of them a formula.
fn tabbed(sheet: &SheetTable) -> String {
    let line = |cells: &[String]| {
        let cells =
            cells.iter().map(|cell| likeness_core::plan::sheet_table::harmless_cell(cell).replace(['\t', '\n'], " "));
        cells.collect::<Vec<_>>().join("\t")
    };
    let lines = std::iter::once(line(&sheet.columns)).chain(sheet.rows.iter().map(|row| line(row)));
    lines.collect::<Vec<_>>().join("\n")
}
