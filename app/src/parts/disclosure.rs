//! Help on demand: closed until it is asked for, never in the way.

use crate::words::help::Help;
use leptos::prelude::*;

/// What a result is, how to read it, and what it can't say.
#[component]
pub fn HelpOn(help: &'static Help) -> impl IntoView {
    view! {
        <details class="help">
            <summary>{help.question}</summary>
            <div class="help-text">
                {help.answers.iter().map(|answer| view! { <p>{*answer}</p> }).collect_view()}
                {(!help.source.is_empty()).then(|| view! { <p class="source">{help.source}</p> })}
            </div>
        </details>
    }
}
