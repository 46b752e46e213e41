//! What is marked, in the header: it holds in every view.

use super::Desk;
use crate::parts::marking::Marking;
use crate::state::actions;
use crate::words::matching as say;
use leptos::prelude::*;

/// Hands the marks down to all figures and tables.
pub fn provide_marking(desk: Desk) {
    let names = Memo::new(move |_| {
        desk.derived.analysis.with(|analysis| {
            let Some(analysis) = analysis else { return Vec::new() };
            let attributes = analysis.attributes.iter().map(|attribute| attribute.attribute.clone());
            analysis.samples.iter().cloned().chain(attributes).collect()
        })
    });
    provide_context(Marking {
        sample: desk.derived.marked_sample,
        attribute: desk.derived.marked_attribute,
        names,
        clicked: Callback::new(move |name: String| actions::mark(desk.ground, &name)),
        attribute_clicked: Callback::new(move |name: String| actions::keep_attribute(desk.ground, &name)),
    });
}

/// The marked sample and the attribute that stays marked, with a way to take the marks away.
#[component]
pub fn Marked() -> impl IntoView {
    let desk: Desk = expect_context();
    let names = Memo::new(move |_| {
        let attribute = desk.ground.kept_attribute.get();
        let attribute = attribute.filter(|_| desk.derived.marked_attribute.with(Option::is_some));
        desk.derived.marked_sample.get().into_iter().chain(attribute).collect::<Vec<_>>()
    });
    move || {
        let names = names.get();
        (!names.is_empty()).then(|| {
            view! {
                <span class="marked" data-test="marked">
                    <span class="quiet">{say::MARKED}</span>
                    {names.into_iter().map(|name| view! { <strong>{name}</strong> }).collect_view()}
                    <button type="button" class="link" data-test="unmark" on:click=move |_| actions::unmark(desk.ground)>
                        {say::UNMARK}
                    </button>
                </span>
            }
        })
    }
}
