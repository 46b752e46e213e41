//! The rest between two samples. It can be cut short, and that is noted.

use super::names::who;
use super::now;
use crate::browser::timers;
use crate::state::AppContext;
use crate::state::session::on_screen_ballot;
use crate::words::on_screen_ballot as say;
use leptos::ev;
use leptos::prelude::*;
use std::time::Duration;

#[component]
pub fn Rest(next: usize) -> impl IntoView {
    let context: AppContext = expect_context();
    let left = RwSignal::new(left_seconds(context));
    // Four times a second, so that the shown second is never long behind.
    timers::every(Duration::from_millis(250), move || left.set(left_seconds(context)));
    let (whole, code) = context.app.on_screen.run.with_untracked(|run| {
        let code = run.as_ref().and_then(|run| run.cups.get(next)).map(|cup| cup.code.clone());
        (run.as_ref().map_or(0, |run| run.rest_seconds), code)
    });
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
            <div class="booth-actions">{move || view! { <GoOn is_over=is_over.get()/> }}</div>
        </section>
    }
}

/// Goes on to the next sample: the main thing to do once the rest is over, quiet before.
#[component]
fn GoOn(is_over: bool) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let (class, hook, label) = if is_over {
        ("booth-button is-main", "end-rest", say::GO_ON)
    } else {
        ("booth-button is-quiet", "end-rest-early", say::GO_ON_EARLY)
    };
    // The second tap of a double one was meant for the button that stood here before.
    let go_on = move |event: ev::MouseEvent| {
        if event.detail() <= 1 {
            on_screen_ballot::end_rest(app, &now());
        }
    };
    view! {
        <button type="button" class=class data-test=hook on:click=go_on>{label}</button>
    }
}

fn left_seconds(context: AppContext) -> u64 {
    context.app.on_screen.run.with_untracked(|run| run.as_ref().map_or(0, |run| run.rest_left_seconds(&now())))
}
