//! What stands around every view: the state of the study, the views in the order of the work, undo, messages.

use super::open;
use super::start::saved_studies::SavedMenu;
use crate::browser::files;
use crate::state::AppContext;
use crate::state::plan::planning;
use crate::state::study::opening;
use crate::state::{View, actions, learning};
use crate::words;
use leptos::html;
use leptos::prelude::*;
use likeness_core::notice::Severity;
use likeness_core::study::Study;

#[component]
pub fn Header() -> impl IntoView {
    let context: AppContext = expect_context();
    let has_study = Memo::new(move |_| context.app.study.with(Option::is_some));
    let is_reading = Memo::new(move |_| context.derived.is_reading());
    let is_planning =
        Memo::new(move |_| context.app.view.get() == View::Plan || context.app.plan.with(Option::is_some));
    view! {
        <header class="top">
            <div class="top-line">
                <p class="name">{words::NAME}</p>
                {move || has_study.get().then(|| view! { <StudyState/> })}
                {move || has_study.get().then(|| view! { <StudyTools/> })}
                {move || (!has_study.get() && is_planning.get()).then(|| view! { <StartTools/> })}
                <LearnButton/>
            </div>
            {move || ((has_study.get() || is_planning.get()) && !is_reading.get()).then(|| view! { <Views/> })}
        </header>
    }
}

#[component]
fn LearnButton() -> impl IntoView {
    let context: AppContext = expect_context();
    let is_open = context.app.learning.is_open;
    let press =
        move |_| if is_open.get_untracked() { learning::close(context.app) } else { learning::open(context.app) };
    view! {
        <button type="button" class="small learn-button" data-test="learn-open" aria-pressed=move || is_open.get().to_string() on:click=press>
            {by_width([words::learning::LEARN, words::learning::LEARN_SHORT])}
        </button>
    }
}

/// The longer of two texts where there is room, the shorter on a phone.
pub fn by_width<T: IntoView + 'static>([long, short]: [T; 2]) -> impl IntoView {
    view! { <span class="where-wide">{long}</span><span class="where-narrow">{short}</span> }
}

/// Picks one file or several; looks like a button.
#[component]
pub fn OpenButton(#[prop(into)] label: ViewFn, #[prop(optional)] is_main: bool) -> impl IntoView {
    let context: AppContext = expect_context();
    let input: NodeRef<html::Input> = NodeRef::new();
    let picked = move |_| {
        if let Some(input) = input.get_untracked() {
            open(context.app, files::picked(&input));
        }
    };
    view! {
        <label class=if is_main { "button is-main" } else { "button" }>
            <input type="file" multiple=true class="heard" node_ref=input accept=words::FILE_KINDS data-test="open-file" on:change=picked/>
            <span>{label.run()}</span>
        </label>
    }
}

/// A message that stays until it is put away, and why a file was not opened.
#[component]
pub fn Messages() -> impl IntoView {
    let context: AppContext = expect_context();
    let unreadable = move || {
        if !context.derived.file_is_unreadable() {
            return None;
        }
        let name = context.app.opened.with(|opened| opened.as_ref().map(|opened| opened.names()))?;
        let notices =
            context.derived.reading.with(|reading| reading.as_ref().map(|reading| reading.notices.clone()))?;
        let is_open = context.app.study.with(Option::is_some);
        Some(view! {
            <div class="message is-refused" role="alert" data-test="error-message">
                <div>
                    <p class="what">{name}" "{words::opening::NOT_OPENED}</p>
                    {notices.into_iter().map(|notice| view! {
                        <p><span>{notice.what}</span>" "<span class="hint">{notice.hint}</span></p>
                    }).collect_view()}
                    {is_open.then(|| view! { <p>{words::opening::OPEN_STUDY_UNTOUCHED}</p> })}
                </div>
                <button type="button" class="small" on:click=move |_| opening::put_file_away(context.app)>{words::PUT_AWAY}</button>
            </div>
        })
    };
    let message = move || {
        context.app.message.get().map(|message| {
            let refused = message.severity == Severity::Refused;
            view! {
                <div
                    class=if refused { "message is-refused" } else { "message" }
                    role=if refused { "alert" } else { "status" }
                    data-test=if refused { "error-message" } else { "message" }
                >
                    <p><span class="what">{message.what}</span>" "<span class="hint">{message.hint}</span></p>
                    <button type="button" class="small" on:click=move |_| actions::put_message_away(context.app)>{words::PUT_AWAY}</button>
                </div>
            }
        })
    };
    view! { <div class="messages">{message}{unreadable}</div> }
}

#[component]
pub fn Footer() -> impl IntoView {
    let context: AppContext = expect_context();
    let is_saved = move || context.is_saved.get() && context.app.study.with(Option::is_some);
    view! {
        <footer class="foot">
            <p>{words::NAME}" "{env!("CARGO_PKG_VERSION")}". "{words::NOTHING_LEAVES}" "{move || is_saved().then_some(words::KEPT_HERE)}</p>
            <crate::views::decimal_mark::DecimalMark/>
        </footer>
    }
}

/// What is loaded, what is left out, what is flagged: always in view.
#[component]
fn StudyState() -> impl IntoView {
    let context: AppContext = expect_context();
    let loaded = move || context.app.study.with(|study| study.as_ref().map(loaded_in_words));
    let left_out =
        Memo::new(move |_| context.app.study.with(|study| study.as_ref().map_or(0, |study| study.exclusions.len())));
    let flagged = Memo::new(move |_| {
        let of_reading = context.app.study.with(|study| study.as_ref().map_or(0, |study| to_check(&study.notices)));
        let of_analysis = context
            .derived
            .analysis
            .with(|analysis| analysis.as_ref().map_or(0, |analysis| to_check(&analysis.notices)));
        of_reading + of_analysis
    });
    let to_scores = move |_| actions::look_at(context.app, View::Scores);
    view! {
        <div class="study-state" role="group" aria-label=words::STATE_OF_STUDY data-test="study-state">
            {move || loaded().map(|(title, counts)| view! { <strong>{title}</strong><span class="counts">{counts}</span> })}
            <button type="button" class="link" class:is-warning=move || { left_out.get() > 0 } on:click=to_scores>
                {move || words::left_out(left_out.get())}
            </button>
            <button type="button" class="link" class:is-warning=move || { flagged.get() > 0 } on:click=to_scores>
                {move || words::flagged(flagged.get())}
            </button>
            <crate::views::selection::Marked/>
            {move || (!context.is_saved.get()).then(|| view! { <span class="is-warning">{words::NOT_SAVED}</span> })}
        </div>
    }
}

#[component]
fn StudyTools() -> impl IntoView {
    let context: AppContext = expect_context();
    let undo = Memo::new(move |_| context.app.history.with(|history| history.next_undo().map(words::undo_what)));
    let redo = Memo::new(move |_| context.app.history.with(|history| history.next_redo().map(words::redo_what)));
    view! {
        <div class="top-tools">
            <button
                type="button"
                class="small"
                data-test="undo"
                disabled=move || undo.with(Option::is_none)
                title=move || undo.get().map(|what| format!("{what} ({})", words::UNDO_KEY))
                on:click=move |_| actions::undo(context.app)
            >
                {words::UNDO}
            </button>
            <button
                type="button"
                class="small"
                data-test="redo"
                disabled=move || redo.with(Option::is_none)
                title=move || redo.get().map(|what| format!("{what} ({})", words::REDO_KEY))
                on:click=move |_| actions::redo(context.app)
            >
                {words::REDO}
            </button>
            <SavedMenu/>
            <OpenButton label=|| by_width(words::OPEN_ANOTHER)/>
            <button type="button" class="small" data-test="close-study" on:click=move |_| opening::close_study(context.app)>{by_width(words::CLOSE_STUDY)}</button>
        </div>
    }
}

/// The tools while only a plan is open.
#[component]
fn StartTools() -> impl IntoView {
    let context: AppContext = expect_context();
    let to_start = move |_| actions::look_at(context.app, View::Match);
    view! {
        <div class="top-tools is-alone">
            <OpenButton label=|| words::plan::OPEN_SCORES_OR_PLAN/>
            {move || (context.app.view.get() == View::Plan).then(|| view! {
                <button type="button" class="small" on:click=to_start>{words::plan::TO_START}</button>
            })}
        </div>
    }
}

#[component]
fn Views() -> impl IntoView {
    let context: AppContext = expect_context();
    let has_study = Memo::new(move |_| context.app.study.with(Option::is_some));
    let go = move |view: View| match view {
        View::Plan => planning::start(context.app),
        other => actions::look_at(context.app, other),
    };
    let tab = move |view: View| {
        // Without scores there is nothing to see but the plan.
        let is_empty = move || view != View::Plan && !has_study.get();
        view! {
            <li>
                <button
                    type="button"
                    data-test=format!("view-{}", words::view_name(view).to_lowercase())
                    aria-current=move || (context.app.view.get() == view).then_some("page")
                    disabled=is_empty
                    title=move || is_empty().then_some(words::plan::NEEDS_SCORES)
                    on:click=move |_| go(view)
                >
                    <span>{words::view_name(view)}</span>
                    <span class="asks">{words::view_question(view)}</span>
                </button>
            </li>
        }
    };
    view! {
        <nav class="views" aria-label=words::VIEWS>
            <ol>{View::ALL.into_iter().map(tab).collect_view()}</ol>
        </nav>
    }
}

fn to_check(notices: &[likeness_core::notice::Notice]) -> usize {
    notices.iter().filter(|notice| notice.severity >= Severity::Check).count()
}

fn loaded_in_words(study: &Study) -> (String, String) {
    let counts = words::study_counts(
        study.assessors.len(),
        study.samples.len(),
        study.attributes.len(),
        study.replicate_count() as usize,
    );
    (study.title.clone(), counts)
}
