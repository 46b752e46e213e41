//! Before the verdict: what would count as a match is settled first, then the verdict is asked for.

use super::settings::{SettingsFields, decided_line};
use crate::parts::folded::Folded;
use crate::state::AppContext;
use crate::state::study::decisions;
use crate::state::{View, actions};
use crate::words::matching as say;
use leptos::prelude::*;

/// The decisions, and the button that ends them.
#[component]
pub fn DecideFirst() -> impl IntoView {
    let context: AppContext = expect_context();
    let has_target = Memo::new(move |_| {
        context.app.study.with(|study| study.as_ref().is_some_and(|study| study.settings.target.is_some()))
    });
    // What was settled when the scores were opened is not asked for again.
    let is_open = RwSignal::new(!has_target.get_untracked());
    let line: Signal<Option<String>> = decided_line(context).into();
    let (refused, set_refused) = signal(None::<String>);
    let show = move |_| set_refused.set(decisions::show_verdict(context.app).err());
    view! {
        <section class="decide" data-test="decide-first">
            <h2>{say::DECIDE_HEADING}</h2>
            <p class="lead">{say::DECIDE_INTRO}</p>
            <Folded summary=say::WHAT_STANDS hook="decide" conclusion=line open=is_open>
                <SettingsFields list_is_open=true/>
            </Folded>
            <div class="ask">
                <button
                    type="button"
                    class="button is-main"
                    data-test="show-verdict"
                    disabled=move || !has_target.get()
                    on:click=show
                >
                    {say::SHOW_VERDICT}
                </button>
                <span class="quiet">{move || if has_target.get() { say::SHOW_VERDICT_NOTE } else { say::NEEDS_TARGET }}</span>
                {move || refused.get().map(|why| view! { <span class="refused" role="alert">{why}</span> })}
            </div>
        </section>
    }
}

/// Says in another view that nothing is compared with the target yet, and leads to where that is settled.
#[component]
pub fn NotSettledYet() -> impl IntoView {
    let context: AppContext = expect_context();
    let has_study = move || context.app.study.with(Option::is_some);
    move || {
        (has_study() && !context.derived.is_settled.get()).then(|| {
            view! {
                <p class="lead" data-test="not-settled">
                    {say::NO_VERDICT_YET}" "
                    <button type="button" class="link" on:click=move |_| actions::look_at(context.app, View::Match)>
                        {say::TO_DECISIONS}
                    </button>
                </p>
            }
        })
    }
}
