//! Leaving somebody or something out for a stated reason, where it was found.

use crate::state::AppContext;
use crate::state::study::exclusions::exclude_together;
use crate::words::panel as say;
use leptos::prelude::*;
use likeness_core::study::{ExclusionScope, Study};
use std::sync::Arc;

/// What is left out, by the study as it is when the button is pressed.
pub type Scopes = Arc<dyn Fn(&Study) -> Vec<ExclusionScope> + Send + Sync>;

/// A reason and the button; `lead` stands before them in the same line.
#[component]
pub fn LeaveOutForm(
    /// Reason that is offered.
    reason: String,
    scopes: Scopes,
    #[prop(optional)] lead: Option<AnyView>,
) -> impl IntoView {
    let context: AppContext = expect_context();
    let (reason, set_reason) = signal(reason);
    let (refused, set_refused) = signal(None::<String>);
    let leave_out = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let scopes = context.app.study.with_untracked(|study| study.as_ref().map(|study| scopes(study)));
        set_refused.set(exclude_together(context.app, &scopes.unwrap_or_default(), &reason.get_untracked()).err());
    };
    view! {
        <form class="change-line" on:submit=leave_out>
            {lead}
            <label class="field">
                <span>{say::LEAVE_OUT_BECAUSE}</span>
                <input
                    type="text"
                    data-test="slip-reason"
                    prop:value=reason
                    on:input=move |event| set_reason.set(event_target_value(&event))
                />
            </label>
            <button type="submit" class="button" data-test="slip-leave-out">{say::LEAVE_OUT}</button>
        </form>
        {move || refused.get().map(|why| view! { <p class="refused" role="alert">{why}</p> })}
    }
}
