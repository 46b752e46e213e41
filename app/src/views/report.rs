//! Report: everything on one page, to print and to keep; the results and the study as files.

use super::Desk;
use super::record::Record;
use crate::browser::{download, page};
use crate::parts::mark::VerdictMark;
use crate::parts::table::TableView;
use crate::state::derived::CandidateVerdict;
use crate::state::opening;
use crate::tables;
use crate::words;
use leptos::prelude::*;
use likeness_core::figures::{DifferencesOptions, SpiderOptions, ThemeKind, differences, spider, to_svg};
use likeness_core::stats::Analysis;

/// Width of the figures in the report, in CSS pixels: the text width of A4 with margins of 18 mm.
const FIGURE_WIDTH_PX: f64 = 650.0;

#[component]
pub fn Report() -> impl IntoView {
    let desk: Desk = expect_context();
    let title = move || desk.ground.study.with(|study| study.as_ref().map(|study| study.title.clone()));
    let means = Signal::derive(move || {
        desk.derived.analysis.with(|analysis| analysis.as_ref().map(|analysis| tables::means::means(analysis, &[])))
    });
    let anova = Signal::derive(move || {
        desk.derived.analysis.with(|analysis| analysis.as_ref().map(|analysis| tables::anova::anova(analysis)))
    });
    view! {
        <article class="report">
            <Saving/>
            <h1>{title}</h1>
            <ReportVerdicts/>
            {move || desk.derived.analysis.get().map(|analysis| view! { <div class="printed">{overview_figure(&analysis)}</div> })}
            <EachCandidate/>
            <TableView table=means/>
            <TableView table=anova/>
            <Record/>
        </article>
    }
}

/// Printing and saving.
#[component]
fn Saving() -> impl IntoView {
    let desk: Desk = expect_context();
    let save_study = move |_| {
        if let Some(text) = desk.ground.study.with_untracked(|study| study.as_ref().map(opening::text_to_keep)) {
            download::save_text(words::STUDY_FILE_NAME, "application/json", &text);
        }
    };
    let save_json = move |_| {
        if let Some(text) = desk.derived.results_json() {
            download::save_text(words::JSON_FILE_NAME, "application/json", &text);
        }
    };
    let json = move || desk.derived.results_json();
    view! {
        <div class="saving">
            <p>{words::REPORT_INTRO}</p>
            <div class="tools">
                <button type="button" class="button is-main" on:click=move |_| page::print()>{words::PRINT}</button>
                <button type="button" class="button" on:click=save_study data-test="save-study">{words::SAVE_STUDY}</button>
                <button type="button" class="button" on:click=save_json data-test="save-json">{words::SAVE_JSON}</button>
            </div>
            // For programs that read the page: the same text that the button saves.
            <script type="application/json" data-test="results-json">{json}</script>
        </div>
    }
}

#[component]
fn ReportVerdicts() -> impl IntoView {
    let desk: Desk = expect_context();
    let line = |verdict: CandidateVerdict| {
        view! { <li><VerdictMark verdict=verdict.verdict/><span class="sentence">{verdict.sentence}</span></li> }
    };
    view! {
        <section class="report-verdicts">
            <h2>{words::VERDICT}</h2>
            {move || {
                let verdicts = desk.derived.verdicts.get();
                if verdicts.is_empty() {
                    view! { <p>{words::NAME_THE_TARGET}</p> }.into_any()
                } else {
                    view! { <ul>{verdicts.into_iter().map(line).collect_view()}</ul> }.into_any()
                }
            }}
        </section>
    }
}

/// For every candidate its figure of differences and its table.
#[component]
fn EachCandidate() -> impl IntoView {
    let desk: Desk = expect_context();
    move || {
        desk.derived.analysis.get().map(|analysis| {
            let one = |sample: String| {
                let table = tables::differences::differences(&analysis, &sample);
                view! {
                    <section class="report-candidate">
                        <div class="printed">{difference_figure(&analysis, &sample)}</div>
                        <TableView table=Signal::stored(Some(table))/>
                    </section>
                }
            };
            analysis.candidates.iter().map(|candidate| one(candidate.sample.clone())).collect_view()
        })
    }
}

fn overview_figure(analysis: &Analysis) -> impl IntoView + use<> {
    let options = SpiderOptions { width_px: FIGURE_WIDTH_PX, theme: ThemeKind::Print, ..SpiderOptions::default() };
    view! { <div inner_html=to_svg(&spider(analysis, &options))></div> }
}

fn difference_figure(analysis: &Analysis, sample: &str) -> impl IntoView + use<> {
    let options = DifferencesOptions {
        width_px: FIGURE_WIDTH_PX,
        theme: ThemeKind::Print,
        candidates: Some(vec![sample.to_owned()]),
        ..DifferencesOptions::default()
    };
    view! { <div inner_html=to_svg(&differences(analysis, &options))></div> }
}
