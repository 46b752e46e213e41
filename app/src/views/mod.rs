//! What is on the screen. Views read signals and call actions; they store nothing of their own but what is half typed.

mod decimal_mark;
mod findings;
pub mod import;
mod learn;
pub mod map;
pub mod r#match;
mod on_screen_ballot;
pub mod panel;
mod plan;
pub mod report;
pub mod samples;
pub mod scores;
mod selection;
mod shell;
pub mod start;

use crate::browser::files::{self, File};
use crate::browser::{clipboard, clock, drop, events, page, slices};
use crate::parts::figure::Screen;
use crate::persistence;
use crate::state::plan::planning;
use crate::state::study::findings::Findings;
use crate::state::study::opening;
use crate::state::{AppContext, AppState, Derived, Message, View, actions, learning};
use crate::words;
use leptos::prelude::*;

/// The page.
#[component]
pub fn App() -> impl IntoView {
    let app = AppState::new(clock::local_time);
    let derived = Derived::new(app);
    let context = AppContext {
        app,
        derived,
        findings: Findings::new(app, derived, slices::after_painting_in_slices),
        is_saved: RwSignal::new(true),
        plan_is_saved: RwSignal::new(true),
        saved: RwSignal::new(Vec::new()),
        deleted: RwSignal::new(None),
    };
    provide_context(context);
    selection::provide_selection(context);
    decimal_mark::provide(app);
    crate::views::report::report_view::make_always(context);
    provide_context(Screen {
        dark: events::prefers_dark(),
        narrow: events::is_narrow(),
        pixel_ratio: events::pixel_ratio(),
    });
    persistence::studies::start(context);
    persistence::plan::restore(app);
    persistence::plan::keep_always(context);
    persistence::data_entry::restore(app);
    persistence::data_entry::keep_always(app);
    persistence::on_screen_ballots::restore(app);
    persistence::on_screen_ballots::keep_always(app);
    let (file_hovers, set_file_hovers) = signal(false);
    // While a tasting form is open nothing else may come onto the screen.
    let is_tasting = move || app.on_screen.form.with_untracked(Option::is_some);
    drop::listen(set_file_hovers, move |files| {
        if !is_tasting() {
            open(app, files);
        }
    });
    clipboard::listen_for_paste(move |text| {
        if !is_tasting() {
            opening::open_pasted(app, &text);
        }
    });
    let is_planning = move || app.view.get_untracked() == View::Plan;
    events::listen_for_undo(
        move || match (is_tasting(), is_planning()) {
            (true, _) => {}
            (false, true) => planning::undo(app),
            (false, false) => actions::undo(app),
        },
        move || match (is_tasting(), is_planning()) {
            (true, _) => {}
            (false, true) => planning::redo(app),
            (false, false) => actions::redo(app),
        },
    );
    events::listen_for_single_keys(move |key| !is_tasting() && learning::press_single_key(app, key));
    // What is new on the screen is seen from its start.
    Effect::new(move |_| {
        app.view.track();
        app.opened.track();
        app.plan_part.track();
        app.learning.is_open.track();
        // The verdict takes the place of a long list, of which the end was seen. A memo is read: only then it tells.
        derived.is_settled.get();
        page::scroll_to_top();
        page::show_in_strip(".views [aria-current=page]");
    });
    let has_form = Memo::new(move |_| app.on_screen.form.with(Option::is_some));
    move || {
        if has_form.get() {
            return view! { <on_screen_ballot::OnScreenView/> }.into_any();
        }
        view! { <Pages file_hovers/> }.into_any()
    }
}

/// The page as the leader knows it.
#[component]
fn Pages(file_hovers: ReadSignal<bool>) -> impl IntoView {
    let context: AppContext = expect_context();
    let (app, derived) = (context.app, context.derived);
    let is_reading = Memo::new(move |_| derived.is_reading());
    let has_study = Memo::new(move |_| app.study.with(Option::is_some));
    view! {
        <a class="skip" href="#main">{words::SKIP}</a>
        <shell::Header/>
        <shell::Messages/>
        <main id="main" tabindex="-1">
            {move || match (is_reading.get(), has_study.get(), app.view.get()) {
                _ if app.learning.is_open.get() => view! { <learn::Learn/> }.into_any(),
                (true, _, _) => view! { <crate::views::import::understood::Understood/> }.into_any(),
                (false, _, View::Plan) => view! { <plan::Plan/> }.into_any(),
                (false, false, _) => view! { <crate::views::start::start_page::Start/> }.into_any(),
                (false, true, View::Scores) => view! { <crate::views::scores::scores_view::Scores/> }.into_any(),
                (false, true, View::Panel) => view! { <crate::views::panel::panel_view::Panel/> }.into_any(),
                (false, true, View::Profile) => view! { <crate::views::samples::samples_view::Profile/> }.into_any(),
                (false, true, View::Match) => view! { <crate::views::r#match::match_view::Matching/> }.into_any(),
                (false, true, View::Map) => view! { <crate::views::map::map_view::Map/> }.into_any(),
                (false, true, View::Report) => view! { <crate::views::report::report_view::Report/> }.into_any(),
            }}
        </main>
        <shell::Footer/>
        {move || file_hovers.get().then(|| view! { <div class="drop-here"><span>{words::DROP_HERE}</span></div> })}
    }
}

/// Reads files that were picked or dropped together, and opens them.
pub fn open(app: AppState, chosen: Vec<File>) {
    files::read_all(chosen, move |arrived| {
        let unreadable: Vec<String> =
            arrived.iter().filter(|file| file.bytes.is_none()).map(|file| file.name.clone()).collect();
        if !unreadable.is_empty() {
            let what = format!("{}: {}", unreadable.join(", "), words::opening::FILE_UNREADABLE_BY_BROWSER);
            actions::say(app, Message::refused(what, words::opening::FILE_UNREADABLE_HINT));
            return;
        }
        opening::open_many(app, arrived.into_iter().filter_map(|file| Some((file.name, file.bytes?))).collect());
    });
}
