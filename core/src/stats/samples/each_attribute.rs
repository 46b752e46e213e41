//! The comparisons of samples on each attribute, one attribute a step: every pair, and all candidates against the target.

use super::comparisons::{ComparisonOptions, ManyToOne, Pairwise, many_to_one, pairwise};
use crate::defined::{Defined, NotDefined};
use crate::stats::model::anova::{ModelOptions, fit};
use crate::study::Study;
use serde::Serialize;

/// The comparisons of one attribute.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AttributeComparisons {
    pub attribute: String,
    pub pairs: Defined<Pairwise>,
    /// `None` where no target is named, or it is not settled yet what counts as a match.
    pub against_target: Option<Defined<ManyToOne>>,
}

/// All pairs of samples on one attribute, by its index, and all against the target once that is settled.
pub fn compare_on(study: &Study, attribute: usize) -> AttributeComparisons {
    let scores = study.attribute_scores(attribute);
    let fitted = fit(&scores, &ModelOptions::default());
    let options = ComparisonOptions::of(study);
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
