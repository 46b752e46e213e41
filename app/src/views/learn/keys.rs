//! The sheet of keys, and the switch for single ones.

use crate::state::AppContext;
use crate::state::learning;
use crate::words::learning as say;
use leptos::prelude::*;

#[component]
pub fn Keys() -> impl IntoView {
    let context: AppContext = expect_context();
    let row = |(key, does): (&'static str, &'static str)| {
        view! { <tr><th scope="row" class="key">{key}</th><td>{does}</td></tr> }
    };
    view! {
        <section>
            <h2>{say::KEYS}</h2>
            <label class="check">
                <input
                    type="checkbox"
                    data-test="single-keys"
                    prop:checked=move || context.app.learning.single_keys.get()
                    on:change=move |event| learning::switch_single_keys(context.app, event_target_checked(&event))
                />
                <span>{say::KEYS_SWITCH}</span>
            </label>
            <p class="note">{say::KEYS_SWITCH_ABOUT}</p>
            <table class="keys">
                <thead><tr><th scope="col">{say::KEY}</th><th scope="col">{say::DOES}</th></tr></thead>
                <tbody>{say::KEY_SHEET.into_iter().map(row).collect_view()}</tbody>
            </table>
        </section>
    }
}
