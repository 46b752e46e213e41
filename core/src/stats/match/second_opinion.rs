//! The mixed model's opinion on whether candidates lie inside their margins: the two one-sided tests on the difference of
//! estimated means, with the model's own standard error and degrees of freedom. It decides nothing.
//!
//! Verdicts stand on each assessor's own differences, which assume no equal scatter of samples; the model assumes that, has
//! more degrees of freedom, and sees cells that lack their partner. Where the two disagree, the verdict hangs on it.

use crate::defined::Defined;
use crate::numeric::tails::t_quantile_upper;
use crate::stats::model::anova::{ModelOptions, fit};
use crate::stats::results::{Interval, NotDefined};
use crate::study::Study;
use serde::Serialize;

/// The model on one attribute.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OpinionOnAttribute {
    pub attribute: String,
    pub margin: f64,
    /// In the order of the study; empty while no target is named.
    pub candidates: Vec<OpinionOnCandidate>,
}

/// The model on one candidate.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OpinionOnCandidate {
    pub sample: String,
    pub found: Defined<ModelDifference>,
}

/// Candidate less target under the mixed model, in units of the scale.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ModelDifference {
    pub difference: f64,
    pub se: f64,
    /// Satterthwaite's degrees of freedom.
    pub df: f64,
    /// Interval at 1 - 2 alpha.
    pub interval: Interval,
    /// Whether it lies inside the margin.
    pub is_inside: bool,
}

/// The model's opinion on one attribute, by its index in the study.
pub fn opinion_on(study: &Study, index: usize) -> OpinionOnAttribute {
    let (settings, scores) = (&study.settings, study.attribute_scores(index));
    let margin = settings.margin.for_attribute(&scores.attribute);
    let model = fit(&scores, &ModelOptions::default());
    let target = settings.target.as_ref().and_then(|target| scores.sample_index(target));
    let of = |place: usize, target: usize| OpinionOnCandidate {
        sample: scores.samples[place].clone(),
        found: model.difference(place, target).and_then(|estimate| {
            let reach = t_quantile_upper(settings.alpha, estimate.df)
                .ok_or_else(|| NotDefined::because("the numbers are out of range"))?
                * estimate.se;
            let interval = Interval { lower: estimate.estimate - reach, upper: estimate.estimate + reach };
            Ok(ModelDifference {
                difference: estimate.estimate,
                se: estimate.se,
                df: estimate.df,
                interval,
                is_inside: interval.is_inside(margin),
            })
        }),
    };
    let others = |target: usize| (0..scores.samples.len()).filter(move |place| *place != target);
    OpinionOnAttribute {
        attribute: scores.attribute.clone(),
        margin,
        candidates: target.map_or_else(Vec::new, |target| others(target).map(|place| of(place, target)).collect()),
    }
}
