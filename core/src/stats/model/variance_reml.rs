//! Restricted maximum likelihood by Newton steps on the three variances, each held at zero or above.
//!
//! Each step goes to the lowest point of the local parabola among variances that are not negative: all choices of
//! variances to hold at zero are tried, and the one whose gradient says it must be held there is taken. A variance at
//! zero is left out of the degrees of freedom. This equals lmer's optimum refitted without its zero components, which
//! is what lmerTest's figures stand on. It does not know names or tests.

use super::anova_closed_form::NO_SCATTER;
use super::reml_criterion::{ASSESSOR, Blocks, ERROR, Evaluation, INTERACTION, Pairs, VARIANCES, Variances};
use crate::numeric::dense::{SquareMatrix, dot};
use crate::stats::results::{Defined, NotDefined};

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
    for _ in 0..MOST_STEPS {
        let settled = search.advance();
        if search.variances[ERROR] <= noise_variance {
            return Err(NotDefined::because(NO_SCATTER));
        }
        if settled {
            return search.finish();
        }
    }
    Err(NotDefined::because(format!("the search for the variances did not settle in {MOST_STEPS} steps")))
}

struct Search<'a> {
    blocks: &'a Blocks,
    allowed: Vec<usize>,
    variances: Variances,
    here: Evaluation,
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
        Ok(Search { blocks, allowed, variances, here })
    }

    /// One step; true when it was too small to matter or led nowhere, which at working precision is the bottom.
    ///
    /// Newton's step comes first; where the likelihood bends the wrong way or the step does not help, the scoring step
    /// with the expected curvature follows, which always leads downhill.
    fn advance(&mut self) -> bool {
        for curvature in [self.here.hessian, self.here.expected] {
            let Some(step) = self.bounded_step(&curvature) else { continue };
            let total = self.variances.iter().sum::<f64>();
            let small = step.iter().all(|amount| amount.abs() <= LAST_STEP * total);
            let promised = -dot(&self.here.gradient, &step);
            if (small || promised > 0.0) && self.take(&step, promised, small) {
                return small;
            }
        }
        true
    }

    /// The step to the lowest point of the parabola of this curvature with no variance below zero.
    fn bounded_step(&self, curvature: &Pairs) -> Option<Variances> {
        let choices: [&[usize]; 4] = [&[], &[INTERACTION], &[ASSESSOR], &[INTERACTION, ASSESSOR]];
        let possible = choices.iter().filter(|held| held.iter().all(|place| self.allowed.contains(place)));
        possible.filter_map(|held| self.step_with_held(curvature, held)).next()
    }

    /// The step that takes the `held` variances to zero and the rest to the lowest point; `None` where that is no
    /// minimum: another variance falls below zero, or a held one would rather rise.
    fn step_with_held(&self, curvature: &Pairs, held: &[usize]) -> Option<Variances> {
        let free = self.allowed.iter().copied().filter(|place| !held.contains(place)).collect::<Vec<_>>();
        let mut step = [0.0; VARIANCES];
        for place in held {
            step[*place] = -self.variances[*place];
        }
        let slope = |place: usize, step: &Variances| self.here.gradient[place] + dot(&curvature[place], step);
        let downhill = free.iter().map(|place| -slope(*place, &step)).collect::<Vec<_>>();
        let moves = pick(curvature, &free).positive_inverse()?.inverse.times_vector(&downhill);
        for (place, amount) in free.iter().zip(moves) {
            step[*place] = amount;
        }
        let inside = free.iter().all(|place| *place == ERROR || self.variances[*place] + step[*place] > 0.0);
        let scale = self.variances[ERROR];
        let outward = held.iter().all(|place| slope(*place, &step) * scale >= -1e-10);
        (inside && outward).then_some(step)
    }

    /// Goes along `step`, halving it until the criterion falls by some of what its slope promised for the whole step;
    /// false when it does not. Near the bottom the promise drowns in rounding and any step is good.
    fn take(&mut self, step: &Variances, promised: f64, small: bool) -> bool {
        let slack = if promised < 1e-6 { 1e-10 * (1.0 + self.here.criterion.abs()) } else { 0.0 };
        // The error variance never falls to less than a tenth at once.
        let mut fraction = if step[ERROR] < 0.0 { (-0.9 * self.variances[ERROR] / step[ERROR]).min(1.0) } else { 1.0 };
        for _ in 0..20 {
            let mut variances = self.variances;
            for (variance, amount) in variances.iter_mut().zip(step) {
                *variance = (*variance + fraction * amount).max(0.0);
            }
            let enough = self.here.criterion - 1e-4 * fraction * promised + slack;
            if let Some(there) = self.blocks.evaluate(&variances)
                && (small || there.criterion <= enough)
            {
                (self.variances, self.here) = (variances, there);
                return true;
            }
            fraction *= 0.5;
        }
        false
    }

    fn finish(self) -> Defined<RemlFit> {
        let free = self.allowed.iter().copied().filter(|place| self.variances[*place] > 0.0).collect::<Vec<_>>();
        let observed = pick(&self.here.hessian, &free).positive_inverse();
        let inverse = observed.or_else(|| pick(&self.here.expected, &free).positive_inverse());
        let mut covariance = inverse.ok_or_else(cannot_tell_apart)?.inverse;
        covariance.scale(2.0);
        Ok(RemlFit { variances: self.variances, free, covariance_of_variances: covariance, evaluation: self.here })
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

/// What is said where the design does not separate the variances.
pub fn cannot_tell_apart() -> NotDefined {
    NotDefined::because(
        "the scores are too thinly spread over assessors and samples to tell the variance between assessors from the rest",
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numeric::random::Random;
    use crate::stats::made_up::full_table;
    use crate::stats::model::cells::CellTable;

    /// No variances on a wide grid are likelier than the ones found: neither a wrong wall nor a lesser valley.
    #[test]
    fn nothing_on_a_grid_is_likelier_than_what_was_found() {
        let mut random = Random::seeded_for(11, "grid against Newton");
        let sizes = [0.0, 0.02, 0.1, 0.3, 0.6, 1.0, 1.5, 2.5, 4.0, 8.0];
        let mut dropped = 0;
        for _ in 0..60 {
            let (between, within) = (random.unit() * 2.0, random.unit() * 1.5);
            let mut draw = || random.normal();
            let shifts = (0..7).map(|_| between * draw()).collect::<Vec<_>>();
            let moves = (0..35).map(|_| within * draw()).collect::<Vec<_>>();
            let noise = (0..105).map(|_| draw()).collect::<Vec<_>>();
            let score = |a: usize, s: usize, r: usize| shifts[a] + moves[a * 5 + s] + noise[(a * 5 + s) * 3 + r];
            let mut scores = full_table(7, 5, 3, score);
            scores.observations.retain(|_| random.unit() < 0.6);
            let blocks = Blocks::new(&CellTable::new(&scores));
            let found = fit_reml(&blocks, true, 1e-30).unwrap();
            dropped += usize::from(found.free.len() < VARIANCES);
            for error in &sizes[1..] {
                for interaction in sizes {
                    for assessor in sizes {
                        let there = blocks.evaluate(&[*error, interaction, assessor]).unwrap().criterion;
                        assert!(there > found.evaluation.criterion - 1e-9, "{:?}", found.variances);
                    }
                }
            }
        }
        assert!(dropped > 5 && dropped < 55, "both kinds of case must occur: {dropped}");
    }

    #[test]
    fn the_gradient_is_zero_inside_and_points_outward_at_zero() {
        let mut random = Random::seeded_for(12, "gradient");
        for _ in 0..40 {
            let noise = (0..48).map(|_| random.normal()).collect::<Vec<_>>();
            let mut scores = full_table(6, 4, 2, |a, s, r| noise[(a * 4 + s) * 2 + r]);
            scores.observations.retain(|_| random.unit() < 0.8);
            let table = CellTable::new(&scores);
            let Ok(found) = fit_reml(&Blocks::new(&table), table.within_df() > 0, 1e-30) else { continue };
            for place in 0..VARIANCES {
                let slope = found.evaluation.gradient[place];
                if found.free.contains(&place) {
                    assert!(slope.abs() < 1e-7, "{slope}");
                } else if table.within_df() > 0 {
                    assert!(slope > -1e-7, "{slope}");
                }
            }
        }
    }
}
