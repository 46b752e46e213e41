//! What follows from what the user gave: memos of pure functions of the engine. Nothing here writes.

use super::app_state::{AppState, OpenedFile};
use crate::shared::Shared;
use leptos::prelude::*;
use likeness_core::read::{GivenFile, Reading, read_files};
use likeness_core::stats::panel::performance::{PanelPerformance, performance};
use likeness_core::stats::{Analysis, AttributeAnalysis, CandidateAnalysis, Verdict, analyse};
use likeness_core::study::{Margin, Settings, Study};
use likeness_core::tables::r#match::reasons::{bars, cautions};
use likeness_core::tables::r#match::sentences::candidate_sentence;
use std::sync::Arc;

/// The verdict on one candidate, ready to be read.
#[derive(Clone, Debug, PartialEq)]
pub struct CandidateVerdict {
    pub sample: String,
    pub verdict: Verdict,
    /// The target under another code: no candidate, but what the panel makes of no difference.
    pub is_target_again: bool,
    pub sentence: String,
    /// Why it is no match, and what the reader must know about the verdict.
    pub asides: Vec<String>,
    pub candidate: CandidateAnalysis,
}

/// All memos. Copies are handles to the same ones.
#[derive(Clone, Copy)]
pub struct Derived {
    app: AppState,
    pub reading: Memo<Option<Shared<Reading>>>,
    /// Whether target, margin and deciding attributes are settled, so that the verdict may be seen.
    pub is_settled: Memo<bool>,
    /// The study as far as distances depend on it: scores, kinds of attributes, exclusions, target and seed.
    pub tasted: Memo<Option<Shared<Study>>>,
    /// The analysis of the study; nothing in it is compared with the target before that is settled.
    pub analysis: Memo<Option<Shared<Analysis>>>,
    pub panel: Memo<Option<Shared<PanelPerformance>>>,
    /// Most like the target first.
    pub verdicts: Memo<Vec<CandidateVerdict>>,
    /// The candidate that is looked at; `None` while no target is named.
    pub candidate: Memo<Option<String>>,
    /// The sample that is selected in every view, the target included; `None` where none was chosen.
    pub selected_sample: Memo<Option<String>>,
    /// The attribute that is selected in every view: the one pointed at, else the one chosen.
    pub selected_attribute: Memo<Option<String>>,
}

impl Derived {
    pub fn new(app: AppState) -> Self {
        let reading = Memo::new(move |_| reading_of(app));
        let is_settled =
            Memo::new(move |_| app.study.with(|study| study.as_ref().is_some_and(|study| study.decided_at.is_some())));
        let tasted = Memo::new(move |before: Option<&Option<Shared<Study>>>| tasted_of(app, before));
        let analysis = Memo::new(move |_| app.study.with(|study| study.as_ref().map(analysis_of)));
        let panel = Memo::new(move |_| panel_of(app, analysis));
        let verdicts = Memo::new(move |_| analysis.with(|found| found.as_deref().map(verdicts_of).unwrap_or_default()));
        let candidate = Memo::new(move |_| candidate_of(app, verdicts));
        let selected_sample = Memo::new(move |_| selected_sample_of(app, analysis));
        let selected_attribute = Memo::new(move |_| selected_attribute_of(app, analysis));
        Derived {
            app,
            reading,
            is_settled,
            tasted,
            analysis,
            panel,
            verdicts,
            candidate,
            selected_sample,
            selected_attribute,
        }
    }

    /// Whether a file is being shown for confirmation.
    pub fn is_reading(&self) -> bool {
        self.app.opened.with(Option::is_some) && !self.file_is_unreadable()
    }

    /// Whether the opened file holds nothing that could be shown for confirmation.
    pub fn file_is_unreadable(&self) -> bool {
        self.reading.with(|reading| {
            reading.as_ref().is_some_and(|reading| {
                let has_tables = reading.preview.sheets.iter().any(|sheet| sheet.rows > 0);
                reading.study.is_none() && reading.preview.header.is_empty() && !has_tables
            })
        })
    }
}

fn reading_of(app: AppState) -> Option<Shared<Reading>> {
    app.opened.with(|opened| {
        let opened = opened.as_ref()?;
        let given = |file: &OpenedFile| GivenFile { name: file.name.clone(), bytes: Arc::clone(&file.bytes) };
        let files: Vec<GivenFile> = opened.files.iter().map(given).collect();
        Some(Shared::new(read_files(&files, &opened.options)))
    })
}

/// The panel is judged with the p of the mixed model, so that the page never shows two different ones.
fn panel_of(app: AppState, analysis: Memo<Option<Shared<Analysis>>>) -> Option<Shared<PanelPerformance>> {
    let analysis = analysis.get()?;
    let p = |attribute: &AttributeAnalysis| attribute.anova.as_ref().map(|anova| anova.p).map_err(Clone::clone);
    let sample_p: Vec<_> = analysis.attributes.iter().map(p).collect();
    app.study.with(|study| study.as_ref().map(|study| Shared::new(performance(study, &sample_p))))
}

/// Nothing is compared with the target before it is settled what counts as a match.
fn analysis_of(study: &Study) -> Shared<Analysis> {
    let mut analysis = analyse(study);
    if study.decided_at.is_none() {
        analysis.target = None;
        analysis.candidates.clear();
        analysis.attributes.iter_mut().for_each(|attribute| attribute.versus_target.clear());
    }
    Shared::new(analysis)
}

/// The same one as before where nothing in it changed, so that what was drawn for it is kept.
fn tasted_of(app: AppState, before: Option<&Option<Shared<Study>>>) -> Option<Shared<Study>> {
    let tasted = app.study.with(|study| {
        let mut tasted = study.as_ref()?.clone();
        let settings = &mut tasted.settings;
        settings.margin = Margin::of(1.0);
        settings.deciding.clear();
        let usual = Settings::default();
        settings.profile_share = usual.profile_share;
        settings.candidates_together = usual.candidates_together;
        tasted.title.clear();
        tasted.log.clear();
        tasted.notices.clear();
        tasted.decided_at = None;
        tasted.report = Default::default();
        Some(tasted)
    })?;
    match before {
        Some(Some(known)) if **known == tasted => Some(known.clone()),
        _ => Some(Shared::new(tasted)),
    }
}

fn verdicts_of(analysis: &Analysis) -> Vec<CandidateVerdict> {
    let verdict_of = |candidate: &CandidateAnalysis| CandidateVerdict {
        sample: candidate.sample.clone(),
        verdict: candidate.verdict,
        is_target_again: analysis.is_target_again(&candidate.sample),
        asides: bars(analysis, candidate).into_iter().chain(cautions(analysis, candidate)).collect(),
        sentence: candidate_sentence(analysis, candidate),
        candidate: candidate.clone(),
    };
    analysis.most_alike_first().into_iter().map(verdict_of).collect()
}

fn candidate_of(app: AppState, verdicts: Memo<Vec<CandidateVerdict>>) -> Option<String> {
    let wanted = app.candidate.get();
    verdicts.with(|verdicts| {
        let chosen = verdicts.iter().find(|verdict| Some(&verdict.sample) == wanted.as_ref());
        chosen.or(verdicts.first()).map(|verdict| verdict.sample.clone())
    })
}

fn selected_sample_of(app: AppState, analysis: Memo<Option<Shared<Analysis>>>) -> Option<String> {
    let wanted = app.candidate.get()?;
    analysis.with(|analysis| analysis.as_ref().is_some_and(|found| found.samples.contains(&wanted))).then_some(wanted)
}

fn selected_attribute_of(app: AppState, analysis: Memo<Option<Shared<Analysis>>>) -> Option<String> {
    let wanted = app.attribute.get().or_else(|| app.selected_attribute_kept.get())?;
    let is_there = |found: &Shared<Analysis>| found.attributes.iter().any(|attribute| attribute.attribute == wanted);
    analysis.with(|analysis| analysis.as_ref().is_some_and(is_there)).then_some(wanted)
}
