//! Quantiles of the F distribution where degrees of freedom are no whole numbers. Numbers only.

use crate::numeric::tails::normal_quantile;
use statrs::function::beta::{beta_reg, ln_beta};

/// The value below which F on `df1` and `df2` degrees of freedom lies with probability `lower`; `None` outside the domain.
///
/// Newton steps on the logarithm of the distribution function over the logarithm of F. The logarithm of F has a
/// log-concave density, hence a log-concave distribution function, so the steps never overshoot from below and one step
/// from above lands below: they always arrive. Right to 1e-11 in the lower half, where it is used; far up it is as good as
/// the lower tail can be told from 1.
#[must_use]
pub fn f_quantile_lower(lower: f64, df1: f64, df2: f64) -> Option<f64> {
    let in_domain = lower > 0.0 && lower < 1.0 && [df1, df2].iter().all(|df| df.is_finite() && *df > 0.0);
    if !in_domain {
        return None;
    }
    let mut log_f = start(lower, df1, df2)?;
    for _ in 0..100 {
        let f = log_f.exp();
        let share = df1 * f / (df1 * f + df2);
        let below = beta_reg(0.5 * df1, 0.5 * df2, share);
        // Density of ln F: x^(a) (1 - x)^(b) / B(a, b) at x = share, a and b half the degrees of freedom.
        let log_density = 0.5 * df1 * share.ln() + 0.5 * df2 * (-share).ln_1p() - ln_beta(0.5 * df1, 0.5 * df2);
        let step = (lower / below).ln() * below / log_density.exp();
        if !step.is_finite() {
            return None;
        }
        log_f += step.clamp(-5.0, 5.0);
        if step.abs() <= 1e-14 {
            break;
        }
    }
    let f = log_f.exp();
    f.is_finite().then_some(f)
}

/// Where to start, as a logarithm: the cube root of F is nearly normal (Wilson and Hilferty 1931, for both parts).
fn start(lower: f64, df1: f64, df2: f64) -> Option<f64> {
    let z = normal_quantile(lower)?;
    let (a, b) = (2.0 / (9.0 * df1), 2.0 / (9.0 * df2));
    let (centre, spread) = ((1.0 - a) / (1.0 - b), (a / ((1.0 - a) * (1.0 - a)) + b).sqrt());
    let root = centre * (1.0 + z * spread);
    Some(if root > 0.1 && root < 10.0 { 3.0 * root.ln() } else { 0.0 })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numeric::tails::{f_upper, t_quantile_upper};

    #[test]
    fn two_degrees_of_freedom_on_either_side_have_closed_forms() {
        // P(F < f) is (df1 f / (df1 f + 2))^(df1 / 2) on df1, 2 and 1 - (1 + 2 f / df2)^(-df2 / 2) on 2, df2.
        for lower in [1e-6, 0.01, 0.05, 0.25, 0.5_f64] {
            for df in [0.7, 1.0, 1.7, 5.0, 33.3, 640.0_f64] {
                let below = (lower.ln() * 2.0 / df).exp();
                let expected = 2.0 / df * below / -(lower.ln() * 2.0 / df).exp_m1();
                let got = f_quantile_lower(lower, df, 2.0).unwrap();
                assert!((got / expected - 1.0).abs() < 1e-11, "{df} 2 {lower}: {got} {expected}");
                let expected = 0.5 * df * (-(-lower).ln_1p() * 2.0 / df).exp_m1();
                let got = f_quantile_lower(lower, 2.0, df).unwrap();
                assert!((got / expected - 1.0).abs() < 1e-11, "2 {df} {lower}: {got} {expected}");
            }
        }
    }

    #[test]
    fn quantile_and_tail_are_inverse() {
        for df1 in [1.0, 1.7, 5.0, 33.3] {
            for df2 in [2.0, 7.5, 60.1, 640.0] {
                for lower in [0.01, 0.05, 0.5, 0.95, 0.999] {
                    let f = f_quantile_lower(lower, df1, df2).unwrap();
                    let back = 1.0 - f_upper(f, df1, df2).unwrap();
                    assert!((back - lower).abs() <= 1e-10, "{df1} {df2} {lower}: {f} {back}");
                }
            }
        }
    }

    #[test]
    fn on_one_degree_of_freedom_it_is_the_square_of_students_t() {
        for df in [3.0, 11.0, 18.5] {
            let f = f_quantile_lower(0.9, 1.0, df).unwrap();
            let t = t_quantile_upper(0.05, df).unwrap();
            assert!((f / (t * t) - 1.0).abs() < 1e-12, "{f} {t}");
        }
    }

    #[test]
    fn outside_the_domain_there_is_no_quantile() {
        assert!(f_quantile_lower(0.0, 2.0, 3.0).is_none());
        assert!(f_quantile_lower(0.5, 0.0, 3.0).is_none());
        assert!(f_quantile_lower(0.5, 2.0, f64::INFINITY).is_none());
    }
}
