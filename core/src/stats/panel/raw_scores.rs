//! The raw marks of one assessor on one attribute, sample by sample, beside those of the other assessors: the ground
//! that every number about a panel stands on. Nothing is tested here.

use crate::numeric::describe::mean;
use crate::stats::r#match::differences::assessor_means;
use crate::stats::results::{Defined, NotDefined};
use crate::study::{Origin, Study};
use serde::Serialize;

/// One assessor's marks on one attribute.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RawScores {
    pub assessor: String,
    pub attribute: String,
    pub unit: String,
    pub scale_minimum: f64,
    pub scale_maximum: f64,
    /// In the order of the study; samples that are left out are not among them.
    pub samples: Vec<SampleRawScores>,
}

/// The marks for one sample.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SampleRawScores {
    pub sample: String,
    /// Own marks, replicate by replicate; marks that are missing or left out are among them.
    pub own: Vec<Mark>,
    /// Mean of the own marks that count.
    pub own_mean: Option<f64>,
    /// Every other assessor that counts, with the mean of their marks.
    pub others: Vec<OtherAssessor>,
    /// Mean of those means.
    pub others_mean: Option<f64>,
}

/// One mark and where it came from.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Mark {
    /// `None` where the mark is missing.
    pub score: Option<f64>,
    /// What stood there before it was corrected by hand; equal to `score` where it was not.
    pub as_it_came: Option<f64>,
    pub is_corrected: bool,
    pub is_left_out: bool,
    pub replicate: u32,
    pub session: Option<String>,
    /// Index into `Study::servings`.
    pub serving: u32,
    /// Name of the file; empty where the mark was typed into the page.
    pub file: String,
    #[serde(skip)]
    pub origin: Origin,
}

/// Another assessor's mean mark for a sample.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OtherAssessor {
    pub assessor: String,
    pub mean: f64,
}

/// The marks of an assessor on an attribute, both by their index in the study, against the others'.
///
/// Errors: no such assessor or attribute, or no sample that counts.
pub fn raw_scores(study: &Study, assessor: usize, attribute: usize) -> Defined<RawScores> {
    let who = study.assessors.get(assessor).ok_or_else(|| NotDefined::because("there is no such assessor"))?;
    let what = study.attributes.get(attribute).ok_or_else(|| NotDefined::because("there is no such attribute"))?;
    let scores = study.attribute_scores(attribute);
    if scores.samples.is_empty() {
        return Err(NotDefined::because("every sample is left out"));
    }
    let means = assessor_means(&scores);
    let sample = |(place, name): (usize, &String)| {
        let others: Vec<OtherAssessor> = scores
            .assessors
            .iter()
            .zip(&means)
            .filter(|(other, _)| **other != who.name)
            .filter_map(|(other, row)| Some(OtherAssessor { assessor: other.clone(), mean: row[place]? }))
            .collect();
        let own = own_marks(study, assessor, attribute, name);
        let counting: Vec<f64> = own.iter().filter(|mark| !mark.is_left_out).filter_map(|mark| mark.score).collect();
        SampleRawScores {
            sample: name.clone(),
            own_mean: mean(&counting),
            others_mean: mean(&others.iter().map(|other| other.mean).collect::<Vec<_>>()),
            own,
            others,
        }
    };
    Ok(RawScores {
        assessor: who.name.clone(),
        attribute: what.name.clone(),
        unit: study.scale.unit.clone(),
        scale_minimum: study.scale.minimum,
        scale_maximum: study.scale.maximum,
        samples: scores.samples.iter().enumerate().map(sample).collect(),
    })
}

fn own_marks(study: &Study, assessor: usize, attribute: usize, sample: &str) -> Vec<Mark> {
    let is_wanted = |serving: &crate::study::Serving| {
        serving.assessor as usize == assessor && study.samples[serving.sample as usize].name == sample
    };
    let own = study.servings.iter().enumerate().filter(|(_, serving)| is_wanted(serving));
    let mut marks: Vec<Mark> = own
        .map(|(index, serving)| {
            let origin = study.origin(index, attribute).unwrap_or_default();
            let file = study.files.get(usize::from(origin.file)).filter(|_| origin.row > 0);
            Mark {
                score: study.score(index, attribute),
                as_it_came: study.score_as_it_came(index, attribute),
                is_corrected: study.edits_of(index, attribute).next().is_some(),
                is_left_out: study.mark_is_excluded(index, attribute),
                replicate: serving.replicate,
                session: serving.session.and_then(|session| study.sessions.get(session as usize)).cloned(),
                serving: index as u32,
                file: file.map_or_else(String::new, |file| file.name.clone()),
                origin,
            }
        })
        .collect();
    marks.sort_by_key(|mark| (mark.replicate, mark.serving));
    marks
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::{Exclusion, ExclusionScope, Scale, ScoreAddress, StudyBuilder};

    /// Three assessors, two samples, two replicates; by hand.
    fn small() -> Study {
        let mut builder = StudyBuilder::new(Scale::default());
        for (assessor, scores) in
            [("Anna", [60.0, 64.0, 20.0, 22.0]), ("Ben", [50.0, 54.0, 40.0, 44.0]), ("Cleo", [30.0, 34.0, 10.0, 14.0])]
        {
            for (place, score) in scores.into_iter().enumerate() {
                let sample = ["A", "B"][place / 2];
                let replicate = 1 + place as u32 % 2;
                let address = ScoreAddress { assessor, sample, replicate, ..ScoreAddress::default() };
                builder.add(address, "ripe", score).unwrap();
            }
        }
        builder.finish("small")
    }

    #[test]
    fn own_marks_stand_beside_the_means_of_the_others() {
        let found = raw_scores(&small(), 0, 0).unwrap();
        assert_eq!((found.assessor.as_str(), found.attribute.as_str()), ("Anna", "ripe"));
        let first = &found.samples[0];
        let scores: Vec<Option<f64>> = first.own.iter().map(|mark| mark.score).collect();
        assert_eq!(scores, [Some(60.0), Some(64.0)]);
        assert_eq!((first.own_mean, first.others_mean), (Some(62.0), Some(42.0)));
        assert_eq!(first.others.len(), 2);
    }

    #[test]
    fn corrected_and_left_out_marks_are_shown_and_do_not_count() {
        let mut study = small();
        study.correct_score(0, 0, Some(70.0), "read wrongly", "").unwrap();
        let scope = ExclusionScope::Score { serving: 1, attribute: 0 };
        study.exclusions.push(Exclusion { scope, reason: "spilt".to_owned(), when: String::new(), late: false });
        study.exclusions.push(Exclusion {
            scope: ExclusionScope::Assessor(2),
            reason: "cold".to_owned(),
            when: String::new(),
            late: false,
        });
        let found = raw_scores(&study, 0, 0).unwrap();
        let first = &found.samples[0];
        assert_eq!((first.own_mean, first.others_mean), (Some(70.0), Some(52.0)));
        assert_eq!((first.own[0].is_corrected, first.own[0].as_it_came), (true, Some(60.0)));
        assert!(first.own[1].is_left_out && !first.own[1].is_corrected);
        assert_eq!(raw_scores(&study, 9, 0).unwrap_err().because, "there is no such assessor");
    }
}
