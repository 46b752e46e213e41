//! How far long work has come, with a way to stop it and to start it. Nothing once it is done.

use crate::parts::long_work::{LongWork, Progress};
use crate::words::matching as say;
use leptos::prelude::*;

#[component]
pub fn WorkLine<T: Send + Sync + 'static>(
    work: LongWork<T>,
    /// Hook for tests.
    name: &'static str,
    /// What is being done.
    doing: &'static str,
    /// Why the result is not defined, as a sentence.
    not_defined: fn(&str) -> String,
    /// What the button that starts says.
    start_words: &'static str,
    #[prop(into)] start: Callback<()>,
) -> impl IntoView {
    move || {
        match work.progress() {
        Progress::Nothing | Progress::Stopped(_) => view! {
            <p>
                <button type="button" class="button" data-test=name on:click=move |_| start.run(())>{start_words}</button>
            </p>
        }
        .into_any(),
        Progress::Running(reached) => view! {
            <p class="quiet">
                {say::doing(doing, reached.done, reached.wanted)}" "
                <button type="button" class="link" on:click=move |_| work.drop_result()>{say::STOP}</button>
            </p>
        }
        .into_any(),
        Progress::NotDefined(reason) => view! { <p class="quiet">{not_defined(&reason.because)}</p> }.into_any(),
        Progress::Found(_) => ().into_any(),
    }
    }
}
