//! The brief: what is asked, of which samples, by whom.

use super::super::Desk;
use crate::state::plan_actions;
use leptos::prelude::*;

#[component]
pub fn Question() -> impl IntoView {
    let desk: Desk = expect_context();
    let title = move || desk.ground.plan_draft.with(|draft| draft.brief.title.clone());
    let typed = move |event| {
        let text = event_target_value(&event);
        plan_actions::type_into_draft(desk.ground, |draft| draft.brief.title = text);
    };
    view! {
        <section class="plan-question">
            <label class="field is-wide">
                <span>"Title"</span>
                <input type="text" data-test="plan-title" prop:value=title on:input=typed/>
            </label>
        </section>
    }
}
