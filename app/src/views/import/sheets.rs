//! Every sheet and file that was found, with what it is used for: shown wherever there is more than one.

use crate::state::AppContext;
use crate::state::study::opening;
use crate::words::reading as say;
use leptos::prelude::*;
use likeness_core::read::{PreviewSheet, SheetUse};

#[component]
pub fn Sheets(sheets: Vec<PreviewSheet>) -> impl IntoView {
    let is_worth_showing = sheets.len() > 1;
    is_worth_showing.then(|| {
        let rows = sheets.into_iter().enumerate().map(|(index, sheet)| view! { <SheetRow index sheet/> });
        view! {
            <section class="sheets" data-test="sheets">
                <h2>{say::SHEETS}</h2>
                <div class="table-place" tabindex="0" role="region" aria-label=say::SHEETS>
                    <table class="results">
                        <thead>
                            <tr>
                                <th scope="col">{say::SHEET}</th>
                                <th scope="col">{say::SHEET_USED_FOR}</th>
                                <th scope="col" class="number">{say::SHEET_ROWS}</th>
                                <th scope="col">{say::SHEET_WHY}</th>
                            </tr>
                        </thead>
                        <tbody>{rows.collect_view()}</tbody>
                    </table>
                </div>
            </section>
        }
    })
}

#[component]
fn SheetRow(index: usize, sheet: PreviewSheet) -> impl IntoView {
    let context: AppContext = expect_context();
    let name = say::sheet_name(&sheet);
    let changed = move |event| {
        let chosen = event_target_value(&event);
        if let Some(sheet_use) = say::SHEET_USES.into_iter().find(|one| say::sheet_use(*one) == chosen) {
            opening::set_sheet_use(context.app, index, sheet_use);
        }
    };
    let options = say::SHEET_USES.into_iter().map(|one| {
        view! { <option value=say::sheet_use(one) selected=one == sheet.sheet_use>{say::sheet_use(one)}</option> }
    });
    let is_left_out = sheet.sheet_use == SheetUse::LeftOut;
    view! {
        <tr class:is-ignored=is_left_out>
            <th scope="row">{name.clone()}</th>
            <td>
                <select aria-label=say::use_of(&name) data-test="sheet-use" data-sheet=index.to_string() on:change=changed>
                    {options.collect_view()}
                </select>
            </td>
            <td class="number">{sheet.rows.to_string()}</td>
            <td>{sheet.why}</td>
        </tr>
    }
}
