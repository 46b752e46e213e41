//! What verdicts stand on: each assessor's own mean for a candidate, and the same assessor's means for the cups of the
//! target, from the sessions in which both were served. It knows scores, and nothing of verdicts.
//!
//! Every assessor is their own control, so the level at which a person uses the line drops out. What changed from one
//! session to the next would not, where a candidate was tasted on some of the target's days only: then the target's marks
//! of the other days are left aside.

use super::differences::assessor_means_in;
use super::target_cups::{TargetCups, target_cups};
use crate::study::{AttributeScores, Study};
use std::collections::BTreeSet;

/// The candidates of a study, and which cups they are held against.
#[derive(Clone, Debug, PartialEq)]
pub struct Pairing {
    pub target: String,
    pub cups: TargetCups,
    pub assessors: Vec<String>,
    /// All samples but the target, in the order of the study.
    pub candidates: Vec<PairedCandidate>,
    target_index: usize,
    again_index: Option<usize>,
}

/// A candidate among the samples.
#[derive(Clone, Debug, PartialEq)]
pub struct PairedCandidate {
    pub sample: String,
    /// Whether it is the target under another code.
    pub is_target_again: bool,
    pub sessions: SharedSessions,
    index: usize,
}

/// In which sessions candidate and target were both served.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SharedSessions {
    /// In the same ones, or the study names none.
    All,
    /// In these only, as indices into the study's sessions; marks of the others are left aside.
    Only(BTreeSet<Option<u32>>),
    /// In none together, so that what changed between sessions lies inside the difference.
    Apart,
}

/// One assessor's own means for one candidate and the cups of the target, in units of the scale.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct OwnMeans {
    pub candidate: Option<f64>,
    pub first_cup: Option<f64>,
    pub second_cup: Option<f64>,
}

/// One attribute: `[candidate][assessor]`.
#[derive(Clone, Debug, PartialEq)]
pub struct PairedAttribute {
    pub name: String,
    pub deciding: bool,
    pub margin: f64,
    pub means: Vec<Vec<OwnMeans>>,
}

impl OwnMeans {
    /// Candidate minus target.
    pub fn difference(&self, cups: &TargetCups) -> Option<f64> {
        let target = match (cups, self.first_cup, self.second_cup) {
            (TargetCups::Named, first, _) => first,
            (TargetCups::Blind { .. }, _, second) => second,
            (TargetCups::Both, Some(first), Some(second)) => Some(0.5 * (first + second)),
            (TargetCups::Both, first, second) => first.or(second),
        };
        Some(self.candidate? - target?)
    }
}

impl Pairing {
    /// By the study's own settings. `None` where it names no target, or none that counts.
    pub fn of(study: &Study) -> Option<Self> {
        Pairing::with(study, study.settings.target.as_deref()?, study.settings.blind_duplicate.as_deref())
    }

    /// With a target, and perhaps a second cup of it, named by the caller. `None` where the target does not count.
    pub fn with(study: &Study, target: &str, again: Option<&str>) -> Option<Self> {
        let active = |name: &str| study.sample_index(name).filter(|index| !study.sample_is_excluded(*index));
        let target = Some(target.to_owned()).filter(|name| active(name).is_some())?;
        let again = again.filter(|name| *name != target && active(name).is_some()).map(str::to_owned);
        let samples: Vec<usize> = (0..study.samples.len()).filter(|index| !study.sample_is_excluded(*index)).collect();
        let place = |name: &String| samples.iter().position(|index| study.samples[*index].name == *name);
        let cups = target_cups(study, &target, again.as_deref());
        let served = |index: usize| sessions_of(study, samples[index]);
        let (target_index, again_index) = (place(&target)?, again.as_ref().and_then(place));
        let of_target = match (&cups, again_index) {
            (TargetCups::Blind { .. }, Some(again)) => served(again),
            (TargetCups::Both, Some(again)) => &served(target_index) | &served(again),
            _ => served(target_index),
        };
        let candidate = |index: usize| PairedCandidate {
            sample: study.samples[samples[index]].name.clone(),
            is_target_again: Some(index) == again_index,
            sessions: if Some(index) == again_index {
                shared(&served(index), &served(target_index))
            } else {
                shared(&served(index), &of_target)
            },
            index,
        };
        Some(Pairing {
            candidates: (0..samples.len()).filter(|index| *index != target_index).map(candidate).collect(),
            assessors: study.active_assessors().into_iter().map(|index| study.assessors[index].name.clone()).collect(),
            target,
            cups,
            target_index,
            again_index,
        })
    }

    /// Own means of every assessor for every candidate and the cups of the target.
    pub fn attribute(&self, study: &Study, scores: &AttributeScores) -> PairedAttribute {
        let settings = &study.settings;
        let all = assessor_means_in(scores, |_| true);
        let means = |candidate: &PairedCandidate| match &candidate.sessions {
            SharedSessions::Only(sessions) => {
                self.own_means(candidate, &assessor_means_in(scores, |session| sessions.contains(&session)))
            }
            SharedSessions::All | SharedSessions::Apart => self.own_means(candidate, &all),
        };
        PairedAttribute {
            deciding: settings.deciding.is_empty() || settings.deciding.contains(&scores.attribute),
            margin: settings.margin.for_attribute(&scores.attribute),
            means: self.candidates.iter().map(means).collect(),
            name: scores.attribute.clone(),
        }
    }

    fn own_means(&self, candidate: &PairedCandidate, means: &[Vec<Option<f64>>]) -> Vec<OwnMeans> {
        let own = |row: &Vec<Option<f64>>| OwnMeans {
            candidate: row[candidate.index],
            first_cup: row[self.target_index],
            second_cup: self.again_index.and_then(|index| row[index]),
        };
        means.iter().map(own).collect()
    }

    /// The cups that a candidate is held against: the second cup of the target only ever against the first.
    pub fn cups_for(&self, candidate: usize) -> &TargetCups {
        if self.candidates[candidate].is_target_again { &TargetCups::Named } else { &self.cups }
    }
}

fn sessions_of(study: &Study, sample: usize) -> BTreeSet<Option<u32>> {
    let own = study.servings.iter().filter(|serving| serving.sample as usize == sample);
    own.map(|serving| serving.session).collect()
}

fn shared(candidate: &BTreeSet<Option<u32>>, target: &BTreeSet<Option<u32>>) -> SharedSessions {
    let both = candidate & target;
    match both.len() {
        _ if candidate == target => SharedSessions::All,
        0 => SharedSessions::Apart,
        _ => SharedSessions::Only(both),
    }
}
