//! The brief: what is asked and what counts as alike; and at once what such a panel can show.

use super::chances::{ChancesCurve, ChancesRuns, asks_for_match};
use super::fields::{ChoiceField, NumberField, TextField};
use super::power::Power;
use crate::state::AppContext;
use crate::state::PlanPart;
use crate::state::plan::planning;
use crate::state::plan::typed_numbers::{length_mm_from, share_from};
use crate::views::r#match::settings::OriginSelect;
use crate::words;
use crate::words::plan::brief as say;
use leptos::prelude::*;
use likeness_core::plan::brief::draft::PlanDraft;
use likeness_core::plan::brief::study_brief::QuestionKind;
use likeness_core::planning::margin_in_people::margin_in_people;
use likeness_core::study::MarginOrigin;

const KINDS: [QuestionKind; 3] = [QuestionKind::Match, QuestionKind::Difference, QuestionKind::Description];
const ALPHAS: [f64; 3] = [0.01, 0.05, 0.1];

#[component]
pub fn BriefView() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let to_samples = move |_| planning::look_at_part(app, PlanPart::Samples);
    view! {
        <BesidePower>
            <Asked/>
            <Alike/>
            <p>
                <button type="button" class="button is-main" data-test="to-samples" on:click=to_samples>{say::TO_SAMPLES}</button>
            </p>
        </BesidePower>
    }
}

/// A form beside what such a panel can show, which follows from it as one types.
#[component]
pub fn BesidePower(children: Children) -> impl IntoView {
    let context: AppContext = expect_context();
    let runs = ChancesRuns::following(context);
    let asks_for_match = asks_for_match(context);
    view! {
        <div class="plan-question">
            <div class="plan-form">{children()}</div>
            <Power runs/>
            {move || asks_for_match.get().then(|| view! { <ChancesCurve runs/> })}
        </div>
    }
}

#[component]
fn Asked() -> impl IntoView {
    view! {
        <section>
            <h1>{say::HEADING}</h1>
            <p class="lead">{say::INTRO}</p>
            <div class="fields"><TitleKindAndAskedBy/></div>
            <TextField
                label=say::ASKED
                hook="plan-question"
                hint=say::ASKED_HINT
                rows="2"
                shows=|draft| draft.brief.question.clone()
                set=|draft, text| draft.brief.question = text
            />
        </section>
    }
}

#[component]
fn TitleKindAndAskedBy() -> impl IntoView {
    view! {
        <TextField
            label=say::TITLE
            hook="plan-title"
            hint=say::TITLE_HINT
            is_wide=true
            shows=|draft| draft.brief.title.clone()
            set=|draft, text| draft.brief.title = text
        />
        <ChoiceField
            label=say::KIND
            hook="plan-kind"
            choices=KINDS.map(|kind| say::kind(kind).to_owned()).to_vec()
            stands=|draft| KINDS.iter().position(|kind| *kind == draft.brief.kind).unwrap_or(0)
            choose=|draft, place| draft.brief.kind = KINDS.get(place).copied().unwrap_or_default()
        />
        <TextField
            label=say::ASKED_BY
            hook="plan-asked-by"
            shows=|draft| draft.brief.asked_by.clone()
            set=|draft, text| draft.brief.asked_by = text
        />
    }
}

/// Margin, where it comes from, what decides.
#[component]
fn Alike() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let in_people = Memo::new(move |_| {
        app.plan_draft.with(|draft| {
            let (margin, scatter) = (draft.brief.margin.width_mm, draft.scatter.sd_error_mm);
            margin_in_people(margin, scatter).ok().map(|people| say::margin_in_people(&people))
        })
    });
    let origin = Signal::derive(move || app.plan_draft.with(|draft| draft.brief.margin.origin.clone()));
    let origin_changed = move |origin: MarginOrigin| {
        planning::type_into_draft(app, |draft| draft.brief.margin.origin = origin);
    };
    view! {
        <section>
            <h2>{say::MARGIN_HEADING}</h2>
            <p class="lead">{say::MARGIN_INTRO}</p>
            <div class="fields">
                <NumberField
                    label=words::MARGIN
                    hook="plan-margin"
                    before=words::PLUS_MINUS
                    unit="mm"
                    shows=|draft| words::number(draft.brief.margin.width_mm)
                    takes=|draft, typed| length_mm_from(typed).map(|width| draft.brief.margin.width_mm = width)
                />
                <OriginSelect origin changed=Callback::new(origin_changed)/>
                <ProfileShare/>
                <Alpha/>
            </div>
            {move || in_people.get().map(|said| view! { <p data-test="plan-margin-people">{said}</p> })}
            <p class="note">{say::PROFILE_SHARE_WHY}</p>
            <Deciding/>
        </section>
    }
}

/// The profile margin, beside the margin that it is a share of.
#[component]
fn ProfileShare() -> impl IntoView {
    view! {
        <NumberField
            label=say::PROFILE_SHARE
            hook="plan-profile-share"
            unit=say::OF_THE_MARGINS
            shows=|draft| words::number(draft.brief.profile_share)
            takes=|draft, typed| share_from(typed, false).map(|share| draft.brief.profile_share = share)
        />
    }
}

#[component]
fn Alpha() -> impl IntoView {
    view! {
        <ChoiceField
            label=words::ALPHA
            hook="plan-alpha"
            choices=ALPHAS.map(words::number).to_vec()
            stands=|draft| ALPHAS.iter().position(|alpha| (alpha - draft.brief.alpha).abs() < 1e-9).unwrap_or(1)
            choose=|draft, place| draft.brief.alpha = ALPHAS.get(place).copied().unwrap_or(0.05)
        />
    }
}

#[component]
fn Deciding() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let names = Memo::new(move |_| app.plan_draft.with(listed_names));
    view! {
        <fieldset class="ticks">
            <legend>{say::DECIDING}</legend>
            {move || if names.with(Vec::is_empty) {
                view! { <p class="quiet">{say::DECIDING_NONE_YET}</p> }.into_any()
            } else {
                view! {
                    <p class="quiet">{say::DECIDING_INTRO}</p>
                    <div class="tick-list">
                        {names.get().into_iter().map(|name| view! { <DecidingTick name/> }).collect_view()}
                    </div>
                }.into_any()
            }}
        </fieldset>
    }
}

/// Whether one attribute decides.
#[component]
fn DecidingTick(name: String) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let (own, label) = (name.clone(), name.clone());
    let decides = move || app.plan_draft.with(|draft| draft.brief.deciding.contains(&own));
    let changed = move |event| {
        let (ticked, name) = (event_target_checked(&event), name.clone());
        planning::type_into_draft(app, move |draft| {
            draft.brief.deciding.retain(|known| *known != name);
            if ticked {
                draft.brief.deciding.push(name);
            }
        });
    };
    view! { <label class="check"><input type="checkbox" prop:checked=decides on:change=changed/>{label}</label> }
}

fn listed_names(draft: &PlanDraft) -> Vec<String> {
    let names = draft.attributes.attributes.iter().map(|line| line.name.trim().to_owned());
    names.filter(|name| !name.is_empty()).collect()
}
