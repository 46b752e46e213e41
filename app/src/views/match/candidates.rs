//! The verdict on each candidate: a mark, a sentence that a flavourist can act on, how far away it is.

use crate::parts::disclosure::HelpOn;
use crate::parts::numerals::readable;
use crate::parts::verdict_icon::VerdictIcon;
use crate::state::AppContext;
use crate::state::actions;
use crate::state::derived::CandidateVerdict;
use crate::words;
use leptos::prelude::*;
use likeness_core::stats::{Analysis, Verdict};
use likeness_core::text::numbers::{fixed, score};

/// The verdict on all candidates in one line; read out when it changes.
#[component]
pub fn Headline() -> impl IntoView {
    let context: AppContext = expect_context();
    let headline = Memo::new(move |_| headline(context));
    view! { <h2 class="headline" aria-live="polite" data-test="headline">{headline}</h2> }
}

#[component]
pub fn Candidates() -> impl IntoView {
    let context: AppContext = expect_context();
    view! {
        <section class="verdict" aria-label=words::VERDICT>
            <ol class="candidates">
                {move || context.derived.verdicts.get().into_iter().map(|verdict| view! { <Candidate verdict/> }).collect_view()}
            </ol>
            <div class="helps">
                <HelpOn help=&words::help::VERDICT/>
            </div>
        </section>
    }
}

#[component]
fn Candidate(verdict: CandidateVerdict) -> impl IntoView {
    let context: AppContext = expect_context();
    let (own, name) = (verdict.sample.clone(), verdict.sample.clone());
    let is_chosen = Memo::new(move |_| context.derived.candidate.with(|chosen| chosen.as_ref() == Some(&own)));
    let distance = context.derived.analysis.with_untracked(|analysis| {
        analysis.as_ref().map(|analysis| distance_in_words(analysis, &verdict)).unwrap_or_default()
    });
    let sentence = verdict.sentence.clone();
    view! {
        <li>
            <button
                type="button"
                class="candidate"
                data-test="verdict"
                data-sample=verdict.sample.clone()
                data-verdict=verdict.verdict.word()
                aria-pressed=move || is_chosen.get().to_string()
                on:click=move |_| actions::choose_candidate(context.app, &name)
            >
                <VerdictIcon verdict=verdict.verdict/>
                {verdict.is_target_again.then(|| view! { <span class="again">{words::matching::TARGET_AGAIN_MARK}</span> })}
                <span class="sentence" data-test="verdict-sentence">{readable(sentence)}</span>
                <span class="distance">{readable(distance)}</span>
            </button>
        </li>
    }
}

fn distance_in_words(analysis: &Analysis, verdict: &CandidateVerdict) -> String {
    match &verdict.candidate.distance {
        Ok(distance) => words::distance(
            &score(distance.typical_difference, analysis.scale_maximum),
            &score(distance.distance_adjusted, analysis.scale_maximum),
            &score(distance.distance, analysis.scale_maximum),
            &analysis.unit,
            distance.shape_correlation.map(|shape| fixed(shape, 2)).as_deref(),
        ),
        Err(reason) => words::distance_not_defined(&reason.because),
    }
}

fn headline(context: AppContext) -> String {
    let target =
        context.derived.analysis.with(|analysis| analysis.as_ref().and_then(|analysis| analysis.target.clone()));
    context.derived.verdicts.with(|verdicts| {
        let with = |wanted: Verdict| -> Vec<String> {
            verdicts
                .iter()
                .filter(|one| one.verdict == wanted && !one.is_target_again)
                .map(|one| one.sample.clone())
                .collect()
        };
        let target = target.unwrap_or_default();
        words::headline(&target, &with(Verdict::Match), &with(Verdict::Off), &with(Verdict::NotShown))
    })
}
