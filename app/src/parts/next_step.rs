//! The one next step that a view offers beside its answer.

use leptos::prelude::*;

/// A line with one button; `label` follows what is known.
#[component]
pub fn NextStep(#[prop(into)] label: Signal<String>, #[prop(into)] press: Callback<()>) -> impl IntoView {
    view! {
        <p class="next-step">
            <button type="button" class="button" data-test="next-step" on:click=move |_| press.run(())>{label}</button>
        </p>
    }
}
