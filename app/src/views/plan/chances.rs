//! How often the planned panel would reach which verdict: simulated in slices as one types, and on request over numbers
//! of assessors.

use super::fields::NumberField;
use crate::parts::disclosure::HelpOn;
use crate::parts::figure::{Drawing, FigureView, Form};
use crate::parts::run_progress::RunProgress;
use crate::state::AppContext;
use crate::state::long_run::LongRun;
use crate::state::plan::chances::{follow_draft, start_curve, start_planned};
use crate::state::plan::typed_numbers::share_from;
use crate::views::findings::standing;
use crate::words::plan::chances as say;
use leptos::prelude::*;
use likeness_core::figures::{VerdictChancesOptions, verdict_chances};
use likeness_core::plan::brief::study_brief::QuestionKind;
use likeness_core::planning::draft_chances::DraftChances;
use likeness_core::stats::Defined;
use likeness_core::stats::r#match::verdict_chances::VerdictChances;
use std::sync::Arc;

/// What is simulated, and what came out for the planned number and over all numbers. Copies are handles to the same.
#[derive(Clone, Copy)]
pub struct ChancesRuns {
    pub draft: Memo<Defined<DraftChances>>,
    pub planned: LongRun<VerdictChances>,
    pub curve: LongRun<VerdictChances>,
}

impl ChancesRuns {
    /// Follows the draft from now on.
    pub fn following(context: AppContext) -> Self {
        let draft = Memo::new(move |_| context.app.plan_draft.with(DraftChances::of));
        let in_slices = context.findings.in_slices();
        let runs = ChancesRuns { draft, planned: LongRun::new(in_slices), curve: LongRun::new(in_slices) };
        follow_draft(draft, runs.planned, runs.curve);
        runs
    }
}

/// Whether the question is one of a match; other questions have no such verdict.
pub fn asks_for_match(context: AppContext) -> Memo<bool> {
    Memo::new(move |_| context.app.plan_draft.with(|draft| draft.brief.kind == QuestionKind::Match))
}

/// The sentence, for the planned number of assessors.
#[component]
pub fn ChancesSaid(runs: ChancesRuns) -> impl IntoView {
    let lines = move || match (runs.draft.get(), runs.planned.found()) {
        (Ok(draft), Some(found)) => say::sentences(&draft, &found),
        _ => Vec::new(),
    };
    let few = move || runs.draft.get().ok().and_then(|draft| say::few(draft.assessors));
    view! {
        <div data-test="plan-chances" aria-live="polite">
            {move || lines().into_iter().enumerate().map(|(place, line)| view! {
                <p class=if place == 0 { "power-sentence" } else { "quiet" }>{line}</p>
            }).collect_view()}
            {move || few().map(|words| view! { <p class="is-warning">{words}</p> })}
            <RunProgress
                standing=Signal::derive(move || standing(runs.planned, say::why_not))
                name="plan-chances"
                doing=say::DOING
                ask=say::ASK
                start=move |()| start_planned(runs.draft, runs.planned)
                stop=move |()| runs.planned.stop()
            />
        </div>
    }
}

/// The correlation that is assumed between attributes.
#[component]
pub fn Correlation() -> impl IntoView {
    view! {
        <NumberField
            label=say::CORRELATION
            hook="plan-correlation"
            shows=|draft| say::correlation_shown(draft.scatter.correlation)
            takes=|draft, typed| share_from(typed, true).map(|share| draft.scatter.correlation = share)
        />
    }
}

/// The chances over numbers of assessors, worked out on request.
#[component]
pub fn ChancesCurve(runs: ChancesRuns) -> impl IntoView {
    let is_found = Memo::new(move |_| runs.curve.found().is_some());
    view! {
        <section class="plan-chances">
            <h2>{say::HEADING}</h2>
            <p class="quiet">{say::curve_about()}</p>
            <RunProgress
                standing=Signal::derive(move || standing(runs.curve, say::why_not))
                name="plan-curve"
                doing=say::CURVE_DOING
                ask=say::CURVE_ASK
                start=move |()| start_curve(runs.draft, runs.curve)
                stop=move |()| runs.curve.stop()
            />
            {move || is_found.get().then(|| view! { <FigureView name="plan-chances" drawing=drawing(runs) chosen=|_| ()/> })}
            <HelpOn help=&say::HELP/>
        </section>
    }
}

fn drawing(runs: ChancesRuns) -> Drawing {
    Arc::new(move |form: Form| {
        let (found, draft) = (runs.curve.found()?, runs.draft.get().ok()?);
        let Form { width_px, theme, heading } = form;
        let options = VerdictChancesOptions { width_px, theme, heading, assessors: draft.assessors };
        Some(verdict_chances(&found, &options))
    })
}
