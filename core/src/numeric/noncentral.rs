//! Lower tails of Student's t and of F where there is an effect: what a test shows when there is something to be shown.

use super::quadrature::GaussLegendre;
use super::tails::normal_upper;
use statrs::function::beta::beta_reg;
use statrs::function::gamma::ln_gamma;

/// P(T < `t`) of the noncentral t on `df` degrees of freedom with noncentrality `shift`: the normal part, averaged over the
/// law of the estimated scale. Right to 1e-8 from 1 degree of freedom on. `None` outside the domain.
pub fn noncentral_t_lower(t: f64, df: f64, shift: f64) -> Option<f64> {
    if !(t.is_finite() && shift.is_finite() && df.is_finite() && df >= 1.0) {
        return None;
    }
    // s is the root of chi-squared over its degrees of freedom: density 2 (df/2)^(df/2) / gamma(df/2) s^(df-1) e^(-df s^2/2).
    let log_constant = 2.0_f64.ln() + 0.5 * df * (0.5 * df).ln() - ln_gamma(0.5 * df);
    let density = |s: f64| (log_constant + (df - 1.0) * s.ln() - 0.5 * df * s * s).exp();
    let reach = 8.0 / (2.0 * df).sqrt() * 1.5;
    let below = |s: f64| normal_upper(shift - t * s) * density(s);
    let rule = GaussLegendre::of_64();
    Some(rule.integrate((1.0 - reach).max(0.0), 1.0 + reach, below).clamp(0.0, 1.0))
}

/// P(F < `f`) of the noncentral F with noncentrality `shift`: central laws weighted by Poisson's. `None` outside the domain.
pub fn noncentral_f_lower(f: f64, df1: f64, df2: f64, shift: f64) -> Option<f64> {
    let positive = [df1, df2].iter().all(|df| df.is_finite() && *df > 0.0);
    if !(positive && f.is_finite() && f >= 0.0 && shift.is_finite() && (0.0..1e5).contains(&shift)) {
        return None;
    }
    let (half, share) = (0.5 * shift, df1 * f / (df1 * f + df2));
    let (centre, reach) = (half.floor(), 12.0 * half.sqrt() + 20.0);
    let from = (centre - reach).max(0.0) as u64;
    let weight = |count: f64| {
        let log = if half > 0.0 { count * half.ln() - half - ln_gamma(count + 1.0) } else { 0.0 };
        if half > 0.0 || count < 0.5 { log.exp() } else { 0.0 }
    };
    let terms = (from..=(centre + reach) as u64).map(|count| count as f64);
    Some(terms.map(|count| weight(count) * beta_reg(0.5 * df1 + count, 0.5 * df2, share)).sum::<f64>().clamp(0.0, 1.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn against_scipy() {
        // scipy 1.17.1: stats.nct.cdf(t, df, shift) and stats.ncf.cdf(f, df1, df2, shift).
        let of_t = [
            (2.0, 2.0, 3.0, 0.182_231_752_571_291_15),
            (-0.5, 3.0, 2.0, 0.007_800_301_076_436_315),
            (1.9, 6.0, 3.5, 0.070_562_579_100_386_38),
            (0.7, 10.0, 1.0, 0.376_888_215_296_353_6),
            (2.5, 1.0, 4.0, 0.137_392_561_541_972_63),
        ];
        for (t, df, shift, expected) in of_t {
            let got = noncentral_t_lower(t, df, shift).unwrap();
            assert!((got - expected).abs() < 1e-8, "{t} {df} {shift}: {got} {expected}");
        }
        let of_f = [
            (1.2, 4.0, 5.0, 10.0, 0.091_136_026_625_289_45),
            (3.0, 7.0, 8.0, 25.0, 0.218_446_894_785_432_47),
            (0.8, 3.0, 4.0, 0.0, 0.444_926_847_810_225_8),
            (6.0, 11.0, 12.0, 80.0, 0.208_781_128_061_715_03),
        ];
        for (f, df1, df2, shift, expected) in of_f {
            let got = noncentral_f_lower(f, df1, df2, shift).unwrap();
            assert!((got - expected).abs() < 1e-9, "{f} {df1} {df2} {shift}: {got} {expected}");
        }
    }
}
