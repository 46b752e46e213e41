//! The plans that this browser keeps, in a menu of the plan's bar.

use crate::state::AppContext;
use crate::state::plan::kept_keys::{KeptPlan, Wish};
use crate::state::plan::kept_plans;
use crate::views::by_width::by_width;
use crate::words::plan::kept as say;
use leptos::prelude::*;
use leptos::{ev, html};

#[component]
pub fn KeptPlansMenu() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let count = move || by_width(say::kept_count(app.kept_plans.list.with(Vec::len)));
    let menu: NodeRef<html::Details> = NodeRef::new();
    let pressed = move |event: ev::KeyboardEvent| {
        if event.key() == "Escape"
            && let Some(menu) = menu.get_untracked()
        {
            menu.set_open(false);
        }
    };
    let deleted = move || {
        app.kept_plans.deleted.get().map(|(plan, _)| {
            view! {
                <p class="kept-deleted" role="status">
                    {say::deleted(&plan.name())}" "
                    <button type="button" class="small" data-test="undo-delete-plan" on:click=move |_| kept_plans::wish(app, Wish::TakeBackDeleting)>
                        {say::TAKE_BACK}
                    </button>
                </p>
            }
        })
    };
    view! {
        <details class="kept-menu" node_ref=menu on:keydown=pressed data-test="kept-plans-menu">
            <summary class="button">{count}</summary>
            <div class="kept-panel">
                <p class="note">{say::INTRO}</p>
                {deleted}
                <ul class="kept-list" data-test="kept-plans">
                    <For each=move || app.kept_plans.list.get() key=|plan| (plan.key.clone(), plan.to_text()) let:plan>
                        <KeptLine plan/>
                    </For>
                </ul>
            </div>
        </details>
    }
}

#[component]
fn KeptLine(plan: KeptPlan) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let key = plan.key.clone();
    let is_open = Memo::new(move |_| app.kept_plans.key.with(|open| open.as_ref() == Some(&key)));
    let (name, about, when) = (plan.name(), plan.in_words(), say::changed(&plan.when));
    let plan = StoredValue::new(plan);
    let tool = move |hook: &'static str, text: &'static str, wish: fn(KeptPlan) -> Wish| {
        let label = plan.with_value(|plan| say::button_label(text, &plan.name()));
        let press = move |_| kept_plans::wish(app, wish(plan.get_value()));
        view! { <button type="button" class="small" data-test=hook aria-label=label on:click=press>{text}</button> }
    };
    let tools = move || {
        if is_open.get() {
            return view! { <span class="quiet">{say::IS_OPEN}</span> }.into_any();
        }
        view! {
            {tool("open-kept-plan", say::OPEN, Wish::Open)}
            {tool("delete-kept-plan", say::DELETE, Wish::Delete)}
        }
        .into_any()
    };
    view! {
        <li class="kept-line" class:is-current=move || is_open.get() data-test="kept-plan">
            <div class="kept-about">
                <strong>{name}</strong>
                <span class="quiet">{about}</span>
                <span class="quiet">{when}</span>
            </div>
            <div class="tools">{tools}</div>
        </li>
    }
}
