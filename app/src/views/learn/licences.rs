//! What the page is made of, and under which licences.

use crate::words::licences as say;
use leptos::prelude::*;

#[component]
pub fn Licences() -> impl IntoView {
    let line = |(name, licence): (&'static str, &'static str)| view! { <li>{name}" "<span class="quiet">{licence}</span></li> };
    view! {
        <section data-test="licences">
            <h2>{say::TITLE}</h2>
            <p class="note">{say::INTRO}</p>
            <details>
                <summary>{say::count()}</summary>
                <ul class="licences">{say::crates().map(line).collect_view()}</ul>
            </details>
        </section>
    }
}
