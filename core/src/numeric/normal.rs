//! The standard normal tail to the last digits: statrs 0.19.1's erfc was seen 4e-11 off at 4.
//!
//! Mills' ratio (tail over density) is tabulated once on a grid, from the power series and the continued fraction of
//! the tail, with its Taylor coefficients at each point; between grid points a short polynomial gives it.

use std::sync::OnceLock;

const GRID_STEPS_PER_UNIT: f64 = 8.0;
/// Beyond this the tail is below the smallest number.
const END: f64 = 39.0;
const COEFFICIENTS: usize = 10;

/// Density of a standard normal variable.
pub fn density(z: f64) -> f64 {
    0.398_942_280_401_432_7 * (-0.5 * z * z).exp()
}

/// P(Z > `z`).
pub fn upper(z: f64) -> f64 {
    if z < 0.0 {
        return 1.0 - upper(-z);
    }
    if z < END { density(z) * mills_ratio(z) } else { 0.0 }
}

/// P(Z < `z`).
pub fn lower(z: f64) -> f64 {
    upper(-z)
}

/// P(Z > z) / density(z) for z from 0 to `END`.
fn mills_ratio(z: f64) -> f64 {
    static TABLE: OnceLock<Vec<[f64; COEFFICIENTS]>> = OnceLock::new();
    let table = TABLE.get_or_init(|| {
        (0..=(END * GRID_STEPS_PER_UNIT) as usize).map(|step| taylor_at(step as f64 / GRID_STEPS_PER_UNIT)).collect()
    });
    let nearest = (z * GRID_STEPS_PER_UNIT).round();
    let from_grid = z - nearest / GRID_STEPS_PER_UNIT;
    table[nearest as usize].iter().rev().fold(0.0, |sum, coefficient| sum * from_grid + coefficient)
}

/// Taylor coefficients of Mills' ratio r, from r' = z r - 1.
fn taylor_at(z: f64) -> [f64; COEFFICIENTS] {
    let mut coefficients = [0.0; COEFFICIENTS];
    coefficients[0] = slow_mills_ratio(z);
    coefficients[1] = z * coefficients[0] - 1.0;
    for order in 1..COEFFICIENTS - 1 {
        coefficients[order + 1] = (z * coefficients[order] + coefficients[order - 1]) / (order + 1) as f64;
    }
    coefficients
}

fn slow_mills_ratio(z: f64) -> f64 {
    if z < 1.0 {
        // 1/2 less the power series of the part between 0 and z.
        let (mut term, mut sum) = (z, 0.0);
        for order in 1..60 {
            sum += term;
            term *= z * z / (2 * order + 1) as f64;
        }
        return 0.5 / density(z) - sum;
    }
    // Laplace's continued fraction 1 / (z + 1 / (z + 2 / (z + ...))), from far down upwards.
    let fraction = (1..600).rev().fold(z, |below, order| z + f64::from(order) / below);
    1.0 / fraction
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_tail_agrees_with_the_c_library() {
        // Python 3 on glibc, math.erfc(z / sqrt(2)) / 2.
        for (z, expected) in [
            (0.0, 0.5),
            (0.3, 0.3820885778110474),
            (1.0, 0.15865525393145707),
            (2.0, 0.02275013194817922),
            (3.0, 0.0013498980316300957),
            (4.0, 3.1671241833119965e-05),
            (5.656854249492381, 7.70862895014001e-09),
            (8.0, 6.220960574271819e-16),
            (12.0, 1.776482112077702e-33),
            (20.0, 2.7536241186063314e-89),
            (37.0, 5.725571222525139e-300),
        ] {
            let error = (upper(z) - expected).abs() / expected;
            // z * z rounds, which the exponential magnifies by z * z / 2.
            assert!(error < 1e-15 * (1.0 + 0.5 * z * z), "{z}: {error:e}");
            assert!((lower(z) - (1.0 - expected)).abs() < 2e-16);
        }
    }

    #[test]
    fn the_two_slow_ways_meet() {
        let (below, above) = (slow_mills_ratio(1.0 - 1e-15), slow_mills_ratio(1.0));
        assert!((below - above).abs() < 4e-15, "{below} {above}");
    }

    #[test]
    fn between_grid_points_the_table_is_as_good_as_on_them() {
        for step in 0..4000 {
            let z = f64::from(step) * 0.00973;
            let (got, expected) = (mills_ratio(z), slow_mills_ratio(z));
            assert!((got - expected).abs() < 5e-15 * expected, "{z}: {got} {expected}");
        }
    }
}
