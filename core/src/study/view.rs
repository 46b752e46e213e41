//! The scores of one attribute as statistics read them: exclusions taken out, indices made dense.

use super::{Exclusion, ExclusionScope, Serving, Study};

/// One score with what it belongs to. Indices are into the lists of `AttributeScores`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Observation {
    pub assessor: u32,
    pub sample: u32,
    /// From 1, as in the study.
    pub replicate: u32,
    /// Index into `Study::sessions`.
    pub session: Option<u32>,
    /// From 1.
    pub position: Option<u32>,
    pub score: f64,
    /// Index into `Study::servings`.
    pub serving: u32,
}

/// All scores of one attribute that count.
#[derive(Clone, Debug, PartialEq)]
pub struct AttributeScores {
    pub attribute: String,
    /// Names, in the order of the study, of the assessors that are not excluded.
    pub assessors: Vec<String>,
    /// Names, in the order of the study, of the samples that are not excluded.
    pub samples: Vec<String>,
    pub observations: Vec<Observation>,
    /// Scores that are missing or excluded among the servings of the study.
    pub dropped: usize,
}

impl Study {
    /// Whether an attribute is left out altogether.
    pub fn attribute_is_excluded(&self, attribute: usize) -> bool {
        self.exclusions.iter().any(|exclusion| exclusion.scope == ExclusionScope::Attribute(attribute))
    }

    /// Whether a sample is left out altogether.
    pub fn sample_is_excluded(&self, sample: usize) -> bool {
        self.exclusions.iter().any(|exclusion| exclusion.scope == ExclusionScope::Sample(sample))
    }

    /// Whether an assessor is left out altogether.
    pub fn assessor_is_excluded(&self, assessor: usize) -> bool {
        self.exclusions.iter().any(|exclusion| exclusion.scope == ExclusionScope::Assessor(assessor))
    }

    /// Whether one mark is left out, by itself or with its page, assessor, sample or attribute.
    pub fn mark_is_excluded(&self, serving: usize, attribute: usize) -> bool {
        self.exclusions_of(serving, attribute).next().is_some()
    }

    /// Every exclusion that hides one mark.
    pub fn exclusions_of(&self, serving: usize, attribute: usize) -> impl Iterator<Item = &Exclusion> {
        let of = self.servings.get(serving);
        self.exclusions.iter().filter(move |exclusion| match exclusion.scope {
            ExclusionScope::Assessor(index) => of.is_some_and(|of| of.assessor as usize == index),
            ExclusionScope::Sample(index) => of.is_some_and(|of| of.sample as usize == index),
            ExclusionScope::Attribute(index) => index == attribute,
            ExclusionScope::Serving(index) => index == serving,
            ExclusionScope::Score { serving: index, attribute: column } => index == serving && column == attribute,
        })
    }

    /// Indices of the attributes that count, in the order of the score sheet.
    pub fn active_attributes(&self) -> Vec<usize> {
        (0..self.attributes.len()).filter(|index| !self.attribute_is_excluded(*index)).collect()
    }

    /// Indices of the assessors that count, in the order of the study.
    pub fn active_assessors(&self) -> Vec<usize> {
        (0..self.assessors.len()).filter(|index| !self.assessor_is_excluded(*index)).collect()
    }

    /// The scores of an attribute with exclusions taken out. All assessors and samples that are not excluded are
    /// listed, also those without a score on this attribute, so that indices mean the same for every attribute.
    pub fn attribute_scores(&self, attribute: usize) -> AttributeScores {
        let assessors = dense(self.assessors.len(), |index| self.assessor_is_excluded(index));
        let samples = dense(self.samples.len(), |index| self.sample_is_excluded(index));
        let mut observations = Vec::with_capacity(self.servings.len());
        let mut dropped = 0;
        let (hidden_servings, hidden_scores) = self.hidden(attribute);
        for (index, serving) in self.servings.iter().enumerate() {
            let place = (assessors.new_index[serving.assessor as usize], samples.new_index[serving.sample as usize]);
            let hidden = hidden_servings.contains(&index) || hidden_scores.contains(&index);
            let (Some(score), (Some(assessor), Some(sample)), false) = (self.score(index, attribute), place, hidden)
            else {
                dropped += 1;
                continue;
            };
            observations.push(Observation::of(serving, index as u32, (assessor, sample), score));
        }
        AttributeScores {
            attribute: self.attributes[attribute].name.clone(),
            assessors: assessors.kept.iter().map(|index| self.assessors[*index].name.clone()).collect(),
            samples: samples.kept.iter().map(|index| self.samples[*index].name.clone()).collect(),
            observations,
            dropped,
        }
    }

    fn hidden(&self, attribute: usize) -> (Vec<usize>, Vec<usize>) {
        let mut servings = Vec::new();
        let mut scores = Vec::new();
        for exclusion in &self.exclusions {
            match exclusion.scope {
                ExclusionScope::Serving(serving) => servings.push(serving),
                ExclusionScope::Score { serving, attribute: of } if of == attribute => scores.push(serving),
                _ => {}
            }
        }
        (servings, scores)
    }
}

impl Observation {
    /// `place` are the indices of assessor and sample among those that count.
    fn of(serving: &Serving, index: u32, place: (u32, u32), score: f64) -> Self {
        Observation {
            assessor: place.0,
            sample: place.1,
            replicate: serving.replicate,
            session: serving.session,
            position: serving.position,
            score,
            serving: index,
        }
    }
}

impl AttributeScores {
    /// Index of a sample among those that count.
    pub fn sample_index(&self, name: &str) -> Option<usize> {
        self.samples.iter().position(|sample| sample == name)
    }
}

struct Dense {
    kept: Vec<usize>,
    new_index: Vec<Option<u32>>,
}

fn dense(count: usize, excluded: impl Fn(usize) -> bool) -> Dense {
    let mut kept = Vec::new();
    let mut new_index = vec![None; count];
    for (index, slot) in new_index.iter_mut().enumerate() {
        if !excluded(index) {
            *slot = Some(kept.len() as u32);
            kept.push(index);
        }
    }
    Dense { kept, new_index }
}
