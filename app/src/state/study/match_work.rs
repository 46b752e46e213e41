//! Long work of the Match and Profile views, a step at a time: what the panel could have shown, which samples differ.

use super::work::{Reached, Work};
use crate::state::Shared;
use crate::tables::comparisons::AttributeComparisons;
use crate::tables::power::AttributePower;
use likeness_core::stats::r#match::power::power_reached;
use likeness_core::stats::model::anova::{ModelOptions, fit};
use likeness_core::stats::samples::comparisons::{ComparisonOptions, many_to_one, pairwise};
use likeness_core::stats::{Analysis, Defined, NotDefined};
use likeness_core::study::Study;

/// The power that is aimed at: common practice.
const POWER_WANTED: f64 = 0.8;

/// The power reached, one attribute a step.
pub struct PowerWork {
    analysis: Shared<Analysis>,
    found: Vec<AttributePower>,
}

/// The chance for all deciding attributes at once, were they independent of each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AllAtOnce {
    pub deciding: usize,
    pub p_match: f64,
}

impl PowerWork {
    /// Errors: no target.
    pub fn of(analysis: Shared<Analysis>) -> Defined<Self> {
        if analysis.target.is_none() {
            return Err(NotDefined::because("no target is named"));
        }
        Ok(PowerWork { analysis, found: Vec::new() })
    }
}

impl Work for PowerWork {
    type Found = Vec<AttributePower>;

    fn step(&mut self) {
        if let Some(attribute) = self.analysis.attributes.get(self.found.len()) {
            let reached = power_reached(attribute, self.analysis.alpha, POWER_WANTED);
            self.found.push((attribute.attribute.clone(), reached));
        }
    }

    fn reached(&self) -> Reached {
        Reached { done: self.found.len(), wanted: self.analysis.attributes.len() }
    }

    fn finish(self) -> Defined<Vec<AttributePower>> {
        if self.found.is_empty() { Err(NotDefined::because("every attribute is left out")) } else { Ok(self.found) }
    }
}

/// `None` where some deciding attribute has no power to tell.
pub fn all_at_once(found: &[AttributePower], analysis: &Analysis) -> Option<AllAtOnce> {
    let mut all = AllAtOnce { deciding: 0, p_match: 1.0 };
    for attribute in analysis.attributes.iter().filter(|attribute| attribute.deciding) {
        let reached = found.iter().find(|(name, _)| *name == attribute.attribute)?.1.as_ref().ok()?;
        all.deciding += 1;
        all.p_match *= reached.p_match;
    }
    (all.deciding > 0).then_some(all)
}

/// Comparisons of samples, one attribute a step.
pub struct CompareWork {
    study: Study,
    attributes: Vec<usize>,
    found: Vec<AttributeComparisons>,
}

impl CompareWork {
    pub fn of(study: &Study) -> Self {
        CompareWork { attributes: study.active_attributes(), study: study.clone(), found: Vec::new() }
    }
}

impl Work for CompareWork {
    type Found = Vec<AttributeComparisons>;

    fn step(&mut self) {
        if let Some(attribute) = self.attributes.get(self.found.len()) {
            self.found.push(compare_on(&self.study, *attribute));
        }
    }

    fn reached(&self) -> Reached {
        Reached { done: self.found.len(), wanted: self.attributes.len() }
    }

    fn finish(self) -> Defined<Vec<AttributeComparisons>> {
        if self.found.is_empty() { Err(NotDefined::because("every attribute is left out")) } else { Ok(self.found) }
    }
}

/// All pairs of samples on one attribute, and all against the target once that is settled.
fn compare_on(study: &Study, attribute: usize) -> AttributeComparisons {
    let scores = study.attribute_scores(attribute);
    let fitted = fit(&scores, &ModelOptions::default());
    let options = ComparisonOptions { alpha: study.settings.alpha, ..ComparisonOptions::default() };
    let target = study.settings.target.as_ref().filter(|_| study.decided_at.is_some());
    AttributeComparisons {
        attribute: study.attributes[attribute].name.clone(),
        pairs: pairwise(&fitted, &options),
        against_target: target.map(|target| match scores.sample_index(target) {
            Some(index) => many_to_one(&fitted, index, &options),
            None => Err(NotDefined::because("the target has no scores on this attribute")),
        }),
    }
}
