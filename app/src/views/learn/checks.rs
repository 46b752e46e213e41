//! Published figures beside what this machine makes of them.

use crate::browser::timers;
use crate::parts::disclosure::HelpOn;
use crate::state::AppContext;
use crate::state::learning;
use crate::words;
use crate::words::learning as say;
use leptos::prelude::*;
use likeness_core::self_check::{CheckValue, Topic};

#[component]
pub fn Checks() -> impl IntoView {
    let checks = expect_context::<AppContext>().app.learning.checks;
    view! {
        <section>
            <h2>{say::CHECKS}</h2>
            <p class="note">{say::CHECKS_INTRO}</p>
            <RunChecks/>
            {move || checks.get().map(|checks| view! { <CheckTable checks/> })}
            <HelpOn help=&words::help::CHECKS/>
        </section>
    }
}

/// The button that computes every figure, and how many agree.
#[component]
fn RunChecks() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let (checks, computing) = (app.learning.checks, RwSignal::new(false));
    let start = move |_| {
        computing.set(true);
        // The browser paints what is said before the computing starts.
        let compute = move || {
            learning::run_checks(app);
            computing.set(false);
        };
        timers::after(std::time::Duration::from_millis(30), compute);
    };
    let label = move || if checks.with(Option::is_some) { say::RUN_AGAIN } else { say::RUN_CHECKS };
    let said = move || match computing.get() {
        true => Some(say::COMPUTING.to_owned()),
        false => checks.with(|checks| checks.as_deref().map(summary)),
    };
    view! {
        <div class="tools">
            <button type="button" class="small" data-test="run-checks" disabled=move || computing.get() on:click=start>{label}</button>
            <p role="status" data-test="checks-summary">{said}</p>
        </div>
    }
}

#[component]
fn CheckTable(checks: Vec<CheckValue>) -> impl IntoView {
    let topic = |topic: Topic| {
        let rows = checks.iter().filter(|check| check.topic == topic).map(check_row).collect_view();
        view! {
            <tbody>
                <tr><th colspan="5" scope="rowgroup" class="group">{topic.in_words()}</th></tr>
                {rows}
            </tbody>
        }
    };
    view! {
        <div class="table-place" tabindex="0" role="region" aria-label=say::CHECKS>
            <table class="results checks" data-test="checks">
                {check_head()}
                {Topic::ALL.into_iter().map(topic).collect_view()}
            </table>
        </div>
    }
}

fn check_head() -> impl IntoView {
    view! {
        <thead>
            <tr>
                <th scope="col" class="words">{say::FIGURE}</th>
                <th scope="col" class="number">{say::EXPECTED}</th>
                <th scope="col" class="number">{say::GOT}</th>
                <th scope="col" class="number">{say::TOLERANCE}</th>
                <th scope="col">{say::AGREES}</th>
            </tr>
        </thead>
    }
}

fn check_row(check: &CheckValue) -> impl IntoView + use<> {
    let agrees = check.agrees();
    let got = check.got.map_or_else(|| say::NOTHING_CAME.to_owned(), words::learning::exact_number);
    view! {
        <tr>
            <th scope="row" class="row-head">{check.what.clone()}<span class="source">{check.source}</span></th>
            <td class="number">{words::learning::exact_number(check.expected)}</td>
            <td class="number">{got}</td>
            <td class="number">{words::learning::rough_number(check.tolerance)}</td>
            <td class=if agrees { "" } else { "refused" }>{if agrees { say::YES } else { say::NO }}</td>
        </tr>
    }
}

fn summary(checks: &[CheckValue]) -> String {
    let agree = checks.iter().filter(|check| check.agrees()).count();
    say::checks_in_words(agree, checks.len())
}
