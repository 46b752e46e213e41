//! Analysis of variance of one attribute, assessor random.

use super::results::{Anova, Defined, ModelVariances, NotDefined, SampleMean};
use crate::study::AttributeScores;

/// Choices of the model.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ModelOptions {}

/// What the model gives.
#[derive(Clone, Debug, PartialEq)]
pub struct ModelFit {
    pub anova: Defined<Anova>,
    pub model: Defined<ModelVariances>,
    pub means: Vec<SampleMean>,
}

/// Fits the mixed model.
pub fn fit(_scores: &AttributeScores, _options: &ModelOptions) -> ModelFit {
    let none = || NotDefined::because("the model is not built yet");
    ModelFit { anova: Err(none()), model: Err(none()), means: Vec::new() }
}
