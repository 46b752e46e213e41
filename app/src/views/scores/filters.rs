//! Which scores are shown: by person, sample, replicate, session, attribute, and by what is peculiar about them.

use super::scores_table::{ScoreTools, ShownScores};
use crate::state::AppContext;
use crate::state::study::score_rows::{Condition, ScoreFilter};
use crate::state::study::scores_shown::change_filter;
use crate::words;
use crate::words::scores as say;
use leptos::prelude::*;
use likeness_core::study::Study;

/// What each filter may be set to.
type Names = Vec<String>;

#[component]
pub fn ScoreFilters() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let shown: ShownScores = expect_context();
    let all = Memo::new(move |_| app.study.with(|study| study.as_ref().map_or(0, |s| s.servings.len())));
    let count = move || say::pages_shown(shown.servings.with(Vec::len), all.get());
    let is_filtered = Memo::new(move |_| app.scores_shown.with(|shown| shown.filter != ScoreFilter::default()));
    view! {
        <div class="part-head">
            <h2>{say::EVERY_SCORE}</h2>
            <div class="part-tools">
                <p class="quiet" role="status" data-test="pages-shown">{count}</p>
                <ScoreTools/>
            </div>
        </div>
        <div class="fields mark-filters" role="group" aria-label=say::FILTERS>
            <ByName/>
            <Conditions/>
            {move || is_filtered.get().then(|| view! {
                <button type="button" class="small" data-test="filter-none" on:click=move |_| change_filter(app, |filter| *filter = ScoreFilter::default())>
                    {say::SHOW_ALL}
                </button>
            })}
        </div>
    }
}

/// One choice for each thing that names a score.
#[component]
fn ByName() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let has_sessions = Memo::new(move |_| app.study.with(|s| s.as_ref().is_some_and(|s| !s.sessions.is_empty())));
    view! {
        <Choice name="filter-assessor" label=words::ASSESSOR names=|study| names_of(study.assessors.iter().map(|one| &one.name))
            get=|filter| filter.assessor set=|filter, index| filter.assessor = index/>
        <Choice name="filter-sample" label=words::SAMPLE names=|study| names_of(study.samples.iter().map(|one| &one.name))
            get=|filter| filter.sample set=|filter, index| filter.sample = index/>
        <Choice name="filter-replicate" label=words::REPLICATE names=replicates
            get=|filter| filter.replicate.map(|replicate| replicate as usize - 1)
            set=|filter, index| filter.replicate = index.map(|index| index as u32 + 1)/>
        {move || has_sessions.get().then(|| view! {
            <Choice name="filter-session" label=words::SESSION names=|study| study.sessions.clone()
                get=|filter| filter.session set=|filter, index| filter.session = index/>
        })}
        <Choice name="filter-attribute" label=likeness_core::tables::words::ATTRIBUTE names=|study| names_of(study.attributes.iter().map(|one| &one.name))
            get=|filter| filter.attribute set=|filter, index| filter.attribute = index/>
    }
}

#[component]
fn Choice(
    name: &'static str,
    label: &'static str,
    names: fn(&Study) -> Names,
    get: fn(&ScoreFilter) -> Option<usize>,
    set: fn(&mut ScoreFilter, Option<usize>),
) -> impl IntoView {
    let context: AppContext = expect_context();
    let names = Memo::new(move |_| context.app.study.with(|study| study.as_ref().map(names)).unwrap_or_default());
    let chosen = Memo::new(move |_| context.app.scores_shown.with(|shown| get(&shown.filter)));
    let option = move |(place, text): (usize, String)| {
        view! { <option value=place.to_string() prop:selected=move || chosen.get() == Some(place)>{text}</option> }
    };
    view! {
        <label class="field">
            <span>{label}</span>
            <select data-test=name on:change=move |event| change_filter(context.app, |filter| set(filter, event_target_value(&event).parse().ok()))>
                <option value="" prop:selected=move || chosen.get().is_none()>{say::ALL}</option>
                {move || names.get().into_iter().enumerate().map(option).collect_view()}
            </select>
        </label>
    }
}

#[component]
fn Conditions() -> impl IntoView {
    let context: AppContext = expect_context();
    let chosen = Memo::new(move |_| context.app.scores_shown.with(|shown| shown.filter.condition));
    let chip = move |condition: Option<Condition>| {
        let text = condition.map_or(say::ANY, Condition::in_words);
        view! {
            <button
                type="button"
                class="chip"
                data-test=format!("only-{}", text.replace(' ', "-"))
                aria-pressed=move || (chosen.get() == condition).to_string()
                on:click=move |_| change_filter(context.app, |filter| filter.condition = condition)
            >
                {text}
            </button>
        }
    };
    let all = std::iter::once(None).chain(Condition::ALL.into_iter().map(Some));
    view! {
        <div class="field">
            <span id="conditions-label">{say::CONDITIONS}</span>
            <div class="chips" role="group" aria-labelledby="conditions-label">{all.map(chip).collect_view()}</div>
        </div>
    }
}

fn names_of<'a>(names: impl Iterator<Item = &'a String>) -> Names {
    names.cloned().collect()
}

fn replicates(study: &Study) -> Names {
    (1..=study.replicate_count()).map(|replicate| replicate.to_string()).collect()
}
