//! All scores of the plan from wherever they came: how many from each source, where two differ, and making the study.

use crate::state::AppContext;
use crate::state::session::joining;
use crate::words::data_entry as say_typed;
use crate::words::scan_pages as say;
use leptos::prelude::*;
use leptos::{ev, html};
use likeness_core::plan::data_entry::entry::Entry;
use likeness_core::plan::joining::{JoinedScores, ScoreSource, SourceDifference};

/// Shown in each part where scores come back: where there is more than its own source, or always.
#[component]
pub fn JoinedSources(own: ScoreSource, is_always: bool) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let joined = Memo::new(move |_| joining::joined(app));
    let is_shown = Memo::new(move |_| {
        is_always
            || joined.with(|joined| {
                joined.as_ref().is_some_and(|joined| joined.sources().iter().any(|one| one.source != own))
            })
    });
    let scores = Memo::new(move |_| joined.with(|joined| joined.as_ref().map_or(0, JoinedScores::score_count)));
    move || {
        is_shown.get().then(|| {
            view! {
                <section class="joined not-printed" data-test="joined">
                    <h2>{say::JOINED}</h2>
                    <p class="quiet">{say::JOINED_ABOUT}</p>
                    <p data-test="joined-so-far">{move || so_far(joined)}</p>
                    <Differences joined/>
                    <p>
                        <button
                            type="button"
                            class="button is-main"
                            data-test="make-study"
                            prop:disabled=move || scores.get() == 0
                            on:click=move |_| joining::use_scores_of(app, own)
                        >
                            {say::MAKE_STUDY}
                        </button>
                    </p>
                </section>
            }
        })
    }
}

/// How far the study is, with how much each source gave.
fn so_far(joined: Memo<Option<JoinedScores>>) -> String {
    let app = expect_context::<AppContext>().app;
    app.plan.with(|plan| {
        joined.with(|joined| match (plan, joined) {
            (Some(plan), Some(joined)) if !joined.sources().is_empty() => {
                let given = joined.sources().iter().map(|one| say::given(one.source, one.entry_count()));
                let all = say::joined_so_far(&joined.progress(plan), joined.score_count());
                format!("{all} {}", given.collect::<Vec<_>>().join(", "))
            }
            _ => say::NO_SCORES.to_owned(),
        })
    })
}

#[component]
fn Differences(joined: Memo<Option<JoinedScores>>) -> impl IntoView {
    let found = Memo::new(move |_| {
        joined.with(|joined| joined.as_ref().map(|joined| joined.differences().to_vec())).unwrap_or_default()
    });
    let summary = move || {
        found.with(|found| {
            let open = found.iter().filter(|one| one.decided.is_none()).count();
            say::differences_open(open, found.len())
        })
    };
    let is_any = Memo::new(move |_| found.with(|found| !found.is_empty()));
    move || {
        is_any.get().then(|| {
            view! {
                <details class="typed-twice" open data-test="source-differences">
                    <summary>{summary}</summary>
                    <ul class="differences">{move || found.get().into_iter().map(|one| view! { <Difference one/> }).collect_view()}</ul>
                </details>
            }
        })
    }
}

#[component]
fn Difference(one: SourceDifference) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let (refused, set_refused) = signal(None::<String>);
    let (page, line) =
        app.plan.with_untracked(|plan| plan.as_ref().map(|plan| joining::in_words(plan, &one))).unwrap_or_default();
    let state = match one.decided {
        Some(entry) => format!("{}: {}", say::DECIDED, say_typed::entry(entry)),
        None => say::OPEN.to_owned(),
    };
    view! {
        <li>
            <span><strong>{page}</strong>", "{line}</span>
            <Choices one set_refused/>
            <span class="quiet" data-test="source-decided">{state}</span>
            {move || refused.get().map(|why| view! { <span class="refused" role="alert">{why}</span> })}
        </li>
    }
}

/// What each source says, or another score.
#[component]
fn Choices(one: SourceDifference, set_refused: WriteSignal<Option<String>>) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let input: NodeRef<html::Input> = NodeRef::new();
    let about = StoredValue::new(one.clone());
    let other = move |event: ev::SubmitEvent| {
        event.prevent_default();
        let text = input.get_untracked().map(|input| input.value()).unwrap_or_default();
        set_refused.set(joining::decide_typed(app, &about.get_value(), &text).err());
    };
    let choice = move |(source, entry): (ScoreSource, Entry)| {
        view! {
            <button type="button" class="small" data-test="take-source" on:click=move |_| joining::decide(app, &about.get_value(), entry)>
                {say::says(source, entry)}
            </button>
        }
    };
    view! {
        <span class="choices">
            {one.between.into_iter().map(choice).collect_view()}
            <form class="with-unit" on:submit=other>
                <input class="short" inputmode="decimal" aria-label=say_typed::OTHER_SCORE placeholder=say_typed::OTHER_SCORE node_ref=input/>
                <button type="submit" class="small">{say_typed::GO}</button>
            </form>
        </span>
    }
}
