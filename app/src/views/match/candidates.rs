//! The verdict on each candidate: a mark, a sentence that a flavourist can act on, how far away it is.

use crate::parts::disclosure::HelpOn;
use crate::parts::numerals::readable;
use crate::parts::verdict_icon::VerdictIcon;
use crate::state::AppContext;
use crate::state::actions;
use crate::state::derived::CandidateVerdict;
use crate::words;
use leptos::prelude::*;
use likeness_core::catalogue::r#match::LeaveOneOut;
use likeness_core::catalogue::pots::RoundShifts;
use likeness_core::catalogue::{Entry, Statistic};
use likeness_core::stats::Analysis;
use likeness_core::study::Study;
use likeness_core::tables;
use likeness_core::tables::r#match::reasons::cups_sentence;
use likeness_core::text::numbers::score;

/// The verdict on all candidates in one line; read out when it changes.
#[component]
pub fn Headline() -> impl IntoView {
    let context: AppContext = expect_context();
    let of_analysis = move |say: fn(&Analysis) -> Option<String>| {
        Memo::new(move |_| context.derived.analysis.with(|analysis| analysis.as_ref().and_then(|found| say(found))))
    };
    let headline = of_analysis(|analysis| Some(tables::r#match::headline(analysis)));
    let alarm = of_analysis(tables::r#match::alarm);
    let cups = of_analysis(cups_sentence);
    let late = of_analysis(tables::r#match::late_sentence);
    view! {
        <h2 class="headline" aria-live="polite" data-test="headline">
            {move || headline.get().map(readable)}
        </h2>
        {move || late.get().map(|said| view! { <p class="late" data-test="late">{readable(said)}</p> })}
        {move || alarm.get().map(|said| view! { <p class="alarm" role="alert" data-test="alarm">{readable(said)}</p> })}
        {move || cups.get().map(|said| view! { <p class="quiet" data-test="cups">{said}</p> })}
    }
}

/// Who tasted, who is left out, when the margin was settled, and on whom a verdict hangs.
#[component]
pub fn StandsOn() -> impl IntoView {
    let context: AppContext = expect_context();
    Effect::new(move |_| {
        if let Some(entry) = Entry::named(LeaveOneOut::ABOUT.id) {
            context.findings.start_unasked(entry);
        }
    });
    let said = move || {
        let (influence, analysis) = (context.findings.found::<LeaveOneOut>(), context.derived.analysis.get()?);
        let line = |study: &Study| tables::r#match::stands_on(study, &analysis, influence.as_deref());
        context.app.study.with(|study| study.as_ref().map(line)).map(readable)
    };
    view! { <p class="stands-on" data-test="stands-on">{said}</p> }
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
    let asides = verdict.asides.clone();
    let own = verdict.sample.clone();
    // Pots that may differ are told as soon as the rounds were compared.
    let shifts = move || {
        let found = context.findings.found::<RoundShifts>()?;
        let of_sample = found.iter().filter(|one| one.candidate == own).filter_map(|one| one.found.as_ref().ok());
        let sentences = of_sample.filter(|shift| shift.is_shown).map(|shift| shift.sentence.clone());
        Some(
            sentences.map(|said| view! { <span class="aside" data-test="pots">{readable(said)}</span> }).collect_view(),
        )
    };
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
                {shifts}
                {asides.into_iter().map(|aside| view! { <span class="aside" data-test="aside">{readable(aside)}</span> }).collect_view()}
                <span class="distance">{readable(distance)}</span>
            </button>
        </li>
    }
}

fn distance_in_words(analysis: &Analysis, verdict: &CandidateVerdict) -> String {
    match &verdict.candidate.distance {
        Ok(distance) => words::distance(
            &score(distance.distance_adjusted, analysis.scale_maximum),
            &score(distance.distance, analysis.scale_maximum),
            &analysis.unit,
        ),
        Err(reason) => words::distance_not_defined(&reason.because),
    }
}
