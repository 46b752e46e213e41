//! Before the first cup: who tastes, cautions and consent, the cup that isn't marked.

use super::now;
use crate::persistence::on_screen_ballots;
use crate::state::AppContext;
use crate::state::session::on_screen_ballot;
use crate::state::tabs::version_parts;
use crate::words;
use crate::words::on_screen_ballot as say;
use leptos::prelude::*;
use likeness_core::plan::on_screen::ballot_file::OnScreenBallot;

/// One name to choose.
struct Choice {
    sheet: usize,
    /// What its marks are kept under.
    kept_as: String,
    name: String,
    session: u32,
    progress: String,
}

#[component]
pub fn Names() -> impl IntoView {
    let context: AppContext = expect_context();
    let button = move |choice: Choice| {
        let version = version_parts(&choice.kept_as).1.map(words::tabs::version_of);
        let hook = format!("{}-{}", if version.is_some() { "version-of-sheet" } else { "sheet" }, choice.sheet);
        view! {
            <li>
                <button type="button" class="booth-button booth-name" data-test=hook on:click=move |_| choose(context, choice.sheet, &choice.kept_as)>
                    <strong>{choice.name}</strong>
                    <span>{say::session(choice.session)}</span>
                    {version.map(|version| view! { <span>{version}</span> })}
                    <span>{choice.progress}</span>
                </button>
            </li>
        }
    };
    view! {
        <section class="booth-card" data-test="booth-names">
            <h1 tabindex="-1">{say::WHO}</h1>
            <ul class="booth-names">{move || choices(context).into_iter().map(button).collect_view()}</ul>
        </section>
    }
}

/// Opens a sheet with what this device saved of it.
fn choose(context: AppContext, sheet: usize, kept_as: &str) {
    let saved = context.app.on_screen.form.with_untracked(|form| {
        let form = form.as_ref()?;
        on_screen_ballots::open_version(context.app, form, form.sheets.get(sheet)?, kept_as)
    });
    on_screen_ballot::choose_sheet(context.app, sheet, saved);
}

#[component]
pub fn Consent() -> impl IntoView {
    let context: AppContext = expect_context();
    let form = context.app.on_screen.form;
    let before = form.with_untracked(|form| form.as_ref().map(|form| form.before_tasting.clone()).unwrap_or_default());
    view! {
        <section class="booth-card" data-test="booth-consent">
            <p>{move || who(context)}</p>
            <h1 tabindex="-1">{say::BEFORE_TASTING}</h1>
            <ul class="booth-list">
                {before.into_iter().map(|line| view! { <li><strong>{line}</strong></li> }).collect_view()}
                {say::CAUTIONS.into_iter().map(|line| view! { <li>{line}</li> }).collect_view()}
            </ul>
            <p>{say::CONSENT}</p>
            <div class="booth-actions">
                <button type="button" class="booth-button is-main" data-test="consent" on:click=move |_| on_screen_ballot::consent(context.app, &now())>
                    {say::BEGIN}
                </button>
                <button type="button" class="booth-button is-quiet" data-test="not-me" on:click=move |_| on_screen_ballot::put_sheet_away(context.app)>
                    {say::NOT_ME}
                </button>
            </div>
        </section>
    }
}

#[component]
pub fn WarmUp() -> impl IntoView {
    let context: AppContext = expect_context();
    let code =
        context.app.on_screen.run.with_untracked(|run| run.as_ref().and_then(|run| run.sheet.warm_up_code.clone()));
    view! {
        <section class="booth-card" data-test="booth-warm-up">
            <p>{move || who(context)}</p>
            <h1 tabindex="-1">{say::WARM_UP}</h1>
            <p class="booth-code">{code}</p>
            <p>{say::WARM_UP_ABOUT}</p>
            <div class="booth-actions">
                <button type="button" class="booth-button is-main" data-test="warm-up-done" on:click=move |_| on_screen_ballot::warm_up_done(context.app, &now())>
                    {say::WARM_UP_DONE}
                </button>
            </div>
        </section>
    }
}

/// Whose sheet it is.
pub fn who(context: AppContext) -> Option<String> {
    context
        .app
        .on_screen
        .run
        .with(|run| run.as_ref().map(|run| say::who_and_session(&run.sheet.name, run.sheet.session)))
}

fn choices(context: AppContext) -> Vec<Choice> {
    context.app.on_screen.form.with(|form| {
        let Some(form) = form else { return Vec::new() };
        (0..form.sheets.len()).flat_map(|index| versions_of(form, index)).collect()
    })
}

/// One sheet, once for each version that this device has of it.
fn versions_of(form: &OnScreenBallot, index: usize) -> impl Iterator<Item = Choice> {
    let sheet = &form.sheets[index];
    on_screen_ballots::versions_of(form, sheet).into_iter().map(move |(kept_as, run)| Choice {
        sheet: index,
        kept_as,
        name: sheet.name.clone(),
        session: sheet.session,
        progress: run.map(|run| say::progress(on_screen_ballot::progress_of(&run))).unwrap_or_default(),
    })
}
