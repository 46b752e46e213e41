//! The plan of a tasting: its parts in the order of the work, and what is kept of it.

mod attributes;
mod brief;
mod chances;
pub mod data_entry;
mod fields;
mod joined;
mod kept;
mod late;
pub mod on_screen_ballots;
mod orders;
mod people;
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
use crate::state::plan::part_steps::part_is_done;
use crate::state::plan::{planning, printed};
use crate::words::plan as say;
use leptos::prelude::*;
use likeness_core::plan::brief::draft::PlanDraft;

#[component]
pub fn Plan() -> impl IntoView {
    let context: AppContext = expect_context();
    view! {
        <div class="plan" data-test="plan">
            <PlanBar/>
            <Parts/>
            {move || match context.app.plan_part.get() {
                PlanPart::Brief => view! { <brief::BriefView/> }.into_any(),
                PlanPart::Samples => view! { <people::SamplesAndPeople/> }.into_any(),
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

/// What is kept of this plan and beside it, and what of it was printed and no longer fits.
#[component]
fn PlanBar() -> impl IntoView {
    let context: AppContext = expect_context();
    let app = context.app;
    view! {
        <div class="plan-bar">
            <span class="quiet" class:is-warning=move || !context.plan_is_saved.get()>
                {move || if context.plan_is_saved.get() { say::PLAN_SAVED } else { say::PLAN_NOT_SAVED }}
            </span>
            <div class="top-tools">
                <kept::KeptPlansMenu/>
                <SavePlan/>
                <button type="button" class="small" data-test="begin-anew" on:click=move |_| planning::begin_anew(app)>
                    {say::BEGIN_ANEW}
                </button>
            </div>
        </div>
        <OutOfDate/>
    }
}

/// The warning that printed ballots no longer fit, or soon would not.
#[component]
fn OutOfDate() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let warning = Memo::new(move |_| {
        app.plan.with(|plan| plan.as_ref().and_then(|plan| app.plan_draft.with(|draft| printed::warning(draft, plan))))
    });
    move || {
        warning.get().map(|(what, hint)| {
            view! {
                <p class="warning" role="status" data-test="printed-out-of-date">
                    <strong>{what}</strong>" "<span class="hint">{hint}</span>
                </p>
            }
        })
    }
}

/// Saves what was typed and made so far, at any time.
#[component]
fn SavePlan() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let is_blank = move || app.plan.with(Option::is_none) && app.plan_draft.with(PlanDraft::is_blank);
    let save = move |_| download::save_text(say::PLAN_FILE_NAME, "application/json", &planning::file_text(app));
    view! {
        <button type="button" class="small" data-test="save-plan" disabled=is_blank on:click=save>
            {say::SAVE_PLAN}
        </button>
    }
}

/// The steps in the order of the work, each with its number, ticked once it is done, and what it holds so far.
#[component]
fn Parts() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let tab = move |part: PlanPart| {
        let state = Memo::new(move |_| part_state(app, part));
        let is_done = Memo::new(move |_| part_is_done(app, part));
        view! {
            <li>
                <button
                    type="button"
                    class:is-done=is_done
                    data-test=format!("plan-part-{}", part.hook())
                    aria-current=move || (app.plan_part.get() == part).then_some("step")
                    on:click=move |_| planning::look_at_part(app, part)
                >
                    <span>
                        {say::step(part.step(), part.name())}
                        {move || is_done.get().then(|| view! { <span class="step-done" title=say::DONE>"\u{2713}"<span class="heard">{say::DONE}</span></span> })}
                    </span>
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
