//! How far a long run has come: its progress with a way to stop it, why there is none, or how to start it. It knows no study
//! and no run; what is running comes from outside.

use crate::words::panel as say;
use leptos::prelude::*;
use likeness_core::run::Reached;

/// What there is to show of a run.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Standing {
    /// Nothing was asked for.
    Nothing,
    Running(Reached),
    Stopped(Reached),
    Found,
    /// There is no result: the whole sentence that says why.
    NotDefined(String),
}

impl Standing {
    /// What decides which of the parts below is shown; how far it has come is shown within.
    fn kind(&self) -> u8 {
        match self {
            Standing::Running(_) => 1,
            Standing::NotDefined(_) => 2,
            Standing::Found => 3,
            Standing::Nothing | Standing::Stopped(_) => 0,
        }
    }

    fn reached(&self) -> Reached {
        match self {
            Standing::Running(reached) | Standing::Stopped(reached) => *reached,
            _ => Reached::default(),
        }
    }
}

/// Shows how a run stands. Nothing once it is done.
#[component]
pub fn RunProgress(
    standing: Signal<Standing>,
    /// Hook for tests.
    name: &'static str,
    /// What is being done, such as "Looking for form faults:".
    doing: &'static str,
    /// What the button that starts says.
    ask: &'static str,
    #[prop(into)] start: Callback<()>,
    #[prop(into)] stop: Callback<()>,
) -> impl IntoView {
    let kind = Memo::new(move |_| standing.with(Standing::kind));
    view! {
        <div class="long-work" data-test=format!("{name}-work")>
            {move || match kind.get() {
                1 => view! { <Running standing name doing stop/> }.into_any(),
                2 => view! { <p class="quiet">{move || why_not(standing)}</p> }.into_any(),
                3 => ().into_any(),
                _ => view! { <Startable standing name ask start/> }.into_any(),
            }}
        </div>
    }
}

#[component]
fn Running(standing: Signal<Standing>, name: &'static str, doing: &'static str, stop: Callback<()>) -> impl IntoView {
    let reached = move || standing.with(Standing::reached);
    view! {
        <label class="running">
            <span>{doing}" "{move || say::reached(reached())}</span>
            <progress max=move || reached().wanted.to_string() value=move || reached().done.to_string()></progress>
        </label>
        <button type="button" class="small" data-test=format!("{name}-stop") on:click=move |_| stop.run(())>{say::STOP}</button>
        <p class="print-only">{doing}": "{say::UNFINISHED_IN_PRINT}</p>
    }
}

#[component]
fn Startable(standing: Signal<Standing>, name: &'static str, ask: &'static str, start: Callback<()>) -> impl IntoView {
    let is_stopped = move || standing.with(|standing| matches!(standing, Standing::Stopped(_)));
    let stopped = move || view! { <span class="quiet">{say::stopped(standing.with(Standing::reached))}</span> };
    view! {
        <button type="button" class="small" data-test=format!("{name}-start") on:click=move |_| start.run(())>{ask}</button>
        {move || is_stopped().then(stopped)}
    }
}

fn why_not(standing: Signal<Standing>) -> Option<String> {
    standing.with(|standing| match standing {
        Standing::NotDefined(sentence) => Some(sentence.clone()),
        _ => None,
    })
}
