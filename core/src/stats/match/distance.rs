//! Distance between two whole profiles, with what noise alone would add taken off.
//!
//! The area of a spider plot is never used: it depends on the order of the spokes.

use crate::numeric::describe::line;
use crate::stats::results::{AttributeAnalysis, Defined, NotDefined, ProfileDistance};
use crate::study::AttributeKind;

/// Distance of `sample` to the target over the analytic attributes, equal weights.
///
/// D^2 = sum d^2; adjusted D^2 = max(0, D^2 - sum se^2), with d and se from the per-assessor differences, in units of
/// the scale. Integrated words ("balance", "true to fruit") are left out: they sum up what the others say already.
///
/// Errors: no analytic attribute with a difference, or no standard error on one of them.
pub fn profile_distance(sample: &str, target: &str, attributes: &[AttributeAnalysis]) -> Defined<ProfileDistance> {
    let mut gathered = Vec::new();
    for attribute in attributes.iter().filter(|attribute| attribute.kind == AttributeKind::Analytic) {
        let Some(difference) = attribute.difference_of(sample) else { continue };
        let se = match &difference.test {
            Ok(test) => test.se,
            // Two assessors or more without any spread: the noise seen is none.
            Err(_) if difference.n_assessors > 1 => 0.0,
            Err(_) => return Err(NotDefined::because("only one assessor scored both samples on some attribute")),
        };
        gathered.push((difference.difference, se));
    }
    if gathered.is_empty() {
        return Err(NotDefined::because("no analytic attribute was scored on both samples"));
    }
    let pairs = profile_pairs(sample, target, attributes);
    Ok(distance_from(&gathered, correlation(&pairs)))
}

/// Distance from differences and their standard errors, one pair an attribute.
pub fn distance_from(differences_and_errors: &[(f64, f64)], shape_correlation: Option<f64>) -> ProfileDistance {
    let count = differences_and_errors.len() as f64;
    let squared: f64 = differences_and_errors.iter().map(|(difference, _)| difference * difference).sum();
    let noise: f64 = differences_and_errors.iter().map(|(_, se)| se * se).sum();
    ProfileDistance {
        n_attributes: differences_and_errors.len(),
        distance: squared.sqrt(),
        distance_adjusted: (squared - noise).max(0.0).sqrt(),
        distance_of_noise: noise.sqrt(),
        typical_difference: (squared / count).sqrt(),
        overall_offset: differences_and_errors.iter().map(|(difference, _)| difference).sum::<f64>() / count,
        shape_correlation,
    }
}

/// Product-moment correlation; `None` for fewer than three pairs or where one side does not vary.
pub fn correlation(pairs: &[(f64, f64)]) -> Option<f64> {
    if pairs.len() < 3 {
        return None;
    }
    let (x, y): (Vec<f64>, Vec<f64>) = pairs.iter().copied().unzip();
    line(&x, &y).map(|line| line.correlation)
}

fn profile_pairs(sample: &str, target: &str, attributes: &[AttributeAnalysis]) -> Vec<(f64, f64)> {
    attributes
        .iter()
        .filter(|attribute| attribute.kind == AttributeKind::Analytic)
        .filter_map(|attribute| Some((attribute.mean_of(target)?, attribute.mean_of(sample)?)))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn noise_alone_has_a_distance_and_it_is_taken_off() {
        // Worked by hand: 9 + 64 + 0 + 25 + 144 + 4 = 246; 6 x 16 = 96; sqrt 246 = 15.684, 150 = 12.247, 96 = 9.798.
        let pairs: Vec<(f64, f64)> = [3.0, -8.0, 0.0, 5.0, 12.0, -2.0].iter().map(|d| (*d, 4.0)).collect();
        let got = distance_from(&pairs, None);
        assert!((got.distance - 246_f64.sqrt()).abs() < 1e-12);
        assert!((got.distance_adjusted - 150_f64.sqrt()).abs() < 1e-12);
        assert!((got.distance_of_noise - 96_f64.sqrt()).abs() < 1e-12);
    }

    #[test]
    fn a_distance_below_the_noise_is_adjusted_to_zero() {
        let got = distance_from(&[(1.0, 4.0), (-1.0, 4.0)], None);
        assert!(got.distance > 1.0 && got.distance_adjusted.abs() < 1e-300);
    }
}
