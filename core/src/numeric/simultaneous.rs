//! Simultaneous tests on one variance estimate: Tukey's studentised range and Dunnett's many-to-one comparison.
//!
//! Upper-tail probabilities by double Gauss-Legendre quadrature: 96 nodes over a normal variable (`maximum_law`), 64 over the
//! estimated standard deviation s = chi / sqrt(df). The outer interval follows the integrand; without a limit on df the
//! outer integral is dropped. The inner integral depends on one number only, so it is tabulated (`tail_table`) and shared
//! by all comparisons of an analysis, whatever their degrees of freedom. Two groups, and one comparison, are Student's t.
//! Tables by R's qtukey (good to 5 digits) and mvtnorm's qmvt (3 digits) are not followed where they differ.

use super::maximum_law::{MaximumLaw, largest_upper};
use super::memory::Memory;
use super::quadrature::GaussLegendre;
use super::root::{root_in_bracket, root_near};
use super::tail_table::TailTable;
use super::tails::{t_quantile_upper, t_two_sided};
use statrs::function::gamma::ln_gamma;
use std::f64::consts::{FRAC_1_SQRT_2, LN_2, SQRT_2, TAU};
use std::rc::Rc;

/// Above this many degrees of freedom the standard deviation counts as known.
const KNOWN: f64 = 1e9;
/// Up to this many degrees of freedom one comparison is taken from Student's t; its incomplete beta function loses digits as
/// they grow, and the quadrature does not.
const STUDENT: f64 = 500.0;

thread_local! {
    /// By law: all comparisons of an analysis are of a few.
    static TABLES: Memory<MaximumLaw, Rc<TailTable>> = const { Memory::of_latest(16) };
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
    if q <= 0.0 || q.is_infinite() {
        return Some(if q > 0.0 { 0.0 } else { 1.0 });
    }
    if groups == 2 && df <= STUDENT {
        return t_two_sided(q * FRAC_1_SQRT_2, df);
    }
    Some(upper_of(&table_of(MaximumLaw::Range(groups)), q, df))
}

/// The value that the studentised range exceeds with probability `upper`; `None` outside the domain.
pub fn studentized_range_quantile(upper: f64, groups: usize, df: f64) -> Option<f64> {
    if groups == 2 && df <= STUDENT && df >= 1.0 {
        return t_quantile_upper(0.5 * upper, df).filter(|_| upper < 1.0).map(|t| SQRT_2 * t);
    }
    RANGE_QUANTILES.with(|known| {
        let asked = (upper.to_bits(), groups, df.to_bits());
        known.value(asked, || {
            studentized_range_upper(1.0, groups, df)?;
            quantile(upper, df, &table_of(MaximumLaw::Range(groups)))
        })
    })
}

/// P(max |T_i| > `d`) for comparisons of several means with one, all on one standard deviation with `df` degrees of
/// freedom (may be infinite).
///
/// `loadings` has one number l_i a comparison, the correlation of two being l_i * l_j: sqrt(1/2) each where all groups
/// are equally large, sqrt(n_i / (n_i + n_0)) with independent groups of different sizes. `None` outside the domain.
pub fn dunnett_two_sided(d: f64, loadings: &[f64], df: f64) -> Option<f64> {
    if !in_domain(loadings, df) || d.is_nan() {
        return None;
    }
    if d <= 0.0 || d.is_infinite() {
        return Some(if d > 0.0 { 0.0 } else { 1.0 });
    }
    if loadings.len() == 1 && df <= STUDENT {
        return t_two_sided(d, df);
    }
    Some(upper_of(&table_of(MaximumLaw::Modulus(loadings.to_vec())), d, df))
}

/// P(max T_i > `d`), one-sided, as in `dunnett_two_sided`.
pub fn dunnett_one_sided(d: f64, loadings: &[f64], df: f64) -> Option<f64> {
    if !in_domain(loadings, df) || d.is_nan() {
        return None;
    }
    let bend = if d > 0.0 { 0.5 } else { 0.0 };
    let ln_upper = |deviation: f64| largest_upper(d * deviation, loadings).max(f64::MIN_POSITIVE).ln();
    Some(averaged_over_deviation(df, d, bend, ln_upper).min(1.0))
}

/// The value that max |T_i| exceeds with probability `upper`; `None` outside the domain.
pub fn dunnett_two_sided_quantile(upper: f64, loadings: &[f64], df: f64) -> Option<f64> {
    if !in_domain(loadings, df) {
        return None;
    }
    DUNNETT_QUANTILES.with(|known| {
        let asked = (upper.to_bits(), loadings.iter().map(|loading| loading.to_bits()).collect(), df.to_bits());
        known.value(asked, || quantile(upper, df, &table_of(MaximumLaw::Modulus(loadings.to_vec()))))
    })
}

/// The value that max T_i exceeds with probability `upper` (at most 1/2); `None` outside the domain.
pub fn dunnett_one_sided_quantile(upper: f64, loadings: &[f64], df: f64) -> Option<f64> {
    if upper > 0.5 {
        return None;
    }
    quantile_in_bracket(upper, |d| dunnett_one_sided(d, loadings, df))
}

fn in_domain(loadings: &[f64], df: f64) -> bool {
    let ok = |loading: &f64| *loading >= 0.0 && *loading < 1.0;
    !loadings.is_empty() && loadings.iter().all(ok) && df >= 1.0
}

fn table_of(law: MaximumLaw) -> Rc<TailTable> {
    TABLES.with(|known| {
        known.known(&law).unwrap_or_else(|| {
            let table = Rc::new(TailTable::new(law.clone()));
            known.keep(law, Rc::clone(&table));
            table
        })
    })
}

/// P(largest / s > `point`) with s = chi / sqrt(df); `point` is above zero.
fn upper_of(table: &TailTable, point: f64, df: f64) -> f64 {
    let ln_upper = |deviation: f64| table.ln_upper(point * deviation);
    averaged_over_deviation(df, point, table.law().bend(), ln_upper).min(1.0)
}

/// Mean of a tail over s = chi / sqrt(df), from its logarithm at s. For large `point` the tail falls about as
/// exp(-bend * (point * s)^2).
///
/// In u = ln s the weight is proportional to exp(df * (u - (exp(2u) - 1) / 2)), with its peak at u = 0; times the tail
/// the peak moves left, and the interval of integration moves with it.
fn averaged_over_deviation(df: f64, point: f64, bend: f64, ln_upper: impl Fn(f64) -> f64) -> f64 {
    if df >= KNOWN {
        return ln_upper(1.0).exp();
    }
    let log_constant = log_constant(0.5 * df);
    let log_integrand = |u: f64| df * (u - 0.5 * (2.0 * u).exp_m1()) + ln_upper(u.exp());
    let leftmost = -0.5 * (1.0 + 2.0 * bend * point * point / df).ln();
    let width = 1.0 / (2.0 * df).sqrt();
    let peak = peak_between(leftmost - width, width, &log_integrand);
    let top = log_integrand(peak);
    let lower = edge(peak, -width, top, &log_integrand);
    let upper = edge(peak, width, top, &log_integrand);
    // The search for the interval is over u, the integral over s itself: for few df the weight has a long tail in u.
    GaussLegendre::of_64().integrate(lower.exp(), upper.exp(), |deviation| {
        let (u, beyond) = (deviation.ln(), deviation - 1.0);
        // (exp(2u) - 1) / 2, by what s has beyond 1: no exponential, and no cancelling next to 1.
        let half_square = beyond * (1.0 + 0.5 * beyond);
        (log_constant + df * (u - half_square) - u + ln_upper(deviation)).exp()
    })
}

/// Logarithm of 2 h^h exp(-h) / gamma(h), the constant of the density of ln s on 2 h degrees of freedom. For large h the
/// terms of its plain form are large and nearly cancel: Stirling's series has them cancelled (Abramowitz & Stegun 1964,
/// 6.1.41; what is left out is below 1e-14 from 20 on).
fn log_constant(half: f64) -> f64 {
    if half < 20.0 {
        return LN_2 + half * half.ln() - ln_gamma(half) - half;
    }
    let (inverse, square) = (1.0 / half, 1.0 / (half * half));
    let series = inverse * (1.0 / 12.0 - square * (1.0 / 360.0 - square * (1.0 / 1260.0 - square / 1680.0)));
    LN_2 + 0.5 * (half / TAU).ln() - series
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

/// Inverts an upper tail, the point in logarithms of the probability, where it is close to a parabola: by secants from a
/// point that the known deviation and the expansion of Student's t in 1 / df give (Abramowitz & Stegun 1964, 26.7.5),
/// and where these go astray, as with a few degrees of freedom, in a bracket.
fn quantile(upper: f64, df: f64, table: &TailTable) -> Option<f64> {
    let known = quantile_in_bracket(upper, |point| Some(upper_of(table, point, KNOWN)))?;
    if df >= KNOWN {
        return Some(known);
    }
    let target = upper.ln();
    let scale = (2.0 * table.law().bend()).sqrt();
    let guess = widened(known * scale, df) / scale;
    let excess = |point: f64| upper_of(table, point, df).max(f64::MIN_POSITIVE).ln() - target;
    root_near(guess, excess).or_else(|| quantile_in_bracket(upper, |point| Some(upper_of(table, point, df))))
}

/// A normal quantile made about one of Student's t.
fn widened(z: f64, df: f64) -> f64 {
    let square = z * z;
    let first = z * (square + 1.0) / 4.0;
    let second = z * ((5.0 * square + 16.0) * square + 3.0) / 96.0;
    z + (first + second / df) / df
}

/// Inverts an upper tail in a bracket, whatever its shape.
fn quantile_in_bracket(upper: f64, tail: impl Fn(f64) -> Option<f64>) -> Option<f64> {
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
    use crate::numeric::portable::normal_upper;
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
