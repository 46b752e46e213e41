//! What is on the screen. Views read signals and call actions; they store nothing of their own but what is half typed.

mod by_width;
mod decimal_mark;
mod findings;
pub mod import;
mod learn;
pub mod map;
pub mod r#match;
mod on_screen_ballot;
mod open_button;
pub mod panel;
mod plan;
pub mod report;
pub mod samples;
pub mod scores;
mod selection;
mod shell;
pub mod start;

use crate::browser::{clipboard, clock, drop, events, page, slices};
use crate::parts::figure::Screen;
use crate::persistence;
use crate::state::session::picture_reader::PictureReader;
use crate::state::study::findings::Findings;
use crate::state::study::opening;
use crate::state::{AppContext, AppState, Derived, View, learning, undo};
use crate::words;
use leptos::prelude::*;

/// The page.
#[component]
pub fn App() -> impl IntoView {
    let (context, file_hovers) = (new_context(), RwSignal::new(false));
    let app = context.app;
    hand_down(context);
    let is_ready = RwSignal::new(false);
    persistence::when_caught_up(move || {
        bring_back_and_save(context);
        listen(context, file_hovers);
        scroll_to_what_is_new(context);
        is_ready.set(true);
    });
    let has_form = Memo::new(move |_| app.on_screen.form.with(Option::is_some));
    // Nothing can be done before what was kept is there: it would not be kept itself.
    move || {
        if !is_ready.get() {
            return ().into_any();
        }
        if has_form.get() {
            return view! { <on_screen_ballot::OnScreenView/> }.into_any();
        }
        view! { <Pages file_hovers/> }.into_any()
    }
}

fn new_context() -> AppContext {
    let app = AppState::new(clock::local_time);
    let derived = Derived::new(app);
    let in_slices = slices::after_painting_in_slices;
    AppContext {
        app,
        derived,
        findings: Findings::new(app, derived, in_slices),
        pictures: PictureReader::new(app, in_slices),
        is_saved: RwSignal::new(true),
        plan_is_saved: RwSignal::new(true),
        saved: RwSignal::new(Vec::new()),
        deleted: RwSignal::new(None),
    }
}

/// Gives every view and part what it reads without being handed it.
fn hand_down(context: AppContext) {
    provide_context(context);
    context.findings.follow_changes();
    selection::provide_selection(context);
    persistence::decimal_mark::start(context.app);
    decimal_mark::provide(context.app);
    crate::views::report::report_view::make_always(context);
    provide_context(Screen {
        dark: events::prefers_dark(),
        narrow: events::is_narrow(),
        pixel_ratio: events::pixel_ratio(),
    });
}

/// Brings back what the browser saved at the last visit, and saves every change from now on.
fn bring_back_and_save(context: AppContext) {
    persistence::tabs::begin(context.app);
    persistence::studies::start(context);
    persistence::plan::restore(context.app);
    persistence::plan::save_always(context);
    persistence::data_entry::restore(context.app);
    persistence::data_entry::save_always(context.app);
    persistence::on_screen_ballots::restore(context.app);
    persistence::on_screen_ballots::save_always(context.app);
    persistence::scan_desk::restore_and_save_always(context.app);
    persistence::tabs::start(context.app);
}

/// Takes in files, pasted tables and keys from anywhere on the page. While an on-screen ballot is open nothing else may
/// come onto the screen.
fn listen(context: AppContext, file_hovers: RwSignal<bool>) {
    let app = context.app;
    let is_tasting = move || app.on_screen.form.with_untracked(Option::is_some);
    drop::listen(file_hovers.write_only(), move |files| {
        if !is_tasting() {
            open_button::open_dropped(context, files);
        }
    });
    clipboard::listen_for_paste(move |text| {
        if !is_tasting() {
            opening::open_pasted(app, &text);
        }
    });
    let step = move |of_what_is_looked_at: fn(AppState)| {
        if !is_tasting() {
            of_what_is_looked_at(app)
        }
    };
    events::listen_for_undo(move || step(undo::undo), move || step(undo::redo));
    events::listen_for_single_keys(move |key| !is_tasting() && learning::press_single_key(app, key));
}

/// What is new on the screen is seen from its start.
fn scroll_to_what_is_new(context: AppContext) {
    let app = context.app;
    Effect::new(move |_| {
        app.view.track();
        app.opened.track();
        app.plan_part.track();
        app.learning.is_open.track();
        // The verdict takes the place of a long list, of which the end was seen. A memo is read: only then it tells.
        context.derived.is_settled.get();
        page::scroll_to_top();
        page::show_in_strip(".views [aria-current=page]");
    });
}

/// The page as the leader knows it.
#[component]
fn Pages(file_hovers: RwSignal<bool>) -> impl IntoView {
    view! {
        <a class="skip" href="#main">{words::SKIP}</a>
        <shell::Header/>
        <shell::Messages/>
        <main id="main" tabindex="-1"><Main/></main>
        <shell::Footer/>
        {move || file_hovers.get().then(|| view! { <div class="drop-here"><span>{words::DROP_HERE}</span></div> })}
    }
}

/// The one view that is looked at.
#[component]
fn Main() -> impl IntoView {
    let context: AppContext = expect_context();
    let (app, derived) = (context.app, context.derived);
    let is_reading = Memo::new(move |_| derived.is_reading());
    let has_study = Memo::new(move |_| app.study.with(Option::is_some));
    move || match (is_reading.get(), has_study.get(), app.view.get()) {
        _ if app.learning.is_open.get() => view! { <learn::Learn/> }.into_any(),
        (true, _, _) => view! { <import::understood::Understood/> }.into_any(),
        (false, _, View::Plan) => view! { <plan::Plan/> }.into_any(),
        (false, false, _) => view! { <start::start_page::Start/> }.into_any(),
        (false, true, View::Scores) => view! { <scores::scores_view::Scores/> }.into_any(),
        (false, true, View::Panel) => view! { <panel::panel_view::Panel/> }.into_any(),
        (false, true, View::Profile) => view! { <samples::samples_view::Profile/> }.into_any(),
        (false, true, View::Match) => view! { <r#match::match_view::Matching/> }.into_any(),
        (false, true, View::Map) => view! { <map::map_view::Map/> }.into_any(),
        (false, true, View::Report) => view! { <report::report_view::Report/> }.into_any(),
    }
}
