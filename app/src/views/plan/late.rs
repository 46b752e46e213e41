//! Late changes of the plan: when and where sessions are, what was served, who is absent or comes in addition.

use crate::state::AppContext;
use crate::state::Shared;
use crate::state::plan::late_changes;
use crate::words::plan::orders as say;
use leptos::prelude::*;
use likeness_core::plan::tasting_plan::{PlannedSession, TastingPlan};

/// When and where each session is.
#[component]
pub fn Sessions(plan: Shared<TastingPlan>) -> impl IntoView {
    view! {
        <section>
            <h2>{say::SESSIONS}</h2>
            <div class="table-place">
                <table class="typed-table">
                    <thead><tr><td></td><th scope="col">{say::WHEN}</th><th scope="col">{say::WHERE}</th><td></td></tr></thead>
                    <tbody>{plan.sessions.iter().map(session_line).collect_view()}</tbody>
                </table>
            </div>
        </section>
    }
}

fn session_line(session: &PlannedSession) -> impl IntoView + use<> {
    let app = expect_context::<AppContext>().app;
    let number = session.number;
    let when = move |event| late_changes::set_session(app, number, Some(event_target_value(&event)), None);
    let place = move |event| late_changes::set_session(app, number, None, Some(event_target_value(&event)));
    let served = move |_| late_changes::mark_session_served(app, number);
    view! {
        <tr>
            <th scope="row" class="row-head">{say::session(number)}</th>
            <td><input type="text" aria-label=say::of_session(say::WHEN, number) prop:value=session.when.clone() on:change=when/></td>
            <td><input type="text" aria-label=say::of_session(say::WHERE, number) prop:value=session.place.clone() on:change=place/></td>
            <td>
                <button type="button" class="small" aria-label=say::of_session(say::ALL_SERVED, number) on:click=served>
                    {say::ALL_SERVED}
                </button>
            </td>
        </tr>
    }
}

/// Absent and added.
#[component]
pub fn Late(plan: Shared<TastingPlan>) -> impl IntoView {
    let (refused, set_refused) = signal(None::<String>);
    let from = RwSignal::new(1_u32);
    view! {
        <section>
            <h2>{say::LATE}</h2>
            <p class="lead">{say::LATE_INTRO}</p>
            <div class="fields">
                <FromSession plan=plan.clone() from/>
                <Absent plan from set_refused/>
                <Added from set_refused/>
            </div>
            {move || refused.get().map(|why| view! { <p class="refused" role="alert">{why}</p> })}
        </section>
    }
}

/// Somebody doesn't come.
#[component]
fn Absent(plan: Shared<TastingPlan>, from: RwSignal<u32>, set_refused: WriteSignal<Option<String>>) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let who = RwSignal::new(plan.assessors.first().cloned().unwrap_or_default());
    let absent = move |_| {
        let done = late_changes::absent(app, &who.get_untracked(), from.get_untracked());
        set_refused.set(done.err().map(|why| why.to_string()));
    };
    view! {
        <WhoIsLate plan who/>
        <button type="button" class="button" data-test="late-absent" on:click=absent>{say::IS_ABSENT}</button>
    }
}

/// Somebody comes in addition.
#[component]
fn Added(from: RwSignal<u32>, set_refused: WriteSignal<Option<String>>) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let (name, set_name) = signal(String::new());
    let add = move |_| {
        let done = late_changes::added(app, &name.get_untracked(), from.get_untracked());
        set_refused.set(done.err().map(|why| why.to_string()));
    };
    view! {
        <label class="field">
            <span>{say::LATE_NEW}</span>
            <input type="text" data-test="late-new" on:input=move |event| set_name.set(event_target_value(&event))/>
        </label>
        <button type="button" class="button" data-test="late-add" on:click=add>{say::IS_ADDED}</button>
    }
}

#[component]
fn FromSession(plan: Shared<TastingPlan>, from: RwSignal<u32>) -> impl IntoView {
    let option = |session: &PlannedSession| {
        let number = session.number;
        view! { <option value=number.to_string()>{number}</option> }
    };
    let changed = move |event| {
        if let Ok(number) = event_target_value(&event).parse::<u32>() {
            from.set(number);
        }
    };
    view! {
        <label class="field">
            <span>{say::FROM_SESSION}</span>
            <select data-test="late-session" on:change=changed>{plan.sessions.iter().map(option).collect_view()}</select>
        </label>
    }
}

#[component]
fn WhoIsLate(plan: Shared<TastingPlan>, who: RwSignal<String>) -> impl IntoView {
    let option = |(place, name): (usize, &String)| view! { <option value=place.to_string()>{name.clone()}</option> };
    let options = plan.assessors.iter().enumerate().map(option).collect_view();
    let pick = move |event| {
        let place: usize = event_target_value(&event).parse().unwrap_or(0);
        who.set(plan.assessors.get(place).cloned().unwrap_or_default());
    };
    view! {
        <label class="field">
            <span>{say::LATE_WHO}</span>
            <select data-test="late-who" on:change=pick>{options}</select>
        </label>
    }
}
