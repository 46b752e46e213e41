//! What is on the screen. Views read signals and call actions; they store nothing of their own but what is half typed.

mod booth;
mod candidates;
mod cell_map;
mod closeness;
mod day;
mod drawn_again;
mod empty;
mod exclusions;
mod keeping;
mod kept;
mod kept_marks;
mod learn;
mod map;
mod mark_card;
mod mark_filters;
mod marked;
mod marks_table;
mod matching;
mod matching_brief;
mod matching_decide;
mod matching_integrated;
mod matching_power;
mod noted_reasons;
mod numerals;
mod panel;
mod panel_marks;
mod panel_questions;
mod panel_slips;
mod panel_work;
mod plan;
mod preview;
mod preview_sheets;
mod profile;
mod profile_comparisons;
mod record;
mod report;
mod report_details;
mod scores;
mod screen_forms;
mod settings;
mod shell;
mod typing;

use crate::browser::files::{self, File};
use crate::browser::{clipboard, clock, drop, events, page};
use crate::parts::figure::Screen;
use crate::state::keeping::KeptStudy;
use crate::state::{Derived, Ground, Message, View, actions, learning, opening, plan_actions};
use crate::words;
use leptos::prelude::*;

/// The handles that every view needs.
#[derive(Clone, Copy)]
pub struct Desk {
    pub ground: Ground,
    pub derived: Derived,
    /// Whether the browser keeps the open study.
    pub is_kept: RwSignal<bool>,
    /// Whether the browser keeps the plan.
    pub plan_is_kept: RwSignal<bool>,
    /// What the browser keeps, the latest change first.
    pub kept: RwSignal<Vec<KeptStudy>>,
    /// The kept study that was deleted last and can be had back.
    pub deleted: RwSignal<Option<keeping::Deleted>>,
}

/// The page.
#[component]
pub fn App() -> impl IntoView {
    let ground = Ground::new(clock::local_time);
    let derived = Derived::new(ground);
    let desk = Desk {
        ground,
        derived,
        is_kept: RwSignal::new(true),
        plan_is_kept: RwSignal::new(true),
        kept: RwSignal::new(Vec::new()),
        deleted: RwSignal::new(None),
    };
    provide_context(desk);
    provide_context(panel_work::PanelWork::new(desk));
    marked::provide_marking(desk);
    numerals::provide(ground);
    closeness::keep_distances(desk);
    report::keep_making(desk);
    provide_context(Screen {
        dark: events::prefers_dark(),
        narrow: events::is_narrow(),
        pixel_ratio: events::pixel_ratio(),
    });
    keeping::start(desk);
    plan::keeping::restore(ground);
    plan::keeping::keep_always(desk);
    typing::keeping::restore(ground);
    typing::keeping::keep_always(ground);
    booth::keeping::restore(ground);
    booth::keeping::keep_always(ground);
    let (file_hovers, set_file_hovers) = signal(false);
    // While a tasting form is open nothing else may come onto the screen.
    let is_booth = move || ground.booth.form.with_untracked(Option::is_some);
    drop::listen(set_file_hovers, move |files| {
        if !is_booth() {
            open(ground, files);
        }
    });
    clipboard::listen_for_paste(move |text| {
        if !is_booth() {
            opening::open_pasted(ground, &text);
        }
    });
    let is_planning = move || ground.view.get_untracked() == View::Plan;
    events::listen_for_undo(
        move || match (is_booth(), is_planning()) {
            (true, _) => {}
            (false, true) => plan_actions::undo(ground),
            (false, false) => actions::undo(ground),
        },
        move || match (is_booth(), is_planning()) {
            (true, _) => {}
            (false, true) => plan_actions::redo(ground),
            (false, false) => actions::redo(ground),
        },
    );
    events::listen_for_single_keys(move |key| !is_booth() && learning::press_single_key(ground, key));
    // What is new on the screen is seen from its start.
    Effect::new(move |_| {
        ground.view.track();
        ground.opened.track();
        ground.plan_part.track();
        ground.learning.is_open.track();
        // The verdict takes the place of a long list, of which the end was seen. A memo is read: only then it tells.
        derived.is_settled.get();
        page::scroll_to_top();
        page::show_in_strip(".views [aria-current=page]");
    });
    let has_form = Memo::new(move |_| ground.booth.form.with(Option::is_some));
    move || {
        if has_form.get() {
            return view! { <booth::Booth/> }.into_any();
        }
        view! { <Pages file_hovers/> }.into_any()
    }
}

/// The page as the leader knows it.
#[component]
fn Pages(file_hovers: ReadSignal<bool>) -> impl IntoView {
    let desk: Desk = expect_context();
    let (ground, derived) = (desk.ground, desk.derived);
    let is_reading = Memo::new(move |_| derived.is_reading());
    let has_study = Memo::new(move |_| ground.study.with(Option::is_some));
    view! {
        <a class="skip" href="#main">{words::SKIP}</a>
        <shell::Header/>
        <shell::Messages/>
        <main id="main" tabindex="-1">
            {move || match (is_reading.get(), has_study.get(), ground.view.get()) {
                _ if ground.learning.is_open.get() => view! { <learn::Learn/> }.into_any(),
                (true, _, _) => view! { <preview::Understood/> }.into_any(),
                (false, _, View::Plan) => view! { <plan::Plan/> }.into_any(),
                (false, false, _) => view! { <empty::Start/> }.into_any(),
                (false, true, View::Scores) => view! { <scores::Scores/> }.into_any(),
                (false, true, View::Panel) => view! { <panel::Panel/> }.into_any(),
                (false, true, View::Profile) => view! { <profile::Profile/> }.into_any(),
                (false, true, View::Match) => view! { <matching::Matching/> }.into_any(),
                (false, true, View::Map) => view! { <map::Map/> }.into_any(),
                (false, true, View::Report) => view! { <report::Report/> }.into_any(),
            }}
        </main>
        <shell::Footer/>
        {move || file_hovers.get().then(|| view! { <div class="drop-here"><span>{words::DROP_HERE}</span></div> })}
    }
}

/// Reads files that were picked or dropped together, and opens them.
pub fn open(ground: Ground, chosen: Vec<File>) {
    files::read_all(chosen, move |arrived| {
        let unreadable: Vec<String> =
            arrived.iter().filter(|file| file.bytes.is_none()).map(|file| file.name.clone()).collect();
        if !unreadable.is_empty() {
            let what = format!("{}: {}", unreadable.join(", "), words::opening::FILE_UNREADABLE_BY_BROWSER);
            actions::say(ground, Message::refused(what, words::opening::FILE_UNREADABLE_HINT));
            return;
        }
        opening::open_many(ground, arrived.into_iter().filter_map(|file| Some((file.name, file.bytes?))).collect());
    });
}
