//! Restricted maximum likelihood by Newton steps on the three variances, each held at zero or above.
//!
//! A variance that would fall below zero is dropped (held at zero) and the rest refitted; it comes back when the
//! likelihood would rise with it, told by the sign of its gradient at zero. This equals lmer's optimum with its zero
//! components left out, which is what lmerTest's degrees of freedom stand on. It does not know names or tests.

use super::anova_closed::NO_SCATTER;
use super::reml_criterion::{ASSESSOR, Blocks, ERROR, Evaluation, INTERACTION, Pairs, VARIANCES, Variances};
use super::results::{Defined, NotDefined};
use crate::numeric::dense::SquareMatrix;

const MOST_STEPS: usize = 200;
/// A step this small beside the sum of the variances is the last one: after it the error is of its square.
const LAST_STEP: f64 = 1e-9;

/// The fitted variances and what tests need of the likelihood there.
#[derive(Clone, Debug)]
pub struct RemlFit {
    pub variances: Variances,
    /// Places of the variances above zero, in rising order.
    pub free: Vec<usize>,
    /// Covariance of the estimates of the free variances: twice the inverse of the observed Hessian.
    pub covariance_of_variances: SquareMatrix,
    pub evaluation: Evaluation,
}

/// Finds the variances. `with_interaction` is false where the interaction is part of the error; `noise_variance` is
/// the variance that rounding of the scores alone would give.
///
/// Not defined where the scores cannot tell the variances apart, or leave nothing to estimate them from.
pub fn fit_reml(blocks: &Blocks, with_interaction: bool, noise_variance: f64) -> Defined<RemlFit> {
    let mut search = Search::start(blocks, with_interaction)?;
    while search.steps < MOST_STEPS {
        search.steps += 1;
        let step = search.newton_step();
        let settled = search.take(&step)?;
        if search.variances[ERROR] <= noise_variance {
            return Err(NotDefined::because(NO_SCATTER));
        }
        if settled && !search.release_one() {
            return search.finish();
        }
    }
    Err(NotDefined::because(format!("the search for the variances did not settle in {MOST_STEPS} steps")))
}

struct Search<'a> {
    blocks: &'a Blocks,
    allowed: Vec<usize>,
    free: Vec<usize>,
    variances: Variances,
    here: Evaluation,
    steps: usize,
    releases: usize,
}

impl<'a> Search<'a> {
    fn start(blocks: &'a Blocks, with_interaction: bool) -> Defined<Self> {
        let allowed = if with_interaction { vec![ERROR, INTERACTION, ASSESSOR] } else { vec![ERROR, ASSESSOR] };
        let part = blocks.total_variance() / allowed.len() as f64;
        let mut variances = [0.0; VARIANCES];
        for place in &allowed {
            variances[*place] = part;
        }
        let here = blocks.evaluate(&variances).ok_or_else(cannot_tell_apart)?;
        if !can_be_told_apart(&here.expected, &variances, &allowed) {
            return Err(cannot_tell_apart());
        }
        Ok(Search { blocks, free: allowed.clone(), allowed, variances, here, steps: 0, releases: 0 })
    }

    /// Newton's step where the likelihood bends the right way, else the scoring step, which always leads downhill.
    fn newton_step(&self) -> Variances {
        let observed = pick(&self.here.hessian, &self.free).positive_inverse();
        let inverse = observed.or_else(|| pick(&self.here.expected, &self.free).positive_inverse());
        let slopes = self.free.iter().map(|place| -self.here.gradient[*place]).collect::<Vec<_>>();
        let moves = inverse.map_or_else(
            || {
                self.free
                    .iter()
                    .map(|place| -self.here.gradient[*place].signum() * 0.1 * self.variances[*place])
                    .collect()
            },
            |found| found.inverse.times_vector(&slopes),
        );
        let mut step = [0.0; VARIANCES];
        for (place, amount) in self.free.iter().zip(moves) {
            step[*place] = amount;
        }
        step
    }

    /// Goes along `step` as far as zero and the likelihood allow; true when the step was too small to matter.
    fn take(&mut self, step: &Variances) -> Defined<bool> {
        let total = self.variances.iter().sum::<f64>();
        let small = step.iter().all(|amount| amount.abs() <= LAST_STEP * total);
        if let Some((fraction, place)) = self.first_to_reach_zero(step)
            && fraction <= 1.0
            && self.drop_at_zero(step, fraction, place, small)
        {
            return Ok(false);
        }
        let mut fraction = self.longest_fraction(step);
        for _ in 0..60 {
            let variances = self.along(step, fraction);
            if let Some(there) = self.blocks.evaluate(&variances)
                && (small || there.criterion <= self.here.criterion + 1e-10 * (1.0 + self.here.criterion.abs()))
            {
                (self.variances, self.here) = (variances, there);
                return Ok(small);
            }
            fraction *= 0.5;
        }
        // No way down along this step at working precision: this is the bottom.
        Ok(true)
    }

    fn first_to_reach_zero(&self, step: &Variances) -> Option<(f64, usize)> {
        let falling = self.free.iter().filter(|place| **place != ERROR && step[**place] < 0.0);
        falling.map(|place| (-self.variances[*place] / step[*place], *place)).min_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// Drops a variance that the step takes to zero, if at zero the likelihood would not rise with it again.
    fn drop_at_zero(&mut self, step: &Variances, fraction: f64, place: usize, small: bool) -> bool {
        let mut variances = self.along(step, fraction.min(self.longest_error_fraction(step)));
        variances[place] = 0.0;
        let Some(there) = self.blocks.evaluate(&variances) else { return false };
        let better = there.criterion <= self.here.criterion + 1e-10 * (1.0 + self.here.criterion.abs());
        if !(small || better && there.gradient[place] >= 0.0) {
            return false;
        }
        self.free.retain(|kept| *kept != place);
        (self.variances, self.here) = (variances, there);
        true
    }

    fn longest_fraction(&self, step: &Variances) -> f64 {
        let to_zero = self.first_to_reach_zero(step).map_or(f64::INFINITY, |(fraction, _)| fraction);
        (0.9 * to_zero).min(self.longest_error_fraction(step)).min(1.0)
    }

    /// The error variance never falls to less than a tenth at once.
    fn longest_error_fraction(&self, step: &Variances) -> f64 {
        if step[ERROR] < 0.0 { (-0.9 * self.variances[ERROR] / step[ERROR]).min(1.0) } else { 1.0 }
    }

    fn along(&self, step: &Variances, fraction: f64) -> Variances {
        let mut variances = self.variances;
        for (variance, amount) in variances.iter_mut().zip(step) {
            *variance = (*variance + fraction * amount).max(0.0);
        }
        variances
    }

    /// Frees one dropped variance with which the likelihood would rise; false when there is none.
    fn release_one(&mut self) -> bool {
        let scale = self.variances[ERROR];
        let dropped = self.allowed.iter().filter(|place| !self.free.contains(place));
        let steepest = dropped.min_by(|a, b| self.here.gradient[**a].total_cmp(&self.here.gradient[**b])).copied();
        let Some(place) = steepest.filter(|place| self.here.gradient[*place] * scale < -1e-9) else { return false };
        self.releases += 1;
        if self.releases > 2 * VARIANCES {
            return false;
        }
        self.free.push(place);
        self.free.sort_unstable();
        // A small push off the wall, so that the next step can be judged from inside.
        self.variances[place] = 1e-3 * scale;
        match self.blocks.evaluate(&self.variances) {
            Some(there) => self.here = there,
            None => return false,
        }
        true
    }

    fn finish(self) -> Defined<RemlFit> {
        let observed = pick(&self.here.hessian, &self.free).positive_inverse();
        let inverse = observed.or_else(|| pick(&self.here.expected, &self.free).positive_inverse());
        let mut covariance = inverse.ok_or_else(cannot_tell_apart)?.inverse;
        covariance.scale(2.0);
        Ok(RemlFit {
            variances: self.variances,
            free: self.free,
            covariance_of_variances: covariance,
            evaluation: self.here,
        })
    }
}

impl RemlFit {
    /// Derivatives of the covariance of the means in the free variances, in the order of `free`.
    pub fn covariance_derivatives(&self) -> Vec<SquareMatrix> {
        self.free.iter().map(|place| self.evaluation.covariance_derivative(*place)).collect()
    }
}

fn pick(pairs: &Pairs, places: &[usize]) -> SquareMatrix {
    let mut picked = SquareMatrix::zeros(places.len());
    for (row, from_row) in places.iter().enumerate() {
        for (column, from_column) in places.iter().enumerate() {
            picked[(row, column)] = pairs[*from_row][*from_column];
        }
    }
    picked
}

/// Whether the expected Hessian, made free of units, is far from singular.
fn can_be_told_apart(expected: &Pairs, variances: &Variances, places: &[usize]) -> bool {
    if places.iter().any(|place| expected[*place][*place] * variances[*place].powi(2) < 1e-9) {
        return false;
    }
    let mut unitless = pick(expected, places);
    for row in 0..places.len() {
        for column in 0..places.len() {
            let units = expected[places[row]][places[row]] * expected[places[column]][places[column]];
            unitless[(row, column)] /= units.sqrt();
        }
    }
    unitless.symmetric_eigen().is_some_and(|found| found.values.last().is_some_and(|smallest| *smallest > 1e-9))
}

fn cannot_tell_apart() -> NotDefined {
    NotDefined::because(
        "the scores are too thinly spread over assessors and samples to tell the variance between assessors from the rest",
    )
}
