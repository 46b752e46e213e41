//! The whole study as one block of means: attribute x assessor x sample. What methods on whole profiles start from.
//!
//! It knows nothing of tests; it only averages replicates and, where cells are empty, evens out who was absent.

use crate::stats::r#match::differences::assessor_means;
use crate::study::{AttributeKind, Study};

/// Means over replicates of everything that counts in a study.
#[derive(Clone, Debug, PartialEq)]
pub struct Profiles {
    pub assessors: Vec<String>,
    pub samples: Vec<String>,
    pub attributes: Vec<ProfileAttribute>,
}

/// One attribute of the block.
#[derive(Clone, Debug, PartialEq)]
pub struct ProfileAttribute {
    pub name: String,
    pub kind: AttributeKind,
    /// `[assessor][sample]`, in units of the scale; `None` where there is no score.
    pub means: Vec<Vec<Option<f64>>>,
}

impl Profiles {
    /// Averages the replicates of every cell; exclusions are taken out.
    pub fn of(study: &Study) -> Self {
        let mut profiles = Profiles { assessors: Vec::new(), samples: Vec::new(), attributes: Vec::new() };
        for index in study.active_attributes() {
            let scores = study.attribute_scores(index);
            let attribute = &study.attributes[index];
            profiles.attributes.push(ProfileAttribute {
                name: attribute.name.clone(),
                kind: attribute.kind,
                means: assessor_means(&scores),
            });
            profiles.assessors = scores.assessors;
            profiles.samples = scores.samples;
        }
        profiles
    }

    /// The same block with analytic attributes only.
    pub fn analytic(mut self) -> Self {
        self.attributes.retain(|attribute| attribute.kind == AttributeKind::Analytic);
        self
    }

    pub fn sample_index(&self, name: &str) -> Option<usize> {
        self.samples.iter().position(|sample| sample == name)
    }
}

/// Panel mean of every sample from `[assessor][sample]` means in which row `a` counts `weights[a]` times.
///
/// With full rows this is the plain mean. Where cells are empty, assessors and samples are fitted additively by least
/// squares, so that a sample is not called strong because a generous assessor happened to taste it: mean over
/// assessors of the fitted cells. `None` for a sample that nobody scored.
pub fn panel_means(means: &[Vec<Option<f64>>], weights: &[f64]) -> Vec<Option<f64>> {
    let samples = means.first().map_or(0, Vec::len);
    let rows: Vec<(&Vec<Option<f64>>, f64)> = means
        .iter()
        .zip(weights)
        .filter(|(row, weight)| **weight > 0.0 && row.iter().any(Option::is_some))
        .map(|(row, weight)| (row, *weight))
        .collect();
    let whole = rows.iter().all(|(row, _)| row.iter().all(Option::is_some));
    if whole {
        return plain_means(&rows, samples);
    }
    additive_fit(&rows, (0..samples).map(|sample| column_mean(&rows, sample, &[])).collect())
}

/// Weighted means of full rows, row by row: bootstraps ask for them by the million.
fn plain_means(rows: &[(&Vec<Option<f64>>, f64)], samples: usize) -> Vec<Option<f64>> {
    let mut sums = vec![0.0; samples];
    for (row, weight) in rows {
        sums.iter_mut().zip(row.iter()).for_each(|(sum, value)| *sum += weight * value.unwrap_or(0.0));
    }
    let count: f64 = rows.iter().map(|(_, weight)| weight).sum();
    sums.into_iter().map(|sum| (count > 0.0).then(|| sum / count)).collect()
}

/// Weights that count every assessor once, but for one who is left out.
pub fn everyone_but(assessors: usize, out: Option<usize>) -> Vec<f64> {
    (0..assessors).map(|assessor| if Some(assessor) == out { 0.0 } else { 1.0 }).collect()
}

fn column_mean(rows: &[(&Vec<Option<f64>>, f64)], sample: usize, levels: &[f64]) -> Option<f64> {
    let (mut sum, mut count) = (0.0, 0.0);
    for (index, (row, weight)) in rows.iter().enumerate() {
        if let Some(value) = row[sample] {
            sum += weight * (value - levels.get(index).copied().unwrap_or(0.0));
            count += weight;
        }
    }
    (count > 0.0).then(|| sum / count)
}

/// Alternating least squares; each sweep can only lower the sum of squares, so it ends at the fit.
fn additive_fit(rows: &[(&Vec<Option<f64>>, f64)], start: Vec<Option<f64>>) -> Vec<Option<f64>> {
    let mut effects = start;
    let mut levels = vec![0.0; rows.len()];
    for _ in 0..2000 {
        for (level, (row, _)) in levels.iter_mut().zip(rows) {
            let deviations: Vec<f64> =
                row.iter().zip(&effects).filter_map(|(value, effect)| Some((*value)? - (*effect)?)).collect();
            *level = deviations.iter().sum::<f64>() / deviations.len().max(1) as f64;
        }
        let next: Vec<Option<f64>> = (0..effects.len()).map(|sample| column_mean(rows, sample, &levels)).collect();
        let moved = largest_change(&effects, &next);
        effects = next;
        if moved <= 1e-13 {
            break;
        }
    }
    let total: f64 = rows.iter().map(|(_, weight)| weight).sum();
    let level = rows.iter().zip(&levels).map(|((_, weight), level)| weight * level).sum::<f64>() / total;
    effects.iter().map(|effect| effect.map(|effect| effect + level)).collect()
}

/// Largest relative change between two sweeps.
fn largest_change(before: &[Option<f64>], after: &[Option<f64>]) -> f64 {
    let size = after.iter().flatten().fold(f64::MIN_POSITIVE, |size, value| size.max(value.abs()));
    let pairs = before.iter().flatten().zip(after.iter().flatten());
    pairs.fold(0.0_f64, |largest, (before, after)| largest.max((before - after).abs())) / size
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn full_rows_give_the_plain_weighted_mean() {
        let means = vec![vec![Some(1.0), Some(5.0)], vec![Some(3.0), Some(9.0)]];
        assert_eq!(panel_means(&means, &[1.0, 1.0]), [Some(2.0), Some(7.0)]);
        assert_eq!(panel_means(&means, &[3.0, 1.0]), [Some(1.5), Some(6.0)]);
        assert_eq!(panel_means(&means, &everyone_but(2, Some(0))), [Some(3.0), Some(9.0)]);
    }

    #[test]
    fn an_absent_generous_assessor_does_not_tilt_the_means() {
        // Exactly additive: levels 0 and 10, samples 1, 4, 6; one cell lost. The fit must give the cells back.
        let means = vec![vec![Some(1.0), Some(4.0), Some(6.0)], vec![Some(11.0), None, Some(16.0)]];
        for (got, expected) in panel_means(&means, &[1.0, 1.0]).iter().zip([6.0, 9.0, 11.0]) {
            assert!((got.unwrap() - expected).abs() < 1e-9, "{got:?} {expected}");
        }
    }

    #[test]
    fn a_sample_that_nobody_scored_has_no_mean() {
        assert_eq!(panel_means(&[vec![Some(1.0), None]], &[1.0]), [Some(1.0), None]);
        assert!(panel_means(&[], &[]).is_empty());
    }
}
