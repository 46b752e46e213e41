//! The leader's side of the on-screen ballot: ballot files to hand out, and the results files that come back.

use super::tablet_scores::TabletScores;
use crate::browser::download;
use crate::parts::notices::NoticeList;
use crate::state::AppContext;
use crate::state::session::{joining, on_screen_ballot};
use crate::views::plan::joined::JoinedSources;
use crate::words::on_screen_ballot as say;
use leptos::prelude::*;
use likeness_core::plan::joining::ScoreSource;
use likeness_core::plan::on_screen::ballot_file::OnScreenScope;
use likeness_core::plan::on_screen::collect::{Collected, CollectedFile, CollectedSheet, SheetState};
use likeness_core::plan::tasting_plan::TastingPlan;

#[component]
pub fn OnScreenBallots() -> impl IntoView {
    let context: AppContext = expect_context();
    let has_plan = Memo::new(move |_| context.app.plan.with(Option::is_some));
    let has_files = Memo::new(move |_| context.app.on_screen.collected.with(|files| !files.is_empty()));
    view! {
        <section class="screen-forms" data-test="screen-forms">
            <h1>{say::TITLE}</h1>
            {move || if has_plan.get() {
                view! { <p class="lead">{say::INTRO}</p><OnScreenFiles/><CameBack/> }.into_any()
            } else {
                view! {
                    <p class="lead">{say::NEEDS_PLAN}</p>
                    {move || has_files.get().then(|| view! { <p class="is-warning">{say::COLLECTED_NEED_PLAN}</p> })}
                }.into_any()
            }}
            <Refused/>
            <TabletScores/>
        </section>
    }
}

/// What goes into a ballot file, and saving it.
#[component]
fn OnScreenFiles() -> impl IntoView {
    let context: AppContext = expect_context();
    let assessor = RwSignal::new(None::<usize>);
    let session = RwSignal::new(None::<u32>);
    let (refused, set_refused) = signal(None::<String>);
    let save = move |_| {
        let scope = OnScreenScope { assessor: assessor.get_untracked(), session: session.get_untracked() };
        set_refused.set(save_form(context, scope).err());
    };
    view! {
        <section>
            <h2>{say::FILES}</h2>
            <div class="fields">
                <ForAssessor assessor/>
                <InSession session/>
                <RestField/>
            </div>
            <BeforeField/>
            {move || refused.get().map(|why| view! { <p class="refused" role="alert">{why}</p> })}
            <p><button type="button" class="button is-main" data-test="save-booth" on:click=save>{say::SAVE}</button></p>
        </section>
    }
}

/// Saves the ballot file of a scope; or says why there is none.
fn save_form(context: AppContext, scope: OnScreenScope) -> Result<(), String> {
    let (assessor, session) = (scope.assessor, scope.session);
    let form = on_screen_ballot::form_for(context.app, scope)?;
    let name = say::on_screen_file_name(&form.study, assessor, session);
    download::save_text(&name, "application/json", &form.to_text());
    Ok(())
}

#[component]
fn ForAssessor(assessor: RwSignal<Option<usize>>) -> impl IntoView {
    let context: AppContext = expect_context();
    let names = Memo::new(move |_| {
        context.app.plan.with(|plan| plan.as_ref().map(|plan| plan.assessors.clone())).unwrap_or_default()
    });
    let option = |(index, name): (usize, String)| view! { <option value=index.to_string()>{name}</option> };
    view! {
        <label class="field">
            <span>{say::FOR_ASSESSOR}</span>
            <select data-test="booth-assessor" on:change=move |event| assessor.set(event_target_value(&event).parse().ok())>
                <option value="">{say::EVERYBODY}</option>
                {move || names.get().into_iter().enumerate().map(option).collect_view()}
            </select>
        </label>
    }
}

#[component]
fn InSession(session: RwSignal<Option<u32>>) -> impl IntoView {
    let context: AppContext = expect_context();
    let numbers =
        Memo::new(move |_| context.app.plan.with(|plan| plan.as_ref().map(session_numbers)).unwrap_or_default());
    let option = |number: u32| view! { <option value=number.to_string()>{say::session(number)}</option> };
    view! {
        <label class="field">
            <span>{say::IN_SESSION}</span>
            <select data-test="booth-session" on:change=move |event| session.set(event_target_value(&event).parse().ok())>
                <option value="">{say::ALL_SESSIONS}</option>
                {move || numbers.get().into_iter().map(option).collect_view()}
            </select>
        </label>
    }
}

#[component]
fn RestField() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    view! {
        <label class="field">
            <span>{say::REST}</span>
            <span class="with-unit">
                <input
                    class="short"
                    inputmode="numeric"
                    data-test="booth-rest"
                    prop:value=app.on_screen.rest_typed
                    on:input=move |event| on_screen_ballot::type_rest(app, event_target_value(&event))
                />
                {say::REST_UNIT}
            </span>
        </label>
    }
}

/// What assessors read before the first cup.
#[component]
fn BeforeField() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let before = move || {
        let typed = app.on_screen.before_typed.get();
        let lines = |plan: &TastingPlan| on_screen_ballot::before_tasting(plan, typed.as_deref()).join("\n");
        app.plan.with(|plan| plan.as_ref().map(lines))
    };
    view! {
        <label class="field booth-before">
            <span>{say::BEFORE}</span>
            <textarea
                rows="3"
                data-test="booth-before"
                prop:value=before
                on:change=move |event| on_screen_ballot::type_before(app, event_target_value(&event))
            ></textarea>
        </label>
    }
}

/// Sheets by assessor and session, what was said of the files, and using them.
#[component]
fn CameBack() -> impl IntoView {
    let context: AppContext = expect_context();
    let collected = Memo::new(move |_| on_screen_ballot::collected(context.app));
    let has_files = Memo::new(move |_| context.app.on_screen.collected.with(|files| !files.is_empty()));
    let summary = move || {
        collected.with(|collected| {
            let collected = collected.as_ref()?;
            let sheets = collected.sheets.len();
            Some(say::came_back(sheets - collected.missing(), sheets, collected.marks()))
        })
    };
    view! {
        <section>
            <h2>{say::COLLECT}</h2>
            <p class="quiet">{say::COLLECT_ABOUT}</p>
            <p data-test="came-back">{summary}</p>
            {move || collected.get().map(|collected| progress_table(context, &collected))}
            {move || has_files.get().then(|| view! { <UseFiles collected/> })}
        </section>
    }
}

/// What was said of the files, the files themselves, and using them.
#[component]
fn UseFiles(collected: Memo<Option<Collected>>) -> impl IntoView {
    let context: AppContext = expect_context();
    let notices = Memo::new(move |_| collected.get().map(|collected| collected.notices).unwrap_or_default());
    let scores = Memo::new(move |_| collected.with(|collected| collected.as_ref().map_or(0, Collected::marks)));
    view! {
        <NoticeList notices/>
        <Files/>
        <p>
            <button type="button" class="button is-main" data-test="use-results" prop:disabled=move || scores.get() == 0 on:click=move |_| joining::use_scores_of(context.app, ScoreSource::Screens)>
                {say::USE}
            </button>
        </p>
        <JoinedSources own=ScoreSource::Screens is_always=false/>
    }
}

/// The files that were taken in; a wrong one can be put away.
#[component]
fn Files() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let line = move |(index, (name, about)): (usize, (String, String))| {
        view! {
            <li>
                <strong>{name}</strong>" "<span class="quiet">{about}</span>" "
                <button type="button" class="link" data-test=format!("put-away-{index}") on:click=move |_| on_screen_ballot::put_results_away(app, index)>
                    {say::PUT_AWAY}<span class="heard">": "{index + 1}</span>
                </button>
            </li>
        }
    };
    let about =
        |file: &CollectedFile| (file.file.clone(), say::who_and_session(&file.results.name, file.results.session));
    let files = move || app.on_screen.collected.with(|files| files.iter().map(about).collect::<Vec<_>>());
    view! {
        <details class="collected">
            <summary>{say::FILES_THAT_CAME}": "{move || app.on_screen.collected.with(Vec::len)}</summary>
            <ul class="left-out">{move || files().into_iter().enumerate().map(line).collect_view()}</ul>
        </details>
    }
}

/// Files that could not be opened, by name, with what to do.
#[component]
fn Refused() -> impl IntoView {
    let context: AppContext = expect_context();
    let refused = context.app.on_screen.refused;
    move || {
        let list = refused.get();
        (!list.is_empty()).then(|| {
            view! {
                <div class="message is-refused" role="alert" data-test="refused-results">
                    <div>
                        <p class="what">{say::REFUSED}</p>
                        {list.into_iter().map(|notice| view! { <p>{notice.to_string()}</p> }).collect_view()}
                    </div>
                    <button type="button" class="small" on:click=move |_| on_screen_ballot::put_refused_away(context.app)>{say::FORGET_REFUSED}</button>
                </div>
            }
        })
    }
}

/// Assessors down, sessions across: which sheets came back.
fn progress_table(context: AppContext, collected: &Collected) -> impl IntoView + use<> {
    let (names, sessions) = context.app.plan.with_untracked(|plan| {
        plan.as_ref().map(|plan| (plan.assessors.clone(), session_numbers(plan))).unwrap_or_default()
    });
    let rows = names.into_iter().enumerate().map(|row| progress_row(collected, &sessions, row)).collect_view();
    let head = |number: &u32| view! { <th scope="col" class="words">{say::session(*number)}</th> };
    view! {
        <div class="table-place" tabindex="0" role="region" aria-label=say::SHEETS>
            <table class="results" data-test="sheets">
                <thead>
                    <tr><th scope="col" class="row-head">{say::ASSESSOR}</th>{sessions.iter().map(head).collect_view()}</tr>
                </thead>
                <tbody>{rows}</tbody>
            </table>
        </div>
    }
}

fn progress_row(collected: &Collected, sessions: &[u32], (assessor, name): (usize, String)) -> impl IntoView + use<> {
    let cell = |session: &u32| {
        let sheet = collected.sheets.iter().find(|sheet| (sheet.assessor, sheet.session) == (assessor, *session));
        view! { <td>{sheet.map(sheet_in_words)}</td> }
    };
    view! { <tr><th scope="row" class="row-head">{name}</th>{sessions.iter().map(cell).collect_view()}</tr> }
}

fn session_numbers(plan: &TastingPlan) -> Vec<u32> {
    plan.sessions.iter().map(|session| session.number).collect()
}

/// A sign and words: a check for complete, a half for part, a ring for missing.
fn sheet_in_words(sheet: &CollectedSheet) -> String {
    match sheet.state {
        SheetState::Missing => format!("\u{25cb} {}", say::MISSING),
        SheetState::Arrived { marks, is_finished, .. } => {
            let is_complete = is_finished && marks == sheet.lines;
            let sign = if is_complete { '\u{2713}' } else { '\u{25d0}' };
            let word = if is_complete {
                say::COMPLETE
            } else if is_finished {
                ""
            } else {
                say::UNFINISHED
            };
            format!("{sign} {} {word}", say::arrived(marks, sheet.lines))
        }
    }
}
