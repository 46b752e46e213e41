//! The plan of a tasting: its parts in the order of the work, and what is kept of it.

pub mod keeping;

mod fields;
mod late;
mod orders;
mod papers;
mod power;
mod question;
mod samples;
mod sheet_view;
mod short_tests;
mod words_list;

use super::Desk;
use crate::browser::download;
use crate::state::{PlanPart, plan_actions};
use crate::words;
use crate::words::plan as say;
use leptos::prelude::*;

#[component]
pub fn Plan() -> impl IntoView {
    let desk: Desk = expect_context();
    view! {
        <div class="plan" data-test="plan">
            <PlanBar/>
            <Parts/>
            {move || match desk.ground.plan_part.get() {
                PlanPart::Question => view! { <question::Question/> }.into_any(),
                PlanPart::Words => view! { <words_list::WordsList/> }.into_any(),
                PlanPart::Orders => view! { <orders::Orders/> }.into_any(),
                PlanPart::Papers => view! { <papers::Papers/> }.into_any(),
                PlanPart::ShortTests => view! { <short_tests::ShortTests/> }.into_any(),
                PlanPart::Day => view! { <super::day::Day/> }.into_any(),
                PlanPart::Typing => view! { <super::typing::Typing/> }.into_any(),
                PlanPart::ScreenForms => view! { <super::screen_forms::ScreenForms/> }.into_any(),
            }}
        </div>
    }
}

/// What plan this is, undo, saving.
#[component]
fn PlanBar() -> impl IntoView {
    let desk: Desk = expect_context();
    let ground = desk.ground;
    let undo = Memo::new(move |_| ground.plan_steps.with(|steps| steps.next_undo().map(words::undo_what)));
    let redo = Memo::new(move |_| ground.plan_steps.with(|steps| steps.next_redo().map(words::redo_what)));
    let save = move |_| {
        if let Some(text) = ground.plan.with_untracked(|plan| plan.as_ref().map(|plan| plan.to_json())) {
            download::save_text(say::PLAN_FILE_NAME, "application/json", &text);
        }
    };
    view! {
        <div class="plan-bar">
            <span class="quiet" class:is-warning=move || !desk.plan_is_kept.get()>
                {move || if desk.plan_is_kept.get() { say::PLAN_KEPT } else { say::PLAN_NOT_KEPT }}
            </span>
            <div class="top-tools">
                <button
                    type="button"
                    class="small"
                    data-test="plan-undo"
                    disabled=move || undo.with(Option::is_none)
                    title=move || undo.get()
                    on:click=move |_| plan_actions::undo(ground)
                >
                    {words::UNDO}
                </button>
                <button
                    type="button"
                    class="small"
                    data-test="plan-redo"
                    disabled=move || redo.with(Option::is_none)
                    title=move || redo.get()
                    on:click=move |_| plan_actions::redo(ground)
                >
                    {words::REDO}
                </button>
                <button
                    type="button"
                    class="small"
                    data-test="save-plan"
                    disabled=move || ground.plan.with(Option::is_none)
                    on:click=save
                >
                    {say::SAVE_PLAN}
                </button>
                <button type="button" class="small" data-test="begin-anew" on:click=move |_| plan_actions::begin_anew(ground)>
                    {say::BEGIN_ANEW}
                </button>
            </div>
        </div>
    }
}

#[component]
fn Parts() -> impl IntoView {
    let desk: Desk = expect_context();
    let tab = move |part: PlanPart| {
        let state = Memo::new(move |_| {
            let made_at = desk.ground.plan.with(|plan| plan.as_ref().map(|plan| plan.made_at.clone()));
            desk.ground.plan_draft.with(|draft| say::part_state(part, draft, made_at.as_deref()))
        });
        view! {
            <li>
                <button
                    type="button"
                    data-test=format!("plan-part-{}", say::part_hook(part))
                    aria-current=move || (desk.ground.plan_part.get() == part).then_some("step")
                    on:click=move |_| plan_actions::look_at_part(desk.ground, part)
                >
                    <span>{say::part_name(part)}</span>
                    <span class="asks">{state}</span>
                </button>
            </li>
        }
    };
    view! {
        <nav class="plan-parts" aria-label=say::PARTS>
            <ol>{PlanPart::ALL.iter().copied().map(tab).collect_view()}</ol>
        </nav>
    }
}
