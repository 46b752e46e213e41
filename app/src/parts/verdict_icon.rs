//! The mark of a verdict: a shape and a word, so that colour is never needed.

use crate::words;
use leptos::prelude::*;
use likeness_core::stats::Verdict;

/// A check in a filled disc, a filled triangle, an empty ring; always with its word.
#[component]
pub fn VerdictIcon(verdict: Verdict) -> impl IntoView {
    let (class, shape) = match verdict {
        Verdict::Match => (
            "mark is-match",
            view! { <circle cx="8" cy="8" r="7" class="filled"/><path d="M4.6 8.4l2.3 2.4 4.6-5.2" class="cut"/> }
                .into_any(),
        ),
        Verdict::Off => (
            "mark is-off",
            view! { <path d="M8 1.2L15.3 14.6H.7z" class="filled"/><path d="M8 6v4M8 11.6v1.4" class="cut"/> }
                .into_any(),
        ),
        Verdict::NotShown => ("mark is-not-shown", view! { <circle cx="8" cy="8" r="6.2" class="ring"/> }.into_any()),
    };
    view! {
        <span class=class>
            <svg viewBox="0 0 16 16" aria-hidden="true" focusable="false">{shape}</svg>
            <span class="mark-word">{words::verdict_mark(verdict)}</span>
        </span>
    }
}
