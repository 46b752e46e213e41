//! What was understood of a file, before its scores are used: shown, corrected, confirmed.

use crate::parts::folded::Folded;
use crate::parts::notices::NoticeList;
use crate::state::AppContext;
use crate::state::study::opening;
use crate::views::r#match::settings::{OriginSelect, TargetSelect};
use crate::words;
use crate::words::reading as say;
use leptos::prelude::*;
use likeness_core::read::{ColumnRole, Preview, PreviewRow, Question, ReadOptions};
use likeness_core::tables;

/// Rows shown at first; the reader hands over more.
const ROWS_SHOWN: usize = 8;

#[component]
pub fn Understood() -> impl IntoView {
    let context: AppContext = expect_context();
    let reading = context.derived.reading;
    let preview = Memo::new(move |_| reading.with(|reading| reading.as_ref().map(|reading| reading.preview.clone())));
    let notices =
        Memo::new(move |_| reading.with(|reading| reading.as_ref().map(|r| r.notices.clone())).unwrap_or_default());
    let questions =
        Memo::new(move |_| reading.with(|reading| reading.as_ref().map(|r| r.questions.clone())).unwrap_or_default());
    let answer = move || reading.with(|reading| Some(tables::scores::understood(reading.as_ref()?.study.as_ref()?)));
    view! {
        <div class="understood" data-test="preview">
            <h1>{words::opening::UNDERSTOOD}</h1>
            <h2 class="headline" data-test="answer">{answer}</h2>
            <p class="lead">{words::opening::UNDERSTOOD_INTRO}</p>
            {move || preview.get().map(|preview| view! { <Tally preview/> })}
            {move || preview.get().map(|preview| view! { <crate::views::import::sheets::Sheets sheets=preview.sheets/> })}
            <Questions questions/>
            <section>
                <h2>{words::NOTICES}</h2>
                <NoticeList notices/>
            </section>
            <BeforeLooking/>
            {move || preview.get().map(|preview| view! { <FirstRows preview/> })}
            {move || preview.get().map(|preview| view! { <Facts preview/> })}
            <crate::views::import::cell_map::WhatIsThere/>
            <Confirm/>
        </div>
    }
}

/// Counts of what was found.
#[component]
fn Tally(preview: Preview) -> impl IntoView {
    let one = |(count, what): (String, &'static str)| view! { <li><strong>{count}</strong>" "{what}</li> };
    view! {
        <ul class="tally" data-test="counts">{say::tally(&preview.counts).into_iter().map(one).collect_view()}</ul>
    }
}

/// File, encoding, separator, shape and scale, folded.
#[component]
fn Facts(preview: Preview) -> impl IntoView {
    let context: AppContext = expect_context();
    let name = context.app.opened.with_untracked(|opened| opened.as_ref().map(|opened| opened.names()));
    let facts = facts_of(&preview, name.unwrap_or_default());
    let said = facts.iter().map(|(_, fact)| fact.clone()).collect::<Vec<_>>().join("; ");
    let said = Signal::derive(move || Some(said.clone()));
    let fact = |(term, fact): (&'static str, String)| view! { <div><dt>{term}</dt><dd>{fact}</dd></div> };
    view! {
        <Folded summary=words::opening::HOW_READ hook="facts" conclusion=said>
            <dl class="facts">
                {facts.iter().cloned().map(fact).collect_view()}
                <ScaleMaximum stated=preview.scale_maximum/>
            </dl>
        </Folded>
    }
}

/// Encoding, separator and decimal sign only where the file is text.
fn facts_of(preview: &Preview, name: String) -> Vec<(&'static str, String)> {
    let mut facts = vec![(words::opening::FILE, name)];
    if !preview.encoding.is_empty() {
        facts.push((words::opening::ENCODING, preview.encoding.clone()));
        facts.push((words::opening::SEPARATOR, say::separator(preview.separator)));
        facts.push((words::opening::DECIMAL, say::decimal(preview.decimal)));
    }
    facts.push((words::opening::SHAPE, say::shape(preview.shape)));
    facts
}

#[component]
fn ScaleMaximum(stated: Option<f64>) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let (refused, set_refused) = signal(None::<String>);
    let scale = stated.map(words::number).unwrap_or_default();
    let changed = move |event| set_refused.set(opening::set_scale_maximum(app, &event_target_value(&event)).err());
    view! {
        <div>
            <dt><label for="scale-maximum">{words::opening::SCALE}</label></dt>
            <dd>
                {words::opening::SCALE_TO}" "
                <input id="scale-maximum" class="short" inputmode="decimal" data-test="scale-maximum" prop:value=scale on:change=changed/>
                {move || refused.get().map(|why| view! { <span class="refused" role="alert">{why}</span> })}
            </dd>
        </div>
    }
}

/// Questions that stop come first; offers follow.
#[component]
fn Questions(questions: Memo<Vec<Question>>) -> impl IntoView {
    let group = move |stops: bool, title: &'static str| {
        let asked: Vec<Question> = questions.get().into_iter().filter(|question| question.stops == stops).collect();
        (!asked.is_empty()).then(|| {
            view! {
                <section class=if stops { "questions must" } else { "questions" } data-test="questions">
                    <h2>{title}</h2>
                    {asked.into_iter().map(|question| view! { <Asked question/> }).collect_view()}
                </section>
            }
        })
    };
    view! {
        {move || group(true, words::opening::QUESTIONS)}
        {move || group(false, words::opening::OFFERS)}
    }
}

#[component]
fn Asked(question: Question) -> impl IntoView {
    let context: AppContext = expect_context();
    let is_one_file = context.app.opened.with_untracked(|opened| opened.as_ref().is_some_and(|o| o.files.len() == 1));
    let places: Vec<String> = question.places.iter().map(|place| say::place(place, is_one_file)).collect();
    let choices = question.choices.into_iter().map(|choice| {
        let answer = choice.answer;
        // Some answers only say what to state elsewhere on the page: by themselves they change nothing.
        let needs_more = ReadOptions::default().answered(&answer) == ReadOptions::default();
        if needs_more {
            return view! { <span class="quiet">{choice.label}</span> }.into_any();
        }
        view! {
            <button type="button" class="button" on:click=move |_| opening::answer(context.app, &answer)>{choice.label}</button>
        }
        .into_any()
    });
    view! {
        <div class="question">
            <p>{question.what}</p>
            {(!places.is_empty()).then(|| view! { <p class="place">{places.join("; ")}</p> })}
            <div class="choices">{choices.collect_view()}</div>
        </div>
    }
}

/// The first rows, with the role of each column above it.
#[component]
fn FirstRows(preview: Preview) -> impl IntoView {
    let used = preview.rows.iter().map(|row| row.sheet).collect::<std::collections::BTreeSet<_>>().len();
    let has_many = used > 1;
    let width = preview.header.len().max(preview.rows.iter().map(|row| row.cells.len()).max().unwrap_or(0));
    let shown = if has_many { preview.rows.len() } else { ROWS_SHOWN };
    let body = preview.rows.iter().take(shown).map(|row| preview_row(row, width, &preview, has_many));
    view! {
        <section>
            <h2>{words::opening::FIRST_ROWS}</h2>
            <div class="table-place" tabindex="0" role="region" aria-label=words::opening::FIRST_ROWS>
                <table class="results first-rows">
                    {first_rows_head(&preview, width, has_many)}
                    <tbody>{body.collect_view()}</tbody>
                </table>
            </div>
        </section>
    }
}

fn first_rows_head(preview: &Preview, width: usize, has_many: bool) -> impl IntoView + use<> {
    let header = |column: usize| preview.header.get(column).cloned().unwrap_or_default();
    let roles = (0..width).map(|column| {
        view! { <th scope="col"><RoleSelect column header=header(column) role=preview.roles.get(column)/></th> }
    });
    let heads = (0..width).map(|column| {
        view! { <th scope="col" class=role_class(preview.roles.get(column))>{header(column)}</th> }
    });
    view! {
        <thead>
            <tr class="roles"><td></td>{roles.collect_view()}</tr>
            <tr>
                <th scope="col" class="line">{if has_many { say::FROM } else { words::opening::LINE }}</th>
                {heads.collect_view()}
            </tr>
        </thead>
    }
}

fn preview_row(row: &PreviewRow, width: usize, preview: &Preview, has_many: bool) -> impl IntoView + use<> {
    let sheet = preview.sheets.get(row.sheet).filter(|_| has_many);
    let line = sheet.map_or_else(|| row.line.to_string(), |sheet| say::line_of(sheet, row.line));
    let cells = (0..width).map(|column| {
        let class = role_class(preview.roles.get(column));
        view! { <td class=class>{row.cells.get(column).cloned().unwrap_or_default()}</td> }
    });
    view! { <tr><th scope="row" class="line">{line}</th>{cells.collect_view()}</tr> }
}

fn role_class(role: ColumnRole) -> &'static str {
    match role {
        ColumnRole::Ignored => "is-ignored",
        ColumnRole::Score
        | ColumnRole::AttributeScores
        | ColumnRole::AssessorScores
        | ColumnRole::SampleScores
        | ColumnRole::ReplicateScores => "number",
        _ => "is-key",
    }
}

#[component]
fn RoleSelect(column: usize, header: String, role: ColumnRole) -> impl IntoView {
    let context: AppContext = expect_context();
    let changed = move |event| {
        let chosen = event_target_value(&event);
        if let Some(role) = say::ROLES.into_iter().find(|role| role.words() == chosen) {
            opening::set_role(context.app, context.derived, column, role);
        }
    };
    let options = say::ROLES.into_iter().map(|one| {
        view! { <option value=one.words() selected=one == role>{one.words()}</option> }
    });
    view! {
        <select aria-label=say::role_of(&header, column) data-test="column-role" data-column=column.to_string() on:change=changed>
            {options.collect_view()}
        </select>
    }
}

/// Target and margin, decided before the verdict is seen.
#[component]
fn BeforeLooking() -> impl IntoView {
    let context: AppContext = expect_context();
    let (app, reading) = (context.app, context.derived.reading);
    let samples = Memo::new(move |_| {
        reading.with(|reading| {
            let study = reading.as_ref()?.study.as_ref()?;
            Some(study.samples.iter().map(|sample| sample.name.clone()).collect::<Vec<_>>())
        })
    });
    let (refused, set_refused) = signal(None::<String>);
    let chosen = Signal::derive(move || app.before.with(|before| before.target.clone()));
    let origin = Signal::derive(move || app.before.with(|before| before.margin_origin.clone()));
    let origin_changed = move |origin| opening::decide_before(app, |before| before.margin_origin = origin);
    let target_changed = move |name| opening::decide_before(app, |before| before.target = name);
    move || {
        samples.get().map(|samples| {
            view! {
                <section class="before">
                    <h2>{words::opening::BEFORE_LOOKING}</h2>
                    <p>{words::opening::BEFORE_LOOKING_INTRO}</p>
                    <div class="fields">
                        <TargetSelect samples chosen changed=Callback::new(target_changed) hook="preview-target"/>
                        <MarginField set_refused/>
                        <OriginSelect origin changed=Callback::new(origin_changed)/>
                    </div>
                    {move || refused.get().map(|why| view! { <p class="refused" role="alert">{why}</p> })}
                </section>
            }
        })
    }
}

/// The margin that was stated, else a tenth of the scale.
#[component]
fn MarginField(set_refused: WriteSignal<Option<String>>) -> impl IntoView {
    let context: AppContext = expect_context();
    let app = context.app;
    let scale = Memo::new(move |_| {
        context.derived.reading.with(|reading| Some(reading.as_ref()?.study.as_ref()?.scale.clone()))
    });
    let margin = move || {
        let width = scale.with(|scale| app.before.with(|before| before.margin_width_on(scale.as_ref())));
        width.map(words::number).unwrap_or_default()
    };
    let changed = move |event| {
        let maximum = scale.get_untracked().map_or(100.0, |scale| scale.maximum);
        set_refused.set(opening::decide_margin_before(app, &event_target_value(&event), maximum).err());
    };
    view! {
        <label class="field">
            <span>{words::MARGIN}</span>
            <span class="with-unit">
                {words::PLUS_MINUS}
                <input class="short" inputmode="decimal" data-test="preview-margin" prop:value=margin on:change=changed/>
                {move || scale.get().map(|scale| scale.unit)}
            </span>
        </label>
    }
}

#[component]
fn Confirm() -> impl IntoView {
    let context: AppContext = expect_context();
    let is_ready = Memo::new(move |_| {
        context.derived.reading.with(|reading| reading.as_ref().is_some_and(|reading| reading.study.is_some()))
    });
    let has_study = Memo::new(move |_| context.app.study.with(Option::is_some));
    view! {
        <div class="confirm">
            <button
                type="button"
                class="button is-main"
                data-test="use-scores"
                disabled=move || !is_ready.get()
                on:click=move |_| opening::use_scores(context.app, context.derived)
            >
                {words::opening::USE_SCORES}
            </button>
            <button type="button" class="button" on:click=move |_| opening::put_file_away(context.app)>
                {move || if has_study.get() { words::opening::KEEP_OPEN_STUDY } else { words::opening::BACK_TO_START }}
            </button>
            {move || (!is_ready.get()).then(|| view! { <p class="refused">{words::opening::USE_NOT_YET}</p> })}
        </div>
    }
}
