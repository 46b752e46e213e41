//! One page of paper on the screen: whose it is, the line that takes what is typed, and the rows so far.

use crate::browser::sound;
use crate::state::session::data_entry;
use crate::state::session::data_entry_state::AnswerKind;
use crate::state::{AppContext, AppState};
use crate::words::data_entry as say;
use leptos::prelude::*;
use leptos::{ev, html};
use likeness_core::plan::data_entry::entry::{Awaiting, DataEntry, Entry};

/// What is shown of the page that is due.
#[derive(Clone, PartialEq)]
struct Shown {
    assessor: String,
    cup: String,
    /// Hidden until it was typed: it is what proves that the right page lies on the table.
    code: Option<String>,
    prompt: String,
    rows: Vec<(String, Entry)>,
    /// The row that is due; none while the row number is asked for, or the screen would give it away.
    row: Option<usize>,
    is_over: bool,
}

#[component]
pub fn Page() -> impl IntoView {
    let context: AppContext = expect_context();
    let shown = Memo::new(move |_| {
        context.app.data_entry.file.with(|file| file.as_ref().map(|file| shown_of(&file.data_entry)))
    });
    let go_to_code: NodeRef<html::Input> = NodeRef::new();
    view! {
        <div class="typing-page">
            <div class="typing-left">
                {move || shown.get().map(identity)}
                <TypeLine shown go_to_code/>
                <Answer/>
                <p class="keys quiet">{say::KEYS}</p>
                <GoTo go_to_code/>
            </div>
            <Rows shown/>
        </div>
    }
}

/// Whose page it is.
fn identity(shown: Shown) -> impl IntoView {
    let class = if shown.code.is_some() { "page-code" } else { "page-code is-hidden-code" };
    view! {
        <div class="page-identity" data-test="page-identity">
            <strong class="page-assessor">{shown.assessor}</strong>
            <span>{shown.cup}</span>
            <span class=class>{shown.code.unwrap_or_else(|| say::CODE_NOT_YET.to_owned())}</span>
        </div>
    }
}

/// The one field that everything is typed into.
#[component]
fn TypeLine(shown: Memo<Option<Shown>>, go_to_code: NodeRef<html::Input>) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let input: NodeRef<html::Input> = NodeRef::new();
    let submit = move |event: ev::SubmitEvent| {
        event.prevent_default();
        send(app, input, &input.get_untracked().map(|input| input.value()).unwrap_or_default());
    };
    input.on_load(|input| _ = input.focus());
    view! {
        <form class="type-line" on:submit=submit>
            <label>
                <span class="prompt" data-test="prompt">{move || shown.get().map(|shown| shown.prompt)}</span>
                <input
                    class="type-here"
                    inputmode="decimal"
                    autocomplete="off"
                    data-test="type-here"
                    node_ref=input
                    prop:disabled=move || shown.with(|shown| shown.as_ref().is_none_or(|shown| shown.is_over))
                    on:keydown=move |event| key_pressed(app, input, go_to_code, &event)
                />
            </label>
            <button type="submit" class="button is-main" data-test="next">{say::NEXT}</button>
            <button type="button" class="button" data-test="no-mark" on:click=move |_| send(app, input, "-")>{say::NO_SCORE}</button>
            <button type="button" class="button" data-test="back" on:click=move |_| data_entry::back(app)>{say::BACK}</button>
        </form>
    }
}

/// Hands a line over. What was stopped stays to be looked at, and the next key types over it.
fn send(app: AppState, input: NodeRef<html::Input>, text: &str) {
    let kind = data_entry::enter(app, text);
    sound_of(kind, app.data_entry.sounds.get_untracked());
    let Some(input) = input.get_untracked() else { return };
    if kind == Some(AnswerKind::Stopped) {
        input.select()
    } else {
        input.set_value("")
    }
    let _ = input.focus();
}

/// Arrow up, and Backspace in an empty field, go one row back; g goes to the field for another page.
fn key_pressed(
    app: AppState,
    input: NodeRef<html::Input>,
    go_to_code: NodeRef<html::Input>,
    event: &ev::KeyboardEvent,
) {
    let is_empty = input.get_untracked().is_none_or(|input| input.value().is_empty());
    match event.key().as_str() {
        "ArrowUp" => data_entry::back(app),
        "Backspace" if is_empty => data_entry::back(app),
        "g" | "G" => {
            if let Some(field) = go_to_code.get_untracked() {
                let _ = field.focus();
            }
        }
        _ => return,
    }
    event.prevent_default();
}

/// What the last line led to: a sign, a word and a sentence, so that colour is never needed.
#[component]
fn Answer() -> impl IntoView {
    let context: AppContext = expect_context();
    let answer = context.app.data_entry.answer;
    let class = move || match answer.with(|answer| answer.as_ref().map(|answer| answer.kind)) {
        Some(AnswerKind::Stopped) => "answer is-stopped",
        Some(AnswerKind::PageDone) => "answer is-page-done",
        _ => "answer",
    };
    let sign = |kind: AnswerKind| match kind {
        AnswerKind::Taken => "\u{2713} ",
        AnswerKind::PageDone => "\u{2713}\u{2713} ",
        AnswerKind::Stopped => "\u{25a0} ",
    };
    view! {
        <p class=class role="status" aria-live="assertive" data-test="answer">
            {move || answer.get().map(|answer| format!("{}{}", sign(answer.kind), answer.what))}
        </p>
    }
}

/// The rows of the page with what this person typed.
#[component]
fn Rows(shown: Memo<Option<Shown>>) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    move || {
        shown.get().map(|shown| {
            let due = shown.row;
            let rows = shown.rows.into_iter().enumerate();
            view! {
                <ol class="typed-rows" aria-label=say::PAGE_SO_FAR data-test="typed-rows">
                    {rows.map(|(index, (name, entry))| row(app, index, name, entry, due == Some(index))).collect_view()}
                </ol>
            }
        })
    }
}

fn row(app: AppState, index: usize, name: String, entry: Entry, is_due: bool) -> impl IntoView {
    let go = move |_| {
        let page = app.data_entry.file.with_untracked(|file| file.as_ref().map_or(0, |file| file.data_entry.page));
        data_entry::go_to(app, page, index);
    };
    view! {
        <li class:is-due=is_due aria-current=is_due.then_some("step")>
            <button type="button" class="row-button" tabindex="-1" on:click=go>
                <span class="row-number">{index + 1}</span>
                <span class="row-name">{name}</span>
                <span class="row-entry">{say::entry(entry)}</span>
            </button>
        </li>
    }
}

/// Goes to any page by assessor and code.
#[component]
fn GoTo(go_to_code: NodeRef<html::Input>) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let select: NodeRef<html::Select> = NodeRef::new();
    let submit = move |event: ev::SubmitEvent| {
        event.prevent_default();
        let who = select.get_untracked().map(|select| select.value()).unwrap_or_default();
        let Some(field) = go_to_code.get_untracked() else { return };
        data_entry::go_to_page_of(app, &who, &field.value());
        field.set_value("");
    };
    view! {
        <form class="fields go-to" on:submit=submit>
            <GoToAssessor select/>
            <label class="field">
                <span>{say::CODE}</span>
                <input class="short" inputmode="numeric" autocomplete="off" node_ref=go_to_code data-test="go-to-code"/>
            </label>
            <button type="submit" class="button" data-test="go-to">{say::GO}</button>
        </form>
    }
}

/// The assessors of the pages; chosen is the one whose page is due.
#[component]
fn GoToAssessor(select: NodeRef<html::Select>) -> impl IntoView {
    let file = expect_context::<AppContext>().app.data_entry.file;
    let names =
        Memo::new(move |_| file.with(|file| file.as_ref().map(|file| assessors(&file.data_entry))).unwrap_or_default());
    let due = Memo::new(move |_| {
        file.with(|file| {
            let data_entry = &file.as_ref()?.data_entry;
            data_entry.pages.get(data_entry.page).map(|page| page.assessor.clone())
        })
    });
    let option = move |name: String| {
        let (own, value) = (name.clone(), name.clone());
        view! { <option value=value prop:selected=move || due.with(|due| due.as_ref() == Some(&own))>{name}</option> }
    };
    view! {
        <label class="field">
            <span>{say::GO_TO}": "{say::ASSESSOR}</span>
            <select node_ref=select data-test="go-to-assessor">{move || names.get().into_iter().map(option).collect_view()}</select>
        </label>
    }
}

fn shown_of(data_entry: &DataEntry) -> Shown {
    let page = data_entry.pages.get(data_entry.page);
    let entries = data_entry.entries().get(data_entry.page).cloned().unwrap_or_default();
    let knows_code = data_entry.awaiting != Awaiting::PageCode;
    Shown {
        assessor: page.map(|page| page.assessor.clone()).unwrap_or_default(),
        cup: page.map(say::cup).unwrap_or_default(),
        code: page.filter(|_| knows_code).map(|page| page.code.clone()),
        prompt: data_entry.prompt(),
        rows: data_entry.attributes.iter().cloned().zip(entries).collect(),
        row: (data_entry.awaiting == Awaiting::Score).then_some(data_entry.row),
        is_over: data_entry.awaiting == Awaiting::Nothing,
    }
}

fn assessors(data_entry: &DataEntry) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for page in &data_entry.pages {
        if !names.contains(&page.assessor) {
            names.push(page.assessor.clone());
        }
    }
    names
}

/// Eyes are on the paper: a full page and a stop can be heard.
fn sound_of(kind: Option<AnswerKind>, is_on: bool) {
    match kind {
        Some(AnswerKind::PageDone) if is_on => sound::tone(880.0, 0.12, 0.0),
        Some(AnswerKind::Stopped) if is_on => {
            sound::tone(220.0, 0.14, 0.0);
            sound::tone(180.0, 0.2, 0.18);
        }
        _ => {}
    }
}
