//! Simultaneous tests on one variance estimate: Tukey's studentised range and Dunnett's many-to-one comparison.
//!
//! Upper-tail probabilities by double Gauss-Legendre quadrature: 96 nodes over a normal variable, 64 over the estimated
//! standard deviation s = chi / sqrt(df). Both intervals follow the integrand, and differences of powers are taken by
//! expm1 and ln_1p, so that small p-values keep their digits. Without a limit on df the outer integral is dropped.
//! Tables by R's qtukey (good to 5 digits) and mvtnorm's qmvt (3 digits) are not followed where they differ.

use super::memory::Memory;
use super::portable::{normal_density, normal_upper};
use super::quadrature::GaussLegendre;
use super::root::root_in_bracket;
use statrs::function::gamma::ln_gamma;

/// Above this many degrees of freedom the standard deviation counts as known.
const KNOWN: f64 = 1e9;
/// Half the width of the interval over a normal variable.
const REACH: f64 = 9.0;

thread_local! {
    /// By upper tail, groups and degrees of freedom: in balanced data every attribute asks for the same few.
    static RANGE_QUANTILES: Memory<(u64, usize, u64)> = const { Memory::of_latest(64) };
    /// By upper tail, loadings and degrees of freedom.
    static DUNNETT_QUANTILES: Memory<(u64, Vec<u64>, u64)> = const { Memory::of_latest(64) };
}

/// P(Q > `q`) for the studentised range of `groups` means on `df` degrees of freedom (may be infinite).
///
/// `None` outside the domain: fewer than two groups, df below 1, q not a number.
pub fn studentized_range_upper(q: f64, groups: usize, df: f64) -> Option<f64> {
    if groups < 2 || q.is_nan() || df.is_nan() || df < 1.0 {
        return None;
    }
    if q <= 0.0 {
        return Some(1.0);
    }
    Some(averaged_over_deviation(df, q, 0.25, |deviation| normal_range_upper(q * deviation, groups)).min(1.0))
}

/// The value that the studentised range exceeds with probability `upper`; `None` outside the domain.
pub fn studentized_range_quantile(upper: f64, groups: usize, df: f64) -> Option<f64> {
    RANGE_QUANTILES.with(|known| {
        let asked = (upper.to_bits(), groups, df.to_bits());
        known.value(asked, || quantile(upper, |q| studentized_range_upper(q, groups, df)))
    })
}

/// P(max |T_i| > `d`) for comparisons of several means with one, all on one standard deviation with `df` degrees of
/// freedom (may be infinite).
///
/// `loadings` has one number l_i a comparison, the correlation of two being l_i * l_j: sqrt(1/2) each where all groups
/// are equally large, sqrt(n_i / (n_i + n_0)) with independent groups of different sizes. `None` outside the domain.
pub fn dunnett_two_sided(d: f64, loadings: &[f64], df: f64) -> Option<f64> {
    let ok = |loading: &f64| *loading >= 0.0 && *loading < 1.0;
    if loadings.is_empty() || !loadings.iter().all(ok) || d.is_nan() || df.is_nan() || df < 1.0 {
        return None;
    }
    if d <= 0.0 {
        return Some(1.0);
    }
    Some(averaged_over_deviation(df, d, 0.5, |deviation| largest_modulus_upper(d * deviation, loadings)).min(1.0))
}

/// P(max T_i > `d`), one-sided, as in `dunnett_two_sided`.
pub fn dunnett_one_sided(d: f64, loadings: &[f64], df: f64) -> Option<f64> {
    let ok = |loading: &f64| *loading >= 0.0 && *loading < 1.0;
    if loadings.is_empty() || !loadings.iter().all(ok) || d.is_nan() || df.is_nan() || df < 1.0 {
        return None;
    }
    let bend = if d > 0.0 { 0.5 } else { 0.0 };
    Some(averaged_over_deviation(df, d, bend, |deviation| largest_upper(d * deviation, loadings)).min(1.0))
}

/// The value that max |T_i| exceeds with probability `upper`; `None` outside the domain.
pub fn dunnett_two_sided_quantile(upper: f64, loadings: &[f64], df: f64) -> Option<f64> {
    DUNNETT_QUANTILES.with(|known| {
        let asked = (upper.to_bits(), loadings.iter().map(|loading| loading.to_bits()).collect(), df.to_bits());
        known.value(asked, || quantile(upper, |d| dunnett_two_sided(d, loadings, df)))
    })
}

/// The value that max T_i exceeds with probability `upper` (at most 1/2); `None` outside the domain.
pub fn dunnett_one_sided_quantile(upper: f64, loadings: &[f64], df: f64) -> Option<f64> {
    if upper > 0.5 {
        return None;
    }
    quantile(upper, |d| dunnett_one_sided(d, loadings, df))
}

/// P(range of `groups` standard normal variables > `width`): the largest lies at z, at least one other below z - width.
fn normal_range_upper(width: f64, groups: usize) -> f64 {
    let others = groups as i32 - 1;
    let centre = 0.5 * width;
    // The points centre + x and centre - x need the same two tails, so each pair is computed together.
    let integral = GaussLegendre::of_96().integrate_pairs(REACH, |x| {
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

/// P(max |Z_i| > `limit`) with Z_i = l_i z + sqrt(1 - l_i^2) e_i.
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

fn largest_upper(limit: f64, loadings: &[f64]) -> f64 {
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

/// Mean of `tail(s)` over s = chi / sqrt(df). For large `point` the tail falls about as exp(-bend * (point * s)^2).
///
/// In u = ln s the weight is proportional to exp(df * (u - (exp(2u) - 1) / 2)), with its peak at u = 0; times the tail
/// the peak moves left, and the interval of integration moves with it.
fn averaged_over_deviation(df: f64, point: f64, bend: f64, tail: impl Fn(f64) -> f64) -> f64 {
    if df >= KNOWN {
        return tail(1.0);
    }
    let log_weight = |u: f64| df * (u - 0.5 * (2.0 * u).exp_m1());
    let half = 0.5 * df;
    let log_constant = std::f64::consts::LN_2 + half * half.ln() - ln_gamma(half) - half;
    let log_integrand = |u: f64| log_weight(u) + tail(u.exp()).max(f64::MIN_POSITIVE).ln();
    let leftmost = -0.5 * (1.0 + 2.0 * bend * point * point / df).ln();
    let width = 1.0 / (2.0 * df).sqrt();
    let peak = peak_between(leftmost - width, width, &log_integrand);
    let top = log_integrand(peak);
    let lower = edge(peak, -width, top, &log_integrand);
    let upper = edge(peak, width, top, &log_integrand);
    // The search for the interval is over u, the integral over s itself: for few df the weight has a long tail in u.
    GaussLegendre::of_64().integrate(lower.exp(), upper.exp(), |deviation| {
        let u = deviation.ln();
        (log_constant + log_weight(u) - u).exp() * tail(deviation)
    })
}

/// Roughly where a function with one peak has it, by golden sections.
fn peak_between(lower: f64, upper: f64, function: &impl Fn(f64) -> f64) -> f64 {
    let golden = 0.618_033_988_749_894_9;
    let (mut a, mut b) = (lower, upper);
    let (mut left, mut right) = (b - golden * (b - a), a + golden * (b - a));
    let (mut at_left, mut at_right) = (function(left), function(right));
    while b - a > 0.1 * (upper - lower).min(1.0) {
        if at_left > at_right {
            (b, right, at_right) = (right, left, at_left);
            left = b - golden * (b - a);
            at_left = function(left);
        } else {
            (a, left, at_left) = (left, right, at_right);
            right = a + golden * (b - a);
            at_right = function(right);
        }
    }
    0.5 * (a + b)
}

/// Where a function has fallen by 36 (a factor of 2e-16 outside the logarithm), going from its peak in steps that grow.
fn edge(peak: f64, step: f64, top: f64, function: &impl Fn(f64) -> f64) -> f64 {
    let fallen = |at: f64| function(at) < top - 36.0;
    let (mut inside, mut outside, mut step) = (peak, peak + 4.0 * step, 4.0 * step);
    for _ in 0..60 {
        if fallen(outside) {
            break;
        }
        step *= 1.25;
        (inside, outside) = (outside, outside + step);
    }
    for _ in 0..5 {
        let middle = 0.5 * (inside + outside);
        if fallen(middle) { outside = middle } else { inside = middle }
    }
    outside
}

/// Inverts an upper tail: the point in logarithms of the probability, where it is close to a parabola.
fn quantile(upper: f64, tail: impl Fn(f64) -> Option<f64>) -> Option<f64> {
    if !(upper > 0.0 && upper < 1.0) {
        return None;
    }
    let target = upper.ln();
    let excess = |point: f64| tail(point).map_or(f64::NAN, |p| p.max(f64::MIN_POSITIVE).ln() - target);
    let mut reach = 4.0;
    while excess(reach) > 0.0 {
        reach *= 2.0;
        if reach > 1e9 {
            return None;
        }
    }
    let floor = if reach > 4.0 { 0.5 * reach } else { 0.0 };
    root_in_bracket(floor, reach, 1e-14, excess)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numeric::tails::{t_two_sided, t_upper};

    fn close(got: Option<f64>, expected: f64, relative: f64) {
        let got = got.unwrap();
        assert!(((got - expected) / expected).abs() <= relative, "got {got:e}, expected {expected:e}");
    }

    #[test]
    fn two_groups_are_student_t() {
        // Q of two means is sqrt(2) |T|: an identity, so the error seen here is the quadrature's own.
        for df in [1.0, 2.0, 3.5, 8.0, 30.0, 173.0, 2000.0] {
            for t in [0.01, 0.5, 2.0, 5.0, 12.0, 30.0] {
                let expected = t_two_sided(t, df).unwrap();
                close(studentized_range_upper(2.0_f64.sqrt() * t, 2, df), expected, 1e-9);
            }
        }
        close(studentized_range_upper(8.0, 2, f64::INFINITY), 2.0 * normal_upper(8.0 / 2.0_f64.sqrt()), 1e-12);
    }

    #[test]
    fn one_comparison_is_student_t() {
        for df in [1.0, 3.5, 8.0, 77.0, 2000.0] {
            for t in [0.1, 1.0, 4.0, 15.0] {
                close(dunnett_two_sided(t, &[0.5_f64.sqrt()], df), t_two_sided(t, df).unwrap(), 1e-9);
                close(dunnett_one_sided(t, &[0.3], df), t_upper(t, df).unwrap(), 1e-9);
                close(dunnett_one_sided(-t, &[0.3], df), 1.0 - t_upper(t, df).unwrap(), 1e-9);
            }
        }
    }

    #[test]
    fn the_range_as_printed() {
        // Upper 5 % points of the studentised range, any table (Pearson & Hartley): (3, 10), (4, 20), (5, 30), (6, 60).
        for (groups, df, printed) in [(3, 10.0, 3.877), (4, 20.0, 3.958), (5, 30.0, 4.102), (6, 60.0, 4.163)] {
            let q = studentized_range_quantile(0.05, groups, df).unwrap();
            assert!((q - printed).abs() < 0.0005001, "{groups} {df}: {q}");
        }
    }

    #[test]
    fn many_to_one_as_printed() {
        // Dunnett 1964, two-sided 5 %, 1 to 5 comparisons, with a third decimal from mvtnorm::qmvt (R 4.2.2), whose
        // own error shows in it: 2.569 at df 10 and two comparisons is 2.5683 by an independent quadrature.
        let table = [
            (10.0, [2.228, 2.569, 2.759, 2.890, 2.990]),
            (20.0, [2.086, 2.379, 2.540, 2.651, 2.735]),
            (60.0, [2.000, 2.265, 2.410, 2.508, 2.582]),
        ];
        for (df, printed) in table {
            for (index, expected) in printed.iter().enumerate() {
                let loadings = vec![0.5_f64.sqrt(); index + 1];
                let d = dunnett_two_sided_quantile(0.05, &loadings, df).unwrap();
                assert!((d - expected).abs() < 0.0011, "{df} {index}: {d}");
            }
        }
    }

    #[test]
    fn outside_the_domain_there_is_no_value() {
        assert!(studentized_range_upper(3.0, 1, 10.0).is_none());
        assert!(studentized_range_upper(f64::NAN, 3, 10.0).is_none());
        assert!(studentized_range_quantile(0.0, 3, 10.0).is_none());
        assert!(dunnett_two_sided(2.0, &[], 10.0).is_none());
        assert!(dunnett_two_sided(2.0, &[1.0], 10.0).is_none());
        assert!(dunnett_one_sided_quantile(0.6, &[0.5], 10.0).is_none());
    }
}
