//! Before the first cup: who tastes, cautions and consent, the cup that isn't marked.

use super::super::Desk;
use super::{keeping, now};
use crate::state::booth;
use crate::words::booth as say;
use leptos::prelude::*;

/// One name to choose.
struct Choice {
    sheet: usize,
    name: String,
    session: u32,
    progress: String,
}

#[component]
pub fn Names() -> impl IntoView {
    let desk: Desk = expect_context();
    let form = desk.ground.booth.form;
    let choose = move |sheet: usize| {
        let kept = form.with_untracked(|form| {
            let form = form.as_ref()?;
            keeping::kept_run(form, form.sheets.get(sheet)?)
        });
        booth::choose_sheet(desk.ground, sheet, kept);
    };
    let button = move |choice: Choice| {
        view! {
            <li>
                <button type="button" class="booth-button booth-name" data-test=format!("sheet-{}", choice.sheet) on:click=move |_| choose(choice.sheet)>
                    <strong>{choice.name}</strong>
                    <span>{say::session(choice.session)}</span>
                    <span>{choice.progress}</span>
                </button>
            </li>
        }
    };
    view! {
        <section class="booth-card" data-test="booth-names">
            <h1 tabindex="-1">{say::WHO}</h1>
            <ul class="booth-names">{move || choices(desk).into_iter().map(button).collect_view()}</ul>
        </section>
    }
}

#[component]
pub fn Consent() -> impl IntoView {
    let desk: Desk = expect_context();
    let before = desk
        .ground
        .booth
        .form
        .with_untracked(|form| form.as_ref().map(|form| form.before_tasting.clone()).unwrap_or_default());
    view! {
        <section class="booth-card" data-test="booth-consent">
            <p>{move || who(desk)}</p>
            <h1 tabindex="-1">{say::BEFORE_TASTING}</h1>
            <ul class="booth-list">
                {before.into_iter().map(|line| view! { <li><strong>{line}</strong></li> }).collect_view()}
                {say::CAUTIONS.into_iter().map(|line| view! { <li>{line}</li> }).collect_view()}
            </ul>
            <p>{say::CONSENT}</p>
            <div class="booth-actions">
                <button type="button" class="booth-button is-main" data-test="consent" on:click=move |_| booth::consent(desk.ground, &now())>
                    {say::BEGIN}
                </button>
                <button type="button" class="booth-button is-quiet" data-test="not-me" on:click=move |_| booth::put_sheet_away(desk.ground)>
                    {say::NOT_ME}
                </button>
            </div>
        </section>
    }
}

#[component]
pub fn WarmUp() -> impl IntoView {
    let desk: Desk = expect_context();
    let code = desk.ground.booth.run.with_untracked(|run| run.as_ref().and_then(|run| run.sheet.warm_up_code.clone()));
    view! {
        <section class="booth-card" data-test="booth-warm-up">
            <p>{move || who(desk)}</p>
            <h1 tabindex="-1">{say::WARM_UP}</h1>
            <p class="booth-code">{code}</p>
            <p>{say::WARM_UP_ABOUT}</p>
            <div class="booth-actions">
                <button type="button" class="booth-button is-main" data-test="warm-up-done" on:click=move |_| booth::warm_up_done(desk.ground, &now())>
                    {say::WARM_UP_DONE}
                </button>
            </div>
        </section>
    }
}

/// Whose sheet it is.
pub fn who(desk: Desk) -> Option<String> {
    desk.ground.booth.run.with(|run| run.as_ref().map(|run| say::who_and_session(&run.sheet.name, run.sheet.session)))
}

fn choices(desk: Desk) -> Vec<Choice> {
    desk.ground.booth.form.with(|form| {
        let Some(form) = form else { return Vec::new() };
        let choice = |(index, sheet): (usize, &likeness_core::plan::booth::BoothSheet)| Choice {
            sheet: index,
            name: sheet.name.clone(),
            session: sheet.session,
            progress: keeping::kept_run(form, sheet)
                .map(|run| say::progress(booth::progress_of(&run)))
                .unwrap_or_default(),
        };
        form.sheets.iter().enumerate().map(choice).collect()
    })
}
