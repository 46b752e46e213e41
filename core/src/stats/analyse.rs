//! The whole analysis of a study, attribute by attribute, then candidate by candidate.

use super::r#match::differences::{DifferenceOptions, versus_target};
use super::r#match::distance::profile_distance;
use super::r#match::verdict::judge_candidate;
use super::model::anova;
use super::model::anova::ModelOptions;
use super::results::{Analysis, AttributeAnalysis, CandidateAnalysis, Defined, SampleMean, TargetDifference, Verdict};
use crate::notice::{Notice, Place, Severity};
use crate::study::Study;

/// Analyses a study by its own settings. Never fails whole: what cannot be computed says why, the rest is there.
pub fn analyse(study: &Study) -> Analysis {
    let settings = &study.settings;
    let mut notices = Vec::new();
    let attributes: Vec<AttributeAnalysis> =
        study.active_attributes().into_iter().map(|index| analyse_attribute(study, index)).collect();
    let samples = kept(&study.samples, |index| study.sample_is_excluded(index), |sample| &sample.name);
    let target = settings.target.clone().filter(|name| samples.contains(name));
    if let (Some(name), None) = (&settings.target, &target) {
        notices.push(no_such_target(name, &samples));
    }
    notices.extend(attributes.iter().filter_map(notice_on_attribute));
    notices.extend(unknown_deciding(study));
    let candidates = target.as_deref().map_or_else(Vec::new, |target| judge_all(target, &samples, &attributes));
    Analysis {
        unit: study.scale.unit.clone(),
        scale_maximum: study.scale.maximum,
        alpha: settings.alpha,
        target_again: settings
            .blind_duplicate
            .clone()
            .filter(|name| samples.contains(name) && Some(name) != target.as_ref()),
        target,
        margin: settings.margin.width_mm,
        samples,
        assessors: kept(&study.assessors, |index| study.assessor_is_excluded(index), |assessor| &assessor.name),
        attributes,
        candidates,
        notices,
    }
}

fn analyse_attribute(study: &Study, index: usize) -> AttributeAnalysis {
    let settings = &study.settings;
    let attribute = &study.attributes[index];
    let scores = study.attribute_scores(index);
    let fit = anova::fit(&scores, &ModelOptions::default());
    let options = DifferenceOptions { margin: settings.margin.for_attribute(&attribute.name), alpha: settings.alpha };
    let target = settings.target.as_ref().and_then(|name| scores.sample_index(name));
    AttributeAnalysis {
        attribute: attribute.name.clone(),
        kind: attribute.kind,
        deciding: settings.deciding.is_empty() || settings.deciding.contains(&attribute.name),
        n_used: scores.observations.len(),
        n_dropped: scores.dropped,
        anova: fit.anova,
        model: fit.model,
        means: fit.means,
        versus_target: target.map_or_else(Vec::new, |target| versus_target(&scores, target, options)),
    }
}

fn judge_all(target: &str, samples: &[String], attributes: &[AttributeAnalysis]) -> Vec<CandidateAnalysis> {
    samples
        .iter()
        .filter(|sample| *sample != target)
        .map(|sample| judge_candidate(sample, attributes, profile_distance(sample, target, attributes)))
        .collect()
}

fn kept<T>(all: &[T], excluded: impl Fn(usize) -> bool, name: impl Fn(&T) -> &String) -> Vec<String> {
    all.iter().enumerate().filter(|(index, _)| !excluded(*index)).map(|(_, item)| name(item).clone()).collect()
}

fn no_such_target(name: &str, samples: &[String]) -> Notice {
    Notice::new(
        Severity::Refused,
        Place::default(),
        format!("There is no sample called “{name}” to be the target."),
        format!("Choose one of: {}.", samples.join(", ")),
    )
}

fn notice_on_attribute(attribute: &AttributeAnalysis) -> Option<Notice> {
    let because = &attribute.anova.as_ref().err()?.because;
    Some(Notice::new(
        Severity::Check,
        Place { column_name: Some(attribute.attribute.clone()), ..Place::default() },
        format!("The analysis of variance is not defined, because {because}."),
        "The rest is computed all the same.",
    ))
}

fn unknown_deciding(study: &Study) -> Vec<Notice> {
    let unknown = study.settings.deciding.iter().filter(|name| study.attribute_index(name).is_none());
    unknown
        .map(|name| {
            Notice::new(
                Severity::Check,
                Place::default(),
                format!("The deciding attribute “{name}” is not in the study."),
                "Take it off the list of deciding attributes or open the scores that hold it.",
            )
        })
        .collect()
}

impl Analysis {
    /// p of the sample effect of each attribute, in order: one source for the panel and for adjustment.
    pub fn sample_p(&self) -> Vec<Defined<f64>> {
        let p_of = |attribute: &AttributeAnalysis| attribute.anova.as_ref().map(|anova| anova.p).map_err(Clone::clone);
        self.attributes.iter().map(p_of).collect()
    }

    /// Whether a sample is the target under another code: no candidate, but what the panel makes of no difference.
    pub fn is_target_again(&self, sample: &str) -> bool {
        self.target_again.as_deref() == Some(sample)
    }

    /// What may serve stands first: matches, then what is not shown, then what is off; closest first in each. The target
    /// under another code stands last, since nobody asks whether it will do.
    pub fn most_alike_first(&self) -> Vec<&CandidateAnalysis> {
        let order = |candidate: &CandidateAnalysis| match candidate.verdict {
            _ if self.is_target_again(&candidate.sample) => 3,
            Verdict::Match => 0,
            Verdict::NotShown => 1,
            Verdict::Off => 2,
        };
        let distance = |candidate: &CandidateAnalysis| {
            candidate.distance.as_ref().map_or(f64::INFINITY, |found| found.distance_adjusted)
        };
        let mut sorted: Vec<&CandidateAnalysis> = self.candidates.iter().collect();
        sorted.sort_by(|a, b| order(a).cmp(&order(b)).then(distance(a).total_cmp(&distance(b))));
        sorted
    }

    /// The differences of a candidate to the target with their attributes, the largest first.
    pub fn differences_of(&self, sample: &str) -> Vec<(&AttributeAnalysis, &TargetDifference)> {
        let compared = |attribute| Some((attribute, AttributeAnalysis::difference_of(attribute, sample)?));
        let mut found: Vec<_> = self.attributes.iter().filter_map(compared).collect();
        found.sort_by(|a, b| b.1.difference.abs().total_cmp(&a.1.difference.abs()));
        found
    }
}

impl AttributeAnalysis {
    /// The difference of a candidate to the target on this attribute.
    pub fn difference_of(&self, sample: &str) -> Option<&TargetDifference> {
        self.versus_target.iter().find(|difference| difference.sample == sample)
    }

    /// Mean of a sample on this attribute, in units of the scale.
    pub fn mean_of(&self, sample: &str) -> Option<f64> {
        self.sample_mean(sample).map(|mean| mean.mean)
    }

    pub fn sample_mean(&self, sample: &str) -> Option<&SampleMean> {
        self.means.iter().find(|mean| mean.sample == sample)
    }
}
