//! The typical difference: root mean square of the true differences over attributes, with an upper confidence bound.
//!
//! The mean differences of a panel are longer than the true ones by their noise, and the noise is shared between
//! attributes. Along the true differences the noise has at worst the variance of its first direction; the rest is noise of
//! known size, whose lower end is an F quantile (Satterthwaite 1946); the two errors are joined as Zou and Donner (2008)
//! join limits. The largest eigenvalue of the noise is that of Yata and Aoshima (2012) with a floor. It knows a table of
//! differences and nothing of verdicts.

use super::differences::{AttributeSummary, Differences};
use super::typical_parts::{BoundParts, Noise};
use crate::defined::{Defined, NotDefined};
use crate::numeric::dense::{SquareMatrix, dot};
use serde::Serialize;

/// Typical difference over the attributes, in the unit of the differences given: mm, or multiples of the margins.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TypicalDifference {
    /// Upper 1 - alpha confidence bound of the true typical difference.
    pub bound: f64,
    /// Noise taken off; 0 where the noise is larger than what is seen.
    pub estimate: f64,
    /// As the means came, noise included.
    pub raw: f64,
    /// Root mean square of the standard errors.
    pub noise: f64,
    /// The smallest bound that any means could have given with this scatter.
    pub least_bound: f64,
    /// Attributes that went in.
    pub n_attributes: usize,
    /// How the bound came about; `None` where no assessor scatters.
    #[serde(skip)]
    pub parts: Option<BoundParts>,
}

impl TypicalDifference {
    /// The same in another unit: all lengths times `factor`. How the bound came about stays behind.
    #[must_use]
    pub fn times(&self, factor: f64) -> Self {
        TypicalDifference {
            bound: factor * self.bound,
            estimate: factor * self.estimate,
            raw: factor * self.raw,
            noise: factor * self.noise,
            least_bound: factor * self.least_bound,
            n_attributes: self.n_attributes,
            parts: None,
        }
    }
}

/// Typical difference over the attributes that two assessors or more scored, with its upper 1 - `alpha` bound.
///
/// # Errors
/// No attribute with two differences; or more than one attribute and no more than two assessors on the average, because
/// then nothing tells how the noise lies; or `alpha` outside (0, 1).
pub fn typical_difference(differences: &Differences, alpha: f64) -> Defined<TypicalDifference> {
    typical_from(differences, &differences.summaries(), alpha)
}

pub(super) fn typical_from(
    differences: &Differences,
    summaries: &[AttributeSummary],
    alpha: f64,
) -> Defined<TypicalDifference> {
    let usable: Vec<usize> = (0..summaries.len()).filter(|attribute| summaries[*attribute].se.is_some()).collect();
    if usable.is_empty() {
        return Err(NotDefined::because("no attribute was scored on both samples by two assessors"));
    }
    let means: Vec<f64> = usable.iter().map(|attribute| summaries[*attribute].mean).collect();
    let k = usable.len() as f64;
    let mean_count = usable.iter().map(|attribute| summaries[*attribute].n_assessors as f64).sum::<f64>() / k;
    let squared_length = dot(&means, &means);
    let z = standardised_residuals(differences, summaries, &usable);
    let Some(noise) = noise_of(&z, &means, mean_count - 1.0)? else {
        return Ok(without_scatter((squared_length / k).sqrt(), usable.len()));
    };
    let parts = noise.bound(squared_length, alpha).ok_or_else(out_of_range)?;
    Ok(summed_up(parts, k))
}

fn out_of_range() -> NotDefined {
    NotDefined::because("the numbers are out of range")
}

fn without_scatter(raw: f64, n_attributes: usize) -> TypicalDifference {
    TypicalDifference { bound: raw, estimate: raw, raw, noise: 0.0, least_bound: 0.0, n_attributes, parts: None }
}

fn summed_up(parts: BoundParts, k: f64) -> TypicalDifference {
    TypicalDifference {
        bound: parts.whole.min(parts.split) / k.sqrt(),
        estimate: ((parts.squared_length - parts.noise).max(0.0) / k).sqrt(),
        raw: (parts.squared_length / k).sqrt(),
        noise: (parts.noise / k).sqrt(),
        least_bound: parts.t * (parts.largest / k).sqrt(),
        n_attributes: k as usize,
        parts: Some(parts),
    }
}

/// Residuals over sqrt(n (n - 1)), one list an assessor, so that squares add up to squared standard errors.
fn standardised_residuals(
    differences: &Differences,
    summaries: &[AttributeSummary],
    usable: &[usize],
) -> Vec<Vec<f64>> {
    let residuals = differences.residuals(summaries);
    let scale = |attribute: usize| {
        let n = summaries[attribute].n_assessors as f64;
        1.0 / (n * (n - 1.0)).sqrt()
    };
    let scales: Vec<f64> = usable.iter().map(|attribute| scale(*attribute)).collect();
    let rows = residuals.chunks_exact(differences.n_attributes());
    rows.map(|row| usable.iter().zip(&scales).map(|(attribute, scale)| row[*attribute] * scale).collect()).collect()
}

/// Size and directions of the noise; `None` where there is none. Products of every two assessors' rows have the eigenvalues of
/// the noise over attributes.
fn noise_of(z: &[Vec<f64>], means: &[f64], df: f64) -> Defined<Option<Noise>> {
    let products = SquareMatrix::products_of_rows(z);
    let total: f64 = (0..z.len()).map(|row| products[(row, row)]).sum();
    if total <= 0.0 {
        return Ok(None);
    }
    if df <= 1.0 && means.len() > 1 {
        return Err(NotDefined::because("two assessors don't tell how their noise is shared between attributes"));
    }
    let squares = products.trace_of_product(&products);
    let eigen = products.symmetric_eigen().ok_or_else(out_of_range)?;
    let along: f64 = eigen.vectors[0].iter().zip(z).map(|(weight, row)| weight * dot(row, means)).sum();
    Ok(Some(Noise {
        attributes: means.len() as f64,
        df,
        total,
        squares,
        first: eigen.values[0],
        second: eigen.values.get(1).map_or(0.0, |second| second.max(0.0)),
        along_first: along.abs() / eigen.values[0].sqrt(),
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numeric::tails::t_quantile_upper;

    fn table(rows: &[&[f64]]) -> Differences {
        let rows: Vec<Vec<Option<f64>>> =
            rows.iter().map(|row| row.iter().map(|value| Some(*value)).collect()).collect();
        Differences::from_rows(&rows, &vec![10.0; rows[0].len()]).unwrap()
    }

    #[test]
    fn one_attribute_has_the_bound_of_students_t() {
        // 1, 3, 8: mean 4, variance 13, standard error sqrt(13 / 3).
        let got = typical_difference(&table(&[&[1.0], &[3.0], &[8.0]]), 0.05).unwrap();
        let expected = 4.0 + t_quantile_upper(0.05, 2.0).unwrap() * (13.0_f64 / 3.0).sqrt();
        assert!((got.bound - expected).abs() < 1e-12, "{} {expected}", got.bound);
        let two = typical_difference(&table(&[&[1.0], &[3.0]]), 0.05).unwrap();
        assert!((two.bound - 2.0 - t_quantile_upper(0.05, 1.0).unwrap()).abs() < 1e-12, "{}", two.bound);
    }

    #[test]
    fn without_scatter_the_bound_is_what_is_seen() {
        let got = typical_difference(&table(&[&[3.0, 4.0], &[3.0, 4.0], &[3.0, 4.0]]), 0.05).unwrap();
        assert!((got.bound - 12.5_f64.sqrt()).abs() < 1e-14 && got.least_bound == 0.0 && got.parts.is_none());
    }

    #[test]
    fn too_few_assessors_say_why() {
        let because = typical_difference(&table(&[&[3.0, 4.0], &[1.0, 2.0]]), 0.05).unwrap_err().because;
        assert!(because.contains("two assessors"));
        let because = typical_difference(&table(&[&[3.0]]), 0.05).unwrap_err().because;
        assert!(because.contains("no attribute"));
    }
}
