//! Scores: what was loaded, what was said about it, what is left out, and the marks themselves.

use super::Desk;
use super::exclusions::{Exclusions, LeaveOut};
use crate::parts::notices::NoticeList;
use crate::words;
use crate::words::reading as say;
use leptos::prelude::*;
use likeness_core::study::Study;

/// Servings on one page of the table of marks.
const SERVINGS_A_PAGE: usize = 60;

#[component]
pub fn Scores() -> impl IntoView {
    let desk: Desk = expect_context();
    let notices = Memo::new(move |_| {
        let mut notices = desk.ground.study.with(|study| study.as_ref().map(|s| s.notices.clone())).unwrap_or_default();
        desk.derived.analysis.with(|analysis| notices.extend(analysis.iter().flat_map(|a| a.notices.clone())));
        notices
    });
    view! {
        <div class="scores">
            <h1 class="heard">{words::SCORES}</h1>
            <section>
                <h2>{words::NOTICES}</h2>
                <NoticeList notices/>
            </section>
            <section>
                <h2>{words::LEFT_OUT}</h2>
                <Exclusions/>
                <LeaveOut/>
            </section>
            <Marks/>
        </div>
    }
}

/// The marks, a page of servings at a time.
#[component]
fn Marks() -> impl IntoView {
    let desk: Desk = expect_context();
    let (page, set_page) = signal(0_usize);
    let count =
        Memo::new(move |_| desk.ground.study.with(|study| study.as_ref().map_or(0, |study| study.servings.len())));
    let pages = move || count.get().div_ceil(SERVINGS_A_PAGE).max(1);
    let here = move || page.get().min(pages() - 1);
    let table = move || desk.ground.study.with(|study| study.as_ref().map(|study| marks_table(study, here())));
    let scores = move || desk.ground.study.with(|study| study.as_ref().map_or(0, Study::score_count));
    view! {
        <section>
            <div class="part-head">
                <h2>{words::MARKS}": "{move || say::scores_in_all(scores())}</h2>
                <div class="tools">
                    <button type="button" class="small" disabled=move || here() == 0 on:click=move |_| set_page.set(here().saturating_sub(1))>
                        {words::EARLIER}
                    </button>
                    <span class="quiet">{move || words::page_of(here() + 1, pages())}</span>
                    <button type="button" class="small" disabled={move || here() + 1 >= pages()} on:click=move |_| set_page.set(here() + 1)>
                        {words::LATER}
                    </button>
                </div>
            </div>
            <div class="table-place" tabindex="0" role="region" aria-label=words::MARKS>{table}</div>
        </section>
    }
}

fn marks_table(study: &Study, page: usize) -> impl IntoView + use<> {
    let has_sessions = !study.sessions.is_empty();
    let has_positions = study.servings.iter().any(|serving| serving.position.is_some());
    let attributes = study.attributes.iter().map(|attribute| view! { <th scope="col">{attribute.name.clone()}</th> });
    let first = page * SERVINGS_A_PAGE;
    let rows = (first..study.servings.len()).take(SERVINGS_A_PAGE).map(|index| {
        let serving = &study.servings[index];
        let assessor = study.assessors[serving.assessor as usize].name.clone();
        let sample = study.samples[serving.sample as usize].name.clone();
        let session = serving.session.and_then(|session| study.sessions.get(session as usize)).cloned();
        let marks = (0..study.attributes.len()).map(|attribute| mark_cell(study, index, attribute));
        view! {
            <tr>
                <th scope="row" class="row-head">{assessor}</th>
                <td class="name-cell">{sample}</td>
                <td class="number">{serving.replicate.to_string()}</td>
                {has_sessions.then(|| view! { <td>{session}</td> })}
                {has_positions.then(|| view! { <td class="number">{serving.position.map(|position| position.to_string())}</td> })}
                {marks.collect_view()}
            </tr>
        }
    });
    view! {
        <table class="results marks">
            <thead>
                <tr>
                    <th scope="col" class="row-head">{words::ASSESSOR}</th>
                    <th scope="col">{words::SAMPLE}</th>
                    <th scope="col">{words::REPLICATE}</th>
                    {has_sessions.then(|| view! { <th scope="col">{words::SESSION}</th> })}
                    {has_positions.then(|| view! { <th scope="col">{words::POSITION}</th> })}
                    {attributes.collect_view()}
                </tr>
            </thead>
            <tbody>{rows.collect_view()}</tbody>
        </table>
    }
}

/// A mark with the place it came from; struck through where it is left out.
fn mark_cell(study: &Study, serving: usize, attribute: usize) -> impl IntoView + use<> {
    let from = study.origin(serving, attribute).filter(|origin| origin.row > 0);
    let title = from.map(|origin| say::row_and_column(Some(origin.row), Some(u32::from(origin.column))));
    let class = if super::exclusions::is_hidden(study, serving, attribute) { "number is-hidden" } else { "number" };
    match study.score(serving, attribute) {
        Some(score) => view! { <td class=class title=title>{words::number(score)}</td> }.into_any(),
        None => view! { <td class="missing" title=title>"\u{2013}"</td> }.into_any(),
    }
}
