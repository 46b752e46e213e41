//! What is left out and why; leaving out and taking back in.

use super::noted_reasons::NotedReasons;
use crate::state::study::exclusions::{exclude, include, scope_in_words};
use crate::state::{AppContext, AppState};
use crate::words;
use leptos::prelude::*;
use likeness_core::study::{Exclusion, ExclusionScope, Study};

/// The list of what is left out.
#[component]
pub fn Exclusions() -> impl IntoView {
    let context: AppContext = expect_context();
    let list = Memo::new(move |_| context.app.study.with(|study| study.as_ref().map(left_out_of)).unwrap_or_default());
    let line = move |(scope, what, exclusion): (ExclusionScope, String, Exclusion)| {
        view! {
            <li>
                <span class="when">{exclusion.when}</span>" "<strong>{what}</strong>": "{exclusion.reason}" "
                <button type="button" class="small" on:click=move |_| include(context.app, scope)>{words::TAKE_BACK}</button>
            </li>
        }
    };
    move || {
        let list = list.get();
        if list.is_empty() {
            return view! { <p class="quiet">{words::NOTHING_LEFT_OUT}</p> }.into_any();
        }
        view! { <ul class="left-out" data-test="exclusions">{list.into_iter().map(line).collect_view()}</ul> }
            .into_any()
    }
}

fn left_out_of(study: &Study) -> Vec<(ExclusionScope, String, Exclusion)> {
    let line = |one: &Exclusion| (one.scope, scope_in_words(study, one.scope), one.clone());
    study.exclusions.iter().map(line).collect()
}

/// Leaves out an assessor, a sample or an attribute, with a reason.
#[component]
pub fn LeaveOut() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let (chosen, reason) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let (refused, set_refused) = signal(None::<String>);
    let choices = Memo::new(move |_| app.study.with(|study| study.as_ref().map(choices_of)).unwrap_or_default());
    let scope = move || choices.with(|choices| chosen.with(|place| Some(choices.get(place.parse::<usize>().ok()?)?.0)));
    let leave_out = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let done = leave_out_chosen(app, untrack(scope), &reason.get_untracked());
        if done.is_ok() {
            chosen.set(String::new());
            reason.set(String::new());
        }
        set_refused.set(done.err());
    };
    let scopes = Signal::derive(move || scope().into_iter().collect::<Vec<_>>());
    view! {
        <form class="fields leave-out" on:submit=leave_out>
            <WhatToLeaveOut choices chosen/>
            <ReasonField reason/>
            <NotedReasons scopes set_reason=reason.write_only()/>
            <button type="submit" class="button" data-test="leave-out-button">{words::LEAVE_OUT}</button>
            {move || refused.get().map(|why| view! { <p class="refused" role="alert">{why}</p> })}
        </form>
    }
}

fn leave_out_chosen(app: AppState, scope: Option<ExclusionScope>, reason: &str) -> Result<(), String> {
    exclude(app, scope.ok_or_else(|| words::REFUSED_NOTHING_CHOSEN.to_owned())?, reason)
}

#[component]
fn WhatToLeaveOut(choices: Memo<Vec<(ExclusionScope, String)>>, chosen: RwSignal<String>) -> impl IntoView {
    let option = move |(place, (_, text)): (usize, (ExclusionScope, String))| {
        let own = place.to_string();
        view! { <option value=place.to_string() prop:selected=move || chosen.with(|chosen| *chosen == own)>{text}</option> }
    };
    view! {
        <label class="field">
            <span>{words::LEAVE_OUT}</span>
            <select data-test="leave-out" on:change=move |event| chosen.set(event_target_value(&event))>
                <option value="" prop:selected=move || chosen.with(String::is_empty)>{words::CHOOSE}</option>
                {move || choices.get().into_iter().enumerate().map(option).collect_view()}
            </select>
        </label>
    }
}

#[component]
fn ReasonField(reason: RwSignal<String>) -> impl IntoView {
    view! {
        <label class="field is-wide">
            <span>{words::REASON}</span>
            <input
                type="text"
                data-test="reason"
                placeholder=words::REASON_PLACEHOLDER
                prop:value=reason
                on:input=move |event| reason.set(event_target_value(&event))
            />
        </label>
    }
}

fn choices_of(study: &Study) -> Vec<(ExclusionScope, String)> {
    let assessors = (0..study.assessors.len()).map(ExclusionScope::Assessor);
    let samples = (0..study.samples.len()).map(ExclusionScope::Sample);
    let attributes = (0..study.attributes.len()).map(ExclusionScope::Attribute);
    // Cups are too many to list; those of which something was noted are not.
    let cups = study.record.iter().filter_map(|event| event.serving).map(ExclusionScope::Serving);
    let all = assessors.chain(samples).chain(attributes).chain(cups);
    let open = all.filter(|scope| study.exclusions.iter().all(|exclusion| exclusion.scope != *scope));
    open.map(|scope| (scope, scope_in_words(study, scope))).collect()
}
