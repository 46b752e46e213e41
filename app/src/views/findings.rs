//! What the catalogue's entries found, as sections of a view: heading, progress, figure, tables, help. It knows no method by
//! name; a view that shows an entry in a way of its own says so.

use crate::parts::disclosure::HelpOn;
use crate::parts::figure::{Drawing, FigureView, Form};
use crate::parts::folded::Folded;
use crate::parts::run_progress::{RunProgress, Standing};
use crate::parts::table::TableView;
use crate::state::long_run::{LongRun, Progress};
use crate::state::{AppContext, Shared, actions};
use leptos::prelude::*;
use likeness_core::catalogue::{AnyFinding, Entry, Frame, Given, Topic, entries_on};
use likeness_core::table::Table;
use std::sync::Arc;

/// The entries of a topic that a view does not show in a way of its own.
#[component]
pub fn OtherFindings(
    topic: Topic,
    /// Identities of those that it does show.
    shown: &'static [&'static str],
) -> impl IntoView {
    let others = entries_on(topic).filter(|entry| !shown.contains(&entry.about.id));
    others.map(|entry| view! { <Finding entry/> }).collect_view()
}

/// One entry, folded to its heading and what it comes to: how far it is, what it found, help on it.
#[component]
pub fn Finding(entry: &'static Entry) -> impl IntoView {
    let about = entry.about;
    view! {
        <section data-entry=about.id>
            <Folded summary=about.title hook=about.id conclusion=conclusion_of(entry)>
                <EntryProgress entry/>
                <Found entry/>
                {about.help.iter().map(|help| view! { <HelpOn help/> }).collect_view()}
            </Folded>
        </section>
    }
}

/// What an entry comes to, in one sentence: its conclusion, or why there is none. Starts it where it is short.
pub fn conclusion_of(entry: &'static Entry) -> Signal<Option<String>> {
    let context: AppContext = expect_context();
    let run = context.findings.run_of(entry);
    Effect::new(move |_| context.findings.start_unasked(entry));
    Signal::derive(move || match run.progress() {
        Progress::NotDefined(reason) => Some(entry.about.why_not(&reason.because)),
        Progress::Found(_) => {
            let (given, found) = given_and(context, run.found())?;
            entry.conclusion(&given, &found)
        }
        _ => None,
    })
}

/// How far an entry is. Starts it where it is short.
#[component]
pub fn EntryProgress(entry: &'static Entry, #[prop(optional)] name: Option<&'static str>) -> impl IntoView {
    let context: AppContext = expect_context();
    let (about, run) = (entry.about, context.findings.run_of(entry));
    Effect::new(move |_| context.findings.start_unasked(entry));
    let standing = Signal::derive(move || standing(run, |because| about.why_not(because)));
    view! {
        <RunProgress
            standing
            name=name.unwrap_or(about.id)
            doing=about.doing
            ask=about.ask
            start=move |()| context.findings.start(entry)
            stop=move |()| run.stop()
        />
    }
}

/// The figures and tables of what an entry found.
#[component]
fn Found(entry: &'static Entry) -> impl IntoView {
    let context: AppContext = expect_context();
    let found = Memo::new(move |_| context.findings.run_of(entry).found());
    let count = Memo::new(move |_| {
        let Some((given, found)) = given_and(context, found.get()) else { return (0, 0) };
        (entry.figure_count(&given, &found), entry.tables(&given, &found).len())
    });
    let pointed = Callback::new(move |attribute| actions::point_at(context.app, attribute));
    let table = move |place: usize| {
        Signal::derive(move || -> Option<Table> {
            let (given, found) = given_and(context, found.get())?;
            entry.tables(&given, &found).into_iter().nth(place)
        })
    };
    let notes = move || {
        let (given, found) = given_and(context, found.get())?;
        let line = |note: String| view! { <p class="note">{note}</p> };
        Some(entry.notes(&given, &found).into_iter().map(line).collect_view())
    };
    move || {
        let (figures, tables) = count.get();
        view! {
            {(0..figures)
                .map(|place| view! { <FigureView name=entry.about.id drawing=drawing(context, entry, found, place) chosen=Callback::new(|_| ())/> })
                .collect_view()}
            {(0..tables).map(|place| view! { <TableView table=table(place) pointed/> }).collect_view()}
            {notes}
        }
    }
}

fn drawing(
    context: AppContext,
    entry: &'static Entry,
    found: Memo<Option<Shared<AnyFinding>>>,
    place: usize,
) -> Drawing {
    Arc::new(move |form: Form| {
        let (given, found) = given_and(context, found.get())?;
        let frame = Frame { width_px: form.width_px, theme: form.theme, heading: form.heading };
        entry.figure(&given, &found, &frame, place)
    })
}

/// The study with what was found for it.
fn given_and(context: AppContext, found: Option<Shared<AnyFinding>>) -> Option<(Shared<Given>, Shared<AnyFinding>)> {
    Some((context.findings.given()?, found?))
}

/// How a run stands, with the whole sentence where there is no result.
pub fn standing<T: Send + Sync>(run: LongRun<T>, why_not: impl Fn(&str) -> String) -> Standing {
    match run.progress() {
        Progress::Nothing => Standing::Nothing,
        Progress::Running(reached) => Standing::Running(reached),
        Progress::Stopped(reached) => Standing::Stopped(reached),
        Progress::Found(_) => Standing::Found,
        Progress::NotDefined(reason) => Standing::NotDefined(why_not(&reason.because)),
    }
}
