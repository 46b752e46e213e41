//! The squared distance of one candidate on a panel in which each assessor counts so many times. It knows no draws.
//!
//! Attributes that every assessor scored on both samples are summed up once: about the panel's own means, a weighted panel's
//! squared distance and its noise depend on the attributes only by the products of any two assessors' rows, so a weighted
//! panel takes as many terms as there are pairs of assessors, however many attributes there are.

use crate::numeric::dense::{SquareMatrix, dot};
use crate::numeric::describe::mean;

/// Squared distance, as it comes and what noise adds to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Squared {
    pub raw: f64,
    pub noise: f64,
}

/// Differences of one candidate, ready for any weights.
#[derive(Clone, Debug)]
pub(super) struct WeighedProfile {
    complete: Complete,
    /// `[attribute][assessor]` of the attributes with holes.
    with_holes: Vec<Vec<Option<f64>>>,
}

/// Attributes without holes, summed up over them.
#[derive(Clone, Debug)]
struct Complete {
    attributes: usize,
    /// Squares of the panel's means.
    means_squared: f64,
    /// One an assessor: own deviations times the panel's means.
    along_means: Vec<f64>,
    /// Own deviations times the own deviations of another.
    products: SquareMatrix,
    /// Its diagonal.
    own_squares: Vec<f64>,
}

impl Squared {
    pub fn adjusted(self) -> f64 {
        self.raw - self.noise
    }
}

impl WeighedProfile {
    /// From differences `[attribute][assessor]`.
    pub fn of(differences: &[Vec<Option<f64>>], n_assessors: usize) -> Self {
        let (complete, with_holes): (Vec<_>, Vec<_>) =
            differences.iter().cloned().partition(|row| row.iter().all(Option::is_some));
        let complete: Vec<Vec<f64>> = complete.into_iter().map(|row| row.into_iter().flatten().collect()).collect();
        WeighedProfile { complete: Complete::of(&complete, n_assessors), with_holes }
    }

    /// Squared distance with assessor `a` counted `weights[a]` times; `None` where an attribute is left with fewer than two.
    pub fn squared(&self, weights: &[f64]) -> Option<Squared> {
        let mut squared = self.complete.squared(weights)?;
        for row in &self.with_holes {
            let one = of_attribute(row, weights)?;
            squared.raw += one.raw;
            squared.noise += one.noise;
        }
        Some(squared)
    }
}

impl Complete {
    fn of(rows: &[Vec<f64>], n_assessors: usize) -> Self {
        let means: Vec<f64> = rows.iter().map(|row| mean(row).unwrap_or(0.0)).collect();
        let own = |assessor: usize| rows.iter().zip(&means).map(|(row, mean)| row[assessor] - mean).collect();
        let deviations: Vec<Vec<f64>> = (0..n_assessors).map(own).collect();
        let products = SquareMatrix::products_of_rows(&deviations);
        Complete {
            attributes: rows.len(),
            means_squared: dot(&means, &means),
            along_means: deviations.iter().map(|own| dot(own, &means)).collect(),
            own_squares: (0..n_assessors).map(|assessor| products[(assessor, assessor)]).collect(),
            products,
        }
    }

    fn squared(&self, weights: &[f64]) -> Option<Squared> {
        let count: f64 = weights.iter().sum();
        if self.attributes == 0 {
            return Some(Squared { raw: 0.0, noise: 0.0 });
        }
        if count < 2.0 {
            return None;
        }
        let moved = self.products.quadratic_form(weights) / count;
        let scatter = (dot(&self.own_squares, weights) - moved).max(0.0);
        Some(Squared {
            raw: self.means_squared + (2.0 * dot(&self.along_means, weights) + moved) / count,
            noise: scatter / (count * (count - 1.0)),
        })
    }
}

/// What one attribute adds.
fn of_attribute(row: &[Option<f64>], weights: &[f64]) -> Option<Squared> {
    let present = || row.iter().zip(weights).filter_map(|(difference, weight)| Some(((*difference)?, *weight)));
    let (count, sum) =
        present().fold((0.0, 0.0), |(count, sum), (difference, weight)| (count + weight, sum + weight * difference));
    if count < 2.0 {
        return None;
    }
    let mean = sum / count;
    let scatter: f64 = present().map(|(difference, weight)| weight * (difference - mean) * (difference - mean)).sum();
    Some(Squared { raw: mean * mean, noise: scatter / (count * (count - 1.0)) })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numeric::random::Random;

    #[test]
    fn sums_over_attributes_are_those_of_each_attribute() {
        // Identity: attribute by attribute, whole or with holes.
        let mut random = Random::seeded_for(1, "drawn distance");
        let mut row = |holes: bool| -> Vec<Option<f64>> {
            (0..6).map(|_| (!holes || random.coin()).then(|| 3.0 + 8.0 * random.normal())).collect()
        };
        let mut rows: Vec<Vec<Option<f64>>> = (0..15).map(|_| row(false)).collect();
        for holes in [false, true] {
            if holes {
                rows.push(vec![Some(1.0), Some(4.5), None, Some(-2.0), None, Some(0.25)]);
                rows.push(row(true));
            }
            let profile = WeighedProfile::of(&rows, 6);
            for weights in [[1.0; 6], [0.0, 3.0, 1.0, 0.0, 2.0, 0.0], [2.0, 0.0, 0.0, 2.0, 1.0, 1.0]] {
                let each: Option<Vec<Squared>> = rows.iter().map(|row| of_attribute(row, &weights)).collect();
                let (Some(each), Some(got)) = (&each, profile.squared(&weights)) else {
                    assert_eq!(each.is_none(), profile.squared(&weights).is_none());
                    continue;
                };
                let raw: f64 = each.iter().map(|one| one.raw).sum();
                let noise: f64 = each.iter().map(|one| one.noise).sum();
                assert!((got.raw / raw - 1.0).abs() < 1e-13 && (got.noise / noise - 1.0).abs() < 1e-13);
            }
        }
    }

    #[test]
    fn one_assessor_alone_has_no_distance() {
        let profile = WeighedProfile::of(&[vec![Some(1.0), Some(2.0)]], 2);
        assert_eq!(profile.squared(&[1.0, 0.0]), None);
        // 1 and 2, mean 1.5, squares about it .5 over 2 times 1.
        assert_eq!(profile.squared(&[1.0, 1.0]), Some(Squared { raw: 2.25, noise: 0.25 }));
    }
}
