//! The start: the job in a sentence, three ways to open something, an invented study to explore.

use super::saved_studies::SavedOnStart;
use crate::state::AppContext;
use crate::state::learning;
use crate::state::plan::{planning, short_tests};
use crate::state::study::demos::{DEMOS, open_demo};
use crate::state::study::opening;
use crate::views::open_button::OpenButton;
use crate::words;
use leptos::prelude::*;

#[component]
pub fn Start() -> impl IntoView {
    view! {
        <div class="start">
            <h1>{words::JOB}</h1>
            <p class="lead">{words::JOB_MORE}</p>
            <WayByFile/>
            <WayByPlan/>
            <WayByDemo/>
            <SavedOnStart/>
            <div class="start-notes">
                <FileLooks/>
                <section>
                    <h2>{words::start::GOOD_TO_KNOW}</h2>
                    <ul class="cautions">
                        <li>{words::NOTHING_LEAVES}</li>
                        {words::start::CAUTIONS.into_iter().map(|caution| view! { <li>{caution}</li> }).collect_view()}
                    </ul>
                </section>
            </div>
        </div>
    }
}

/// Scores from a file, or pasted.
#[component]
fn WayByFile() -> impl IntoView {
    let context: AppContext = expect_context();
    // A paste by menu or touch arrives here; one by keyboard is caught before.
    let typed = move |event| {
        let text = event_target_value(&event);
        if text.contains('\n') {
            opening::open_pasted(context.app, &text);
        }
    };
    view! {
        <div class="ways">
            <OpenButton label=|| words::start::OPEN_FILE is_main=true/>
            <p>{words::start::DROP_OR_PASTE}</p>
            <textarea
                class="paste"
                rows="1"
                data-test="paste"
                data-takes-tables=""
                aria-label=words::start::PASTE_LABEL
                placeholder=words::start::PASTE_PLACEHOLDER
                on:input=typed
            ></textarea>
        </div>
    }
}

#[component]
fn WayByPlan() -> impl IntoView {
    let context: AppContext = expect_context();
    let is_begun = Memo::new(move |_| {
        context.app.plan.with(Option::is_some) || !context.app.plan_draft.with(|draft| draft.is_blank())
    });
    view! {
        <div class="ways">
            <button type="button" class="button" data-test="plan-a-tasting" on:click=move |_| planning::start(context.app)>
                {move || if is_begun.get() { words::plan::GO_ON } else { words::plan::START }}
            </button>
            <p>
                {words::plan::START_ABOUT}" "
                <button type="button" class="link" data-test="short-test" on:click=move |_| short_tests::start(context.app)>
                    {words::plan::SHORT_TEST}
                </button>
            </p>
        </div>
    }
}

#[component]
fn WayByDemo() -> impl IntoView {
    let context: AppContext = expect_context();
    view! {
        <div class="ways">
            <button type="button" class="button" data-test="open-demo" on:click=move |_| open_demo(context.app, &DEMOS[0])>
                {words::start::DEMO}
            </button>
            <p>
                {words::start::DEMO_ABOUT}" "
                <button type="button" class="link" data-test="more-demos" on:click=move |_| learning::open(context.app)>
                    {words::start::MORE_DEMOS}
                </button>
            </p>
        </div>
    }
}

/// The two shapes of a score file, by example.
#[component]
fn FileLooks() -> impl IntoView {
    view! {
        <section>
            <h2>{words::start::FILE_LOOKS}</h2>
            <p>{words::start::FILE_LOOKS_INTRO}</p>
            <div class="examples">
                <Example title=words::start::WIDE_TITLE rows=&words::start::WIDE_EXAMPLE/>
                <Example title=words::start::LONG_TITLE rows=&words::start::LONG_EXAMPLE/>
            </div>
        </section>
    }
}

#[component]
fn Example(title: &'static str, rows: &'static [&'static [&'static str]]) -> impl IntoView {
    let (head, body) = rows.split_first().unwrap_or((&(&[] as &[&str]), &[]));
    view! {
        <table class="example">
            <caption>{title}</caption>
            <thead><tr>{head.iter().map(|cell| view! { <th scope="col">{*cell}</th> }).collect_view()}</tr></thead>
            <tbody>
                {body.iter().map(|row| view! {
                    <tr>{row.iter().map(|cell| view! { <td>{*cell}</td> }).collect_view()}</tr>
                }).collect_view()}
            </tbody>
        </table>
    }
}
