//! Verdicts with and without each assessor. It leaves nobody out of the study: it only shows what would change.

use super::differences::{DifferenceOptions, versus_target};
use super::verdict::whole_verdict;
use crate::run::{Reached, Run};
use crate::stats::results::{Defined, NotDefined, TargetDifference, Verdict};
use crate::study::{AttributeScores, Study};
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
    target: String,
    target_index: usize,
    assessors: Vec<String>,
    /// Samples but the target.
    candidates: Vec<String>,
    attributes: Vec<Attribute>,
    /// Everybody first, then without each assessor; the last one may lack attributes still.
    verdicts: Vec<Verdicts>,
    done: usize,
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
        let target = study.settings.target.clone().ok_or_else(|| NotDefined::because("no target is named"))?;
        let attributes: Vec<Attribute> =
            study.active_attributes().into_iter().map(|index| Attribute::of(study, index)).collect();
        let first = attributes.first().ok_or_else(|| NotDefined::because("there is no attribute"))?;
        let target_index = first
            .scores
            .sample_index(&target)
            .ok_or_else(|| NotDefined::because(format!("there is no sample called “{target}” to be the target")))?;
        let assessors = first.scores.assessors.clone();
        if assessors.len() < 3 {
            return Err(NotDefined::because("with fewer than three assessors nobody can be set aside"));
        }
        let candidates = first.scores.samples.iter().filter(|name| **name != target).cloned().collect();
        Ok(InfluenceRun { target, target_index, assessors, candidates, attributes, verdicts: Vec::new(), done: 0 })
    }

    /// Reaches the verdicts of that many attributes more, each with one assessor set aside.
    pub fn advance(&mut self, pieces: usize) {
        let last = self.wanted().min(self.done.saturating_add(pieces));
        while self.done < last {
            let (who, attribute) = (self.done / self.attributes.len(), self.done % self.attributes.len());
            if attribute == 0 {
                self.verdicts.push(Verdicts { differences: Vec::new() });
            }
            let out = who.checked_sub(1).map(|index| index as u32);
            let found = differences(&self.attributes[attribute], self.target_index, out);
            self.verdicts[who].differences.push(found);
            self.done += 1;
        }
    }

    /// Pieces done so far.
    pub fn done(&self) -> usize {
        self.done
    }

    /// Pieces in all: every attribute with everybody and without each assessor.
    pub fn wanted(&self) -> usize {
        self.attributes.len() * (self.assessors.len() + 1)
    }

    pub fn is_done(&self) -> bool {
        self.done >= self.wanted()
    }

    /// The result; what is left is done first.
    pub fn finish(mut self) -> Influence {
        self.advance(usize::MAX);
        let (everybody, others) = (&self.verdicts[0], &self.verdicts[1..]);
        let without = self.assessors.iter().zip(others);
        Influence {
            without: without
                .map(|(name, other)| everybody.compare(name, other, &self.attributes, &self.candidates))
                .collect(),
            everybody: everybody.whole(&self.attributes, &self.candidates),
            target: self.target,
        }
    }
}

impl Run for InfluenceRun {
    type Found = Influence;

    fn step(&mut self) {
        self.advance(1);
    }

    fn reached(&self) -> Reached {
        Reached { done: self.done, wanted: self.wanted() }
    }

    fn finish(self) -> Defined<Influence> {
        Ok(InfluenceRun::finish(self))
    }
}

struct Attribute {
    scores: AttributeScores,
    deciding: bool,
    options: DifferenceOptions,
}

/// Differences of all samples, one list an attribute.
struct Verdicts {
    differences: Vec<Vec<TargetDifference>>,
}

impl Attribute {
    fn of(study: &Study, index: usize) -> Self {
        let settings = &study.settings;
        let name = &study.attributes[index].name;
        Attribute {
            scores: study.attribute_scores(index),
            deciding: settings.deciding.is_empty() || settings.deciding.contains(name),
            options: DifferenceOptions { margin: settings.margin.for_attribute(name), alpha: settings.alpha },
        }
    }
}

impl Verdicts {
    fn on(&self, attribute: usize, sample: &str) -> Option<&TargetDifference> {
        self.differences[attribute].iter().find(|difference| difference.sample == sample)
    }

    fn whole(&self, attributes: &[Attribute], samples: &[String]) -> Vec<CandidateVerdict> {
        let verdict = |sample: &String| {
            let deciding: Vec<Option<Verdict>> = (0..attributes.len())
                .filter(|index| attributes[*index].deciding)
                .map(|index| self.on(index, sample).map(|difference| difference.verdict))
                .collect();
            CandidateVerdict { sample: sample.clone(), verdict: whole_verdict(&deciding) }
        };
        samples.iter().map(verdict).collect()
    }

    fn compare(&self, name: &str, other: &Verdicts, attributes: &[Attribute], samples: &[String]) -> WithoutAssessor {
        let (with, without) = (self.whole(attributes, samples), other.whole(attributes, samples));
        let changed = with.iter().zip(&without).filter(|(a, b)| a.verdict != b.verdict).map(|(a, _)| a.sample.clone());
        let mut moved = Vec::new();
        for sample in samples {
            for (index, attribute) in attributes.iter().enumerate() {
                let (Some(a), Some(b)) = (self.on(index, sample), other.on(index, sample)) else { continue };
                if a.verdict != b.verdict {
                    moved.push(ChangedAttribute {
                        sample: sample.clone(),
                        attribute: attribute.scores.attribute.clone(),
                        with: a.verdict,
                        without: b.verdict,
                        difference_with: a.difference,
                        difference_without: b.difference,
                    });
                }
            }
        }
        WithoutAssessor {
            assessor: name.to_owned(),
            changed: changed.collect(),
            candidates: without,
            attributes: moved,
        }
    }
}

/// Differences to the target on one attribute, with one assessor set aside or none.
fn differences(attribute: &Attribute, target: usize, out: Option<u32>) -> Vec<TargetDifference> {
    let Some(out) = out else { return versus_target(&attribute.scores, target, attribute.options) };
    let mut scores = attribute.scores.clone();
    scores.observations.retain(|observation| observation.assessor != out);
    versus_target(&scores, target, attribute.options)
}
