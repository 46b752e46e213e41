//! One sample: its code, its lines, and the question about lines without a mark.

use super::line::Line;
use super::names::who;
use super::{now, save_results};
use crate::browser::page;
use crate::state::AppContext;
use crate::state::session::on_screen_ballot;
use crate::words::on_screen_ballot as say;
use leptos::prelude::*;
use leptos::{ev, html};
use likeness_core::plan::on_screen::ballot_run::Finished;

#[component]
pub fn Cup(index: usize) -> impl IntoView {
    let context: AppContext = expect_context();
    let form = context.app.on_screen.form;
    let attributes = form.with_untracked(|form| form.as_ref().map(|form| form.attributes.clone()).unwrap_or_default());
    let lines = attributes.into_iter().enumerate();
    view! {
        <section class="booth-cup" data-test="booth-cup">
            <CupHead index/>
            <p class="booth-how">{say::HOW}<span class="booth-keys">" "{say::HOW_KEYS}</span></p>
            <ol class="booth-lines">
                {lines.map(|(row, attribute)| view! { <Line cup=index row attribute/> }).collect_view()}
            </ol>
            <Unmarked/>
            <Actions/>
        </section>
    }
}

/// The main button finishes the sample, or goes back to the first line that has no mark; going on without is the second
/// thing to do, and names the lines. The second tap of a double one counts for nothing.
#[component]
fn Actions() -> impl IntoView {
    let context: AppContext = expect_context();
    let names = open_lines(context);
    let finished = move |finished| {
        if finished == Some(Finished::Done) {
            save_results(context);
        }
    };
    let main = move |event: ev::MouseEvent| match is_asked(context) {
        _ if event.detail() > 1 => {}
        true => back_to_line(context),
        false => finished(on_screen_ballot::finish_cup(context.app, &now())),
    };
    let without = move |event: ev::MouseEvent| {
        if event.detail() <= 1 {
            finished(on_screen_ballot::finish_without_marks(context.app, &now()));
        }
    };
    let label = move || match names.get().first().filter(|_| is_asked(context)) {
        Some(first) => say::go_back(first),
        None => say::FINISH.to_owned(),
    };
    view! {
        <div class="booth-actions">
            <button type="button" class="booth-button is-main" data-test="finish-cup" on:click=main>{label}</button>
            {move || is_asked(context).then(|| view! {
                <button type="button" class="booth-button is-quiet" data-test="go-on-without" on:click=without>
                    {move || say::go_on_without(&names.get())}
                </button>
            })}
        </div>
    }
}

/// Goes back to the first line without a mark, for eye and keyboard.
fn back_to_line(context: AppContext) {
    let first = context.app.on_screen.run.with_untracked(|run| run.as_ref()?.unmarked_rows().first().copied());
    on_screen_ballot::back_to_lines(context.app);
    if let Some(row) = first {
        page::focus_at(".booth-line", row);
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

/// The lines without a mark, by their names.
fn open_lines(context: AppContext) -> Memo<Vec<String>> {
    Memo::new(move |_| {
        context.app.on_screen.run.with(|run| {
            let Some(run) = run else { return Vec::new() };
            run.unmarked_rows().into_iter().map(|row| run.attributes[row].clone()).collect::<Vec<_>>()
        })
    })
}

/// The lines without a mark, once the assessor wanted to finish.
#[component]
fn Unmarked() -> impl IntoView {
    let context: AppContext = expect_context();
    let names = open_lines(context);
    move || {
        is_asked(context).then(|| {
            view! { <p class="booth-ask" role="alert" data-test="unmarked">{move || say::unmarked(&names.get())}</p> }
        })
    }
}

/// Whether lines are open that were asked about.
fn is_asked(context: AppContext) -> bool {
    context.app.on_screen.run.with(|run| run.as_ref().is_some_and(|run| run.asked && !run.unmarked_rows().is_empty()))
}
