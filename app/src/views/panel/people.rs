//! Each person beside the others: three bars, a tag, which verdict hangs on them, and what can be done.

use super::leave_out::LeaveOutForm;
use super::raw_scores::{Close, PLACE_ID};
use crate::browser::{clipboard, page};
use crate::parts::numerals::readable;
use crate::state::{AppContext, Shared};
use crate::words::panel as say;
use leptos::prelude::*;
use likeness_core::catalogue::r#match::LeaveOneOut;
use likeness_core::catalogue::{Entry, Statistic};
use likeness_core::stats::Analysis;
use likeness_core::stats::panel::people::{Person, Standing};
use likeness_core::stats::panel::performance::PanelPerformance;
use likeness_core::study::ExclusionScope;
use likeness_core::tables::panel::people::{
    Figure, figure_in_words, figures_in_words, gauge, hangs_on, others_in_words, standing,
};
use std::sync::Arc;

/// One row a person, whoever is unlike the others first.
#[component]
pub fn People() -> impl IntoView {
    let context: AppContext = expect_context();
    Effect::new(move |_| {
        if let Some(entry) = Entry::named(LeaveOneOut::ABOUT.id).filter(|_| context.derived.is_settled.get()) {
            context.findings.start_unasked(entry);
        }
    });
    let rows = move || {
        let (analysis, panel) = (context.derived.analysis.get()?, context.derived.panel.get()?);
        let mut places: Vec<usize> = (0..panel.people.len()).collect();
        places.sort_by_key(|at| panel.people[*at].standing != Standing::UnlikeTheOthers);
        let row = |at: usize| view! { <Row analysis=analysis.clone() panel=panel.clone() at/> };
        Some(places.into_iter().map(row).collect_view())
    };
    let heads = Figure::ALL.map(|figure| view! { <span>{figure.head()}</span> });
    view! {
        <div class="people" data-test="people">
            <p class="person people-heads" aria-hidden="true">
                <span></span>
                <span></span>
                {heads.collect_view()}
                <span></span>
                <span></span>
            </p>
            <ul>{rows}</ul>
        </div>
    }
}

#[component]
fn Row(analysis: Shared<Analysis>, panel: Shared<PanelPerformance>, at: usize) -> impl IntoView {
    let context: AppContext = expect_context();
    let Some(person) = panel.people.get(at).cloned() else { return ().into_any() };
    let name = person.assessor.clone();
    let own = name.clone();
    let hangs = move || {
        let found = context.findings.found::<LeaveOneOut>()?;
        let without = found.without.iter().find(|one| one.assessor == own)?;
        hangs_on(without).map(|moved| say::without(&moved))
    };
    let (tag, said) = (person.standing, standing(person.standing));
    let question = say::question(&person.assessor, &figures_in_words(&analysis, &person));
    let bars = Figure::ALL.map(|figure| view! { <Bar analysis=analysis.clone() panel=panel.clone() at figure/> });
    view! {
        <li class="person" data-test="person" data-standing=standing_hook(tag)>
            <strong>{name}</strong>
            <span class="standing">{said}</span>
            {bars.collect_view()}
            <span class="hangs" data-test="hangs">{hangs}</span>
            <Tools question person/>
        </li>
    }
    .into_any()
}

fn standing_hook(standing: Standing) -> &'static str {
    match standing {
        Standing::LikeTheOthers => "like",
        Standing::UnlikeTheOthers => "unlike",
        Standing::TooFewCups => "too-few",
    }
}

/// Where the person stands on the bar of the panel, the others shaded.
#[component]
fn Bar(analysis: Shared<Analysis>, panel: Shared<PanelPerformance>, at: usize, figure: Figure) -> impl IntoView {
    let Some(person) = panel.people.get(at) else { return ().into_any() };
    let one = figure.of(person);
    let scale = analysis.scale_maximum;
    let said = figure_in_words(one, figure, scale, &analysis.unit);
    let beside = others_in_words(one, figure, scale);
    let bar = gauge(&panel, person, figure).map(|gauge| {
        view! {
            <span class="gauge" aria-hidden="true">
                <span class="gauge-others" style:left=say::hundredths(gauge.others) style:width=say::hundredths(gauge.others_width)></span>
                <span class="gauge-own" style:left=say::hundredths(gauge.value)></span>
            </span>
        }
    });
    let is_reason = one.value.is_err();
    view! {
        <span class="bar" data-standing=standing_hook(one.standing)>
            <span class="heard">{figure.head()}": "</span>
            <span class:quiet=is_reason>{readable(said)}</span>
            {bar}
            <span class="heard">{beside.map(readable)}</span>
        </span>
    }
    .into_any()
}

/// Marks, Ask, Leave out because.
#[component]
fn Tools(person: Person, question: String) -> impl IntoView {
    let close: Close = expect_context();
    let (said, set_said) = signal("");
    let (is_open, set_is_open) = signal(false);
    let name = person.assessor.clone();
    let marks = move |_| {
        close.look(Some(&name), None);
        page::bring(PLACE_ID);
    };
    let ask = move |_| {
        let copied = move |copied| set_said.set(if copied { say::QUESTION_COPIED } else { say::QUESTION_REFUSED });
        clipboard::copy(question.clone(), copied);
    };
    let name = person.assessor;
    let form = move || {
        let name = name.clone();
        let scopes = Arc::new(move |study: &likeness_core::study::Study| {
            let place = study.assessors.iter().position(|one| one.name == name);
            place.map(ExclusionScope::Assessor).into_iter().collect()
        });
        is_open.get().then(|| view! { <LeaveOutForm reason=String::new() scopes/> })
    };
    view! {
        <span class="person-tools">
            <button type="button" class="small" data-test="person-marks" on:click=marks>{say::MARKS}</button>
            <button type="button" class="small" data-test="person-ask" title=say::ASK_TITLE on:click=ask>{say::ASK}</button>
            <button
                type="button"
                class="small"
                data-test="person-leave-out"
                aria-expanded=move || is_open.get().to_string()
                on:click=move |_| set_is_open.update(|open| *open = !*open)
            >
                {say::LEAVE_OUT_BECAUSE}
            </button>
            <span class="said" role="status">{said}</span>
        </span>
        <div class="person-form">{form}</div>
    }
}
