//! What is left out and why; leaving out and taking back in.

use super::noted_reasons::NotedReasons;
use crate::state::AppContext;
use crate::state::study::exclusions::{exclude, include, scope_in_words};
use crate::words;
use leptos::prelude::*;
use likeness_core::study::{ExclusionScope, Study};

/// The list of what is left out.
#[component]
pub fn Exclusions() -> impl IntoView {
    let context: AppContext = expect_context();
    let list = Memo::new(move |_| {
        context.app.study.with(|study| {
            let Some(study) = study else { return Vec::new() };
            let line = |exclusion: &likeness_core::study::Exclusion| {
                (
                    exclusion.scope,
                    scope_in_words(study, exclusion.scope),
                    exclusion.reason.clone(),
                    exclusion.when.clone(),
                )
            };
            study.exclusions.iter().map(line).collect::<Vec<_>>()
        })
    });
    move || {
        let list = list.get();
        if list.is_empty() {
            return view! { <p class="quiet">{words::NOTHING_LEFT_OUT}</p> }.into_any();
        }
        let line = move |(scope, what, reason, when)| {
            view! {
                <li>
                    <span class="when">{when}</span>" "<strong>{what}</strong>": "{reason}" "
                    <button type="button" class="small" on:click=move |_| include(context.app, scope)>{words::TAKE_BACK}</button>
                </li>
            }
        };
        view! { <ul class="left-out" data-test="exclusions">{list.into_iter().map(line).collect_view()}</ul> }
            .into_any()
    }
}

/// Leaves out an assessor, a sample or an attribute, with a reason.
#[component]
pub fn LeaveOut() -> impl IntoView {
    let context: AppContext = expect_context();
    let (chosen, set_chosen) = signal(String::new());
    let (reason, set_reason) = signal(String::new());
    let (refused, set_refused) = signal(None::<String>);
    let choices =
        Memo::new(move |_| context.app.study.with(|study| study.as_ref().map(choices_of)).unwrap_or_default());
    let leave_out = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let place: Option<usize> = chosen.get_untracked().parse().ok();
        let scope = choices.with_untracked(|choices| place.and_then(|place| choices.get(place)).map(|choice| choice.0));
        let Some(scope) = scope else {
            set_refused.set(Some(words::REFUSED_NOTHING_CHOSEN.to_owned()));
            return;
        };
        let done = exclude(context.app, scope, &reason.get_untracked());
        if done.is_ok() {
            set_chosen.set(String::new());
            set_reason.set(String::new());
        }
        set_refused.set(done.err());
    };
    let options = move || {
        choices.get().into_iter().enumerate().map(|(place, (_, text))| {
            let own = place.to_string();
            view! { <option value=place.to_string() prop:selected=move || chosen.with(|chosen| *chosen == own)>{text}</option> }
        }).collect_view()
    };
    let chosen_scope = Signal::derive(move || {
        let place: Option<usize> = chosen.with(|chosen| chosen.parse().ok());
        choices
            .with(|choices| place.and_then(|place| choices.get(place)).map(|choice| choice.0))
            .into_iter()
            .collect::<Vec<_>>()
    });
    view! {
        <form class="fields leave-out" on:submit=leave_out>
            <label class="field">
                <span>{words::LEAVE_OUT}</span>
                <select data-test="leave-out" on:change=move |event| set_chosen.set(event_target_value(&event))>
                    <option value="" prop:selected=move || chosen.with(String::is_empty)>{words::CHOOSE}</option>
                    {options}
                </select>
            </label>
            <label class="field is-wide">
                <span>{words::REASON}</span>
                <input
                    type="text"
                    data-test="reason"
                    placeholder=words::REASON_PLACEHOLDER
                    prop:value=reason
                    on:input=move |event| set_reason.set(event_target_value(&event))
                />
            </label>
            <NotedReasons scopes=chosen_scope set_reason/>
            <button type="submit" class="button" data-test="leave-out-button">{words::LEAVE_OUT}</button>
            {move || refused.get().map(|why| view! { <p class="refused" role="alert">{why}</p> })}
        </form>
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
