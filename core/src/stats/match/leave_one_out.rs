//! Verdicts with and without each assessor. It leaves nobody out of the study: it only shows what would change.

use super::calibrated::VerdictOptions;
use super::judged::{Judged, judge_all};
use super::paired::{PairedAttribute, Pairing};
use crate::defined::{Defined, NotDefined};
use crate::numeric::describe::mean;
use crate::run::{Reached, Run};
use crate::stats::verdict::Verdict;
use crate::study::Study;
use serde::Serialize;

/// What each assessor changes.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Influence {
    pub target: String,
    /// Verdicts with everybody, in the order of the study.
    pub everybody: Vec<CandidateVerdict>,
    /// One entry an assessor, in the order of the study.
    pub without: Vec<WithoutAssessor>,
}

/// Verdict on one candidate.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct CandidateVerdict {
    pub sample: String,
    pub verdict: Verdict,
}

/// The same study with one assessor set aside.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WithoutAssessor {
    pub assessor: String,
    pub candidates: Vec<CandidateVerdict>,
    /// Candidates whose whole verdict differs from that with everybody.
    pub changed: Vec<String>,
    /// Attributes on which a verdict differs, deciding or not.
    pub attributes: Vec<ChangedAttribute>,
}

/// A verdict on one attribute that hangs on one assessor.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ChangedAttribute {
    pub sample: String,
    pub attribute: String,
    pub with: Verdict,
    pub without: Verdict,
    /// Candidate minus target, in units of the scale.
    pub difference_with: f64,
    pub difference_without: f64,
}

/// The same work piece by piece, so that a page can go on listening in between. The result does not depend on how the
/// pieces are shared out.
pub struct InfluenceRun {
    pairing: Pairing,
    attributes: Vec<PairedAttribute>,
    options: VerdictOptions,
    /// Everybody first, then without each assessor; one entry a candidate.
    judged: Vec<Vec<Judged>>,
}

/// Verdict on each candidate with everybody and with each assessor set aside in turn, by the study's own settings.
///
/// Errors: no target named, or fewer than three assessors.
pub fn influence(study: &Study) -> Defined<Influence> {
    InfluenceRun::start(study).map(InfluenceRun::finish)
}

impl InfluenceRun {
    /// Collects the scores; the verdicts are reached by `advance`.
    ///
    /// Errors: as `influence`.
    pub fn start(study: &Study) -> Defined<Self> {
        let target = study.settings.target.as_ref().ok_or_else(|| NotDefined::because("no target is named"))?;
        let pairing = Pairing::of(study)
            .ok_or_else(|| NotDefined::because(format!("there is no sample called “{target}” to be the target")))?;
        let scores = study.active_attributes().into_iter().map(|index| study.attribute_scores(index));
        let attributes: Vec<PairedAttribute> = scores.map(|scores| pairing.attribute(study, &scores)).collect();
        if attributes.is_empty() {
            return Err(NotDefined::because("there is no attribute"));
        }
        if pairing.assessors.len() < 3 {
            return Err(NotDefined::because("with fewer than three assessors nobody can be set aside"));
        }
        let options = VerdictOptions { verdicts_alone: true, ..VerdictOptions::of(&study.settings) };
        Ok(InfluenceRun { pairing, attributes, options, judged: Vec::new() })
    }

    /// Reaches the verdicts of that many panels more: everybody, then all but one.
    pub fn advance(&mut self, panels: usize) {
        let last = self.wanted().min(self.judged.len().saturating_add(panels));
        while self.judged.len() < last {
            let without = self.judged.len().checked_sub(1);
            self.judged.push(judge_all(&self.pairing, &self.attributes, &self.options, without));
        }
    }

    /// Panels judged so far.
    pub fn done(&self) -> usize {
        self.judged.len()
    }

    /// Panels in all: everybody, and without each assessor.
    pub fn wanted(&self) -> usize {
        self.pairing.assessors.len() + 1
    }

    pub fn is_done(&self) -> bool {
        self.done() >= self.wanted()
    }

    /// The result; what is left is done first.
    pub fn finish(mut self) -> Influence {
        self.advance(usize::MAX);
        Influence {
            target: self.pairing.target.clone(),
            everybody: self.whole(0),
            without: (0..self.pairing.assessors.len()).map(|out| self.compare(out)).collect(),
        }
    }

    /// Verdict on each candidate by one of the panels.
    fn whole(&self, panel: usize) -> Vec<CandidateVerdict> {
        let verdict = |judged: &Judged| judged.whole.as_ref().map_or(Verdict::NotShown, |whole| whole.verdict);
        let candidates = self.pairing.candidates.iter().zip(&self.judged[panel]);
        candidates
            .map(|(candidate, judged)| CandidateVerdict { sample: candidate.sample.clone(), verdict: verdict(judged) })
            .collect()
    }

    /// The panel without one assessor beside everybody.
    fn compare(&self, out: usize) -> WithoutAssessor {
        let (with, without) = (self.whole(0), self.whole(out + 1));
        let changed = with.iter().zip(&without).filter(|(a, b)| a.verdict != b.verdict).map(|(a, _)| a.sample.clone());
        let candidates = 0..self.pairing.candidates.len();
        let moved = candidates.flat_map(|at| (0..self.attributes.len()).map(move |place| (at, place)));
        WithoutAssessor {
            assessor: self.pairing.assessors[out].clone(),
            changed: changed.collect(),
            attributes: moved.filter_map(|(at, place)| self.moved(at, place, out)).collect(),
            candidates: without,
        }
    }

    /// The verdict on one attribute where it hangs on this assessor.
    fn moved(&self, candidate: usize, place: usize, out: usize) -> Option<ChangedAttribute> {
        let verdict = |panel: usize| {
            self.judged[panel][candidate].attributes[place].as_ref().map_or(Verdict::NotShown, |one| one.verdict)
        };
        let (with, without) = (verdict(0), verdict(out + 1));
        if with == without {
            return None;
        }
        Some(ChangedAttribute {
            sample: self.pairing.candidates[candidate].sample.clone(),
            attribute: self.attributes[place].name.clone(),
            with,
            without,
            difference_with: self.difference(candidate, place, None)?,
            difference_without: self.difference(candidate, place, Some(out))?,
        })
    }

    /// Candidate minus target, mean over assessors; `None` where nobody scored both.
    fn difference(&self, candidate: usize, place: usize, out: Option<usize>) -> Option<f64> {
        let (own, cups) = (&self.attributes[place].means[candidate], self.pairing.cups_for(candidate));
        let kept = own.iter().enumerate().filter(|(assessor, _)| Some(*assessor) != out);
        mean(&kept.filter_map(|(_, own)| own.difference(cups)).collect::<Vec<_>>())
    }
}

impl Run for InfluenceRun {
    type Found = Influence;

    fn step(&mut self) {
        self.advance(1);
    }

    fn reached(&self) -> Reached {
        Reached { done: self.done(), wanted: self.wanted() }
    }

    fn finish(self) -> Defined<Influence> {
        Ok(InfluenceRun::finish(self))
    }
}
