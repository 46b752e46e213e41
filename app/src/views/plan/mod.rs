//! The plan of a tasting: its parts in the order of the work, and what is kept of it.

mod attributes;
mod brief;
mod chances;
pub mod data_entry;
mod fields;
mod joined;
mod late;
pub mod on_screen_ballots;
mod orders;
mod power;
mod printouts;
mod samples;
pub mod scan_pages;
pub mod session_record;
mod sheet_view;
mod short_tests;
pub mod tablet_scores;

use crate::browser::download;
use crate::state::AppContext;
use crate::state::PlanPart;
use crate::state::plan::part_states::part_state;
use crate::state::plan::planning;
use crate::views::shell::StepButton;
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
                PlanPart::Attributes => view! { <attributes::AttributeListView/> }.into_any(),
                PlanPart::Orders => view! { <orders::Orders/> }.into_any(),
                PlanPart::Printouts => view! { <printouts::Printouts/> }.into_any(),
                PlanPart::ShortTests => view! { <short_tests::ShortTests/> }.into_any(),
                PlanPart::SessionRecord => view! { <session_record::SessionRecordView/> }.into_any(),
                PlanPart::DataEntry => view! { <data_entry::DataEntryView/> }.into_any(),
                PlanPart::Pictures => view! { <scan_pages::ScanPages/> }.into_any(),
                PlanPart::OnScreen => view! { <on_screen_ballots::OnScreenBallots/> }.into_any(),
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
    view! {
        <div class="plan-bar">
            <span class="quiet" class:is-warning=move || !context.plan_is_saved.get()>
                {move || if context.plan_is_saved.get() { say::PLAN_SAVED } else { say::PLAN_NOT_SAVED }}
            </span>
            <div class="top-tools">
                <StepButton hook="plan-undo" label=words::UNDO what=undo does=planning::undo/>
                <StepButton hook="plan-redo" label=words::REDO what=redo does=planning::redo/>
                <SavePlan/>
                <button type="button" class="small" data-test="begin-anew" on:click=move |_| planning::begin_anew(app)>
                    {say::BEGIN_ANEW}
                </button>
            </div>
        </div>
    }
}

#[component]
fn SavePlan() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let save = move |_| {
        if let Some(text) = app.plan.with_untracked(|plan| plan.as_ref().map(|plan| plan.to_json())) {
            download::save_text(say::PLAN_FILE_NAME, "application/json", &text);
        }
    };
    view! {
        <button type="button" class="small" data-test="save-plan" disabled=move || app.plan.with(Option::is_none) on:click=save>
            {say::SAVE_PLAN}
        </button>
    }
}

/// The parts in the order of the work, each with what it holds so far.
#[component]
fn Parts() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let tab = move |part: PlanPart| {
        let state = Memo::new(move |_| part_state(app, part));
        view! {
            <li>
                <button
                    type="button"
                    data-test=format!("plan-part-{}", part.hook())
                    aria-current=move || (app.plan_part.get() == part).then_some("step")
                    on:click=move |_| planning::look_at_part(app, part)
                >
                    <span>{part.name()}</span>
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
