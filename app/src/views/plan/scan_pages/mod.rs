//! Filled pages read from pictures: putting them in, deciding what was doubtful, the spot check, the record, the study.

mod demo;
mod empties;
pub mod intake;
mod pages;
mod pdf_pages;
mod queue;
mod reading;
mod record;
mod row;
mod test_page;

use crate::browser::files;
use crate::parts::disclosure::HelpOn;
use crate::state::AppContext;
use crate::views::plan::joined::JoinedSources;
use crate::words;
use crate::words::scan_pages as say;
use leptos::html;
use leptos::prelude::*;
use likeness_core::plan::joining::ScoreSource;

#[component]
pub fn ScanPages() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let has_plan = Memo::new(move |_| app.plan.with(Option::is_some));
    let has_pictures =
        Memo::new(move |_| app.scanning.desk.with(|desk| desk.as_ref().is_some_and(|desk| !desk.pictures.is_empty())));
    // The paper of a test page that is being printed: nothing else prints beside it.
    let at_printer = RwSignal::new(None);
    view! {
        <section class="scan-pages" class:prints=move || at_printer.with(Option::is_some) data-test="scan-pages">
            <h1>{say::TITLE}</h1>
            {move || if has_plan.get() {
                view! {
                    <PutIn has_pictures/>
                    {move || has_pictures.get().then(|| view! { <pages::Pages/><queue::Queue/><record::Record/> })}
                    <test_page::TestPage at_printer/>
                    <JoinedSources own=ScoreSource::Pictures is_always=true/>
                }.into_any()
            } else {
                view! {
                    <p class="lead" data-test="pictures-need-plan">{say::NEEDS_PLAN}</p>
                    <demo::TryDemo start=intake::try_demo/>
                }.into_any()
            }}
            {move || at_printer.get().map(|paper| view! { <test_page::TestSheet paper/> })}
        </section>
    }
}

/// How pictures come in, and what is being read.
#[component]
fn PutIn(has_pictures: Memo<bool>) -> impl IntoView {
    // Whoever has put pictures in knows how; on a phone the words would push the queue far down.
    let intro = move || {
        (!has_pictures.get()).then(|| view! { <p class="lead">{say::INTRO}</p><p class="quiet">{say::HOW_TO_SCAN}</p> })
    };
    view! {
        <div class="put-in not-printed">
            {intro}
            <div class="choices">
                <PickPictures label=say::CHOOSE hook="choose-pictures" kinds=say::KINDS is_camera=false/>
                <PickPictures label=say::PHOTOGRAPH hook="photograph" kinds=say::ANY_PICTURE is_camera=true/>
                <span class="quiet">{say::OR_DROP}</span>
            </div>
            {move || (!has_pictures.get()).then(|| view! { <demo::TryDemo start=intake::try_demo/> })}
            <ReadingNow/>
            <HelpOn help=&words::help::READING_PAGES/>
        </div>
    }
}

/// A button that picks pictures, or opens the camera of a phone.
#[component]
fn PickPictures(label: &'static str, hook: &'static str, kinds: &'static str, is_camera: bool) -> impl IntoView {
    let context: AppContext = expect_context();
    let input: NodeRef<html::Input> = NodeRef::new();
    let picked = move |_| {
        if let Some(input) = input.get_untracked() {
            intake::take_in(context, files::picked(&input));
        }
    };
    view! {
        <label class=if is_camera { "button" } else { "button is-main" }>
            <input
                type="file"
                class="heard"
                multiple=!is_camera
                accept=kinds
                capture=is_camera.then_some("environment")
                node_ref=input
                data-test=hook
                on:change=picked
            />
            <span>{label}</span>
        </label>
    }
}

/// The picture that is being read, with a way to stop; after that, what was left unread.
#[component]
fn ReadingNow() -> impl IntoView {
    let context: AppContext = expect_context();
    let (reading, stopped) = (context.app.scanning.reading, context.app.scanning.stopped);
    let is_reading = Memo::new(move |_| reading.with(Option::is_some));
    let line =
        move || reading.with(|now| now.as_ref().map(|now| say::reading(&now.file, now.place, now.of, now.is_decoding)));
    let reached = move || context.pictures.reached().unwrap_or_default();
    view! {
        <div role="status" aria-live="polite" data-test="reading-now">
            {move || is_reading.get().then(|| view! {
                <div class="long-work">
                    <label class="running">
                        <span>{line}</span>
                        <progress max=move || reached().wanted.max(1).to_string() value=move || reached().done.to_string()></progress>
                    </label>
                    <button type="button" class="small" data-test="stop-reading" on:click=move |_| intake::stop(context)>{say::STOP}</button>
                </div>
            })}
            {move || stopped.with(|files| (!files.is_empty()).then(|| view! { <p class="is-warning">{say::stopped(files)}</p> }))}
        </div>
    }
}
