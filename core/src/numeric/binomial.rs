//! Exact binomial probabilities and the Clopper-Pearson interval. No normal approximation anywhere.
//!
//! Probabilities are built outwards from the most likely count by ratios of neighbours and divided by their sum, so
//! there are no factorials to overflow, no logarithms to lose digits and no 1 - x.

/// A share estimated from counts, with its exact interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShareInterval {
    /// Lower end, a share of one.
    pub lower: f64,
    /// Upper end, a share of one.
    pub upper: f64,
}

/// P(X = 0), ..., P(X = `n`) for `n` trials with chance `p` (taken into 0 to 1).
pub fn probabilities(n: u64, p: f64) -> Vec<f64> {
    let (p, size) = (p.clamp(0.0, 1.0), n as usize);
    let mut mass = vec![0.0; size + 1];
    let mode = (((n + 1) as f64 * p).floor() as usize).min(size);
    mass[mode] = 1.0;
    let odds = p / (1.0 - p);
    for k in mode + 1..=size {
        mass[k] = mass[k - 1] * (size - k + 1) as f64 / k as f64 * odds;
    }
    for k in (0..mode).rev() {
        mass[k] = mass[k + 1] * (k + 1) as f64 / (size - k) as f64 / odds;
    }
    let total = smallest_first(&mass);
    mass.iter_mut().for_each(|value| *value /= total);
    mass
}

/// P(X >= `k`).
pub fn upper(n: u64, k: u64, p: f64) -> f64 {
    if k == 0 {
        return 1.0;
    }
    probabilities(n, p).get(k as usize..).map_or(0.0, smallest_first).min(1.0)
}

/// P(X <= `k`).
pub fn lower(n: u64, k: u64, p: f64) -> f64 {
    if k >= n {
        return 1.0;
    }
    smallest_first(&probabilities(n, p)[..=k as usize]).min(1.0)
}

/// Exact interval for the chance behind `k` in `n` (Clopper & Pearson 1934); each end leaves (1 - level) / 2.
///
/// `None` without trials, with `k` above `n`, or a level outside (0, 1).
pub fn clopper_pearson(n: u64, k: u64, level: f64) -> Option<ShareInterval> {
    if n == 0 || k > n || !(level > 0.0 && level < 1.0) {
        return None;
    }
    let side = 0.5 * (1.0 - level);
    Some(ShareInterval { lower: lower_bound(n, k, side), upper: upper_bound(n, k, side) })
}

/// Smallest chance under which `k` or more still has probability `side`: the one-sided lower bound.
pub fn lower_bound(n: u64, k: u64, side: f64) -> f64 {
    if k == 0 { 0.0 } else { bisect(|p| upper(n, k, p) > side) }
}

/// Largest chance under which `k` or fewer still has probability `side`: the one-sided upper bound.
pub fn upper_bound(n: u64, k: u64, side: f64) -> f64 {
    if k >= n { 1.0 } else { bisect(|p| lower(n, k, p) <= side) }
}

/// The point in 0 to 1 where `is_past` turns true, to the last bit.
fn bisect(is_past: impl Fn(f64) -> bool) -> f64 {
    let (mut below, mut above) = (0.0_f64, 1.0_f64);
    for _ in 0..200 {
        let middle = 0.5 * (below + above);
        if middle <= below || middle >= above {
            break;
        }
        if is_past(middle) {
            above = middle;
        } else {
            below = middle;
        }
    }
    0.5 * (below + above)
}

/// Sum from the thin end: values rise to the mode and fall again, so adding both ends inwards keeps small ones.
fn smallest_first(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted.iter().sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(got: f64, expected: f64, relative: f64) {
        assert!(((got - expected) / expected).abs() <= relative, "got {got:e}, expected {expected:e}");
    }

    #[test]
    fn tails_by_hand() {
        // Six right of six by guessing among three: 3^-6. Ten heads of ten: 2^-10.
        close(upper(6, 6, 1.0 / 3.0), 3.0_f64.powi(-6), 1e-14);
        close(upper(10, 10, 0.5), 0.5_f64.powi(10), 1e-14);
        close(upper(1000, 1000, 0.5), 0.5_f64.powi(1000), 1e-11);
        close(lower(4, 1, 0.5), 5.0 / 16.0, 1e-14);
        assert_eq!(upper(5, 0, 0.3), 1.0);
        assert_eq!(upper(5, 6, 0.3), 0.0);
        assert_eq!(upper(5, 5, 1.0), 1.0);
        assert_eq!(lower(5, 0, 0.0), 1.0);
    }

    #[test]
    fn the_two_tails_make_one() {
        for n in [1_u64, 7, 60, 500] {
            for p in [0.01, 1.0 / 3.0, 0.5, 0.97] {
                for k in 1..=n {
                    assert!((upper(n, k, p) + lower(n, k - 1, p) - 1.0).abs() < 1e-13, "{n} {k} {p}");
                }
            }
        }
    }

    #[test]
    fn clopper_pearson_closed_forms() {
        // None of n: upper = 1 - (alpha / 2)^(1 / n); all of n: lower = (alpha / 2)^(1 / n).
        let none = clopper_pearson(10, 0, 0.95).unwrap();
        assert_eq!(none.lower, 0.0);
        close(none.upper, 1.0 - 0.025_f64.powf(0.1), 1e-13);
        close(clopper_pearson(10, 10, 0.95).unwrap().lower, 0.025_f64.powf(0.1), 1e-13);
        // scipy 1.17.1: stats.beta.ppf(.025, 3, 18) and stats.beta.ppf(.975, 4, 17).
        let three = clopper_pearson(20, 3, 0.95).unwrap();
        close(three.lower, 0.032_070_94, 1e-6);
        close(three.upper, 0.378_926_83, 1e-6);
        assert_eq!(clopper_pearson(0, 0, 0.95), None);
        assert_eq!(clopper_pearson(3, 4, 0.95), None);
    }
}
