//! The score that is looked at: where it came from, what was done to it, and correcting it or leaving it out.

use super::noted_reasons::NotedReasons;
use crate::browser::page;
use crate::state::AppContext;
use crate::state::study::corrections::correct;
use crate::state::study::exclusions::{exclude, include, scope_in_words};
use crate::state::study::score_rows::{Condition, ScoreColumn, ScorePlace, assessor_name, notices_on, sample_name};
use crate::words;
use crate::words::scan_pages as say_read;
use crate::words::scores as say;
use leptos::prelude::*;
use likeness_core::notice::Notice;
use likeness_core::study::{Edit, ExclusionScope, Study};

/// The field for the new score, to which Enter leads from the table.
pub const VALUE_ID: &str = "mark-value";
/// The field for the reason, to which Enter leads where there is no score to correct.
pub const REASON_ID: &str = "mark-reason";

/// Shows the cell that is looked at.
#[component]
pub fn ScoreCard(grid_id: &'static str) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let place = Memo::new(move |_| match app.scores_shown.with(|shown| shown.place) {
        Some(ScorePlace::Cell(serving, column)) => {
            let count = app.study.with(|study| study.as_ref().map_or(0, |study| study.servings.len()));
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
                None => view! { <p class="quiet">{say::NO_SCORE_CHOSEN}</p><p class="quiet">{say::GRID_KEYS}</p> }.into_any(),
                Some((serving, column)) => view! { <OfPlace serving column grid_id/> }.into_any(),
            }}
        </div>
    }
}

/// What is known of a cell and what can be done to it.
#[component]
fn OfPlace(serving: usize, column: ScoreColumn, grid_id: &'static str) -> impl IntoView {
    let attribute = if let ScoreColumn::Attribute(attribute) = column { Some(attribute) } else { None };
    view! {
        <Facts serving attribute/>
        <Change serving attribute/>
        <button type="button" class="small" on:click=move |_| page::focus(grid_id)>{say::BACK_TO_TABLE}</button>
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
                Some(attribute) => {
                    let from_picture = from_picture(context, study, serving, attribute);
                    score_facts(study, serving, attribute, from_picture).into_any()
                }
                None => view! { <h3>{page_in_words(study, serving)}</h3> }.into_any(),
            })
        })
    }
}

/// The picture that a score was read from: file, page and line, how it was decided, and its strip where it was kept.
fn from_picture(context: AppContext, study: &Study, serving: usize, attribute: usize) -> Option<AnyView> {
    let (page, row) = study.picture_row(serving, attribute)?;
    let how =
        if row.why.is_empty() { row.how.in_words().to_owned() } else { format!("{}: {}", row.how.in_words(), row.why) };
    let by = if row.who.is_empty() { how } else { format!("{how} ({})", row.who) };
    let strip = context.app.scanning.strips.with(|strips| strips.address(&page.code_text, row.row));
    let strip = strip.map(|address| {
        view! { <dt>{say_read::STRIP}</dt><dd><img class="strip" src=address alt=say_read::STRIP_LABEL data-test="mark-strip"/></dd> }
    });
    Some(
        view! {
            <dt>{say_read::READ_FROM}</dt>
            <dd data-test="mark-picture">{say_read::origin(&page.file, row.row, &page.code_text)}</dd>
            <dt>{say_read::DECISION}</dt>
            <dd data-test="mark-how-read">{by}</dd>
            <dt>{say_read::READ_AS}</dt>
            <dd>{say_read::place(row.suggested_mm)}</dd>
            {strip}
        }
        .into_any(),
    )
}

fn score_facts(
    study: &Study,
    serving: usize,
    attribute: usize,
    from_picture: Option<AnyView>,
) -> impl IntoView + use<> {
    let unit = &study.scale.unit;
    let name = study.attributes.get(attribute).map_or_else(String::new, |attribute| attribute.name.clone());
    let score = say::score_with_unit(study.score(serving, attribute), unit);
    let came = study.place_of(serving, attribute).map_or_else(|| say::TYPED.to_owned(), |place| place.to_string());
    let is_corrected = study.edits_of(serving, attribute).next().is_some();
    let original = is_corrected.then(|| say::score_with_unit(study.score_as_it_came(serving, attribute), unit));
    view! {
        <h3>{format!("{name}: {}", page_in_words(study, serving))}</h3>
        <dl class="mark-facts">
            <dt>{say::SCORE}</dt>
            <dd data-test="mark-now"><strong>{score}</strong></dd>
            {original.map(|original| view! { <dt>{say::AS_IT_CAME}</dt><dd data-test="mark-as-it-came">{original}</dd> })}
            {from_picture.unwrap_or_else(|| view! { <dt>{say::CAME_FROM}</dt><dd data-test="mark-origin">{came}</dd> }.into_any())}
            {listed_fact(Condition::Corrected.in_words(), edit_lines(study, serving, attribute))}
            {listed_fact(say::WAS_SAID, notice_lines(study, serving, attribute))}
        </dl>
    }
}

/// A fact with several lines; nothing where there is none.
fn listed_fact(term: &'static str, lines: Vec<AnyView>) -> impl IntoView {
    (!lines.is_empty()).then(|| view! { <dt>{term}</dt><dd><ul>{lines}</ul></dd> })
}

fn edit_lines(study: &Study, serving: usize, attribute: usize) -> Vec<AnyView> {
    let line = |edit: &Edit| {
        let (when, reason) = (edit.when.clone(), edit.reason.clone());
        let change = say::change_in_words(edit, &study.scale.unit);
        view! { <li><span class="when">{when}</span>" "{change}": "{reason}</li> }.into_any()
    };
    study.edits_of(serving, attribute).map(line).collect()
}

fn notice_lines(study: &Study, serving: usize, attribute: usize) -> Vec<AnyView> {
    let line = |notice: &Notice| view! { <li>{format!("{} {}", notice.what, notice.hint)}</li> }.into_any();
    notices_on(study, serving, attribute).into_iter().map(line).collect()
}

/// Correcting and leaving out, for one reason that must be given.
#[component]
fn Change(serving: usize, attribute: Option<usize>) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let reason = RwSignal::new(String::new());
    let (refused, set_refused) = signal(None::<String>);
    let scopes = Memo::new(move |_| {
        app.study.with(|study| study.as_ref().map(|study| scopes_of(study, serving, attribute))).unwrap_or_default()
    });
    let settle = Callback::new(move |done: Result<(), String>| {
        if done.is_ok() {
            reason.set(String::new());
        }
        set_refused.set(done.err());
    });
    view! {
        <HiddenBy serving attribute/>
        <ReasonField reason/>
        <NotedReasons scopes=Signal::stored(vec![ExclusionScope::Serving(serving)]) set_reason=reason.write_only()/>
        {attribute.map(|attribute| view! { <Correction serving attribute reason settle/> })}
        <LeaveOutHere scopes reason settle/>
        {move || refused.get().map(|why| view! { <p class="refused" role="alert" data-test="mark-refused">{why}</p> })}
    }
}

#[component]
fn ReasonField(reason: RwSignal<String>) -> impl IntoView {
    view! {
        <label class="field">
            <span>{say::REASON}</span>
            <input
                type="text"
                id=REASON_ID
                data-test="mark-reason"
                placeholder=say::REASON_PLACEHOLDER
                prop:value=reason
                on:input=move |event| reason.set(event_target_value(&event))
            />
        </label>
    }
}

#[component]
fn Correction(
    serving: usize,
    attribute: usize,
    reason: RwSignal<String>,
    settle: Callback<Result<(), String>>,
) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let now = Memo::new(move |_| {
        let score = app.study.with(|study| study.as_ref().and_then(|study| study.score(serving, attribute)));
        score.map(words::number).unwrap_or_default()
    });
    let typed = RwSignal::new(now.get_untracked());
    // Undo and redo change the score under the field.
    Effect::new(move |_| typed.set(now.get()));
    let change = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        settle.run(correct(app, serving, attribute, &typed.get_untracked(), &reason.get_untracked()));
    };
    view! {
        <form class="change-line" on:submit=change>
            <NewScoreField typed/>
            <button type="submit" class="button" data-test="mark-correct">{say::CORRECT}</button>
        </form>
    }
}

#[component]
fn NewScoreField(typed: RwSignal<String>) -> impl IntoView {
    view! {
        <label class="field">
            <span>{say::NEW_SCORE}" "<span class="quiet">"("{say::NEW_SCORE_HINT}")"</span></span>
            <input
                type="text"
                inputmode="decimal"
                class="short"
                id=VALUE_ID
                data-test="mark-value"
                prop:value=typed
                on:input=move |event| typed.set(event_target_value(&event))
            />
        </label>
    }
}

#[component]
fn LeaveOutHere(
    scopes: Memo<Vec<(ExclusionScope, String)>>,
    reason: RwSignal<String>,
    settle: Callback<Result<(), String>>,
) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let chosen = RwSignal::new(0_usize);
    let leave_out = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let scope =
            scopes.with_untracked(|scopes| scopes.get(chosen.get_untracked()).or(scopes.first()).map(|one| one.0));
        if let Some(scope) = scope {
            settle.run(exclude(app, scope, &reason.get_untracked()));
            chosen.set(0);
        }
    };
    move || {
        // The whole form is made anew where the list changes.
        (!scopes.with(Vec::is_empty)).then(|| {
            view! {
                <form class="change-line" on:submit=leave_out>
                    <LeaveOutWhat scopes chosen/>
                    <button type="submit" class="button" data-test="mark-leave-out">{say::LEAVE_OUT}</button>
                </form>
            }
        })
    }
}

/// This score, its page, or more: by its place in the list.
#[component]
fn LeaveOutWhat(scopes: Memo<Vec<(ExclusionScope, String)>>, chosen: RwSignal<usize>) -> impl IntoView {
    let option = move |(place, (_, text)): (usize, (ExclusionScope, String))| {
        view! { <option value=place.to_string() prop:selected=move || chosen.get() == place>{text}</option> }
    };
    view! {
        <label class="field">
            <span>{say::LEAVE_OUT_WHAT}</span>
            <select data-test="mark-leave-out-what" on:change=move |event| chosen.set(event_target_value(&event).parse().unwrap_or(0))>
                {scopes.get_untracked().into_iter().enumerate().map(option).collect_view()}
            </select>
        </label>
    }
}

/// What leaves this score out, each with the way back.
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
        scopes.push((ExclusionScope::Score { serving, attribute }, say::THIS_SCORE.to_owned()));
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
