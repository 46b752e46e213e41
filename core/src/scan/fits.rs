//! Small sums that several files of this room need: percentiles and polynomials. It knows nothing of what they are of.

use super::plane::solve;

/// A percentile of unsorted values, linear between ranks; 0 for none. `share` is 0 to 1. The order of values is lost.
pub fn percentile(values: &mut [f32], share: f32) -> f32 {
    if values.is_empty() {
        return 0.0;
    }
    let place = share * (values.len() - 1) as f32;
    let lower = place as usize;
    let (_, low, above) = values.select_nth_unstable_by(lower, f32::total_cmp);
    let low = *low;
    let next = above.iter().copied().min_by(f32::total_cmp).unwrap_or(low);
    low + (next - low) * (place - lower as f32)
}

pub fn median(values: &mut [f32]) -> f32 {
    percentile(values, 0.5)
}

/// A polynomial of degree three at most, over a variable that was brought to about -1 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cubic {
    terms: [f64; 4],
}

impl Cubic {
    /// Least squares of degree 3, or of degree 1 where fewer than seven places are given.
    pub fn fit(x: &[f64], y: &[f64]) -> Option<Self> {
        let terms = if x.len() > 6 { 4 } else { 2 };
        let (mut a, mut b) = ([[0.0; 4]; 4], [0.0; 4]);
        for (x, y) in x.iter().zip(y) {
            let powers = [1.0, *x, x * x, x * x * x];
            for i in 0..terms {
                b[i] += powers[i] * y;
                (0..terms).for_each(|j| a[i][j] += powers[i] * powers[j]);
            }
        }
        (terms..4).for_each(|i| a[i][i] = 1.0);
        Some(Cubic { terms: solve(a, b)? })
    }

    pub fn at(&self, x: f64) -> f64 {
        self.terms.iter().rev().fold(0.0, |sum, term| sum * x + term)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn percentiles_lie_between_ranks() {
        // Of 1, 2, 3, 4 the median is 2.5 and the lower quartile, linear between ranks, 1.75.
        assert_eq!(median(&mut [4.0, 1.0, 3.0, 2.0]), 2.5);
        assert_eq!(percentile(&mut [4.0, 1.0, 3.0, 2.0], 0.25), 1.75);
        assert_eq!(percentile(&mut [], 0.5), 0.0);
    }

    #[test]
    fn a_cubic_comes_back() {
        // Values of 1 - 2 x + 3 x^3 at eight places.
        let x: Vec<f64> = (0..8).map(|place| f64::from(place) / 4.0 - 1.0).collect();
        let y: Vec<f64> = x.iter().map(|x| 1.0 - 2.0 * x + 3.0 * x * x * x).collect();
        let fit = Cubic::fit(&x, &y).expect("eight places settle a cubic");
        assert!((fit.at(0.3) - (1.0 - 0.6 + 0.081)).abs() < 1e-9);
    }
}
