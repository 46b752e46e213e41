//! One sample: its code, its lines, and the question about lines without a mark.

use super::line::Line;
use super::names::who;
use super::{now, save_results};
use crate::state::AppContext;
use crate::state::session::on_screen_ballot;
use crate::words::on_screen_ballot as say;
use leptos::html;
use leptos::prelude::*;
use likeness_core::plan::on_screen::ballot_run::Finished;

#[component]
pub fn Cup(index: usize) -> impl IntoView {
    let context: AppContext = expect_context();
    let form = context.app.on_screen.form;
    let attributes = form.with_untracked(|form| form.as_ref().map(|form| form.attributes.clone()).unwrap_or_default());
    let lines = attributes.into_iter().enumerate();
    let finish = move |_| {
        if on_screen_ballot::finish_cup(context.app, &now()) == Some(Finished::Done) {
            save_results(context);
        }
    };
    view! {
        <section class="booth-cup" data-test="booth-cup">
            <CupHead index/>
            <p class="booth-how">{say::HOW}<span class="booth-keys">" "{say::HOW_KEYS}</span></p>
            <ol class="booth-lines">
                {lines.map(|(row, attribute)| view! { <Line cup=index row attribute/> }).collect_view()}
            </ol>
            <Unmarked/>
            <div class="booth-actions">
                <button type="button" class="booth-button is-main" data-test="finish-cup" on:click=finish>
                    {move || if is_asked(context) { say::GO_ON_WITHOUT } else { say::FINISH }}
                </button>
            </div>
        </section>
    }
}

/// Whose cup it is, which of how many, and its code.
#[component]
fn CupHead(index: usize) -> impl IntoView {
    let context: AppContext = expect_context();
    let cup = context.app.on_screen.run.with_untracked(|run| {
        let run = run.as_ref()?;
        let cup = run.cups.get(index)?;
        Some((cup.code.clone(), cup.position, run.cups.len()))
    });
    let (code, position, cups) = cup.unwrap_or_default();
    let heading: NodeRef<html::H1> = NodeRef::new();
    // Keyboards and screen readers start at the top of each new sample.
    heading.on_load(|heading| _ = heading.focus());
    view! {
        <header class="booth-head">
            <p>{move || who(context)}<br/>{say::sample_of(position, cups)}</p>
            <h1 tabindex="-1" node_ref=heading><span class="heard">{say::SAMPLE}" "</span><span class="booth-code" data-test="code">{code}</span></h1>
        </header>
    }
}

/// The lines without a mark, asked about once.
#[component]
fn Unmarked() -> impl IntoView {
    let context: AppContext = expect_context();
    let names = Memo::new(move |_| {
        context.app.on_screen.run.with(|run| {
            let Some(run) = run else { return Vec::new() };
            run.unmarked_rows().into_iter().map(|row| run.attributes[row].clone()).collect::<Vec<_>>()
        })
    });
    move || {
        is_asked(context).then(|| {
            view! {
                <div class="booth-ask" role="alert" data-test="unmarked">
                    <p>{say::unmarked(&names.get())}</p>
                    <button type="button" class="booth-button" data-test="back-to-lines" on:click=move |_| on_screen_ballot::back_to_lines(context.app)>
                        {say::GO_BACK}
                    </button>
                </div>
            }
        })
    }
}

/// Whether lines are open that were asked about.
fn is_asked(context: AppContext) -> bool {
    context.app.on_screen.run.with(|run| run.as_ref().is_some_and(|run| run.asked && !run.unmarked_rows().is_empty()))
}
