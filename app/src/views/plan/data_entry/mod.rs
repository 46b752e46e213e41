//! Data entry from paper ballots: made for one hand on the ruler and one on the number keys.

mod differences;
mod page;

use crate::browser::download;
use crate::state::AppContext;
use crate::state::session::data_entry;
use crate::state::session::data_entry::{DataEntryStatus, status};
use crate::state::session::data_entry_state::PageAlarm;
use crate::state::session::joining;
use crate::views::plan::joined::JoinedSources;
use crate::words::data_entry as say;
use leptos::prelude::*;
use likeness_core::plan::data_entry::entry::{EntryOptions, Pass};
use likeness_core::plan::data_entry::entry_file::EntryFile;
use likeness_core::plan::joining::ScoreSource;

#[component]
pub fn DataEntryView() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let standing =
        Memo::new(move |_| app.plan.with(|plan| app.data_entry.file.with(|file| status(plan.as_ref(), file.as_ref()))));
    view! {
        <section class="typing" data-test="typing">
            <h1>{say::TITLE}</h1>
            {move || match standing.get() {
                DataEntryStatus::NoPlan => view! { <p class="lead" data-test="typing-needs-plan">{say::NEEDS_PLAN}</p> }.into_any(),
                DataEntryStatus::NotBegun => view! { <p class="lead">{say::BEGIN_ABOUT}</p><p><BeginButton/></p> }.into_any(),
                DataEntryStatus::OtherPlan { marks } => view! {
                    <p class="is-warning" data-test="typing-other-plan">{say::other_plan(marks)}" "{say::OTHER_PLAN_HINT}</p>
                    <p><BeginButton/></p>
                }.into_any(),
                DataEntryStatus::PlanChanged { marks, left_behind } => view! { <CarryOver marks left_behind/> }.into_any(),
                DataEntryStatus::Fits => view! { <Fitting/> }.into_any(),
            }}
            <PutAside/>
        </section>
    }
}

#[component]
fn BeginButton() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    view! {
        <button type="button" class="button is-main" data-test="begin-typing" on:click=move |_| data_entry::begin(app)>
            {say::BEGIN}
        </button>
    }
}

/// The plan was changed since: what was typed can be taken over.
#[component]
fn CarryOver(marks: usize, left_behind: usize) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    view! {
        <p class="is-warning" data-test="typing-plan-changed">{say::changed(marks, left_behind)}</p>
        <p class="choices">
            <button type="button" class="button is-main" data-test="carry-over" on:click=move |_| data_entry::carry_over(app)>
                {say::CARRY_OVER}
            </button>
            <SaveButton/>
        </p>
    }
}

/// Data entry of a plan that fits.
#[component]
fn Fitting() -> impl IntoView {
    let context: AppContext = expect_context();
    let app = context.app;
    view! {
        <Passes/>
        <Alarms/>
        <page::Page/>
        <differences::Differences/>
        <div class="confirm">
            <button type="button" class="button is-main" data-test="use-typed" on:click=move |_| joining::use_scores_of(app, ScoreSource::Typed)>{say::USE}</button>
            <SaveButton/>
            <span class="quiet" class:is-warning=move || !app.data_entry.is_saved.get()>
                {move || if app.data_entry.is_saved.get() { say::SAVED } else { say::NOT_SAVED }}
            </span>
        </div>
        <JoinedSources own=ScoreSource::Typed is_always=false/>
        <Guards/>
    }
}

/// Who types, and how far that person is.
#[component]
fn Passes() -> impl IntoView {
    let file = expect_context::<AppContext>().app.data_entry.file;
    let pass = Memo::new(move |_| file.with(|file| file.as_ref().map_or(Pass::First, |file| file.data_entry.pass)));
    let count = Memo::new(move |_| file.with(|file| file.as_ref().map(|file| file.data_entry.count())));
    view! {
        <div class="typing-head">
            <div class="chips" role="group" aria-label=say::PASSES>
                <PassChip pass own=Pass::First label=say::FIRST_PERSON hook="first-person"/>
                <PassChip pass own=Pass::Second label=say::SECOND_PERSON hook="second-person"/>
            </div>
            {move || count.get().map(|count| view! {
                <p data-test="typing-count">{say::progress(count)}</p>
                <progress max=count.total.to_string() value=count.typed.to_string() aria-label=say::progress(count)></progress>
            })}
        </div>
        {move || (pass.get() == Pass::Second).then(|| view! { <p class="note">{say::SECOND_ABOUT}</p> })}
    }
}

#[component]
fn PassChip(pass: Memo<Pass>, own: Pass, label: &'static str, hook: &'static str) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    view! {
        <button
            type="button"
            class="chip"
            data-test=hook
            aria-pressed=move || (pass.get() == own).to_string()
            on:click=move |_| data_entry::begin_pass(app, own)
        >
            {label}
        </button>
    }
}

/// Pages that the slip guard wants looked at again.
#[component]
fn Alarms() -> impl IntoView {
    let context: AppContext = expect_context();
    let line = move |alarm: PageAlarm| {
        let page = context.app.data_entry.file.with_untracked(|file| {
            file.as_ref().and_then(|file| file.data_entry.pages.get(alarm.page).map(say::page_in_words))
        });
        let (place, cleared) = ((alarm.page, alarm.row), alarm.clone());
        view! {
            <div class="message is-alarm" data-test="slip-alarm">
                <p><strong>{say::LOOK_AGAIN}": "{page}</strong>" "{alarm.sentence}</p>
                <span class="choices">
                    <button type="button" class="small" on:click=move |_| data_entry::go_to(context.app, place.0, place.1)>{say::GO_TO_ROW}</button>
                    <button type="button" class="small" data-test="clear-alarm" on:click=move |_| data_entry::clear_alarm(context.app, &cleared)>{say::IS_RIGHT}</button>
                </span>
            </div>
        }
    };
    view! {
        <div role="alert">{move || context.app.data_entry.alarms.get().into_iter().map(line).collect_view()}</div>
    }
}

/// What watches over data entry.
#[component]
fn Guards() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let options = Memo::new(move |_| {
        let file = app.data_entry.file;
        file.with(|file| file.as_ref().map_or_else(EntryOptions::default, |file| file.data_entry.options))
    });
    let ask = move |event| {
        let ask_page_code = event_target_checked(&event);
        data_entry::set_options(app, EntryOptions { ask_page_code, ..options.get_untracked() });
    };
    view! {
        <details class="guards" data-test="guards">
            <summary>{say::WATCHING}</summary>
            <label class="check">
                <input type="checkbox" data-test="ask-code" prop:checked=move || options.get().ask_page_code on:change=ask/>
                <span>{say::ASK_CODE}</span>
            </label>
            <RowsBetweenChecks options/>
            <Sounds/>
        </details>
    }
}

#[component]
fn Sounds() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let changed = move |event| data_entry::use_sounds(app, event_target_checked(&event));
    view! {
        <label class="check">
            <input type="checkbox" prop:checked=app.data_entry.sounds on:change=changed/>
            <span>{say::SOUNDS}</span>
        </label>
    }
}

#[component]
fn RowsBetweenChecks(options: Memo<EntryOptions>) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let changed = move |event| {
        if let Ok(rows_between_checks) = event_target_value(&event).trim().parse() {
            data_entry::set_options(app, EntryOptions { rows_between_checks, ..options.get_untracked() });
        }
    };
    let shown = move || options.get().rows_between_checks.to_string();
    view! {
        <label class="check">
            <span>{say::CHECK_ROWS}</span>
            <input class="short" inputmode="numeric" data-test="check-rows" prop:value=shown on:change=changed/>
            <span>{say::CHECK_ROWS_UNIT}</span>
        </label>
    }
}

#[component]
fn SaveButton() -> impl IntoView {
    let context: AppContext = expect_context();
    let save = move |_| {
        if let Some(text) = context.app.data_entry.file.with_untracked(|file| file.as_ref().map(EntryFile::to_text)) {
            download::save_text(say::FILE_NAME, "application/json", &text);
        }
    };
    view! { <button type="button" class="button" data-test="save-typing" on:click=save>{say::SAVE}</button> }
}

/// The way back to data entry that something else took the place of.
#[component]
fn PutAside() -> impl IntoView {
    let context: AppContext = expect_context();
    let marks = Memo::new(move |_| {
        context.app.data_entry.before.with(|before| before.as_ref().map(|before| before.data_entry.typed_by_anybody()))
    });
    move || {
        marks.get().map(|marks| {
            view! {
                <p>
                    <button type="button" class="link" data-test="typing-before" on:click=move |_| data_entry::back_to_before(context.app)>
                        {say::back_to_before(marks)}
                    </button>
                </p>
            }
        })
    }
}
