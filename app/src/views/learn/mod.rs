//! Learn and check: invented studies with exercises, the keys, published figures recomputed on this machine, licences.

mod checks;
mod exercises;
mod keys;
mod licences;

use crate::state::AppContext;
use crate::state::learning;
use crate::words::learning as say;
use leptos::prelude::*;

#[component]
pub fn Learn() -> impl IntoView {
    let context: AppContext = expect_context();
    view! {
        <div class="learn" data-test="learn">
            <div class="part-head">
                <h1>{say::LEARN}</h1>
                <button type="button" class="small" data-test="learn-back" on:click=move |_| learning::close(context.app)>
                    {say::BACK}
                </button>
            </div>
            <p class="lead">{say::LEARN_INTRO}</p>
            <exercises::Studies/>
            <keys::Keys/>
            <checks::Checks/>
            <licences::Licences/>
        </div>
    }
}
