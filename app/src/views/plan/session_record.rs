//! The day of the tasting: what happened, noted with one press when it happened.

use crate::state::AppContext;
use crate::state::session::session_record;
use crate::words::session_record as say;
use leptos::prelude::*;
use likeness_core::plan::session::session_record::RecordKind;
use likeness_core::plan::tasting_plan::TastingPlan;

/// What can be noted of an assessor or a cup.
const OF_SOMEBODY: [RecordKind; 5] = [
    RecordKind::Absent,
    RecordKind::BlockedNose,
    RecordKind::SpiltSample,
    RecordKind::OrderDeviation,
    RecordKind::Other,
];

/// One assessor in the chosen session.
#[derive(Clone, PartialEq)]
struct Line {
    assessor: usize,
    name: String,
    /// Codes in serving order.
    codes: Vec<String>,
}

#[component]
pub fn SessionRecordView() -> impl IntoView {
    let context: AppContext = expect_context();
    let has_plan = Memo::new(move |_| context.app.plan.with(Option::is_some));
    move || {
        if has_plan.get() {
            view! { <DayOfPlan/> }.into_any()
        } else {
            view! { <p class="lead" data-test="day-needs-plan">{say::NEEDS_PLAN}</p> }.into_any()
        }
    }
}

#[component]
fn DayOfPlan() -> impl IntoView {
    let context: AppContext = expect_context();
    let first = context.app.plan.with_untracked(|plan| plan.as_ref().map_or(1, running_session));
    let session = RwSignal::new(first);
    let lines = Memo::new(move |_| {
        context.app.plan.with(|plan| plan.as_ref().map(|plan| lines_of(plan, session.get()))).unwrap_or_default()
    });
    view! {
        <section class="day" data-test="day">
            <h1>{say::TITLE}</h1>
            <p class="lead">{say::INTRO}</p>
            <p class="note">{say::CAUTION}</p>
            <SessionLine session/>
            <ul class="day-lines">
                {move || lines.get().into_iter().map(|line| view! { <AssessorLine line session/> }).collect_view()}
            </ul>
            <RecordSoFar/>
        </section>
    }
}

/// Which session, when it began and ended.
#[component]
fn SessionLine(session: RwSignal<u32>) -> impl IntoView {
    let context: AppContext = expect_context();
    let numbers =
        Memo::new(move |_| context.app.plan.with(|plan| plan.as_ref().map(session_numbers)).unwrap_or_default());
    let times = move || {
        let times = context.app.plan.with(|plan| plan.as_ref().map(|plan| times_of(plan, session.get())));
        let (started, ended) = times.unwrap_or_default();
        match (started, ended) {
            (None, None) => say::NOT_STARTED.to_owned(),
            (started, ended) => {
                let parts =
                    started.map(|when| say::started(&when)).into_iter().chain(ended.map(|when| say::ended(&when)));
                parts.collect::<Vec<_>>().join(", ")
            }
        }
    };
    let mark = move |kind: RecordKind| {
        view! {
            <button
                type="button"
                class="button"
                data-test=format!("session-{}", say::hook(kind))
                on:click=move |_| session_record::note(context.app, session.get_untracked(), kind, None, None, "")
            >
                {say::button(kind)}
            </button>
        }
    };
    let picked = move |event| {
        if let Ok(number) = event_target_value(&event).parse() {
            session.set(number);
        }
    };
    view! {
        <div class="fields day-session">
            <label class="field">
                <span>{say::SESSION}</span>
                <select data-test="day-session" on:change=picked>
                    {move || numbers.get().into_iter().map(|number| view! {
                        <option value=number.to_string() prop:selected=move || session.get() == number>{say::session(number)}</option>
                    }).collect_view()}
                </select>
            </label>
            {mark(RecordKind::SessionStarted)}
            {mark(RecordKind::SessionEnded)}
            <p class="quiet" data-test="session-times">{times}</p>
        </div>
    }
}

/// One assessor: cup and note first where they are needed, then what happened.
#[component]
fn AssessorLine(line: Line, session: RwSignal<u32>) -> impl IntoView {
    let context: AppContext = expect_context();
    let (code, set_code) = signal(String::new());
    let (note, set_note) = signal(String::new());
    let (refused, set_refused) = signal(None::<&'static str>);
    let assessor = line.assessor;
    let press = move |kind: RecordKind| {
        let chosen = Some(code.get_untracked()).filter(|code| !code.is_empty());
        if kind == RecordKind::SpiltSample && chosen.is_none() {
            return set_refused.set(Some(say::NEEDS_CUP));
        }
        if kind == RecordKind::Other && note.with_untracked(|note| note.trim().is_empty()) {
            return set_refused.set(Some(say::OTHER_NEEDS_NOTE));
        }
        let about_cup = matches!(kind, RecordKind::SpiltSample | RecordKind::Other | RecordKind::OrderDeviation);
        let chosen = chosen.filter(|_| about_cup);
        session_record::note(context.app, session.get_untracked(), kind, Some(assessor), chosen, &note.get_untracked());
        set_code.set(String::new());
        set_note.set(String::new());
        set_refused.set(None);
    };
    let button = move |kind: RecordKind| {
        let hook = format!("note-{}-{}", assessor + 1, say::hook(kind));
        view! { <button type="button" class="small" data-test=hook on:click=move |_| press(kind)>{say::button(kind)}</button> }
    };
    let cups = (1..).zip(line.codes.clone()).map(|(position, own)| {
        let value = own.clone();
        let shown = say::cup(position, &own);
        view! { <option value=value prop:selected=move || code.with(|code| *code == own)>{shown}</option> }
    });
    let (cup_label, note_label) = (format!("{}, {}", say::CUP, line.name), format!("{}, {}", say::NOTE, line.name));
    view! {
        <li class="day-line" role="group" aria-label=line.name.clone()>
            <strong>{line.name.clone()}</strong>
            <select aria-label=cup_label data-test=format!("cup-{}", assessor + 1) on:change=move |event| set_code.set(event_target_value(&event))>
                <option value="" prop:selected=move || code.with(String::is_empty)>{say::WHICH_CUP}</option>
                {cups.collect_view()}
            </select>
            <input
                type="text"
                aria-label=note_label
                placeholder=say::NOTE
                data-test=format!("note-{}", assessor + 1)
                prop:value=note
                on:input=move |event| set_note.set(event_target_value(&event))
            />
            <span class="choices">{OF_SOMEBODY.into_iter().map(button).collect_view()}</span>
            {move || refused.get().map(|why| view! { <span class="refused" role="alert">{why}</span> })}
        </li>
    }
}

/// What is noted, newest last, each with its time.
#[component]
fn RecordSoFar() -> impl IntoView {
    let context: AppContext = expect_context();
    let entries = Memo::new(move |_| {
        context.app.plan.with(|plan| {
            let Some(plan) = plan else { return Vec::new() };
            plan.record.iter().map(|entry| (entry.when.clone(), plan.record_in_words(entry))).collect::<Vec<_>>()
        })
    });
    let list = move || {
        let entries = entries.get();
        if entries.is_empty() {
            return view! { <p class="quiet">{say::NOTHING}</p> }.into_any();
        }
        let line = |(index, (when, what)): (usize, (String, String))| {
            view! {
                <li>
                    <span class="when">{when}</span>" "{what}" "
                    <button type="button" class="link" data-test=format!("strike-{index}") on:click=move |_| session_record::strike(context.app, index)>
                        {say::STRIKE}<span class="heard">": "{index + 1}</span>
                    </button>
                </li>
            }
        };
        view! { <ol class="left-out">{entries.into_iter().enumerate().map(line).collect_view()}</ol> }.into_any()
    };
    view! {
        <section data-test="day-record" aria-live="polite">
            <h2>{say::RECORD}</h2>
            {list}
        </section>
    }
}

fn lines_of(plan: &TastingPlan, session: u32) -> Vec<Line> {
    let of_session = plan.orders.rows.iter().filter(|row| row.session == session && !row.order.is_empty());
    let line = |row: &likeness_core::plan::orders::serving_orders::OrderRow| Line {
        assessor: row.assessor,
        name: plan.assessors[row.assessor].clone(),
        codes: row.codes.clone(),
    };
    of_session.map(line).collect()
}

fn session_numbers(plan: &TastingPlan) -> Vec<u32> {
    plan.sessions.iter().map(|session| session.number).collect()
}

/// When a session was started first and ended last, as noted.
fn times_of(plan: &TastingPlan, session: u32) -> (Option<String>, Option<String>) {
    let of_kind =
        |kind: RecordKind| plan.record.iter().filter(move |entry| entry.session == session && entry.kind == kind);
    let started = of_kind(RecordKind::SessionStarted).next().map(|entry| entry.when.clone());
    let ended = of_kind(RecordKind::SessionEnded).next_back().map(|entry| entry.when.clone());
    (started, ended)
}

/// The session that was started last and not ended, else the first that was not started.
fn running_session(plan: &TastingPlan) -> u32 {
    let numbers = session_numbers(plan);
    let begun = |number: &&u32| matches!(times_of(plan, **number), (Some(_), None));
    let fresh = |number: &&u32| times_of(plan, **number).0.is_none();
    numbers.iter().rev().find(begun).or_else(|| numbers.iter().find(fresh)).copied().unwrap_or(1)
}
