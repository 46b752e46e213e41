//! Scores: every score, what is left out, what is corrected, what was said on reading, what was done.

use super::exclusions::{Exclusions, LeaveOut};
use super::filters::ScoreFilters;
use super::score_card::ScoreCard;
use super::scores_table::{GRID_ID, ScoresTable, ShownScores};
use crate::parts::next_step::NextStep;
use crate::parts::notices::NoticeList;
use crate::state::study::exclusions::scope_in_words;
use crate::state::study::score_rows::{ScoreColumn, ScoreFilter, ScorePlace};
use crate::state::study::scores_shown::look_at_marks;
use crate::state::{AppContext, View, actions};
use crate::words;
use crate::words::scores as say;
use leptos::prelude::*;
use likeness_core::study::{Edit, ExclusionScope, Study};
use likeness_core::tables;

/// Lines of the log that stand here; the report holds them all.
const LINES_SHOWN: usize = 40;

#[component]
pub fn Scores() -> impl IntoView {
    let context: AppContext = expect_context();
    provide_context(ShownScores::new(context));
    let notices = Memo::new(move |_| {
        let mut notices = context.app.study.with(|study| study.as_ref().map(|s| s.notices.clone())).unwrap_or_default();
        context.derived.analysis.with(|analysis| notices.extend(analysis.iter().flat_map(|a| a.notices.clone())));
        notices
    });
    let answer = move || context.app.study.with(|study| study.as_ref().map(tables::scores::answer));
    view! {
        <div class="scores">
            <h1 class="heard">{words::SCORES}</h1>
            <section class="answer">
                <h2 class="headline" data-test="answer">{answer}</h2>
                <NextStep label=words::TO_VERDICT press=move |()| actions::look_at(context.app, View::Match)/>
            </section>
            <section class="every-mark">
                <ScoreFilters/>
                <div class="marks-and-card">
                    <ScoresTable/>
                    <ScoreCard grid_id=GRID_ID/>
                </div>
            </section>
            <div class="scores-record"><OutAndCorrected/><Done/></div>
            <section>
                <h2>{say::ON_READING}</h2>
                <NoticeList notices/>
            </section>
        </div>
    }
}

#[component]
fn OutAndCorrected() -> impl IntoView {
    view! {
        <section>
            <h2>{words::LEFT_OUT}</h2>
            <Exclusions/>
            <LeaveOut/>
            <h2>{say::CORRECTED}</h2>
            <Corrections/>
        </section>
    }
}

#[component]
fn Done() -> impl IntoView {
    view! {
        <section>
            <h2>{say::DONE}</h2>
            <Log/>
        </section>
    }
}

/// Every corrected score, as it came and as it stands.
#[component]
fn Corrections() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let list = Memo::new(move |_| app.study.with(|study| study.as_ref().map(corrections_of)).unwrap_or_default());
    let line = move |(when, said, place): (String, String, ScorePlace)| {
        view! {
            <li>
                <span class="when">{when}</span>" "{said}" "
                <button type="button" class="small" on:click=move |_| look_at_marks(app, ScoreFilter::default(), Some(place))>
                    {say::SEE_SCORE}
                </button>
            </li>
        }
    };
    move || {
        let list = list.get();
        if list.is_empty() {
            return view! { <p class="quiet">{say::NOTHING_CORRECTED}</p> }.into_any();
        }
        view! { <ul class="left-out" data-test="corrections">{list.into_iter().map(line).collect_view()}</ul> }
            .into_any()
    }
}

/// When each correction was made, what it says, and where it stands; the latest first.
fn corrections_of(study: &Study) -> Vec<(String, String, ScorePlace)> {
    let line = |edit: &Edit| {
        let scope = ExclusionScope::Score { serving: edit.serving, attribute: edit.attribute };
        let said = say::correction(&scope_in_words(study, scope), edit, &study.scale.unit);
        (edit.when.clone(), said, ScorePlace::Cell(edit.serving, ScoreColumn::Attribute(edit.attribute)))
    };
    study.edits.iter().rev().map(line).collect()
}

/// The log, the latest line first.
#[component]
fn Log() -> impl IntoView {
    let context: AppContext = expect_context();
    let log =
        Memo::new(move |_| context.app.study.with(|study| study.as_ref().map(|s| s.log.clone())).unwrap_or_default());
    let line = |entry: likeness_core::study::LogEntry| {
        view! { <li><span class="when">{entry.when}</span>" "{entry.what}</li> }
    };
    move || {
        let log = log.get();
        let more = log.len().saturating_sub(LINES_SHOWN);
        if log.is_empty() {
            return view! { <p class="quiet">{say::NOTHING_DONE}</p> }.into_any();
        }
        view! {
            <p class="note">{say::LATEST_FIRST}</p>
            <ul class="log" data-test="scores-log" tabindex="0" aria-label=say::DONE>
                {log.into_iter().rev().take(LINES_SHOWN).map(line).collect_view()}
            </ul>
            {(more > 0).then(|| view! { <p class="quiet">{words::and_more(more)}</p> })}
        }
        .into_any()
    }
}
