//! What is folded away until it is asked for, behind a line that says what it comes to. It is made when it is unfolded: a
//! change of the study costs nothing for what nobody sees.

use super::numerals::Numerals;
use leptos::prelude::*;
use leptos::{ev, html};

#[component]
pub fn Folded(
    #[prop(into)] summary: Signal<String>,
    /// What it comes to, in one sentence; nothing where that is not known.
    #[prop(optional)]
    conclusion: Option<Signal<Option<String>>>,
    /// Class of the whole.
    #[prop(optional)]
    class: &'static str,
    /// Hook for tests.
    #[prop(optional)]
    hook: &'static str,
    /// Whether it is unfolded, where something else unfolds it too.
    #[prop(optional)]
    open: Option<RwSignal<bool>>,
    children: ChildrenFn,
) -> impl IntoView {
    let place: NodeRef<html::Details> = NodeRef::new();
    let open = open.unwrap_or_else(|| RwSignal::new(false));
    let toggled = move |_: ev::Event| open.set(place.get_untracked().is_some_and(|place| place.open()));
    let numerals = use_context::<Numerals>();
    let said = move || {
        let text = conclusion?.get()?;
        let text = numerals.map_or_else(|| text.clone(), |numerals| numerals.text(&text));
        Some(view! { " " <span class="conclusion">{text}</span> })
    };
    view! {
        <details
            class=class
            class:fold=move || conclusion.is_some()
            data-test=(!hook.is_empty()).then(|| format!("fold-{hook}"))
            prop:open=open
            node_ref=place
            on:toggle=toggled
        >
            <summary>{summary}{said}</summary>
            {move || open.get().then(|| children())}
        </details>
    }
}
