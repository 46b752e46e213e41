//! What is folded away until it is asked for. It is made when it is unfolded: a change of the study costs nothing for
//! what nobody sees.

use leptos::prelude::*;
use leptos::{ev, html};

#[component]
pub fn Folded(
    summary: &'static str,
    /// Class of the whole.
    #[prop(optional)]
    class: &'static str,
    children: ChildrenFn,
) -> impl IntoView {
    let place: NodeRef<html::Details> = NodeRef::new();
    let (is_open, set_is_open) = signal(false);
    let toggled = move |_: ev::Event| set_is_open.set(place.get_untracked().is_some_and(|place| place.open()));
    view! {
        <details class=class node_ref=place on:toggle=toggled>
            <summary>{summary}</summary>
            {move || is_open.get().then(|| children())}
        </details>
    }
}
