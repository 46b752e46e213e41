//! The plan of a tasting: its parts in the order of the work, and what is kept of it.

mod attributes;
mod brief;
pub mod data_entry;
mod fields;
mod late;
pub mod on_screen_ballots;
mod orders;
mod power;
mod printouts;
mod samples;
pub mod session_record;
mod sheet_view;
mod short_tests;
pub mod tablet_scores;

use crate::browser::download;
use crate::state::AppContext;
use crate::state::PlanPart;
use crate::state::plan::planning;
use crate::words;
use crate::words::plan as say;
use leptos::prelude::*;

#[component]
pub fn Plan() -> impl IntoView {
    let context: AppContext = expect_context();
    view! {
        <div class="plan" data-test="plan">
            <PlanBar/>
            <Parts/>
            {move || match context.app.plan_part.get() {
                PlanPart::Brief => view! { <brief::BriefView/> }.into_any(),
                PlanPart::Attributes => view! { <attributes::WordsList/> }.into_any(),
                PlanPart::Orders => view! { <orders::Orders/> }.into_any(),
                PlanPart::Printouts => view! { <printouts::Printouts/> }.into_any(),
                PlanPart::ShortTests => view! { <short_tests::ShortTests/> }.into_any(),
                PlanPart::SessionRecord => view! { <crate::views::plan::session_record::SessionRecordView/> }.into_any(),
                PlanPart::DataEntry => view! { <crate::views::plan::data_entry::DataEntryView/> }.into_any(),
                PlanPart::OnScreen => view! { <crate::views::plan::on_screen_ballots::OnScreenBallots/> }.into_any(),
            }}
        </div>
    }
}

/// What plan this is, undo, saving.
#[component]
fn PlanBar() -> impl IntoView {
    let context: AppContext = expect_context();
    let app = context.app;
    let undo = Memo::new(move |_| app.plan_steps.with(|steps| steps.next_undo().map(words::undo_what)));
    let redo = Memo::new(move |_| app.plan_steps.with(|steps| steps.next_redo().map(words::redo_what)));
    let save = move |_| {
        if let Some(text) = app.plan.with_untracked(|plan| plan.as_ref().map(|plan| plan.to_json())) {
            download::save_text(say::PLAN_FILE_NAME, "application/json", &text);
        }
    };
    view! {
        <div class="plan-bar">
            <span class="quiet" class:is-warning=move || !context.plan_is_saved.get()>
                {move || if context.plan_is_saved.get() { say::PLAN_KEPT } else { say::PLAN_NOT_KEPT }}
            </span>
            <div class="top-tools">
                <button
                    type="button"
                    class="small"
                    data-test="plan-undo"
                    disabled=move || undo.with(Option::is_none)
                    title=move || undo.get()
                    on:click=move |_| planning::undo(app)
                >
                    {words::UNDO}
                </button>
                <button
                    type="button"
                    class="small"
                    data-test="plan-redo"
                    disabled=move || redo.with(Option::is_none)
                    title=move || redo.get()
                    on:click=move |_| planning::redo(app)
                >
                    {words::REDO}
                </button>
                <button
                    type="button"
                    class="small"
                    data-test="save-plan"
                    disabled=move || app.plan.with(Option::is_none)
                    on:click=save
                >
                    {say::SAVE_PLAN}
                </button>
                <button type="button" class="small" data-test="begin-anew" on:click=move |_| planning::begin_anew(app)>
                    {say::BEGIN_ANEW}
                </button>
            </div>
        </div>
    }
}

#[component]
fn Parts() -> impl IntoView {
    let context: AppContext = expect_context();
    let tab = move |part: PlanPart| {
        let state = Memo::new(move |_| {
            let made_at = context.app.plan.with(|plan| plan.as_ref().map(|plan| plan.made_at.clone()));
            context.app.plan_draft.with(|draft| say::part_state(part, draft, made_at.as_deref()))
        });
        view! {
            <li>
                <button
                    type="button"
                    data-test=format!("plan-part-{}", say::part_hook(part))
                    aria-current=move || (context.app.plan_part.get() == part).then_some("step")
                    on:click=move |_| planning::look_at_part(context.app, part)
                >
                    <span>{say::part_name(part)}</span>
                    <span class="asks">{state}</span>
                </button>
            </li>
        }
    };
    view! {
        <nav class="plan-parts" aria-label=say::PARTS>
            <ol>{PlanPart::ALL.iter().copied().map(tab).collect_view()}</ol>
        </nav>
    }
}
