//! The day of the plan: when and where sessions are, what was served, who is absent or comes in addition.

use crate::state::AppContext;
use crate::state::Shared;
use crate::state::plan::late_changes;
use crate::words::plan::orders as say;
use leptos::prelude::*;
use likeness_core::plan::tasting_plan::{PlannedSession, TastingPlan};

/// When and where each session is.
#[component]
pub fn Sessions(plan: Shared<TastingPlan>) -> impl IntoView {
    let context: AppContext = expect_context();
    let line = move |session: PlannedSession| {
        let number = session.number;
        let when = move |event| late_changes::set_session(context.app, number, Some(event_target_value(&event)), None);
        let place = move |event| late_changes::set_session(context.app, number, None, Some(event_target_value(&event)));
        view! {
            <tr>
                <th scope="row" class="row-head">{say::session(number)}</th>
                <td><input type="text" aria-label=say::of_session(say::WHEN, number) prop:value=session.when.clone() on:change=when/></td>
                <td><input type="text" aria-label=say::of_session(say::WHERE, number) prop:value=session.place.clone() on:change=place/></td>
                <td>
                    <button type="button" class="small" aria-label=say::of_session(say::ALL_SERVED, number) on:click=move |_| late_changes::mark_session_served(context.app, number)>
                        {say::ALL_SERVED}
                    </button>
                </td>
            </tr>
        }
    };
    view! {
        <section>
            <h2>{say::SESSIONS}</h2>
            <div class="table-place">
                <table class="typed-table">
                    <thead><tr><td></td><th scope="col">{say::WHEN}</th><th scope="col">{say::WHERE}</th><td></td></tr></thead>
                    <tbody>{plan.sessions.iter().cloned().map(line).collect_view()}</tbody>
                </table>
            </div>
        </section>
    }
}

/// Absent and added.
#[component]
pub fn Late(plan: Shared<TastingPlan>) -> impl IntoView {
    let context: AppContext = expect_context();
    let (refused, set_refused) = signal(None::<String>);
    let (who, set_who) = signal(plan.assessors.first().cloned().unwrap_or_default());
    let (new_name, set_new_name) = signal(String::new());
    let (from, set_from) = signal(1_u32);
    let names = plan.assessors.clone();
    let pick = move |event| {
        let place: usize = event_target_value(&event).parse().unwrap_or(0);
        set_who.set(names.get(place).cloned().unwrap_or_default());
    };
    let absent = move |_| {
        let done = late_changes::absent(context.app, &who.get_untracked(), from.get_untracked());
        set_refused.set(done.err().map(|why| why.to_string()));
    };
    let add = move |_| {
        let done = late_changes::added(context.app, &new_name.get_untracked(), from.get_untracked());
        set_refused.set(done.err().map(|why| why.to_string()));
    };
    let options = plan.assessors.iter().enumerate().map(|(place, name)| {
        view! { <option value=place.to_string()>{name.clone()}</option> }
    });
    let sessions = plan.sessions.iter().map(|session| {
        let number = session.number;
        view! { <option value=number.to_string()>{number}</option> }
    });
    let from_changed = move |event| {
        if let Ok(number) = event_target_value(&event).parse::<u32>() {
            set_from.set(number);
        }
    };
    view! {
        <section>
            <h2>{say::LATE}</h2>
            <p class="lead">{say::LATE_INTRO}</p>
            <div class="fields">
                <label class="field">
                    <span>{say::FROM_SESSION}</span>
                    <select data-test="late-session" on:change=from_changed>{sessions.collect_view()}</select>
                </label>
                <label class="field">
                    <span>{say::LATE_WHO}</span>
                    <select data-test="late-who" on:change=pick>{options.collect_view()}</select>
                </label>
                <button type="button" class="button" data-test="late-absent" on:click=absent>{say::IS_ABSENT}</button>
                <label class="field">
                    <span>{say::LATE_NEW}</span>
                    <input type="text" data-test="late-new" on:input=move |event| set_new_name.set(event_target_value(&event))/>
                </label>
                <button type="button" class="button" data-test="late-add" on:click=add>{say::IS_ADDED}</button>
            </div>
            {move || refused.get().map(|why| view! { <p class="refused" role="alert">{why}</p> })}
        </section>
    }
}
