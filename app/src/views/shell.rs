//! What stands around every view: the state of the study, the views in the order of the work, undo, messages.

use super::by_width::by_width;
use super::open_button::OpenButton;
use super::start::saved_studies::SavedMenu;
use crate::state::AppContext;
use crate::state::plan::planning;
use crate::state::study::opening;
use crate::state::{AppState, Message, View, actions, learning, undo};
use crate::words;
use leptos::prelude::*;
use likeness_core::notice::{Notice, Severity};
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

/// A message that stays until it is put away, and why a file was not opened.
#[component]
pub fn Messages() -> impl IntoView {
    let context: AppContext = expect_context();
    let message = move || context.app.message.get().map(|message| view! { <OneMessage message/> });
    let unreadable = move || {
        if !context.derived.file_is_unreadable() {
            return None;
        }
        let name = context.app.opened.with(|opened| opened.as_ref().map(|opened| opened.names()))?;
        let notices = context.derived.reading.with(|reading| Some(reading.as_ref()?.notices.clone()))?;
        Some(view! { <Unreadable name notices/> })
    };
    view! { <div class="messages">{message}{unreadable}</div> }
}

/// Why a file was not opened.
#[component]
fn Unreadable(name: String, notices: Vec<Notice>) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let is_open = app.study.with_untracked(Option::is_some);
    let line = |notice: Notice| view! { <p><span>{notice.what}</span>" "<span class="hint">{notice.hint}</span></p> };
    view! {
        <div class="message is-refused" role="alert" data-test="error-message">
            <div>
                <p class="what">{name}" "{words::opening::NOT_OPENED}</p>
                {notices.into_iter().map(line).collect_view()}
                {is_open.then(|| view! { <p>{words::opening::OPEN_STUDY_UNTOUCHED}</p> })}
            </div>
            <button type="button" class="small" on:click=move |_| opening::put_file_away(app)>{words::PUT_AWAY}</button>
        </div>
    }
}

#[component]
fn OneMessage(message: Message) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let refused = message.severity == Severity::Refused;
    view! {
        <div
            class=if refused { "message is-refused" } else { "message" }
            role=if refused { "alert" } else { "status" }
            data-test=if refused { "error-message" } else { "message" }
        >
            <p><span class="what">{message.what}</span>" "<span class="hint">{message.hint}</span></p>
            <button type="button" class="small" on:click=move |_| actions::put_message_away(app)>{words::PUT_AWAY}</button>
        </div>
    }
}

#[component]
pub fn Footer() -> impl IntoView {
    let context: AppContext = expect_context();
    let is_saved = move || context.is_saved.get() && context.app.study.with(Option::is_some);
    view! {
        <footer class="foot">
            <p>{words::NAME}" "{env!("CARGO_PKG_VERSION")}". "{words::NOTHING_LEAVES}" "{move || is_saved().then_some(words::SAVED_HERE)}</p>
            <crate::views::decimal_mark::DecimalMark/>
        </footer>
    }
}

/// What is loaded, what is left out, what is flagged: always in view.
#[component]
fn StudyState() -> impl IntoView {
    let context: AppContext = expect_context();
    let app = context.app;
    let loaded = move || app.study.with(|study| study.as_ref().map(loaded_in_words));
    let left_out = Memo::new(move |_| app.study.with(|study| study.as_ref().map_or(0, |study| study.exclusions.len())));
    let flagged = Memo::new(move |_| flagged_in(context));
    let to_scores = move |_| actions::look_at(app, View::Scores);
    view! {
        <div class="study-state" role="group" aria-label=words::STATE_OF_STUDY data-test="study-state">
            {move || loaded().map(|(title, counts)| view! { <strong>{title}</strong><span class="counts">{counts}</span> })}
            {move || plan_beside(app).map(|words| view! { <span class="counts" data-test="plan-beside">{words}</span> })}
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

/// The title of the open plan, if it has one.
fn plan_title(app: AppState) -> Option<String> {
    let title = app.plan_draft.with(|draft| draft.brief.title.trim().to_owned());
    (!title.is_empty()).then_some(title)
}

/// How the open plan stands to the open study: they are one thing, or the plan is another's.
fn plan_beside(app: AppState) -> Option<String> {
    let title = app.plan.with(|plan| plan.as_ref().map(|plan| plan.brief.title.clone()))?;
    let is_its_own = app.study.with(|study| study.as_ref().is_some_and(|study| is_of_plan(app, study)));
    Some(if is_its_own { words::plan::WITH_ITS_PLAN.to_owned() } else { words::plan::beside_plan(&title) })
}

/// Whether the samples of a study are served under the codes of the open plan.
fn is_of_plan(app: AppState, study: &Study) -> bool {
    app.plan.with(|plan| plan.as_ref().is_some_and(|plan| plan.is_plan_of(study)))
}

/// Notices that ask to be checked, of the reading and of the analysis.
fn flagged_in(context: AppContext) -> usize {
    let of_reading = context.app.study.with(|study| study.as_ref().map_or(0, |study| to_check(&study.notices)));
    let analysis = context.derived.analysis;
    let of_analysis = analysis.with(|analysis| analysis.as_ref().map_or(0, |analysis| to_check(&analysis.notices)));
    of_reading + of_analysis
}

#[component]
fn StudyTools() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    view! {
        <div class="top-tools">
            <UndoRedo/>
            <SavedMenu/>
            <OpenButton label=|| by_width(words::OPEN_ANOTHER)/>
            <button type="button" class="small" data-test="close-study" on:click=move |_| opening::close_study(app)>{by_width(words::CLOSE_STUDY)}</button>
        </div>
    }
}

/// The one undo and the one redo: of the plan while it is looked at, else of the study.
#[component]
fn UndoRedo() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let next_undo = Memo::new(move |_| undo::next_undo(app).map(|what| words::undo_what(&what)));
    let next_redo = Memo::new(move |_| undo::next_redo(app).map(|what| words::redo_what(&what)));
    view! {
        <StepButton hook="undo" label=words::UNDO key_name=words::UNDO_KEY what=next_undo does=undo::undo/>
        <StepButton hook="redo" label=words::REDO key_name=words::REDO_KEY what=next_redo does=undo::redo/>
    }
}

/// Undo or redo; `what` names the step, where there is one, and `key_name` the key that does the same.
#[component]
fn StepButton(
    hook: &'static str,
    label: &'static str,
    key_name: &'static str,
    what: Memo<Option<String>>,
    does: fn(AppState),
) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let title = move || what.get().map(|what| words::with_key(&what, key_name));
    view! {
        <button
            type="button"
            class="small"
            data-test=hook
            disabled=move || what.with(Option::is_none)
            title=title
            on:click=move |_| does(app)
        >
            {label}
        </button>
    }
}

/// The tools while only a plan is open.
#[component]
fn StartTools() -> impl IntoView {
    let context: AppContext = expect_context();
    let to_start = move |_| actions::look_at(context.app, View::Match);
    view! {
        <div class="study-state" role="group" aria-label=words::STATE_OF_STUDY data-test="plan-state">
            {move || plan_title(context.app).map(|title| view! { <strong>{title}</strong><span class="counts">{words::plan::NO_SCORES_YET}</span> })}
        </div>
        <div class="top-tools is-alone">
            <UndoRedo/>
            <OpenButton label=|| words::plan::OPEN_SCORES_OR_PLAN/>
            {move || (context.app.view.get() == View::Plan).then(|| view! {
                <button type="button" class="small" on:click=to_start>{words::plan::TO_START}</button>
            })}
        </div>
    }
}

#[component]
fn Views() -> impl IntoView {
    view! {
        <nav class="views" aria-label=words::VIEWS>
            <ol>{View::ALL.into_iter().map(|view| view! { <ViewTab view/> }).collect_view()}</ol>
        </nav>
    }
}

/// The button of one view. Without scores there is nothing to see but the plan.
#[component]
fn ViewTab(view: View) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let has_study = Memo::new(move |_| app.study.with(Option::is_some));
    let is_empty = move || view != View::Plan && !has_study.get();
    let go = move |_| match view {
        View::Plan => planning::start(app),
        other => actions::look_at(app, other),
    };
    let said = view.in_words();
    view! {
        <li>
            <button
                type="button"
                data-test=format!("view-{}", said.name.to_lowercase())
                aria-current=move || (app.view.get() == view).then_some("page")
                disabled=is_empty
                title=move || is_empty().then_some(words::plan::NEEDS_SCORES)
                on:click=go
            >
                <span>{said.name}</span>
                <span class="asks">{said.question}</span>
            </button>
        </li>
    }
}

fn to_check(notices: &[Notice]) -> usize {
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
