//! Laws of the largest of several normal variables whose standard deviation is known: of a range, and of moduli that share
//! one variable. It must not know that the deviation is estimated, nor who asks.
//!
//! Upper tails by Gauss-Legendre quadrature with 96 nodes over a normal variable (144 for many groups), on an interval that
//! follows the integrand.
//! Differences of powers are taken by expm1 and ln_1p, so that small tails keep their digits.

use super::portable::{normal_density, normal_upper};
use super::quadrature::GaussLegendre;

/// Half the width of the interval over a normal variable.
const REACH: f64 = 9.0;
/// The largest of more groups than these lies within so short a stretch that 96 nodes over the whole lose digits: at 60 groups
/// the eighth.
const GROUPS_FOR_96_NODES: usize = 20;

/// What is the largest of what.
#[derive(Clone, Debug, PartialEq)]
pub enum MaximumLaw {
    /// The range of so many independent standard normal variables, two or more.
    Range(usize),
    /// max |Z_i| with Z_i = l_i z + sqrt(1 - l_i^2) e_i, one loading l_i each, 0 or more and below 1.
    Modulus(Vec<f64>),
}

impl MaximumLaw {
    /// P(largest > `point`); `point` is above zero.
    pub fn upper(&self, point: f64) -> f64 {
        match self {
            MaximumLaw::Range(groups) => normal_range_upper(point, *groups),
            MaximumLaw::Modulus(loadings) => largest_modulus_upper(point, loadings),
        }
    }

    /// For large `point` the tail falls about as exp(-bend * point^2).
    pub fn bend(&self) -> f64 {
        match self {
            MaximumLaw::Range(_) => 0.25,
            MaximumLaw::Modulus(_) => 0.5,
        }
    }

    /// Over how long a stretch the logarithm of the tail is next to a polynomial of low degree: found by trying, shorter for
    /// moduli, and the shorter the less a variable has of its own beside what is shared.
    pub fn smooth_over(&self) -> f64 {
        match self {
            MaximumLaw::Range(_) => 0.5,
            MaximumLaw::Modulus(loadings) => {
                let largest = loadings.iter().copied().fold(0.0, f64::max);
                (0.125 * (1.0 - largest * largest)).sqrt().min(0.25)
            }
        }
    }
}

/// P(range of `groups` standard normal variables > `width`): the largest lies at z, at least one other below z - width.
fn normal_range_upper(width: f64, groups: usize) -> f64 {
    let others = groups as i32 - 1;
    let centre = 0.5 * width;
    // The points centre + x and centre - x need the same two tails, so each pair is computed together.
    let rule = if groups > GROUPS_FOR_96_NODES { GaussLegendre::of_144() } else { GaussLegendre::of_96() };
    let integral = rule.integrate_pairs(REACH, |x| {
        let (right, left) = (normal_upper(centre + x), normal_upper(centre - x));
        normal_density(centre + x) * some_other_below(1.0 - right, left, others)
            + normal_density(centre - x) * some_other_below(1.0 - left, right, others)
    });
    groups as f64 * integral
}

/// below^m - (below - far)^m without cancellation.
fn some_other_below(below: f64, far: f64, others: i32) -> f64 {
    if far <= 0.0 || below <= 0.0 {
        return 0.0;
    }
    below.powi(others) * -(f64::from(others) * (-(far / below).min(1.0)).ln_1p()).exp_m1()
}

fn largest_modulus_upper(limit: f64, loadings: &[f64]) -> f64 {
    let integrand = |z: f64| {
        let log_inside = sum_over_equal(loadings, |loading| {
            let rest = (1.0 - loading * loading).sqrt();
            let outside = normal_upper((limit - loading * z) / rest) + normal_upper((limit + loading * z) / rest);
            (-outside.min(1.0)).ln_1p()
        });
        normal_density(z) * -log_inside.exp_m1()
    };
    let reach = reach_of(limit, loadings);
    2.0 * GaussLegendre::of_96().integrate(reach.lower.max(0.0), reach.upper, integrand)
}

/// P(max Z_i > `limit`), one-sided, with Z_i as in [`MaximumLaw::Modulus`].
pub fn largest_upper(limit: f64, loadings: &[f64]) -> f64 {
    let reach = reach_of(limit.max(0.0), loadings);
    GaussLegendre::of_96().integrate(reach.lower, reach.upper, |z| {
        let log_inside = sum_over_equal(loadings, |loading| {
            let rest = (1.0 - loading * loading).sqrt();
            (-normal_upper((limit - loading * z) / rest).min(1.0)).ln_1p()
        });
        normal_density(z) * -log_inside.exp_m1()
    })
}

/// Sums a function of the loadings; equal neighbours, the usual case, are computed once.
fn sum_over_equal(loadings: &[f64], term: impl Fn(f64) -> f64) -> f64 {
    let equal = |a: &f64, b: &f64| (a - b).abs() <= f64::EPSILON;
    loadings.chunk_by(equal).map(|run| run.len() as f64 * term(run[0])).sum()
}

struct Reach {
    lower: f64,
    upper: f64,
}

/// Where the integrand over the shared normal variable lives: around l * limit far out, around 0 near by.
fn reach_of(limit: f64, loadings: &[f64]) -> Reach {
    let smallest = loadings.iter().copied().fold(1.0, f64::min);
    let largest = loadings.iter().copied().fold(0.0, f64::max);
    Reach { lower: smallest * limit - REACH, upper: largest * limit + REACH }
}
