//! Samples and people: what is tasted, by whom and how often, and what is still missing before the attribute list.

use super::brief::BesidePower;
use super::fields::{ChoiceField, NumberField, TextField};
use super::samples::Samples;
use crate::parts::notices::NoticeList;
use crate::state::AppContext;
use crate::state::PlanPart;
use crate::state::plan::missing::missing_in_brief;
use crate::state::plan::planning;
use crate::state::plan::typed_numbers::count_from;
use crate::words::plan::brief as say;
use leptos::prelude::*;
use likeness_core::plan::brief::draft::PlanDraft;
use likeness_core::plan::orders::serving_orders::Coverage;

const MOST_REPLICATES: usize = 20;
const MOST_SAMPLES: usize = 40;

#[component]
pub fn SamplesAndPeople() -> impl IntoView {
    view! {
        <BesidePower>
            <Samples/>
            <People/>
            <BeforeGoingOn/>
        </BesidePower>
    }
}

/// What is still missing, and the way to the attribute list.
#[component]
fn BeforeGoingOn() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let missing = Memo::new(move |_| app.plan_draft.with(missing_in_brief));
    let to_attributes = move |_| planning::look_at_part(app, PlanPart::Attributes);
    view! {
        <section>
            <h2>{say::BEFORE_GOING_ON}</h2>
            {move || if missing.with(Vec::is_empty) {
                view! { <p class="quiet">{say::NOTHING_MISSING}</p> }.into_any()
            } else {
                view! { <NoticeList notices=missing is_form=true/> }.into_any()
            }}
            <p>
                <button type="button" class="button is-main" data-test="to-words" on:click=to_attributes>{say::TO_WORDS}</button>
            </p>
        </section>
    }
}

#[component]
fn People() -> impl IntoView {
    view! {
        <section>
            <h2>{say::PEOPLE_HEADING}</h2>
            <div class="fields">
                <div class="plan-people"><Assessors/></div>
                <div class="plan-sittings"><Sittings/></div>
            </div>
        </section>
    }
}

#[component]
fn Assessors() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let named = Memo::new(move |_| app.plan_draft.with(|draft| draft.assessors().len()));
    view! {
        <TextField
            label=say::ASSESSORS
            hook="plan-assessors"
            hint=say::ASSESSORS_HINT
            rows="6"
            shows=|draft| draft.assessors_typed.clone()
            set=|draft, text| draft.assessors_typed = text
        />
        <p class="note" data-test="plan-assessor-count">{move || say::named_count(named.get())}" "{say::ASSESSORS_PRIVATE}</p>
    }
}

/// How often they taste, and how much in one session.
#[component]
fn Sittings() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let is_split = Memo::new(move |_| {
        app.plan_draft.with(|draft| draft.samples_per_session.is_some_and(|most| most < draft.brief.samples.len()))
    });
    view! {
        <NumberField
            label=say::REPLICATES
            hook="plan-replicates"
            shows=|draft| draft.replicates.to_string()
            takes=|draft, typed| count_from(typed, 1, MOST_REPLICATES).map(|count| draft.replicates = count)
        />
        <NumberField
            label=say::PREPARATIONS
            hook="plan-preparations"
            shows=|draft| draft.brief.preparations.to_string()
            takes=|draft, typed| count_from(typed, 1, MOST_REPLICATES).map(|count| draft.brief.preparations = count)
        />
        <p class="note">{say::PREPARATIONS_WHY}</p>
        <NumberField
            label=say::PER_SESSION
            hook="plan-per-session"
            hint=say::PER_SESSION_HINT
            shows=|draft| draft.samples_per_session.map(|most| most.to_string()).unwrap_or_default()
            takes=take_per_session
        />
        <p class="note">{say::PER_SESSION_WHY}</p>
        {move || is_split.get().then(|| view! { <Split/> })}
    }
}

/// What to do where a session can't hold all samples.
#[component]
fn Split() -> impl IntoView {
    let context: AppContext = expect_context();
    let in_each = move || context.app.plan_draft.with(|draft| draft.target_in_each_session);
    let changed = move |event| {
        let ticked = event_target_checked(&event);
        planning::type_into_draft(context.app, |draft| draft.target_in_each_session = ticked);
    };
    view! {
        <ChoiceField
            label=say::COVERAGE
            hook="plan-coverage"
            choices=say::COVERAGES.map(str::to_owned).to_vec()
            stands=|draft| usize::from(draft.coverage == Coverage::OneSession)
            choose=|draft, place| draft.coverage = if place == 0 { Coverage::AllSamples } else { Coverage::OneSession }
        />
        <label class="check"><input type="checkbox" data-test="plan-target-each" prop:checked=in_each on:change=changed/>{say::TARGET_EACH}</label>
    }
}

fn take_per_session(draft: &mut PlanDraft, typed: &str) -> Result<(), String> {
    draft.samples_per_session = if typed.trim().is_empty() { None } else { Some(count_from(typed, 2, MOST_SAMPLES)?) };
    Ok(())
}
