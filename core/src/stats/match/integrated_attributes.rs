//! What words for the whole ("authentic", "balance") go together with: association across assessors and samples, and
//! how steady it is when assessors are drawn again. Association only: nothing here says what causes what.

use crate::numeric::bootstrap::percentile;
use crate::numeric::random::Random;
use crate::stats::results::{Defined, Interval, NotDefined};
use crate::stats::samples::profiles::Profiles;
use crate::study::{AttributeKind, Study};
use serde::Serialize;

/// Draws of assessors behind the steadiness figures.
pub const DRAWS: usize = 1000;

/// One integrated attribute and all analytic ones, the closest first.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct IntegratedExplained {
    pub attribute: String,
    pub associations: Vec<Association>,
    pub draws: usize,
    pub seed: u64,
    pub model: String,
}

/// How an analytic attribute goes along with the integrated one.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Association {
    pub attribute: String,
    /// Correlation over all assessors and samples, each assessor's own levels taken off: -1 to 1.
    pub correlation: f64,
    /// Correlation of the samples' panel means; not defined for fewer than three samples.
    pub between_samples: Defined<f64>,
    /// Correlation of what is left when assessors and samples are taken off: whether an assessor who finds more of the
    /// one in a sample finds more of the other.
    pub within_samples: Defined<f64>,
    /// Change of the integrated attribute for one unit of this one, in units of the scale.
    pub slope: f64,
    /// Share of draws in which the correlation has the same sign.
    pub same_sign: f64,
    /// 95 % percentile interval of the correlation over the draws.
    pub interval95: Interval,
    /// Interval without zero.
    pub is_steady: bool,
    /// In words, as an association.
    pub sentence: String,
}

/// Explains every integrated attribute that counts, in the order of the score sheet.
///
/// Errors: no integrated or no analytic attribute, or fewer than three assessors.
pub fn integrated_explained(study: &Study) -> Defined<Vec<IntegratedExplained>> {
    let profiles = Profiles::of(study);
    let of_kind = |kind: AttributeKind| -> Vec<usize> {
        (0..profiles.attributes.len()).filter(|index| profiles.attributes[*index].kind == kind).collect()
    };
    let (integrated, analytic) = (of_kind(AttributeKind::Integrated), of_kind(AttributeKind::Analytic));
    if integrated.is_empty() {
        return Err(NotDefined::because("no attribute is marked as a word for the whole"));
    }
    if analytic.is_empty() {
        return Err(NotDefined::because("there is no analytic attribute to explain it by"));
    }
    if profiles.assessors.len() < 3 || profiles.samples.len() < 2 {
        return Err(NotDefined::because("it takes three assessors and two samples"));
    }
    let seed = study.settings.seed;
    let draws = draw_weights(profiles.assessors.len(), seed);
    let explain = |index: &usize| {
        let means = &profiles.attributes[*index].means;
        let name = &profiles.attributes[*index].name;
        let mut associations: Vec<Association> = analytic
            .iter()
            .filter_map(|other| {
                associate(name, means, &profiles.attributes[*other].name, &profiles.attributes[*other].means, &draws)
            })
            .collect();
        associations.sort_by(|a, b| b.correlation.abs().total_cmp(&a.correlation.abs()));
        IntegratedExplained { attribute: name.clone(), associations, draws: DRAWS, seed, model: model_in_words() }
    };
    Ok(integrated.iter().map(explain).collect())
}

fn model_in_words() -> String {
    "Correlation over all assessors and samples of the means over replicates, each assessor's level taken off; whole \
     assessors drawn with replacement for its steadiness. An association, no cause: attributes move together in these \
     samples, and with few samples many do."
        .to_owned()
}

fn draw_weights(assessors: usize, seed: u64) -> Vec<Vec<f64>> {
    let mut random = Random::seeded_for(seed, "integrated");
    (0..DRAWS)
        .map(|_| {
            let mut weights = vec![0.0; assessors];
            (0..assessors).for_each(|_| weights[random.below(assessors)] += 1.0);
            weights
        })
        .collect()
}

/// Sums of squares and products of one assessor, own levels taken off.
#[derive(Clone, Copy, Default)]
struct Products {
    xx: f64,
    yy: f64,
    xy: f64,
}

impl Products {
    fn of(pairs: &[(f64, f64)]) -> Self {
        let n = pairs.len().max(1) as f64;
        let (mx, my) = (pairs.iter().map(|p| p.0).sum::<f64>() / n, pairs.iter().map(|p| p.1).sum::<f64>() / n);
        pairs.iter().fold(Products::default(), |sum, (x, y)| Products {
            xx: sum.xx + (x - mx) * (x - mx),
            yy: sum.yy + (y - my) * (y - my),
            xy: sum.xy + (x - mx) * (y - my),
        })
    }

    fn plus(self, other: Products, weight: f64) -> Products {
        Products { xx: self.xx + weight * other.xx, yy: self.yy + weight * other.yy, xy: self.xy + weight * other.xy }
    }

    fn correlation(self) -> Option<f64> {
        let size = self.xx.sqrt() * self.yy.sqrt();
        (size > crate::numeric::tolerance::ROUNDING).then(|| (self.xy / size).clamp(-1.0, 1.0))
    }
}

/// `None` where one of the two does not vary.
fn associate(
    whole: &str,
    y: &[Vec<Option<f64>>],
    name: &str,
    x: &[Vec<Option<f64>>],
    draws: &[Vec<f64>],
) -> Option<Association> {
    let rows: Vec<Vec<Option<(f64, f64)>>> =
        x.iter().zip(y).map(|(x, y)| x.iter().zip(y).map(|(x, y)| Some(((*x)?, (*y)?))).collect()).collect();
    let parts: Vec<Products> =
        rows.iter().map(|row| Products::of(&row.iter().flatten().copied().collect::<Vec<_>>())).collect();
    let total = parts.iter().fold(Products::default(), |sum, part| sum.plus(*part, 1.0));
    let correlation = total.correlation()?;
    let mut drawn: Vec<f64> = draws
        .iter()
        .filter_map(|weights| {
            let sum =
                parts.iter().zip(weights).fold(Products::default(), |sum, (part, weight)| sum.plus(*part, *weight));
            sum.correlation()
        })
        .collect();
    drawn.sort_by(f64::total_cmp);
    if drawn.is_empty() {
        return None;
    }
    let same = drawn.iter().filter(|r| **r * correlation > 0.0).count() as f64 / drawn.len() as f64;
    let interval95 = Interval { lower: percentile(&drawn, 0.025), upper: percentile(&drawn, 0.975) };
    Some(Association {
        attribute: name.to_owned(),
        correlation,
        between_samples: between_samples(&rows),
        within_samples: within_samples(&rows),
        slope: total.xy / total.xx,
        same_sign: same,
        interval95,
        is_steady: interval95.excludes_zero(),
        sentence: sentence(whole, name, correlation, interval95, same),
    })
}

fn sentence(whole: &str, name: &str, correlation: f64, interval: Interval, same: f64) -> String {
    let size = format!("{correlation:.2}").replace('-', "\u{2212}");
    if !interval.excludes_zero() {
        return format!("“{whole}” shows no steady association with “{name}” (correlation {size}).");
    }
    let direction = if correlation > 0.0 { "more" } else { "less" };
    format!(
        "More “{name}” goes with {direction} “{whole}” (correlation {size}, same direction in {:.0} % of \
         resampled panels); an association, not a cause.",
        100.0 * same
    )
}

/// Samples with at least one assessor; means over the assessors who scored both attributes, their levels taken off.
fn sample_means(rows: &[Vec<Option<(f64, f64)>>]) -> Vec<Option<(f64, f64)>> {
    let samples = rows.first().map_or(0, Vec::len);
    let levels: Vec<(f64, f64)> = rows.iter().map(|row| mean_pair(row.iter().flatten())).collect();
    (0..samples)
        .map(|sample| {
            let own: Vec<(f64, f64)> = rows
                .iter()
                .zip(&levels)
                .filter_map(|(row, level)| row[sample].map(|pair| (pair.0 - level.0, pair.1 - level.1)))
                .collect();
            (!own.is_empty()).then(|| mean_pair(own.iter()))
        })
        .collect()
}

fn mean_pair<'a>(pairs: impl Iterator<Item = &'a (f64, f64)>) -> (f64, f64) {
    let (mut x, mut y, mut n) = (0.0, 0.0, 0.0_f64);
    for pair in pairs {
        x += pair.0;
        y += pair.1;
        n += 1.0;
    }
    (x / n.max(1.0), y / n.max(1.0))
}

fn between_samples(rows: &[Vec<Option<(f64, f64)>>]) -> Defined<f64> {
    let means: Vec<(f64, f64)> = sample_means(rows).into_iter().flatten().collect();
    if means.len() < 3 {
        return Err(NotDefined::because("it takes three samples to correlate samples"));
    }
    Products::of(&means).correlation().ok_or_else(|| NotDefined::because("all samples have the same mean"))
}

fn within_samples(rows: &[Vec<Option<(f64, f64)>>]) -> Defined<f64> {
    let means = sample_means(rows);
    let total = rows.iter().fold(Products::default(), |sum, row| {
        let left: Vec<(f64, f64)> = row
            .iter()
            .zip(&means)
            .filter_map(|(pair, mean)| {
                let (pair, mean) = ((*pair)?, (*mean)?);
                Some((pair.0 - mean.0, pair.1 - mean.1))
            })
            .collect();
        sum.plus(Products::of(&left), 1.0)
    });
    total.correlation().ok_or_else(|| NotDefined::because("assessors agree entirely, so nothing is left to correlate"))
}
