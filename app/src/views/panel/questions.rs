//! Further questions about a panel: what hangs on one person, who stretches the line, what the order did, whether the
//! panel holds from round to round.

use crate::parts::disclosure::HelpOn;
use crate::parts::long_work::{LongWork, WorkInProgress};
use crate::parts::table::TableView;
use crate::state::AppContext;
use crate::state::study::panel_work::PanelWork;
use crate::tables::{Table, panel_people, panel_rounds};
use crate::words::help::Help;
use crate::words::panel as say;
use leptos::prelude::*;
use likeness_core::stats::panel::serving_order::label_effects;

/// Verdicts with everybody and without each assessor.
#[component]
pub fn HangsOnOne() -> impl IntoView {
    let work: PanelWork = expect_context();
    let table = Signal::derive(move || work.influence.found().map(|found| panel_people::influence(&found)));
    view! {
        <Question
            heading=say::HANGS
            work=work.influence
            name="influence"
            doing=say::SETTING_ASIDE
            not_defined=say::no_influence
            start_words=say::SET_ASIDE
            start=move |()| work.set_aside()
            tables=vec![table]
            help=&say::HANGS_HELP
        />
    }
}

#[component]
pub fn LineUse() -> impl IntoView {
    let context: AppContext = expect_context();
    let work: PanelWork = expect_context();
    let table = Signal::derive(move || {
        let found = work.lines.found()?;
        let assessors = context.derived.analysis.with(|analysis| analysis.as_ref().map(|a| a.assessors.clone()))?;
        Some(panel_people::line_use(&assessors, &active_names(context), &found))
    });
    view! {
        <Question
            heading=say::LINE_USE
            work=work.lines
            name="lines"
            doing=say::COMPARING_LINES
            not_defined=say::not_compared
            start_words=say::COMPARE_LINES
            start=move |()| work.compare_lines()
            tables=vec![table]
            help=&say::LINE_HELP
        />
    }
}

/// Positions, samples before, drift, and labels where the file has them.
#[component]
pub fn OrderLeftMark() -> impl IntoView {
    let context: AppContext = expect_context();
    let work: PanelWork = expect_context();
    let table = Signal::derive(move || {
        let found = work.order.found()?;
        context
            .derived
            .analysis
            .with(|analysis| analysis.as_ref().map(|analysis| panel_rounds::order(analysis, &found)))
    });
    let labels = Signal::derive(move || {
        let analysis = context.derived.analysis.get()?;
        let found = context.app.study.with(|study| study.as_ref().and_then(|study| label_effects(study).ok()))?;
        Some(panel_rounds::labels(&analysis, &found))
    });
    view! {
        <Question
            heading=say::ORDER
            work=work.order
            name="order"
            doing=say::LOOKING_AT_ORDER
            not_defined=say::order_off
            start_words=say::LOOK_AT_ORDER
            start=move |()| work.look_at_order()
            tables=vec![table, labels]
            help=&say::ORDER_HELP
        />
    }
}

#[component]
pub fn RoundToRound() -> impl IntoView {
    let context: AppContext = expect_context();
    let work: PanelWork = expect_context();
    let table =
        Signal::derive(move || work.rounds.found().map(|found| panel_rounds::rounds(&active_names(context), &found)));
    view! {
        <Question
            heading=say::ROUNDS
            work=work.rounds
            name="rounds"
            doing=say::COMPARING_ROUNDS
            not_defined=say::not_compared
            start_words=say::COMPARE_ROUNDS
            start=move |()| work.compare_rounds()
            tables=vec![table]
            help=&say::ROUNDS_HELP
        />
    }
}

/// The panel in each session, side by side.
#[component]
pub fn SessionBySession() -> impl IntoView {
    let context: AppContext = expect_context();
    let work: PanelWork = expect_context();
    let table = Signal::derive(move || {
        let found = work.sessions.found()?;
        context
            .derived
            .analysis
            .with(|analysis| analysis.as_ref().map(|analysis| panel_rounds::sessions(analysis, &found)))
    });
    view! {
        <Question
            heading=say::SESSIONS
            work=work.sessions
            name="sessions"
            doing=say::COMPARING_SESSIONS
            not_defined=say::no_sessions
            start_words=say::COMPARE_SESSIONS
            start=move |()| work.compare_sessions()
            tables=vec![table]
            help=&say::SESSIONS_HELP
        />
    }
}

/// One question: its work, with what is said while it runs, the tables of what was found, help on them.
#[component]
fn Question<T: Send + Sync + 'static>(
    heading: &'static str,
    work: LongWork<T>,
    /// Hook for tests.
    name: &'static str,
    doing: &'static str,
    not_defined: fn(&str) -> String,
    start_words: &'static str,
    #[prop(into)] start: Callback<()>,
    tables: Vec<Signal<Option<Table>>>,
    help: &'static Help,
) -> impl IntoView {
    view! {
        <section>
            <h2>{heading}</h2>
            <WorkInProgress work name doing not_defined start_words start/>
            {tables.into_iter().map(|table| view! { <TableView table/> }).collect_view()}
            <HelpOn help/>
        </section>
    }
}

/// Names of the attributes that count, in the order of the score sheet.
fn active_names(context: AppContext) -> Vec<String> {
    context.app.study.with(|study| {
        let Some(study) = study else { return Vec::new() };
        study.active_attributes().into_iter().map(|index| study.attributes[index].name.clone()).collect()
    })
}
