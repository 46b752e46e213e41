//! Where two people typed different scores: both side by side, and the paper decides.

use crate::state::AppContext;
use crate::state::session::data_entry;
use crate::state::session::data_entry::TOLERANCE;
use crate::words::data_entry as say;
use leptos::prelude::*;
use leptos::{ev, html};
use likeness_core::plan::data_entry::compare::EntryDifference;
use likeness_core::plan::data_entry::entry::Entry;

#[component]
pub fn Differences() -> impl IntoView {
    let context: AppContext = expect_context();
    let found = Memo::new(move |_| {
        context.app.data_entry.file.with(|file| {
            let data_entry = file.as_ref().map(|file| &file.data_entry)?;
            data_entry.is_typed_twice().then(|| data_entry.differences(TOLERANCE))
        })
    });
    let summary = move || {
        found.with(|found| {
            let found = found.as_deref().unwrap_or_default();
            let open = found.iter().filter(|difference| difference.resolved.is_none()).count();
            say::differences_open(open, found.len())
        })
    };
    let is_typed_twice = Memo::new(move |_| found.with(Option::is_some));
    move || {
        is_typed_twice.get().then(|| {
            view! {
                <details class="typed-twice" data-test="differences">
                    <summary>{summary}</summary>
                    {move || list_of(found.get().unwrap_or_default())}
                </details>
            }
        })
    }
}

fn list_of(found: Vec<EntryDifference>) -> impl IntoView {
    if found.is_empty() {
        return view! { <p class="quiet">{say::NO_DIFFERENCES}</p> }.into_any();
    }
    view! { <ul class="differences">{found.into_iter().map(|one| view! { <Difference one/> }).collect_view()}</ul> }
        .into_any()
}

#[component]
fn Difference(one: EntryDifference) -> impl IntoView {
    let row = one.row;
    let (refused, set_refused) = signal(None::<String>);
    let state = match one.resolved {
        Some(entry) => format!("{}: {}", say::DECIDED, say::entry(entry)),
        None => say::OPEN.to_owned(),
    };
    view! {
        <li>
            <span><strong>{one.assessor.clone()}", "{one.code.clone()}</strong>", "{row + 1}". "{one.attribute.clone()}</span>
            <DifferenceChoices one set_refused/>
            <span class="quiet" data-test="decided">{state}</span>
            {move || refused.get().map(|why| view! { <span class="refused" role="alert">{why}</span> })}
        </li>
    }
}

/// The first score, the second, or another one.
#[component]
fn DifferenceChoices(one: EntryDifference, set_refused: WriteSignal<Option<String>>) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let (page, row) = (one.page, one.row);
    let input: NodeRef<html::Input> = NodeRef::new();
    let other = move |event: ev::SubmitEvent| {
        event.prevent_default();
        let text = input.get_untracked().map(|input| input.value()).unwrap_or_default();
        set_refused.set(data_entry::decide_typed(app, page, row, &text).err());
    };
    let choice = move |label: &'static str, entry: Entry, hook: &'static str| {
        view! {
            <button type="button" class="small" data-test=hook on:click=move |_| data_entry::decide(app, page, row, entry)>
                {label}": "{say::entry(entry)}
            </button>
        }
    };
    view! {
        <span class="choices">
            {choice(say::FIRST, one.first, "decide-first")}
            {choice(say::SECOND, one.second, "decide-second")}
            <form class="with-unit" on:submit=other>
                <input class="short" inputmode="decimal" aria-label=say::OTHER_SCORE placeholder=say::OTHER_SCORE node_ref=input/>
                <button type="submit" class="small">{say::GO}</button>
            </form>
        </span>
    }
}
