//! What words for the whole rest on: associations with single characters, never causes.

use crate::parts::disclosure::HelpOn;
use crate::parts::folded::Folded;
use crate::parts::table::TableView;
use crate::state::AppContext;
use crate::state::Shared;
use crate::tables;
use crate::words;
use crate::words::matching as say;
use leptos::prelude::*;
use likeness_core::stats::Defined;
use likeness_core::stats::r#match::integrated_attributes::{IntegratedExplained, integrated_explained};
use likeness_core::study::AttributeKind;

/// Steady associations that are said in words; the table holds the rest.
const SAID_AT_MOST: usize = 4;

#[component]
pub fn RestsOn() -> impl IntoView {
    let context: AppContext = expect_context();
    let has_any = Memo::new(move |_| {
        context.app.study.with(|study| {
            study.as_ref().is_some_and(|study| {
                let mut active = study.active_attributes().into_iter();
                active.any(|index| study.attributes[index].kind == AttributeKind::Integrated)
            })
        })
    });
    let found: Memo<Option<Shared<Defined<Vec<IntegratedExplained>>>>> = Memo::new(move |_| {
        has_any.get().then_some(())?;
        context.derived.tasted.with(|study| study.as_ref().map(|study| Shared::new(integrated_explained(study))))
    });
    move || match found.get().as_deref() {
        None => view! { <p class="quiet">{say::NONE_INTEGRATED}</p> }.into_any(),
        Some(Err(reason)) => view! { <p class="quiet">{reason.to_string()}</p> }.into_any(),
        Some(Ok(all)) => view! {
            <section class="integrated" data-test="integrated">
                {all.iter().cloned().map(|one| view! { <Explained one/> }).collect_view()}
                <HelpOn help=&words::help::INTEGRATED/>
            </section>
        }
        .into_any(),
    }
}

#[component]
fn Explained(one: IntegratedExplained) -> impl IntoView {
    let sentences: Vec<String> = one
        .associations
        .iter()
        .filter(|association| association.is_steady)
        .take(SAID_AT_MOST)
        .map(|association| association.sentence.clone())
        .collect();
    let none = sentences.is_empty();
    let heading = say::goes_with(&one.attribute);
    let table = Signal::derive(move || Some(tables::integrated::integrated(&one)));
    view! {
        <h2>{heading}</h2>
        <ul class="said-list">{sentences.into_iter().map(|sentence| view! { <li>{sentence}</li> }).collect_view()}</ul>
        {none.then(|| view! { <p class="quiet">{say::NONE_STEADY}</p> })}
        <Folded summary=say::ATTRIBUTE_BY_ATTRIBUTE>
            <TableView table/>
        </Folded>
    }
}
