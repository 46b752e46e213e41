//! The mark that is looked at: where it came from, what was done to it, and correcting it or leaving it out.

use super::noted_reasons::NotedReasons;
use crate::browser::page;
use crate::state::AppContext;
use crate::state::study::corrections::correct;
use crate::state::study::exclusions::{exclude, include, scope_in_words};
use crate::state::study::scores_shown::{ScoreColumn, ScorePlace, assessor_name, notices_on, sample_name};
use crate::words;
use crate::words::scores as say;
use leptos::prelude::*;
use likeness_core::study::{ExclusionScope, Study};

/// The field for the new mark, to which Enter leads from the table.
pub const VALUE_ID: &str = "mark-value";
/// The field for the reason, to which Enter leads where there is no mark to correct.
pub const REASON_ID: &str = "mark-reason";

/// Shows the cell that is looked at.
#[component]
pub fn ScoreCard(grid_id: &'static str) -> impl IntoView {
    let context: AppContext = expect_context();
    let place = Memo::new(move |_| match context.app.marks.with(|shown| shown.place) {
        Some(ScorePlace::Cell(serving, column)) => {
            let count = context.app.study.with(|study| study.as_ref().map_or(0, |study| study.servings.len()));
            (serving < count).then_some((serving, column))
        }
        _ => None,
    });
    let back = move |event: leptos::ev::KeyboardEvent| {
        if event.key() == "Escape" {
            page::focus(grid_id);
        }
    };
    view! {
        <div class="mark-card" data-test="mark-card" aria-live="polite" on:keydown=back>
            {move || match place.get() {
                None => view! { <p class="quiet">{say::NO_MARK_CHOSEN}</p><p class="quiet">{say::GRID_KEYS}</p> }.into_any(),
                Some((serving, column)) => {
                    let attribute = if let ScoreColumn::Attribute(attribute) = column { Some(attribute) } else { None };
                    view! {
                        <Facts serving attribute/>
                        <Change serving attribute/>
                        <button type="button" class="small" on:click=move |_| page::focus(grid_id)>{say::BACK_TO_TABLE}</button>
                    }
                    .into_any()
                }
            }}
        </div>
    }
}

/// What stands there, what stood there, where it came from.
#[component]
fn Facts(serving: usize, attribute: Option<usize>) -> impl IntoView {
    let context: AppContext = expect_context();
    move || {
        context.app.study.with(|study| {
            let study = study.as_ref()?;
            Some(match attribute {
                Some(attribute) => mark_facts(study, serving, attribute).into_any(),
                None => view! { <h3>{page_in_words(study, serving)}</h3> }.into_any(),
            })
        })
    }
}

fn mark_facts(study: &Study, serving: usize, attribute: usize) -> impl IntoView + use<> {
    let unit = &study.scale.unit;
    let name = study.attributes.get(attribute).map_or_else(String::new, |attribute| attribute.name.clone());
    let score = say::mark_with_unit(study.score(serving, attribute), unit);
    let came = study.place_of(serving, attribute).map_or_else(|| say::TYPED.to_owned(), |place| place.to_string());
    let edits: Vec<(String, String, String)> = study
        .edits_of(serving, attribute)
        .map(|edit| (edit.when.clone(), say::change_in_words(edit, unit), edit.reason.clone()))
        .collect();
    let original = (!edits.is_empty()).then(|| say::mark_with_unit(study.score_as_it_came(serving, attribute), unit));
    let said: Vec<String> =
        notices_on(study, serving, attribute).iter().map(|notice| format!("{} {}", notice.what, notice.hint)).collect();
    let edit_line = |(when, change, reason): (String, String, String)| {
        view! { <li><span class="when">{when}</span>" "{change}": "{reason}</li> }
    };
    view! {
        <h3>{format!("{name}: {}", page_in_words(study, serving))}</h3>
        <dl class="mark-facts">
            <dt>{say::MARK}</dt>
            <dd data-test="mark-now"><strong>{score}</strong></dd>
            {original.map(|original| view! { <dt>{say::AS_IT_CAME}</dt><dd data-test="mark-as-it-came">{original}</dd> })}
            <dt>{say::CAME_FROM}</dt>
            <dd data-test="mark-origin">{came}</dd>
            {(!edits.is_empty()).then(|| view! {
                <dt>{say::condition(crate::state::study::scores_shown::Condition::Corrected)}</dt>
                <dd><ul>{edits.into_iter().map(edit_line).collect_view()}</ul></dd>
            })}
            {(!said.is_empty()).then(|| view! {
                <dt>{say::WAS_SAID}</dt>
                <dd><ul>{said.into_iter().map(|line| view! { <li>{line}</li> }).collect_view()}</ul></dd>
            })}
        </dl>
    }
}

/// Correcting and leaving out, for one reason that must be given.
#[component]
fn Change(serving: usize, attribute: Option<usize>) -> impl IntoView {
    let context: AppContext = expect_context();
    let (reason, set_reason) = signal(String::new());
    let (refused, set_refused) = signal(None::<String>);
    let scopes = Memo::new(move |_| {
        context
            .app
            .study
            .with(|study| study.as_ref().map(|study| scopes_of(study, serving, attribute)))
            .unwrap_or_default()
    });
    let settle = move |done: Result<(), String>| {
        if done.is_ok() {
            set_reason.set(String::new());
        }
        set_refused.set(done.err());
    };
    view! {
        <HiddenBy serving attribute/>
        <label class="field">
            <span>{say::REASON}</span>
            <input
                type="text"
                id=REASON_ID
                data-test="mark-reason"
                placeholder=say::REASON_PLACEHOLDER
                prop:value=reason
                on:input=move |event| set_reason.set(event_target_value(&event))
            />
        </label>
        <NotedReasons scopes=Signal::stored(vec![ExclusionScope::Serving(serving)]) set_reason/>
        {attribute.map(|attribute| view! { <Correction serving attribute reason settle=Callback::new(settle)/> })}
        <LeaveOutHere scopes reason settle=Callback::new(settle)/>
        {move || refused.get().map(|why| view! { <p class="refused" role="alert" data-test="mark-refused">{why}</p> })}
    }
}

#[component]
fn Correction(
    serving: usize,
    attribute: usize,
    reason: ReadSignal<String>,
    settle: Callback<Result<(), String>>,
) -> impl IntoView {
    let context: AppContext = expect_context();
    let now = Memo::new(move |_| {
        let score = context.app.study.with(|study| study.as_ref().and_then(|study| study.score(serving, attribute)));
        score.map(words::number).unwrap_or_default()
    });
    let (typed, set_typed) = signal(now.get_untracked());
    // Undo and redo change the mark under the field.
    Effect::new(move |_| set_typed.set(now.get()));
    let change = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let done = correct(context.app, serving, attribute, &typed.get_untracked(), &reason.get_untracked());
        settle.run(done);
    };
    view! {
        <form class="change-line" on:submit=change>
            <label class="field">
                <span>{say::NEW_MARK}" "<span class="quiet">"("{say::NEW_MARK_HINT}")"</span></span>
                <input
                    type="text"
                    inputmode="decimal"
                    class="short"
                    id=VALUE_ID
                    data-test="mark-value"
                    prop:value=typed
                    on:input=move |event| set_typed.set(event_target_value(&event))
                />
            </label>
            <button type="submit" class="button" data-test="mark-correct">{say::CORRECT}</button>
        </form>
    }
}

#[component]
fn LeaveOutHere(
    scopes: Memo<Vec<(ExclusionScope, String)>>,
    reason: ReadSignal<String>,
    settle: Callback<Result<(), String>>,
) -> impl IntoView {
    let context: AppContext = expect_context();
    let (chosen, set_chosen) = signal(0_usize);
    let leave_out = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let scope =
            scopes.with_untracked(|scopes| scopes.get(chosen.get_untracked()).or(scopes.first()).map(|one| one.0));
        if let Some(scope) = scope {
            settle.run(exclude(context.app, scope, &reason.get_untracked()));
            set_chosen.set(0);
        }
    };
    let option = move |(place, (_, text)): (usize, (ExclusionScope, String))| {
        view! { <option value=place.to_string() prop:selected=move || chosen.get() == place>{text}</option> }
    };
    move || {
        let list = scopes.get();
        (!list.is_empty()).then(|| {
            view! {
                <form class="change-line" on:submit=leave_out>
                    <label class="field">
                        <span>{say::LEAVE_OUT_WHAT}</span>
                        <select data-test="mark-leave-out-what" on:change=move |event| set_chosen.set(event_target_value(&event).parse().unwrap_or(0))>
                            {list.into_iter().enumerate().map(option).collect_view()}
                        </select>
                    </label>
                    <button type="submit" class="button" data-test="mark-leave-out">{say::LEAVE_OUT}</button>
                </form>
            }
        })
    }
}

/// What leaves this mark out, each with the way back.
#[component]
fn HiddenBy(serving: usize, attribute: Option<usize>) -> impl IntoView {
    let context: AppContext = expect_context();
    let list = Memo::new(move |_| {
        context.app.study.with(|study| {
            let Some(study) = study else { return Vec::new() };
            // A cell beside the marks stands for its page: what hides one attribute only does not hide it.
            let exclusions = study.exclusions_of(serving, attribute.unwrap_or(usize::MAX));
            exclusions
                .map(|exclusion| (exclusion.scope, scope_in_words(study, exclusion.scope), exclusion.reason.clone()))
                .collect::<Vec<_>>()
        })
    });
    let line = move |(scope, what, reason): (ExclusionScope, String, String)| {
        view! {
            <li>
                <strong>{say::IS_LEFT_OUT}</strong>": "{what}": "{reason}" "
                <button type="button" class="small" data-test="mark-take-back" on:click=move |_| include(context.app, scope)>{words::TAKE_BACK}</button>
            </li>
        }
    };
    move || {
        let list = list.get();
        (!list.is_empty()).then(|| view! { <ul class="left-out">{list.into_iter().map(line).collect_view()}</ul> })
    }
}

fn page_in_words(study: &Study, serving: usize) -> String {
    let replicate = study.servings.get(serving).map_or(1, |page| page.replicate);
    words::serving_in_words(assessor_name(study, serving), sample_name(study, serving), replicate)
}

/// What can be left out from this cell and is not yet.
fn scopes_of(study: &Study, serving: usize, attribute: Option<usize>) -> Vec<(ExclusionScope, String)> {
    let Some(page) = study.servings.get(serving) else { return Vec::new() };
    let (assessor, sample) =
        (ExclusionScope::Assessor(page.assessor as usize), ExclusionScope::Sample(page.sample as usize));
    let mut scopes = Vec::new();
    if let Some(attribute) = attribute {
        scopes.push((ExclusionScope::Score { serving, attribute }, say::THIS_MARK.to_owned()));
    }
    scopes.push((ExclusionScope::Serving(serving), say::THIS_PAGE.to_owned()));
    scopes.push((assessor, scope_in_words(study, assessor)));
    scopes.push((sample, scope_in_words(study, sample)));
    if let Some(scope) = attribute.map(ExclusionScope::Attribute) {
        scopes.push((scope, scope_in_words(study, scope)));
    }
    scopes.retain(|(scope, _)| study.exclusions.iter().all(|exclusion| exclusion.scope != *scope));
    scopes
}
