//! The rest between two samples. It can be cut short, and that is noted.

use super::names::who;
use super::now;
use crate::browser::timers;
use crate::state::AppContext;
use crate::state::session::on_screen_ballot;
use crate::words::on_screen_ballot as say;
use leptos::prelude::*;
use std::time::Duration;

#[component]
pub fn Rest(next: usize) -> impl IntoView {
    let context: AppContext = expect_context();
    let run = context.app.on_screen.run;
    let left = RwSignal::new(left_seconds(context));
    // Four times a second, so that the shown second is never long behind.
    timers::every(Duration::from_millis(250), move || left.set(left_seconds(context)));
    let whole = run.with_untracked(|run| run.as_ref().map_or(0, |run| run.rest_seconds));
    let code = run.with_untracked(|run| run.as_ref().and_then(|run| run.cups.get(next)).map(|cup| cup.code.clone()));
    let is_over = Memo::new(move |_| left.get() == 0);
    view! {
        <section class="booth-card" data-test="booth-rest">
            <p>{move || who(context)}</p>
            <h1 tabindex="-1">{say::REST_TITLE}</h1>
            <p>{say::REST_ABOUT}</p>
            <p class="booth-time" aria-hidden="true">{move || say::minutes(left.get())}</p>
            <progress max=whole.to_string() value=move || u64::from(whole).saturating_sub(left.get()).to_string() aria-label=say::REST_TITLE></progress>
            <p role="status">{move || is_over.get().then_some(say::REST_OVER)}</p>
            <p>{say::NEXT_SAMPLE}": "<strong class="booth-code">{code}</strong></p>
            <div class="booth-actions">
                {move || if is_over.get() {
                    view! { <button type="button" class="booth-button is-main" data-test="end-rest" on:click=move |_| on_screen_ballot::end_rest(context.app, &now())>{say::GO_ON}</button> }.into_any()
                } else {
                    view! { <button type="button" class="booth-button is-quiet" data-test="end-rest-early" on:click=move |_| on_screen_ballot::end_rest(context.app, &now())>{say::GO_ON_EARLY}</button> }.into_any()
                }}
            </div>
        </section>
    }
}

fn left_seconds(context: AppContext) -> u64 {
    context.app.on_screen.run.with_untracked(|run| run.as_ref().map_or(0, |run| run.rest_left_seconds(&now())))
}
