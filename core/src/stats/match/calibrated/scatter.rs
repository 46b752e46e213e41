//! How one panel's differences scatter: a law that one assessor's differences can be drawn from. It knows no verdict.

use super::differences::Differences;
use crate::defined::{Defined, NotDefined};
use crate::numeric::dense::dot;
use crate::numeric::describe::{mean, squares_about_mean};
use crate::numeric::random::Random;

/// A normal law of one assessor's differences on all attributes, about no difference.
///
/// Three parts add up: what was seen of a panel (its residuals, mixed at random), a halo that moves all attributes
/// together, and scatter of each attribute's own.
#[derive(Clone, Debug, PartialEq)]
pub struct Scatter {
    /// Residuals seen, one row an assessor, scaled so that their squares add up to variances.
    seen: Vec<Vec<f64>>,
    halo: Vec<f64>,
    own: Vec<f64>,
}

impl Scatter {
    /// From the standard deviation of an assessor's difference on each attribute, in mm, and one correlation between
    /// any two attributes' differences.
    ///
    /// # Errors
    /// No attribute, a standard deviation that is negative or no number, a correlation outside 0 to 1.
    pub fn from_sd(sd_mm: &[f64], correlation: f64) -> Defined<Self> {
        if sd_mm.is_empty() || sd_mm.iter().any(|sd| !(sd.is_finite() && *sd >= 0.0)) {
            return Err(NotDefined::because("the scatter of a difference is negative or no number"));
        }
        if !(0.0..=1.0).contains(&correlation) {
            return Err(NotDefined::because("the correlation between attributes is not between 0 and 1"));
        }
        Ok(Scatter {
            seen: Vec::new(),
            halo: sd_mm.iter().map(|sd| sd * correlation.sqrt()).collect(),
            own: sd_mm.iter().map(|sd| sd * (1.0 - correlation).sqrt()).collect(),
        })
    }

    /// From differences at hand. Few assessors make the scatter of attributes look more different than it is, and
    /// correlations farther apart: variances are drawn together, correlations towards their mean (none where that
    /// is negative), by as much as chance makes them stray (Schäfer and Strimmer 2005, Statistical Applications in Genetics
    /// and Molecular Biology 4, for correlations). Without that, panels of eight over 34 attributes were told half the
    /// chance of a match that they have.
    ///
    /// # Errors
    /// An attribute with fewer than two differences.
    pub fn of(differences: &Differences) -> Defined<Self> {
        let summaries = differences.summaries();
        if summaries.iter().any(|summary| summary.se.is_none()) {
            return Err(NotDefined::because("an attribute was scored on both samples by fewer than two assessors"));
        }
        let width = differences.n_attributes();
        let df: Vec<f64> = summaries.iter().map(|summary| summary.n_assessors as f64 - 1.0).collect();
        let residuals = differences.residuals(&summaries);
        let column = |at: usize| residuals.iter().skip(at).step_by(width).map(|r| r / df[at].sqrt()).collect();
        let mut columns: Vec<Vec<f64>> = (0..width).map(column).collect();
        let mean_df = df.iter().sum::<f64>() / width as f64;
        let variances: Vec<f64> = columns.iter().map(|column| dot(column, column)).collect();
        let towards = shrinkage(&columns, &variances, mean_df);
        let drawn = drawn_together(&variances, mean_df);
        for (column, (seen, drawn)) in columns.iter_mut().zip(variances.iter().zip(&drawn)) {
            rescale(column, *seen, (1.0 - towards.share) * drawn);
        }
        let part = |share: f64| drawn.iter().map(|variance| (variance * towards.share * share).sqrt()).collect();
        let row = |at: usize| columns.iter().map(|column| column[at]).collect();
        Ok(Scatter {
            seen: (0..differences.n_rows()).map(row).collect(),
            halo: part(towards.correlation),
            own: part(1.0 - towards.correlation),
        })
    }

    #[must_use]
    pub fn n_attributes(&self) -> usize {
        self.own.len()
    }

    /// Draws the differences of one assessor, in mm, about no difference.
    pub fn draw(&self, random: &mut Random) -> Vec<f64> {
        let common = random.normal();
        let mut drawn: Vec<f64> =
            self.halo.iter().zip(&self.own).map(|(halo, own)| halo * common + own * random.normal()).collect();
        let mut fours = self.seen.chunks_exact(4);
        for rows in fours.by_ref() {
            let weights: [f64; 4] = std::array::from_fn(|_| random.normal());
            add_four(&mut drawn, rows, weights);
        }
        for row in fours.remainder() {
            let weight = random.normal();
            drawn.iter_mut().zip(row).for_each(|(value, residual)| *value += weight * residual);
        }
        drawn
    }
}

/// Adds four weighted rows, one after the other, in one pass: the same sums to the last bit, with less to load and store.
fn add_four(drawn: &mut [f64], rows: &[Vec<f64>], weights: [f64; 4]) {
    let pairs = rows[0].iter().zip(&rows[1]).zip(rows[2].iter().zip(&rows[3]));
    for (value, ((a, b), (c, d))) in drawn.iter_mut().zip(pairs) {
        *value = *value + weights[0] * a + weights[1] * b + weights[2] * c + weights[3] * d;
    }
}

/// Brings a column from one sum of squares to another.
fn rescale(column: &mut [f64], from: f64, to: f64) {
    let factor = if from > 0.0 { (to / from).sqrt() } else { 0.0 };
    column.iter_mut().for_each(|value| *value *= factor);
}

/// How far correlations are drawn, and towards what.
struct Shrinkage {
    share: f64,
    correlation: f64,
}

fn shrinkage(columns: &[Vec<f64>], variances: &[f64], df: f64) -> Shrinkage {
    let scattering: Vec<usize> = (0..variances.len()).filter(|at| variances[*at] > 0.0).collect();
    let mut correlations = Vec::new();
    for (place, one) in scattering.iter().enumerate() {
        for other in &scattering[..place] {
            correlations.push(dot(&columns[*one], &columns[*other]) / (variances[*one] * variances[*other]).sqrt());
        }
    }
    let Some(mean) = mean(&correlations).map(|mean| mean.clamp(0.0, 1.0)) else {
        return Shrinkage { share: 0.0, correlation: 0.0 };
    };
    // What chance alone would make of it if all were equal: a correlation's variance is about (1 - r^2)^2 over the degrees
    // of freedom, and of few assessors the mean correlation is the only one that is known well enough for that.
    let chance = correlations.len() as f64 * (1.0 - mean * mean).powi(2) / df;
    let seen: f64 = correlations.iter().map(|r| (r - mean) * (r - mean)).sum();
    Shrinkage { share: if seen > chance { chance / seen } else { 1.0 }, correlation: mean }
}

/// Variances drawn together on the scale of logarithms, their sum kept; those without any scatter stay without.
fn drawn_together(variances: &[f64], df: f64) -> Vec<f64> {
    let logs: Vec<f64> = variances.iter().filter(|variance| **variance > 0.0).map(|variance| variance.ln()).collect();
    let Some(centre) = mean(&logs) else {
        return variances.to_vec();
    };
    // The logarithm of a variance under normal scatter has the trigamma function at df / 2 as its variance.
    let chance = (logs.len() as f64 - 1.0) * (2.0 / df + 2.0 / (df * df) + 4.0 / (3.0 * df.powi(3)));
    let seen = squares_about_mean(&logs);
    // As far as leaves them the spread that is not chance (Louis 1984, Journal of the American Statistical Association 79).
    let kept = if seen > chance { (1.0 - chance / seen).sqrt() } else { 0.0 };
    let drawn = |variance: &f64| {
        if *variance > 0.0 { (centre + kept * (variance.ln() - centre)).exp() } else { 0.0 }
    };
    let drawn: Vec<f64> = variances.iter().map(drawn).collect();
    let keep_sum = variances.iter().sum::<f64>() / drawn.iter().sum::<f64>();
    drawn.iter().map(|variance| keep_sum * variance).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Variances and the correlation of the first two attributes over many draws.
    fn moments(scatter: &Scatter) -> (f64, f64, f64) {
        let mut random = Random::seeded_for(5, "scatter");
        let draws: Vec<Vec<f64>> = (0..40_000).map(|_| scatter.draw(&mut random)).collect();
        let product = |a: usize, b: usize| draws.iter().map(|d| d[a] * d[b]).sum::<f64>() / draws.len() as f64;
        (product(0, 0), product(1, 1), product(0, 1) / (product(0, 0) * product(1, 1)).sqrt())
    }

    #[test]
    fn draws_have_the_scatter_asked_for() {
        // 40,000 draws: a variance has a relative standard error of .7 %, a correlation one of at most .005.
        let (first, second, r) = moments(&Scatter::from_sd(&[10.0, 3.0], 0.3).unwrap());
        assert!((first / 100.0 - 1.0).abs() < 0.03 && (second / 9.0 - 1.0).abs() < 0.03, "{first} {second}");
        assert!((r - 0.3).abs() < 0.02, "{r}");
    }

    #[test]
    fn draws_have_the_variances_seen_drawn_together() {
        // 1, 2, 3, 6: variance 14 / 3; 0, 4, 0, 4: variance 16 / 3. They differ by less than chance: both are drawn to 5.
        let pairs = [[1.0, 0.0], [2.0, 4.0], [3.0, 0.0], [6.0, 4.0]];
        let rows: Vec<Vec<Option<f64>>> = pairs.iter().map(|row| row.map(Some).to_vec()).collect();
        let scatter = Scatter::of(&Differences::from_rows(&rows, &[10.0, 10.0]).unwrap()).unwrap();
        let (first, second, r) = moments(&scatter);
        assert!((first / 5.0 - 1.0).abs() < 0.03 && (second / 5.0 - 1.0).abs() < 0.03, "{first} {second}");
        // One pair alone is its own mean: the correlation stays as seen, 8 / sqrt(14 * 16) by hand.
        assert!((r - 8.0 / 224.0_f64.sqrt()).abs() < 0.02, "{r}");
    }

    #[test]
    fn what_differs_beyond_chance_stays_different() {
        // Sixteen assessors, variances 1 and 100, logarithms 0 and 4.605, squares about their mean 10.60; chance has
        // 2 / 15 + 2 / 225 + 4 / 10125 = .1426: sqrt(1 - .1426 / 10.60) = .99325 of the way from the mean is kept. Drawn to
        // 1.0157 and 98.46, and back to a sum of 101.
        let value = |at: usize| if at.is_multiple_of(2) { 1.0 } else { -1.0 } * (15.0_f64 / 16.0).sqrt();
        let rows: Vec<Vec<Option<f64>>> = (0..16).map(|at| vec![Some(value(at)), Some(10.0 * value(at / 2))]).collect();
        let scatter = Scatter::of(&Differences::from_rows(&rows, &[10.0, 10.0]).unwrap()).unwrap();
        let (first, second, _) = moments(&scatter);
        assert!((first / 1.0312 - 1.0).abs() < 0.03 && (second / 99.97 - 1.0).abs() < 0.03, "{first} {second}");
    }

    #[test]
    fn nonsense_is_refused() {
        assert!(Scatter::from_sd(&[], 0.0).is_err());
        assert!(Scatter::from_sd(&[-1.0], 0.0).is_err());
        assert!(Scatter::from_sd(&[1.0], f64::NAN).is_err());
    }
}
