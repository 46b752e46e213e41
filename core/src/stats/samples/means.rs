//! Estimated sample means under the mixed model, and any contrast between them with its standard error.
//!
//! Degrees of freedom are Satterthwaite's: 2 v^2 / var(v), v being the estimated variance of the contrast. It does not
//! know how the variances were found.

use crate::numeric::dense::{SquareMatrix, dot};
use crate::numeric::tails;
use crate::stats::results::{Defined, MeanSpread, NotDefined};

/// A weighted sum of sample means with how sure it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ContrastEstimate {
    pub estimate: f64,
    pub se: f64,
    /// Satterthwaite's degrees of freedom.
    pub df: f64,
}

/// Estimated means of the samples, in the order they were given, with their joint spread.
#[derive(Clone, Debug, PartialEq)]
pub struct EstimatedMeans {
    pub means: Vec<f64>,
    spread: JointSpread,
}

/// One mean square of a balanced study and how it enters the variance of a contrast with weights l:
/// ms * (own * sum l^2 + shared * (sum l)^2).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeanSquareTerm {
    pub ms: f64,
    pub df: f64,
    pub own: f64,
    pub shared: f64,
}

#[derive(Clone, Debug, PartialEq)]
enum JointSpread {
    /// All means equally sure and all pairs equally correlated: a balanced study.
    Exchangeable(Vec<MeanSquareTerm>),
    General(GeneralSpread),
}

/// Any study: the covariance of the means, its derivatives in the variances, and the covariance of the variances.
#[derive(Clone, Debug, PartialEq)]
pub struct GeneralSpread {
    pub covariance: SquareMatrix,
    pub derivatives: Vec<SquareMatrix>,
    pub covariance_of_variances: SquareMatrix,
}

impl EstimatedMeans {
    /// Means of a balanced study.
    pub fn exchangeable(means: Vec<f64>, terms: Vec<MeanSquareTerm>) -> Self {
        EstimatedMeans { means, spread: JointSpread::Exchangeable(terms) }
    }

    /// Means of any study.
    pub fn general(means: Vec<f64>, spread: GeneralSpread) -> Self {
        EstimatedMeans { means, spread: JointSpread::General(spread) }
    }

    /// The sum of `weights` times means; one weight a mean.
    pub fn contrast(&self, weights: &[f64]) -> Defined<ContrastEstimate> {
        let estimate = weights.iter().zip(&self.means).map(|(weight, mean)| weight * mean).sum();
        match &self.spread {
            JointSpread::Exchangeable(terms) => {
                let squares = weights.iter().map(|weight| weight * weight).sum::<f64>();
                let sum = weights.iter().sum::<f64>();
                satterthwaite_of_terms(estimate, terms, squares, sum * sum)
            }
            JointSpread::General(spread) => spread.contrast(estimate, weights),
        }
    }

    /// Mean of one sample less mean of another.
    pub fn difference(&self, sample: usize, reference: usize) -> Defined<ContrastEstimate> {
        let estimate = self.means[sample] - self.means[reference];
        match &self.spread {
            JointSpread::Exchangeable(terms) => satterthwaite_of_terms(estimate, terms, 2.0, 0.0),
            JointSpread::General(spread) => spread.sparse_contrast(estimate, &[(sample, 1.0), (reference, -1.0)]),
        }
    }

    /// Covariance matrix of the means times a vector of weights.
    pub fn covariance_times(&self, weights: &[f64]) -> Vec<f64> {
        match &self.spread {
            JointSpread::Exchangeable(terms) => {
                let sum = weights.iter().sum::<f64>();
                let own = terms.iter().map(|term| term.ms * term.own).sum::<f64>();
                let shared = terms.iter().map(|term| term.ms * term.shared).sum::<f64>() * sum;
                weights.iter().map(|weight| own * weight + shared).collect()
            }
            JointSpread::General(spread) => spread.covariance.times_vector(weights),
        }
    }

    /// Whether all pairs of means are compared with one standard error and are equally correlated.
    pub fn is_exchangeable(&self) -> bool {
        matches!(self.spread, JointSpread::Exchangeable(_))
    }

    /// How sure the mean of one sample is, spread between assessors included.
    pub fn mean_spread(&self, sample: usize, confidence: f64) -> Defined<MeanSpread> {
        let found = match &self.spread {
            JointSpread::Exchangeable(terms) => satterthwaite_of_terms(self.means[sample], terms, 1.0, 1.0),
            JointSpread::General(spread) => spread.sparse_contrast(self.means[sample], &[(sample, 1.0)]),
        }?;
        let half = found.half_width(confidence)?;
        Ok(MeanSpread { se: found.se, df: found.df, lower: found.estimate - half, upper: found.estimate + half })
    }
}

impl GeneralSpread {
    fn contrast(&self, estimate: f64, weights: &[f64]) -> Defined<ContrastEstimate> {
        let slopes = self.derivatives.iter().map(|derivative| derivative.quadratic_form(weights)).collect();
        self.satterthwaite(estimate, self.covariance.quadratic_form(weights), slopes)
    }

    /// The same for a few weights that are not zero, given with their places.
    fn sparse_contrast(&self, estimate: f64, weights: &[(usize, f64)]) -> Defined<ContrastEstimate> {
        let form = |matrix: &SquareMatrix| {
            let rows = weights.iter().map(|(row, left)| {
                left * weights.iter().map(|(column, right)| right * matrix[(*row, *column)]).sum::<f64>()
            });
            rows.sum::<f64>()
        };
        self.satterthwaite(estimate, form(&self.covariance), self.derivatives.iter().map(form).collect())
    }

    fn satterthwaite(&self, estimate: f64, variance: f64, slopes: Vec<f64>) -> Defined<ContrastEstimate> {
        let spread_of_variance = dot(&slopes, &self.covariance_of_variances.times_vector(&slopes));
        ContrastEstimate::new(estimate, variance, spread_of_variance)
    }
}

impl ContrastEstimate {
    /// From an estimate, its variance, and the variance of that variance.
    pub fn new(estimate: f64, variance: f64, variance_of_variance: f64) -> Defined<Self> {
        if !(variance > 0.0 && variance_of_variance > 0.0) {
            return Err(NotDefined::because("the scores show no scatter to judge it by"));
        }
        let df = 2.0 * variance * variance / variance_of_variance;
        Ok(ContrastEstimate { estimate, se: variance.sqrt(), df })
    }

    /// Half the width of the two-sided interval at `confidence`, such as 0.95.
    pub fn half_width(&self, confidence: f64) -> Defined<f64> {
        let quantile = tails::t_quantile_upper(0.5 * (1.0 - confidence), self.df);
        let quantile = quantile.ok_or_else(|| NotDefined::because(format!("there is no {confidence} interval")))?;
        Ok(quantile * self.se)
    }

    /// Student's t of the estimate.
    pub fn t(&self) -> f64 {
        self.estimate / self.se
    }

    /// Two-sided p-value against zero.
    pub fn p_two_sided(&self) -> Defined<f64> {
        tails::t_two_sided(self.t(), self.df).ok_or_else(|| NotDefined::because("t lies outside its domain"))
    }
}

fn satterthwaite_of_terms(
    estimate: f64,
    terms: &[MeanSquareTerm],
    squares: f64,
    squared_sum: f64,
) -> Defined<ContrastEstimate> {
    let parts = terms.iter().map(|term| (term.ms * (term.own * squares + term.shared * squared_sum), term.df));
    let (mut variance, mut variance_of_variance) = (0.0, 0.0);
    for (part, df) in parts.filter(|(part, _)| part.abs() > 0.0) {
        variance += part;
        variance_of_variance += 2.0 * part * part / df;
    }
    ContrastEstimate::new(estimate, variance, variance_of_variance)
}
