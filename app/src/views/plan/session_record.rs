//! The session record: what happened at the tasting, noted with one press when it happened.

use crate::state::session::session_record;
use crate::state::{AppContext, AppState};
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
    let first = context.app.plan.with_untracked(|plan| plan.as_ref().map_or(1, session_record::session_to_note));
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
            <div class="day-lines">
                {move || lines.get().into_iter().map(|line| view! { <AssessorLine line session/> }).collect_view()}
            </div>
            <RecordSoFar/>
        </section>
    }
}

/// Which session, when it began and ended.
#[component]
fn SessionLine(session: RwSignal<u32>) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let times = move || {
        app.plan
            .with(|plan| plan.as_ref().map(|plan| session_record::times_of(plan, session.get())))
            .unwrap_or_default()
    };
    let note = move |kind: RecordKind| {
        view! {
            <button
                type="button"
                class="button"
                data-test=format!("session-{}", say::hook(kind))
                on:click=move |_| session_record::note(app, session.get_untracked(), kind, None, None, "")
            >
                {say::button(kind)}
            </button>
        }
    };
    view! {
        <div class="fields day-session">
            <SessionSelect session/>
            {note(RecordKind::SessionStarted)}
            {note(RecordKind::SessionEnded)}
            <p class="quiet" data-test="session-times">{move || times_in_words(times())}</p>
        </div>
    }
}

#[component]
fn SessionSelect(session: RwSignal<u32>) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let numbers = Memo::new(move |_| {
        app.plan.with(|plan| plan.as_ref().map(session_record::session_numbers)).unwrap_or_default()
    });
    let picked = move |event| {
        if let Ok(number) = event_target_value(&event).parse() {
            session.set(number);
        }
    };
    let option = move |number: u32| {
        view! {
            <option value=number.to_string() prop:selected=move || session.get() == number>{say::session(number)}</option>
        }
    };
    view! {
        <label class="field">
            <span>{say::SESSION}</span>
            <select data-test="day-session" on:change=picked>
                {move || numbers.get().into_iter().map(option).collect_view()}
            </select>
        </label>
    }
}

fn times_in_words((started, ended): (Option<String>, Option<String>)) -> String {
    let (started, ended) = (started.map(|when| say::started(&when)), ended.map(|when| say::ended(&when)));
    let parts: Vec<String> = started.into_iter().chain(ended).collect();
    if parts.is_empty() { say::NOT_STARTED.to_owned() } else { parts.join(", ") }
}

/// One assessor: cup and note first where they are needed, then what happened.
#[component]
fn AssessorLine(line: Line, session: RwSignal<u32>) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let (code, note) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let (refused, set_refused) = signal(None::<&'static str>);
    let (assessor, name) = (line.assessor, line.name.clone());
    let press = move |kind: RecordKind| {
        let done = note_of(app, session.get_untracked(), assessor, kind, &code.get_untracked(), &note.get_untracked());
        if done.is_ok() {
            code.set(String::new());
            note.set(String::new());
        }
        set_refused.set(done.err());
    };
    let button = move |kind: RecordKind| {
        let hook = format!("note-{}-{}", assessor + 1, say::hook(kind));
        view! { <button type="button" class="small" data-test=hook on:click=move |_| press(kind)>{say::button(kind)}</button> }
    };
    view! {
        <div class="day-line" role="group" aria-label=name.clone()>
            <strong>{name.clone()}</strong>
            <WhichCup line=line.clone() code/>
            <NoteField line=line.clone() note/>
            <span class="choices">{OF_SOMEBODY.into_iter().map(button).collect_view()}</span>
            {move || refused.get().map(|why| view! { <span class="refused" role="alert">{why}</span> })}
            <NotedSoFar assessor session/>
        </div>
    }
}

/// What is noted of this assessor in the chosen session, in their own row.
#[component]
fn NotedSoFar(assessor: usize, session: RwSignal<u32>) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let noted = Memo::new(move |_| {
        app.plan.with(|plan| plan.as_ref().map(|plan| session_record::noted_of(plan, session.get(), assessor)))
    });
    let line = |(when, what): (String, String)| view! { <li><span class="when">{when}</span>" "{what}</li> };
    move || {
        let noted = noted.get().unwrap_or_default();
        (!noted.is_empty()).then(|| {
            let hook = format!("noted-{}", assessor + 1);
            view! { <ul class="day-noted" data-test=hook>{noted.into_iter().map(line).collect_view()}</ul> }
        })
    }
}

#[component]
fn NoteField(line: Line, note: RwSignal<String>) -> impl IntoView {
    view! {
        <input
            type="text"
            aria-label=format!("{}, {}", say::NOTE, line.name)
            placeholder=say::NOTE
            data-test=format!("note-{}", line.assessor + 1)
            prop:value=note
            on:input=move |event| note.set(event_target_value(&event))
        />
    }
}

#[component]
fn WhichCup(line: Line, code: RwSignal<String>) -> impl IntoView {
    let option = |(position, own): (u32, String)| {
        let (value, shown) = (own.clone(), say::cup(position, &own));
        view! { <option value=value prop:selected=move || code.with(|code| *code == own)>{shown}</option> }
    };
    let cups = (1..).zip(line.codes).map(option).collect_view();
    let label = format!("{}, {}", say::CUP, line.name);
    view! {
        <select aria-label=label data-test=format!("cup-{}", line.assessor + 1) on:change=move |event| code.set(event_target_value(&event))>
            <option value="" prop:selected=move || code.with(String::is_empty)>{say::WHICH_CUP}</option>
            {cups}
        </select>
    }
}

/// Notes what happened to an assessor or a cup; or says what is needed first.
fn note_of(
    app: AppState,
    session: u32,
    assessor: usize,
    kind: RecordKind,
    code: &str,
    note: &str,
) -> Result<(), &'static str> {
    if kind == RecordKind::SpiltSample && code.is_empty() {
        return Err(say::NEEDS_CUP);
    }
    if kind == RecordKind::Other && note.trim().is_empty() {
        return Err(say::OTHER_NEEDS_NOTE);
    }
    let about_cup = matches!(kind, RecordKind::SpiltSample | RecordKind::Other | RecordKind::OrderDeviation);
    let code = Some(code.to_owned()).filter(|code| about_cup && !code.is_empty());
    session_record::note(app, session, kind, Some(assessor), code, note);
    Ok(())
}

/// What is noted, newest last, each with its time.
#[component]
fn RecordSoFar() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let entries = Memo::new(move |_| app.plan.with(|plan| plan.as_ref().map(entries_of)).unwrap_or_default());
    let line = move |(index, (when, what)): (usize, (String, String))| {
        view! {
            <li>
                <span class="when">{when}</span>" "{what}" "
                <button type="button" class="link" data-test=format!("strike-{index}") on:click=move |_| session_record::strike(app, index)>
                    {say::STRIKE}<span class="heard">": "{index + 1}</span>
                </button>
            </li>
        }
    };
    let list = move || {
        let entries = entries.get();
        if entries.is_empty() {
            return view! { <p class="quiet">{say::NOTHING}</p> }.into_any();
        }
        view! { <ol class="left-out">{entries.into_iter().enumerate().map(line).collect_view()}</ol> }.into_any()
    };
    view! {
        <section data-test="day-record" aria-live="polite">
            <h2>{say::RECORD}</h2>
            {list}
        </section>
    }
}

/// When each entry was noted, and what it says.
fn entries_of(plan: &TastingPlan) -> Vec<(String, String)> {
    plan.record.iter().map(|entry| (entry.when.clone(), plan.record_in_words(entry))).collect()
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
