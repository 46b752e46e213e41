//! The study that all sources of a plan make together, and how far it is. It knows nothing of how a source came about.

use super::compare::{JoinDecision, SourceDifference, differ, said};
use super::source::SourceScores;
use crate::notice::{Notice, Place, Severity};
use crate::plan::data_entry::entry::Entry;
use crate::plan::tasting_plan::TastingPlan;
use crate::study::{LogKind, Study};
use crate::text::lists::{counted_regular as counted, plural};

/// The scores of a plan from all their sources.
#[derive(Clone, Debug, PartialEq)]
pub struct JoinedScores {
    /// Sources that have something, in their order.
    sources: Vec<SourceScores>,
    differences: Vec<SourceDifference>,
    /// What stands, a line a serving, an entry an attribute.
    standing: Vec<Vec<Entry>>,
    tolerance: f64,
}

/// How many pages are in: a page is a cup of one assessor.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct PageProgress {
    /// Every line of them has a score or is known to have no mark.
    pub whole: usize,
    pub begun: usize,
    pub planned: usize,
}

impl JoinedScores {
    /// Lays the sources over each other. They differ where they lie more than `tolerance` units of the scale apart.
    pub fn new(mut sources: Vec<SourceScores>, decisions: &[JoinDecision], tolerance: f64) -> Self {
        sources.retain(|source| source.entry_count() > 0);
        sources.sort_by_key(|source| source.source);
        let servings = sources.first().map_or(0, |source| source.entries.len());
        let mut joined = JoinedScores { sources, differences: Vec::new(), standing: Vec::new(), tolerance };
        for serving in 0..servings {
            let attributes = joined.sources[0].entries[serving].len();
            let line = (0..attributes).map(|attribute| joined.settle(serving, attribute, decisions)).collect();
            joined.standing.push(line);
        }
        joined
    }

    /// What stands for one score: where sources differ, what was decided and nothing before that.
    fn settle(&mut self, serving: usize, attribute: usize, decisions: &[JoinDecision]) -> Entry {
        let between = said(&self.sources, serving, attribute);
        if !differ(&between, self.tolerance) {
            return between.first().map_or(Entry::NotTyped, |(_, entry)| *entry);
        }
        let is_about = |decision: &&JoinDecision| {
            (decision.serving, decision.attribute) == (serving, attribute) && decision.between == between
        };
        let decided = decisions.iter().rev().find(is_about).map(|decision| decision.entry);
        self.differences.push(SourceDifference { serving, attribute, between, decided });
        decided.unwrap_or_default()
    }

    pub fn sources(&self) -> &[SourceScores] {
        &self.sources
    }

    pub fn differences(&self) -> &[SourceDifference] {
        &self.differences
    }

    /// Differences that nobody decided: their scores are missing.
    pub fn undecided(&self) -> usize {
        self.differences.iter().filter(|difference| difference.decided.is_none()).count()
    }

    /// How many scores stand.
    pub fn score_count(&self) -> usize {
        self.standing.iter().flatten().filter(|entry| matches!(entry, Entry::Score(_))).count()
    }

    pub fn progress(&self, plan: &TastingPlan) -> PageProgress {
        let is_blank = |entry: &Entry| *entry == Entry::NotTyped;
        PageProgress {
            whole: self.standing.iter().filter(|line| !line.iter().any(is_blank)).count(),
            begun: self.standing.iter().filter(|line| !line.iter().all(is_blank)).count(),
            planned: plan.servings().len(),
        }
    }

    /// The study with every score that stands.
    pub fn study(&self, plan: &TastingPlan, when: &str) -> Study {
        let mut study = plan.study_skeleton(when);
        for (serving, line) in self.standing.iter().enumerate() {
            for (attribute, entry) in line.iter().enumerate() {
                if let Entry::Score(score) = entry {
                    study.set_score(serving, attribute, Some(*score));
                }
            }
        }
        for source in &self.sources {
            study.note_in_log(when, LogKind::Opened, source.log.clone());
            study.notices.extend(source.notices.iter().cloned());
        }
        study.notices.extend(self.about_differences());
        study.notices.extend(self.about_pages(plan));
        study
    }

    fn about_differences(&self) -> Vec<Notice> {
        let (all, open) = (self.differences.len(), self.undecided());
        let say = |severity, what: String, hint: &str| Notice::new(severity, Place::default(), what, hint);
        let differed = plural(all, "differs", "differ");
        let between =
            format!("{} {differed} between its sources by more than {}", counted(all, "score"), self.tolerance);
        match (all, open) {
            (0, _) => Vec::new(),
            (_, 0) => vec![say(Severity::Understood, format!("{between}; a person decided."), "")],
            _ => vec![say(
                Severity::Check,
                format!("{between}; {open} of them not decided, and missing."),
                "Look at the paper and decide.",
            )],
        }
    }

    fn about_pages(&self, plan: &TastingPlan) -> Option<Notice> {
        let progress = self.progress(plan);
        let what = format!("Scores of {} so far.", progress.in_words());
        let hint = "The others are missing. Make the study again when they are in.";
        (progress.whole < progress.planned).then(|| Notice::new(Severity::Check, Place::default(), what, hint))
    }
}

impl PageProgress {
    /// "12 of 80 pages"; pages that are begun only are told.
    pub fn in_words(&self) -> String {
        let pages = format!("{} of {}", self.whole, counted(self.planned, "page"));
        match self.begun - self.whole {
            0 => pages,
            begun => format!("{pages} and parts of {begun} more"),
        }
    }
}
