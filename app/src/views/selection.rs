//! What is selected, in the header: it holds in every view.

use crate::parts::selection::Selection;
use crate::state::AppContext;
use crate::state::actions;
use crate::words::matching as say;
use leptos::prelude::*;

/// Hands the selection down to all figures and tables.
pub fn provide_selection(context: AppContext) {
    let names = Memo::new(move |_| {
        context.derived.analysis.with(|analysis| {
            let Some(analysis) = analysis else { return Vec::new() };
            let attributes = analysis.attributes.iter().map(|attribute| attribute.attribute.clone());
            analysis.samples.iter().cloned().chain(attributes).collect()
        })
    });
    provide_context(Selection {
        sample: context.derived.selected_sample,
        attribute: context.derived.selected_attribute,
        names,
        clicked: Callback::new(move |name: String| actions::select(context.app, &name)),
        attribute_clicked: Callback::new(move |name: String| actions::keep_attribute(context.app, &name)),
    });
}

/// The selected sample and attribute, with a way to select nothing.
#[component]
pub fn Marked() -> impl IntoView {
    let context: AppContext = expect_context();
    let names = Memo::new(move |_| {
        let attribute = context.app.selected_attribute_kept.get();
        let attribute = attribute.filter(|_| context.derived.selected_attribute.with(Option::is_some));
        context.derived.selected_sample.get().into_iter().chain(attribute).collect::<Vec<_>>()
    });
    move || {
        let names = names.get();
        (!names.is_empty()).then(|| {
            view! {
                <span class="marked" data-test="marked">
                    <span class="quiet">{say::MARKED}</span>
                    {names.into_iter().map(|name| view! { <strong>{name}</strong> }).collect_view()}
                    <button type="button" class="link" data-test="unmark" on:click=move |_| actions::select_nothing(context.app)>
                        {say::UNMARK}
                    </button>
                </span>
            }
        })
    }
}
