//! The record of reading: how lines came to their scores, by whom, what the spot check found; and the pages for a second
//! reader.

use crate::browser::page;
use crate::state::AppContext;
use crate::state::session::joining;
use crate::words::scan_pages as say;
use leptos::prelude::*;
use likeness_core::study::PictureRecord;
use likeness_core::write::picture_words::{MEASURED_ON, spot_check, ways};

#[component]
pub fn Record() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let record = Memo::new(move |_| {
        app.plan.with(|plan| app.scanning.desk.with(|desk| Some(desk.as_ref()?.record(plan.as_ref()?))))
    });
    view! {
        <section class="scan-record" data-test="scan-record">
            <h2>{say::RECORD}</h2>
            {move || record.get().map(|record| in_words(&record))}
            <p class="quiet">{MEASURED_ON}</p>
            <p class="not-printed"><button type="button" class="small" on:click=move |_| page::print()>{say::PRINT_RECORD}</button></p>
            <SecondReader/>
        </section>
    }
}

fn in_words(record: &PictureRecord) -> impl IntoView + use<> {
    let line = |[how, rows]: [String; 2]| view! { <tr><th scope="row" class="row-head">{how}</th><td>{rows}</td></tr> };
    let people = record.people().join(", ");
    view! {
        <table class="results">
            <thead><tr><th scope="col" class="row-head">{say::HOW}</th><th scope="col">{say::ROWS}</th></tr></thead>
            <tbody>{ways(record).into_iter().map(line).collect_view()}</tbody>
        </table>
        {(!people.is_empty()).then(|| view! { <p>{say::DECIDED_BY}": "{people}</p> })}
        <p data-test="spot-check">{spot_check(&record.spot_check)}</p>
    }
}

/// Pages drawn for a second reader, each a way to typing it.
#[component]
fn SecondReader() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let pages = Memo::new(move |_| {
        app.scanning.desk.with(|desk| desk.as_ref().map(|desk| desk.pages_to_type())).unwrap_or_default()
    });
    let button = move |(assessor, code): (String, String)| {
        let name = format!("{assessor}, {code}");
        view! { <button type="button" class="small" data-test="type-page" on:click=move |_| joining::type_page(app, &assessor, &code)>{name}</button> }
    };
    move || {
        let pages = pages.get();
        (!pages.is_empty()).then(|| {
            view! {
                <details class="not-printed" data-test="second-reader">
                    <summary>{say::TYPE_SAMPLE}</summary>
                    <p class="quiet">{say::TYPE_SAMPLE_ABOUT}</p>
                    <div class="choices">{pages.into_iter().map(button).collect_view()}</div>
                </details>
            }
        })
    }
}
