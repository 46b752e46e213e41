//! The whole analysis of a study, attribute by attribute, then candidate by candidate.

use super::r#match::calibrated::{MatchRule, VerdictOptions};
use super::r#match::differences::{DifferenceOptions, target_difference};
use super::r#match::distance::profile_distance;
use super::r#match::judged::{Judged, judge_all};
use super::r#match::paired::{PairedAttribute, Pairing, SharedSessions};
use super::r#match::target_cups::TargetCups;
use super::model::anova;
use super::model::anova::ModelOptions;
use super::results::{
    Analysis, AttributeAnalysis, CandidateAnalysis, Defined, LateChanges, SampleMean, TargetDifference, Verdict,
};
use crate::notice::{Notice, Place, Severity};
use crate::study::{AttributeScores, Study};

/// Analyses a study by its own settings. Never fails whole: what cannot be computed says why, the rest is there. Where
/// something was left out or corrected when the verdict had been seen, the verdicts without that stand beside.
pub fn analyse(study: &Study) -> Analysis {
    let late = study.before_late_changes().map(|before| LateChanges {
        left_out: study.late_exclusions().map(|exclusion| study.scope_in_words(exclusion.scope)).collect(),
        corrected: study.late_edits().count(),
        verdicts_before: analyse_as_it_is(&before)
            .candidates
            .into_iter()
            .map(|one| (one.sample, one.verdict))
            .collect(),
    });
    Analysis { late, ..analyse_as_it_is(study) }
}

fn analyse_as_it_is(study: &Study) -> Analysis {
    let settings = &study.settings;
    let mut notices = Vec::new();
    let samples = kept(&study.samples, |index| study.sample_is_excluded(index), |sample| &sample.name);
    let pairing = Pairing::of(study);
    if let (Some(name), None) = (&settings.target, &pairing) {
        notices.push(no_such_target(name, &samples));
    }
    let (mut attributes, paired) = attribute_by_attribute(study, pairing.as_ref());
    let candidates = pairing.as_ref().map_or_else(Vec::new, |pairing| judge(study, pairing, &paired, &mut attributes));
    notices.extend(attributes.iter().filter_map(notice_on_attribute));
    notices.extend(unknown_deciding(study));
    notices.extend(pairing.iter().flat_map(|pairing| notices_on_sessions(study, pairing)));
    let again = pairing.as_ref().and_then(|pairing| pairing.candidates.iter().find(|one| one.is_target_again));
    Analysis {
        unit: study.scale.unit.clone(),
        scale_maximum: study.scale.maximum,
        alpha: settings.alpha,
        target_again: again.map(|again| again.sample.clone()),
        cups: pairing.as_ref().map_or(TargetCups::Named, |pairing| pairing.cups.clone()),
        target: pairing.map(|pairing| pairing.target),
        margin: settings.margin.width_mm,
        profile_share: settings.profile_share,
        samples,
        assessors: kept(&study.assessors, |index| study.assessor_is_excluded(index), |assessor| &assessor.name),
        attributes,
        candidates,
        notices,
        late: None,
    }
}

/// Models and means of every attribute that counts, and what verdicts stand on.
fn attribute_by_attribute(study: &Study, pairing: Option<&Pairing>) -> (Vec<AttributeAnalysis>, Vec<PairedAttribute>) {
    let (mut attributes, mut paired) = (Vec::new(), Vec::new());
    for index in study.active_attributes() {
        let (settings, attribute) = (&study.settings, &study.attributes[index]);
        let scores = study.attribute_scores(index);
        let fit = anova::fit(&scores, &ModelOptions::default());
        paired.extend(pairing.map(|pairing| pairing.attribute(study, &scores)));
        attributes.push(AttributeAnalysis {
            attribute: attribute.name.clone(),
            kind: attribute.kind,
            deciding: settings.deciding.is_empty() || settings.deciding.contains(&attribute.name),
            n_used: scores.observations.len(),
            n_dropped: scores.dropped,
            share_at_end: share_at_end(study, &scores),
            anova: fit.anova,
            model: fit.model,
            means: fit.means,
            versus_target: Vec::new(),
        });
    }
    (attributes, paired)
}

/// Share of scores at an end of the scale; 0 without scores.
fn share_at_end(study: &Study, scores: &AttributeScores) -> f64 {
    let (low, high) = (study.scale.minimum, study.scale.maximum);
    let at_end = scores.observations.iter().filter(|one| one.score <= low || one.score >= high).count();
    at_end as f64 / scores.observations.len().max(1) as f64
}

/// Puts the verdicts into the attributes, and gathers them for each candidate.
fn judge(
    study: &Study,
    pairing: &Pairing,
    paired: &[PairedAttribute],
    attributes: &mut [AttributeAnalysis],
) -> Vec<CandidateAnalysis> {
    let judged = judge_all(pairing, paired, &VerdictOptions::of(&study.settings), None);
    for (place, (attribute, paired)) in attributes.iter_mut().zip(paired).enumerate() {
        attribute.versus_target = versus_target(pairing, paired, &judged, place, study.settings.alpha);
    }
    let gather = |(candidate, judged): (_, Judged)| candidate_analysis(candidate, &pairing.target, attributes, judged);
    pairing.candidates.iter().map(|candidate| candidate.sample.as_str()).zip(judged).map(gather).collect()
}

/// Differences of all candidates on one attribute. One that no assessor scored beside the target is left out.
fn versus_target(
    pairing: &Pairing,
    attribute: &PairedAttribute,
    judged: &[Judged],
    place: usize,
    alpha: f64,
) -> Vec<TargetDifference> {
    let options = DifferenceOptions { margin: attribute.margin, alpha };
    let of = |at: usize| {
        let cups = pairing.cups_for(at);
        let differences: Vec<f64> = attribute.means[at].iter().filter_map(|own| own.difference(cups)).collect();
        target_difference(&pairing.candidates[at].sample, &differences, options, &judged[at].attributes[place])
    };
    (0..pairing.candidates.len()).filter_map(of).collect()
}

fn candidate_analysis(
    sample: &str,
    target: &str,
    attributes: &[AttributeAnalysis],
    judged: Judged,
) -> CandidateAnalysis {
    let deciding: Vec<Verdict> = attributes
        .iter()
        .zip(&judged.attributes)
        .filter(|(attribute, _)| attribute.deciding)
        .map(|(_, judged)| judged.as_ref().map_or(Verdict::NotShown, |judged| judged.verdict))
        .collect();
    let count = |wanted: Verdict| deciding.iter().filter(|verdict| **verdict == wanted).count();
    CandidateAnalysis {
        sample: sample.to_owned(),
        verdict: judged.whole.as_ref().map_or(Verdict::NotShown, |whole| whole.verdict),
        n_match: count(Verdict::Match),
        n_off: count(Verdict::Off),
        n_not_shown: count(Verdict::NotShown),
        distance: profile_distance(sample, target, attributes),
        judged: judged.whole,
    }
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

/// Where a candidate was not served in the target's own sessions, what was done about it.
fn notices_on_sessions<'a>(study: &'a Study, pairing: &'a Pairing) -> impl Iterator<Item = Notice> + 'a {
    pairing.candidates.iter().filter_map(move |candidate| {
        let sample = &candidate.sample;
        let (what, hint) = match &candidate.sessions {
            SharedSessions::All => return None,
            SharedSessions::Only(sessions) => {
                let name = |session: &Option<u32>| study.sessions.get((*session)? as usize);
                let names: Vec<String> = sessions.iter().filter_map(name).cloned().collect();
                (
                    format!("{sample} and the target were not served in the same sessions."),
                    format!(
                        "Their difference is taken within {}; the other marks of both stay in the means and count for no \
                         verdict on {sample}.",
                        if names.is_empty() { "the sessions that they share".to_owned() } else { names.join(", ") }
                    ),
                )
            }
            SharedSessions::Apart => (
                format!("{sample} and the target were never served in the same session."),
                "What changed between sessions lies inside their difference. Serve both in one session.".to_owned(),
            ),
        };
        Some(Notice::new(Severity::Check, Place::default(), what, hint))
    })
}

impl CandidateAnalysis {
    /// By which rule it is a match.
    pub fn rule(&self) -> Option<MatchRule> {
        self.judged.as_ref().ok()?.rule
    }
}

impl Analysis {
    /// The deciding attributes in their order: places in a [`CandidateAnalysis::judged`] count among these.
    pub fn deciding(&self) -> Vec<&AttributeAnalysis> {
        self.attributes.iter().filter(|attribute| attribute.deciding).collect()
    }

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
