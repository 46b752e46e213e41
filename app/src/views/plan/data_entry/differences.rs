//! Where two people typed different marks: both side by side, and the paper decides.

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
    let body = move || {
        let found = found.get().unwrap_or_default();
        if found.is_empty() {
            return view! { <p class="quiet">{say::NO_DIFFERENCES}</p> }.into_any();
        }
        view! { <ul class="differences">{found.into_iter().map(|one| view! { <Difference one/> }).collect_view()}</ul> }
            .into_any()
    };
    move || {
        is_typed_twice.get().then(|| {
            view! {
                <details class="typed-twice" data-test="differences">
                    <summary>{summary}</summary>
                    {body}
                </details>
            }
        })
    }
}

#[component]
fn Difference(one: EntryDifference) -> impl IntoView {
    let context: AppContext = expect_context();
    let (page, row) = (one.page, one.row);
    let (refused, set_refused) = signal(None::<String>);
    let input: NodeRef<html::Input> = NodeRef::new();
    let other = move |event: ev::SubmitEvent| {
        event.prevent_default();
        let text = input.get_untracked().map(|input| input.value()).unwrap_or_default();
        set_refused.set(data_entry::decide_typed(context.app, page, row, &text).err());
    };
    let choice = move |label: &'static str, entry: Entry, hook: &'static str| {
        view! {
            <button type="button" class="small" data-test=hook on:click=move |_| data_entry::decide(context.app, page, row, entry)>
                {label}": "{say::entry(entry)}
            </button>
        }
    };
    let state = match one.resolved {
        Some(entry) => format!("{}: {}", say::DECIDED, say::entry(entry)),
        None => say::OPEN.to_owned(),
    };
    view! {
        <li>
            <span><strong>{one.assessor.clone()}", "{one.code.clone()}</strong>", "{row + 1}". "{one.attribute.clone()}</span>
            <span class="choices">
                {choice(say::FIRST, one.first, "decide-first")}
                {choice(say::SECOND, one.second, "decide-second")}
                <form class="with-unit" on:submit=other>
                    <input class="short" inputmode="decimal" aria-label=say::OTHER_MARK placeholder=say::OTHER_MARK node_ref=input/>
                    <button type="submit" class="small">{say::GO}</button>
                </form>
            </span>
            <span class="quiet" data-test="decided">{state}</span>
            {move || refused.get().map(|why| view! { <span class="refused" role="alert">{why}</span> })}
        </li>
    }
}
