//! Typing scores from paper: made for one hand on the ruler and one on the number keys.

pub mod keeping;

mod differences;
mod page;

use super::Desk;
use crate::browser::download;
use crate::state::typing::{self, PageAlarm, TypingStatus, status};
use crate::words::typing as say;
use leptos::prelude::*;
use likeness_core::plan::keying::{KeyingOptions, Pass};
use likeness_core::plan::keying_file::KeyingFile;

#[component]
pub fn Typing() -> impl IntoView {
    let desk: Desk = expect_context();
    let ground = desk.ground;
    let standing = Memo::new(move |_| {
        ground.plan.with(|plan| ground.typing.file.with(|file| status(plan.as_ref(), file.as_ref())))
    });
    let begin = move || {
        view! {
            <button type="button" class="button is-main" data-test="begin-typing" on:click=move |_| typing::begin(ground)>
                {say::BEGIN}
            </button>
        }
    };
    view! {
        <section class="typing" data-test="typing">
            <h1>{say::TITLE}</h1>
            {move || match standing.get() {
                TypingStatus::NoPlan => view! { <p class="lead" data-test="typing-needs-plan">{say::NEEDS_PLAN}</p> }.into_any(),
                TypingStatus::NotBegun => view! { <p class="lead">{say::BEGIN_ABOUT}</p><p>{begin()}</p> }.into_any(),
                TypingStatus::OtherPlan { marks } => view! {
                    <p class="is-warning" data-test="typing-other-plan">{say::other_plan(marks)}" "{say::OTHER_PLAN_HINT}</p>
                    <p>{begin()}</p>
                }.into_any(),
                TypingStatus::PlanChanged { marks, left_behind } => view! {
                    <p class="is-warning" data-test="typing-plan-changed">{say::changed(marks, left_behind)}</p>
                    <p class="choices">
                        <button type="button" class="button is-main" data-test="carry-over" on:click=move |_| typing::carry_over(ground)>
                            {say::CARRY_OVER}
                        </button>
                        <SaveButton/>
                    </p>
                }.into_any(),
                TypingStatus::Fits => view! { <Fitting/> }.into_any(),
            }}
            <PutAside/>
        </section>
    }
}

/// The typing screen of a plan that fits.
#[component]
fn Fitting() -> impl IntoView {
    let desk: Desk = expect_context();
    let ground = desk.ground;
    view! {
        <Passes/>
        <Alarms/>
        <page::Page/>
        <differences::Differences/>
        <div class="confirm">
            <button type="button" class="button is-main" data-test="use-typed" on:click=move |_| typing::use_scores(ground)>{say::USE}</button>
            <SaveButton/>
            <span class="quiet" class:is-warning=move || !ground.typing.is_kept.get()>
                {move || if ground.typing.is_kept.get() { say::KEPT } else { say::NOT_KEPT }}
            </span>
        </div>
        <Guards/>
    }
}

/// Who types, and how far that person is.
#[component]
fn Passes() -> impl IntoView {
    let desk: Desk = expect_context();
    let file = desk.ground.typing.file;
    let pass = Memo::new(move |_| file.with(|file| file.as_ref().map_or(Pass::First, |file| file.keying.pass)));
    let count = Memo::new(move |_| file.with(|file| file.as_ref().map(|file| file.keying.count())));
    let choice = move |own: Pass, label: &'static str, hook: &'static str| {
        view! {
            <button
                type="button"
                class="chip"
                data-test=hook
                aria-pressed=move || (pass.get() == own).to_string()
                on:click=move |_| typing::begin_pass(desk.ground, own)
            >
                {label}
            </button>
        }
    };
    view! {
        <div class="typing-head">
            <div class="chips" role="group" aria-label=say::PASSES>
                {choice(Pass::First, say::FIRST_PERSON, "first-person")}
                {choice(Pass::Second, say::SECOND_PERSON, "second-person")}
            </div>
            {move || count.get().map(|count| view! {
                <p data-test="typing-count">{say::progress(count)}</p>
                <progress max=count.total.to_string() value=count.typed.to_string() aria-label=say::progress(count)></progress>
            })}
        </div>
        {move || (pass.get() == Pass::Second).then(|| view! { <p class="note">{say::SECOND_ABOUT}</p> })}
    }
}

/// Pages that the slip guard wants looked at again.
#[component]
fn Alarms() -> impl IntoView {
    let desk: Desk = expect_context();
    let line = move |alarm: PageAlarm| {
        let page = desk.ground.typing.file.with_untracked(|file| {
            file.as_ref().and_then(|file| file.keying.pages.get(alarm.page).map(say::page_in_words))
        });
        let (place, cleared) = ((alarm.page, alarm.row), alarm.clone());
        view! {
            <div class="message is-alarm" data-test="slip-alarm">
                <p><strong>{say::LOOK_AGAIN}": "{page}</strong>" "{alarm.sentence}</p>
                <span class="choices">
                    <button type="button" class="small" on:click=move |_| typing::go_to(desk.ground, place.0, place.1)>{say::GO_TO_ROW}</button>
                    <button type="button" class="small" data-test="clear-alarm" on:click=move |_| typing::clear_alarm(desk.ground, &cleared)>{say::IS_RIGHT}</button>
                </span>
            </div>
        }
    };
    view! {
        <div role="alert">{move || desk.ground.typing.alarms.get().into_iter().map(line).collect_view()}</div>
    }
}

/// What watches over the typing.
#[component]
fn Guards() -> impl IntoView {
    let desk: Desk = expect_context();
    let ground = desk.ground;
    let options = Memo::new(move |_| {
        ground.typing.file.with(|file| file.as_ref().map_or_else(KeyingOptions::default, |file| file.keying.options))
    });
    let rows = move |event| {
        if let Ok(rows_between_checks) = event_target_value(&event).trim().parse() {
            typing::set_options(ground, KeyingOptions { rows_between_checks, ..options.get_untracked() });
        }
    };
    let ask = move |event| {
        typing::set_options(
            ground,
            KeyingOptions { ask_page_code: event_target_checked(&event), ..options.get_untracked() },
        );
    };
    view! {
        <details class="guards" data-test="guards">
            <summary>{say::WATCHING}</summary>
            <label class="check">
                <input type="checkbox" data-test="ask-code" prop:checked=move || options.get().ask_page_code on:change=ask/>
                <span>{say::ASK_CODE}</span>
            </label>
            <label class="check">
                <span>{say::CHECK_ROWS}</span>
                <input class="short" inputmode="numeric" data-test="check-rows" prop:value=move || options.get().rows_between_checks.to_string() on:change=rows/>
                <span>{say::CHECK_ROWS_UNIT}</span>
            </label>
            <label class="check">
                <input
                    type="checkbox"
                    prop:checked=ground.typing.sounds
                    on:change=move |event| typing::use_sounds(ground, event_target_checked(&event))
                />
                <span>{say::SOUNDS}</span>
            </label>
        </details>
    }
}

#[component]
fn SaveButton() -> impl IntoView {
    let desk: Desk = expect_context();
    let save = move |_| {
        if let Some(text) = desk.ground.typing.file.with_untracked(|file| file.as_ref().map(KeyingFile::to_text)) {
            download::save_text(say::FILE_NAME, "application/json", &text);
        }
    };
    view! { <button type="button" class="button" data-test="save-typing" on:click=save>{say::SAVE}</button> }
}

/// The way back to typing that something else took the place of.
#[component]
fn PutAside() -> impl IntoView {
    let desk: Desk = expect_context();
    let marks = Memo::new(move |_| {
        desk.ground.typing.before.with(|before| before.as_ref().map(|before| before.keying.typed_by_anybody()))
    });
    move || {
        marks.get().map(|marks| {
            view! {
                <p>
                    <button type="button" class="link" data-test="typing-before" on:click=move |_| typing::back_to_before(desk.ground)>
                        {say::back_to_before(marks)}
                    </button>
                </p>
            }
        })
    }
}
