//! The leader's side of the on-screen ballot: booth files to hand out, and the results files that come back.

use super::tablet_scores::TabletScores;
use crate::browser::download;
use crate::state::AppContext;
use crate::state::session::on_screen_ballot;
use crate::words::on_screen_ballot as say;
use leptos::prelude::*;
use likeness_core::plan::on_screen::ballot_file::OnScreenScope;
use likeness_core::plan::on_screen::collect::{Collected, CollectedSheet, SheetState};

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

/// What goes into a booth file, and saving it.
#[component]
fn OnScreenFiles() -> impl IntoView {
    let context: AppContext = expect_context();
    let state = context.app.on_screen;
    let (assessor, set_assessor) = signal(None::<usize>);
    let (session, set_session) = signal(None::<u32>);
    let (refused, set_refused) = signal(None::<String>);
    let lists = Memo::new(move |_| {
        context.app.plan.with(|plan| {
            let sessions = |plan: &likeness_core::plan::tasting_plan::TastingPlan| {
                plan.sessions.iter().map(|session| session.number).collect::<Vec<_>>()
            };
            plan.as_ref().map(|plan| (plan.assessors.clone(), sessions(plan))).unwrap_or_default()
        })
    });
    let save = move |_| {
        let scope = OnScreenScope { assessor: assessor.get_untracked(), session: session.get_untracked() };
        match on_screen_ballot::form_for(context.app, scope) {
            Ok(form) => {
                let name = say::on_screen_file_name(&form.study, scope.assessor, scope.session);
                download::save_text(&name, "application/json", &form.to_text());
                set_refused.set(None);
            }
            Err(why) => set_refused.set(Some(why)),
        }
    };
    let before = move || {
        let typed = state.before_typed.get();
        context
            .app
            .plan
            .with(|plan| plan.as_ref().map(|plan| on_screen_ballot::before_tasting(plan, typed.as_deref()).join("\n")))
    };
    let assessors = move || {
        lists
            .get()
            .0
            .into_iter()
            .enumerate()
            .map(|(index, name)| view! { <option value=index.to_string()>{name}</option> })
            .collect_view()
    };
    let sessions = move || {
        lists
            .get()
            .1
            .into_iter()
            .map(|number| view! { <option value=number.to_string()>{say::session(number)}</option> })
            .collect_view()
    };
    view! {
        <section>
            <h2>{say::FILES}</h2>
            <div class="fields">
                <label class="field">
                    <span>{say::FOR_ASSESSOR}</span>
                    <select data-test="booth-assessor" on:change=move |event| set_assessor.set(event_target_value(&event).parse().ok())>
                        <option value="">{say::EVERYBODY}</option>
                        {assessors}
                    </select>
                </label>
                <label class="field">
                    <span>{say::IN_SESSION}</span>
                    <select data-test="booth-session" on:change=move |event| set_session.set(event_target_value(&event).parse().ok())>
                        <option value="">{say::ALL_SESSIONS}</option>
                        {sessions}
                    </select>
                </label>
                <label class="field">
                    <span>{say::REST}</span>
                    <span class="with-unit">
                        <input
                            class="short"
                            inputmode="numeric"
                            data-test="booth-rest"
                            prop:value=state.rest_typed
                            on:input=move |event| state.rest_typed.set(event_target_value(&event))
                        />
                        {say::REST_UNIT}
                    </span>
                </label>
            </div>
            <label class="field booth-before">
                <span>{say::BEFORE}</span>
                <textarea
                    rows="3"
                    data-test="booth-before"
                    prop:value=before
                    on:change=move |event| state.before_typed.set(Some(event_target_value(&event)))
                ></textarea>
            </label>
            {move || refused.get().map(|why| view! { <p class="refused" role="alert">{why}</p> })}
            <p><button type="button" class="button is-main" data-test="save-booth" on:click=save>{say::SAVE}</button></p>
        </section>
    }
}

/// Sheets by assessor and session, what was said of the files, and using them.
#[component]
fn CameBack() -> impl IntoView {
    let context: AppContext = expect_context();
    let collected = Memo::new(move |_| on_screen_ballot::collected(context.app));
    let notices = Memo::new(move |_| collected.get().map(|collected| collected.notices).unwrap_or_default());
    let marks = Memo::new(move |_| collected.with(|collected| collected.as_ref().map_or(0, Collected::marks)));
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
            {move || has_files.get().then(|| view! {
                <crate::parts::notices::NoticeList notices/>
                <Files/>
                <p>
                    <button type="button" class="button is-main" data-test="use-results" prop:disabled=move || marks.get() == 0 on:click=move |_| on_screen_ballot::use_results(context.app)>
                        {say::USE}
                    </button>
                </p>
            })}
        </section>
    }
}

/// The files that were taken in; a wrong one can be put away.
#[component]
fn Files() -> impl IntoView {
    let context: AppContext = expect_context();
    let line = move |(index, (name, about)): (usize, (String, String))| {
        view! {
            <li>
                <strong>{name}</strong>" "<span class="quiet">{about}</span>" "
                <button type="button" class="link" data-test=format!("put-away-{index}") on:click=move |_| on_screen_ballot::put_results_away(context.app, index)>
                    {say::PUT_AWAY}<span class="heard">": "{index + 1}</span>
                </button>
            </li>
        }
    };
    let files = move || {
        context.app.on_screen.collected.with(|files| {
            let about = |file: &likeness_core::plan::on_screen::collect::CollectedFile| {
                (file.file.clone(), say::who_and_session(&file.results.name, file.results.session))
            };
            files.iter().map(about).enumerate().collect::<Vec<_>>()
        })
    };
    view! {
        <details class="collected">
            <summary>{say::FILES_THAT_CAME}": "{move || context.app.on_screen.collected.with(Vec::len)}</summary>
            <ul class="left-out">{move || files().into_iter().map(line).collect_view()}</ul>
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

fn progress_table(context: AppContext, collected: &Collected) -> impl IntoView + use<> {
    let (names, sessions) = context.app.plan.with_untracked(|plan| {
        let sessions = |plan: &likeness_core::plan::tasting_plan::TastingPlan| {
            plan.sessions.iter().map(|one| one.number).collect::<Vec<u32>>()
        };
        plan.as_ref().map(|plan| (plan.assessors.clone(), sessions(plan))).unwrap_or_default()
    });
    let cell = |assessor: usize, session: u32| {
        let sheet = collected.sheets.iter().find(|sheet| (sheet.assessor, sheet.session) == (assessor, session));
        view! { <td>{sheet.map(sheet_in_words)}</td> }
    };
    let rows = names
        .into_iter()
        .enumerate()
        .map(|(assessor, name)| {
            let cells = sessions.iter().map(|session| cell(assessor, *session)).collect_view();
            view! { <tr><th scope="row" class="row-head">{name}</th>{cells}</tr> }
        })
        .collect_view();
    let heads = sessions
        .iter()
        .map(|number| view! { <th scope="col" class="words">{say::session(*number)}</th> })
        .collect_view();
    view! {
        <div class="table-place" tabindex="0" role="region" aria-label=say::SHEETS>
            <table class="results" data-test="sheets">
                <thead><tr><th scope="col" class="row-head">{say::ASSESSOR}</th>{heads}</tr></thead>
                <tbody>{rows}</tbody>
            </table>
        </div>
    }
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
