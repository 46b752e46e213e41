//! The samples of the brief as a table to type into, the target under two codes, the warm-up cup.

use super::fields::TextField;
use crate::browser::page;
use crate::state::plan::planning;
use crate::state::{AppContext, AppState};
use crate::words::plan::brief as say;
use leptos::prelude::*;
use likeness_core::plan::brief::draft::PlanDraft;
use likeness_core::plan::brief::study_brief::{PlannedSample, SampleRole};

const ROLES: [SampleRole; 3] = [SampleRole::Target, SampleRole::Candidate, SampleRole::BlindDuplicate];

/// A column of text: heading, hook, and the field of the sample.
type Column = (&'static str, &'static str, fn(&mut PlannedSample) -> &mut String);

const NAME: Column = (say::SAMPLE_NAME, "sample-name", |sample| &mut sample.name);
const OTHERS: [Column; 5] = [
    (say::SAMPLE_LOT, "sample-lot", |sample| &mut sample.lot),
    (say::SAMPLE_BASE, "sample-base", |sample| &mut sample.base),
    (say::SAMPLE_DOSE, "sample-dose", |sample| &mut sample.dose),
    (say::SAMPLE_ALLERGENS, "sample-allergens", |sample| &mut sample.allergens),
    (say::SAMPLE_NOTE, "sample-note", |sample| &mut sample.note),
];

#[component]
pub fn Samples() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let add = move |_| {
        planning::type_into_draft(app, |draft| {
            draft.brief.samples.push(PlannedSample::named("", SampleRole::Candidate));
        });
        page::focus_last("[data-test='sample-name']");
    };
    view! {
        <section>
            <h1>{say::SAMPLES}</h1>
            <p class="lead">{say::SAMPLES_INTRO}</p>
            <div class="table-place"><SampleTable/></div>
            <div class="plan-tools">
                <button type="button" class="button" data-test="add-sample" on:click=add>{say::ADD_SAMPLE}</button>
            </div>
            <Twin/>
            <WarmUp/>
        </section>
    }
}

#[component]
fn SampleTable() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let count = Memo::new(move |_| app.plan_draft.with(|draft| draft.brief.samples.len()));
    view! {
        <table class="typed-table">
            <thead>
                <tr>
                    <th scope="col">{say::SAMPLE_NAME}</th>
                    <th scope="col">{say::SAMPLE_ROLE}</th>
                    {OTHERS.into_iter().map(|(head, ..)| view! { <th scope="col">{head}</th> }).collect_view()}
                    <td></td>
                </tr>
            </thead>
            <tbody>{move || (0..count.get()).map(|row| view! { <SampleRow row/> }).collect_view()}</tbody>
        </table>
    }
}

#[component]
fn SampleRow(row: usize) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    view! {
        <tr>
            <td><SampleCell row column=NAME/></td>
            <td><RoleCell row/></td>
            {OTHERS.into_iter().map(|column| view! { <td><SampleCell row column/></td> }).collect_view()}
            <td>
                <button type="button" class="small" data-test="remove-sample" aria-label=say::remove_sample(row) on:click=move |_| take_out(app, row)>
                    {say::REMOVE}
                </button>
            </td>
        </tr>
    }
}

#[component]
fn RoleCell(row: usize) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let role = Memo::new(move |_| {
        app.plan_draft.with(|draft| draft.brief.samples.get(row).map(|sample| sample.role)).unwrap_or_default()
    });
    let pick = move |event| {
        let place: usize = event_target_value(&event).parse().unwrap_or(1);
        let chosen = ROLES.get(place).copied().unwrap_or_default();
        planning::type_into_draft(app, |draft| {
            if let Some(sample) = draft.brief.samples.get_mut(row) {
                sample.role = chosen;
            }
        });
    };
    let options = ROLES.into_iter().enumerate().map(|(place, one)| {
        view! { <option value=place.to_string() prop:selected=move || role.get() == one>{say::role(one)}</option> }
    });
    view! {
        <select data-test="sample-role" aria-label=say::role_of(row) on:change=pick>{options.collect_view()}</select>
    }
}

/// Takes a sample out, as one step that can be undone.
fn take_out(app: AppState, row: usize) {
    let name = app.plan_draft.with_untracked(|draft| draft.brief.samples.get(row).map(|one| one.name.clone()));
    planning::change_draft(app, &say::step_removed(&name.unwrap_or_default()), |draft| {
        if row < draft.brief.samples.len() {
            draft.brief.samples.remove(row);
        }
    });
}

#[component]
fn SampleCell(row: usize, column: Column) -> impl IntoView {
    let context: AppContext = expect_context();
    let (head, hook, field) = column;
    let shown = Memo::new(move |_| {
        let sample = context.app.plan_draft.with(|draft| draft.brief.samples.get(row).cloned());
        sample.map(|mut sample| std::mem::take(field(&mut sample))).unwrap_or_default()
    });
    let typed = move |event| {
        let text = event_target_value(&event);
        planning::type_into_draft(context.app, |draft| {
            if let Some(sample) = draft.brief.samples.get_mut(row) {
                *field(sample) = text;
            }
        });
    };
    view! { <input type="text" data-test=hook aria-label=say::cell_of(head, row) prop:value=shown on:input=typed/> }
}

/// Offers the target under two codes, with the reason.
#[component]
fn Twin() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let state = Memo::new(move |_| app.plan_draft.with(target_and_twin));
    let add = move |_| planning::change_draft(app, say::STEP_TWIN, |draft| draft.brief.add_blind_duplicate());
    move || match state.get() {
        (_, true) => Some(view! { <p class="quiet" data-test="twin-there">{say::TWIN_THERE}</p> }.into_any()),
        (true, false) => Some(
            view! {
                <div class="offer">
                    <button type="button" class="button" data-test="add-twin" on:click=add>{say::ADD_TWIN}</button>
                    <p>{say::TWIN_WHY}</p>
                </div>
            }
            .into_any(),
        ),
        _ => None,
    }
}

/// Whether the target has a name, and whether it is there a second time.
fn target_and_twin(draft: &PlanDraft) -> (bool, bool) {
    let brief = &draft.brief;
    let is_named = brief.target().is_some_and(|index| !brief.samples[index].name.trim().is_empty());
    (is_named, brief.samples.iter().any(|sample| sample.role == SampleRole::BlindDuplicate))
}

#[component]
fn WarmUp() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let is_there = Memo::new(move |_| app.plan_draft.with(|draft| draft.brief.warm_up.is_some()));
    let changed = move |event| {
        let ticked = event_target_checked(&event);
        planning::type_into_draft(app, |draft| {
            let named = || PlannedSample::named(say::WARM_UP_DEFAULT, SampleRole::Candidate);
            draft.brief.warm_up = ticked.then(named);
        });
    };
    view! {
        <div class="offer">
            <label class="check"><input type="checkbox" data-test="plan-warm-up" prop:checked=is_there on:change=changed/>{say::WARM_UP}</label>
            <p>{say::WARM_UP_WHY}</p>
            {move || is_there.get().then(|| view! { <WarmUpName/> })}
        </div>
    }
}

#[component]
fn WarmUpName() -> impl IntoView {
    view! {
        <TextField
            label=say::WARM_UP_NAME
            hook="warm-up-name"
            shows=|draft| draft.brief.warm_up.as_ref().map(|sample| sample.name.clone()).unwrap_or_default()
            set=|draft, text| {
                if let Some(sample) = &mut draft.brief.warm_up {
                    sample.name = text;
                }
            }
        />
    }
}
