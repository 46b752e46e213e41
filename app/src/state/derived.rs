//! What follows from what the user gave: memos of pure functions of the engine. Nothing here writes.

use super::ground::{Ground, OpenedFile};
use leptos::prelude::*;
use likeness_core::read::{GivenFile, Reading, read_files};
use likeness_core::stats::panel::{PanelPerformance, performance};
use likeness_core::stats::{Analysis, AttributeAnalysis, CandidateAnalysis, Verdict, analyse};
use likeness_core::write::json::analysis_json;
use likeness_core::write::sentences::candidate_sentence;
use std::ops::Deref;
use std::sync::Arc;

/// A result that is handed around without copying it. Two are the same only if they are one.
#[derive(Debug)]
pub struct Shared<T>(Arc<T>);

/// The verdict on one candidate, ready to be read.
#[derive(Clone, Debug, PartialEq)]
pub struct CandidateVerdict {
    pub sample: String,
    pub verdict: Verdict,
    pub sentence: String,
    pub candidate: CandidateAnalysis,
}

/// All memos. Copies are handles to the same ones.
#[derive(Clone, Copy)]
pub struct Derived {
    ground: Ground,
    pub reading: Memo<Option<Shared<Reading>>>,
    pub analysis: Memo<Option<Shared<Analysis>>>,
    pub panel: Memo<Option<Shared<PanelPerformance>>>,
    /// Most like the target first.
    pub verdicts: Memo<Vec<CandidateVerdict>>,
    /// The candidate that is looked at; `None` while no target is named.
    pub candidate: Memo<Option<String>>,
}

impl Derived {
    pub fn new(ground: Ground) -> Self {
        let reading = Memo::new(move |_| reading_of(ground));
        let analysis =
            Memo::new(move |_| ground.study.with(|study| study.as_ref().map(|study| Shared::new(analyse(study)))));
        let panel = Memo::new(move |_| panel_of(ground, analysis));
        let verdicts =
            Memo::new(move |_| analysis.with(|analysis| analysis.as_ref().map(verdicts_of)).unwrap_or_default());
        let candidate = Memo::new(move |_| candidate_of(ground, verdicts));
        Derived { ground, reading, analysis, panel, verdicts, candidate }
    }

    /// The results as the shell program prints them.
    pub fn results_json(&self) -> Option<String> {
        let reading_notices = self.ground.study.with(|study| study.as_ref().map(|study| study.notices.clone()))?;
        let analysis = self.analysis.get()?;
        serde_json::to_string_pretty(&analysis_json(&analysis, &reading_notices)).ok()
    }

    /// Whether a file is being shown for confirmation.
    pub fn is_reading(&self) -> bool {
        self.ground.opened.with(Option::is_some) && !self.file_is_unreadable()
    }

    /// Whether the opened file holds nothing that could be shown for confirmation.
    pub fn file_is_unreadable(&self) -> bool {
        self.reading.with(|reading| {
            reading.as_ref().is_some_and(|reading| reading.study.is_none() && reading.preview.header.is_empty())
        })
    }
}

impl<T> Shared<T> {
    pub fn new(value: T) -> Self {
        Shared(Arc::new(value))
    }
}

impl<T> Clone for Shared<T> {
    fn clone(&self) -> Self {
        Shared(Arc::clone(&self.0))
    }
}

impl<T> PartialEq for Shared<T> {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0)
    }
}

impl<T> Deref for Shared<T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.0
    }
}

fn reading_of(ground: Ground) -> Option<Shared<Reading>> {
    ground.opened.with(|opened| {
        let opened = opened.as_ref()?;
        let given = |file: &OpenedFile| GivenFile { name: file.name.clone(), bytes: Arc::clone(&file.bytes) };
        let files: Vec<GivenFile> = opened.files.iter().map(given).collect();
        Some(Shared::new(read_files(&files, &opened.options)))
    })
}

/// The panel is judged with the p of the mixed model, so that the page never shows two different ones.
fn panel_of(ground: Ground, analysis: Memo<Option<Shared<Analysis>>>) -> Option<Shared<PanelPerformance>> {
    let analysis = analysis.get()?;
    let p = |attribute: &AttributeAnalysis| attribute.anova.as_ref().map(|anova| anova.p).map_err(Clone::clone);
    let sample_p: Vec<_> = analysis.attributes.iter().map(p).collect();
    ground.study.with(|study| study.as_ref().map(|study| Shared::new(performance(study, &sample_p))))
}

fn verdicts_of(analysis: &Shared<Analysis>) -> Vec<CandidateVerdict> {
    let verdict_of = |candidate: &CandidateAnalysis| CandidateVerdict {
        sample: candidate.sample.clone(),
        verdict: candidate.verdict,
        sentence: candidate_sentence(analysis, candidate),
        candidate: candidate.clone(),
    };
    let mut verdicts: Vec<CandidateVerdict> = analysis.candidates.iter().map(verdict_of).collect();
    // What may serve stands first: matches, then what is not shown, then what is off; closest first in each.
    let order = |verdict: Verdict| match verdict {
        Verdict::Match => 0,
        Verdict::NotShown => 1,
        Verdict::Off => 2,
    };
    let distance =
        |one: &CandidateVerdict| one.candidate.distance.as_ref().map_or(f64::INFINITY, |d| d.distance_adjusted);
    verdicts.sort_by(|a, b| order(a.verdict).cmp(&order(b.verdict)).then(distance(a).total_cmp(&distance(b))));
    verdicts
}

fn candidate_of(ground: Ground, verdicts: Memo<Vec<CandidateVerdict>>) -> Option<String> {
    let wanted = ground.candidate.get();
    verdicts.with(|verdicts| {
        let chosen = verdicts.iter().find(|verdict| Some(&verdict.sample) == wanted.as_ref());
        chosen.or(verdicts.first()).map(|verdict| verdict.sample.clone())
    })
}
