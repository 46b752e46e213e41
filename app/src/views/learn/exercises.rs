//! The invented studies, each with exercises whose answers are folded.

use crate::state::AppContext;
use crate::state::learning;
use crate::state::study::demos::{DEMOS, Demo, open_demo};
use crate::words::learning as say;
use crate::words::learning::Exercise;
use leptos::prelude::*;

#[component]
pub fn Studies() -> impl IntoView {
    view! {
        <section>
            <h2>{say::EXPLORE}</h2>
            <p class="note">{say::EXPLORE_INTRO}</p>
            <div class="demo-studies">{DEMOS.iter().map(|demo| view! { <Study demo/> }).collect_view()}</div>
        </section>
    }
}

#[component]
fn Study(demo: &'static Demo) -> impl IntoView {
    let context: AppContext = expect_context();
    let open = move |_| {
        learning::close(context.app);
        open_demo(context.app, demo);
    };
    view! {
        <article class="demo-study">
            <h3>{demo.title}</h3>
            <p>{demo.about}</p>
            <button type="button" class="small" data-test=format!("learn-open-{}", demo.key) on:click=open>
                {say::OPEN_DEMO}<span class="heard">": "{demo.title}</span>
            </button>
            <h4>{say::EXERCISES}</h4>
            <ol class="exercises">{demo.exercises.iter().map(exercise).collect_view()}</ol>
        </article>
    }
}

fn exercise(exercise: &'static Exercise) -> impl IntoView {
    view! {
        <li>
            <p>{exercise.question}</p>
            <details><summary>{say::ANSWER}</summary><p>{exercise.answer}</p></details>
        </li>
    }
}
