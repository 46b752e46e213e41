//! Reasons that were noted at the tasting, offered where something is left out. A reason that is older than the result
//! is the best there is: it is offered, not filled in.

use crate::state::AppContext;
use crate::state::session::session_record::reasons_for;
use crate::words::session_record::FROM_THE_RECORD;
use leptos::prelude::*;
use likeness_core::study::{ExclusionScope, Study};

/// Buttons that put a noted reason into the field; nothing where nothing was noted.
#[component]
pub fn NotedReasons(
    #[prop(into)] scopes: Signal<Vec<ExclusionScope>>,
    set_reason: WriteSignal<String>,
) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let noted = Memo::new(move |_| {
        let scopes = scopes.get();
        app.study.with(|study| study.as_ref().map(|study| reasons_noted(study, &scopes))).unwrap_or_default()
    });
    let offer = move |reason: String| {
        let text = reason.clone();
        view! { <button type="button" class="small" data-test="noted-reason" on:click=move |_| set_reason.set(reason.clone())>{text}</button> }
    };
    move || {
        let noted = noted.get();
        (!noted.is_empty()).then(|| {
            view! { <p class="choices">{FROM_THE_RECORD}{noted.into_iter().map(offer).collect_view()}</p> }
        })
    }
}

/// Each reason once, in the order of the scopes.
fn reasons_noted(study: &Study, scopes: &[ExclusionScope]) -> Vec<String> {
    let mut noted: Vec<String> = Vec::new();
    for reason in scopes.iter().flat_map(|scope| reasons_for(study, *scope)) {
        if !noted.contains(&reason) {
            noted.push(reason);
        }
    }
    noted
}
