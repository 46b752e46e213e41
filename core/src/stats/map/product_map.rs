//! The map: samples and attributes together on few axes, and each assessor's own view on the same axes.
//!
//! Principal components of the samples x attributes table of panel means. It neither draws nor resamples; ellipses are
//! made in `ellipses`.

use crate::numeric::dense::dot;
use crate::numeric::describe::{is_constant, mean, squares_about_mean};
use crate::numeric::eigen::symmetric;
use crate::stats::results::{Defined, NotDefined};
use crate::stats::samples::profiles::{Profiles, everyone_but, panel_means};
use crate::study::{AttributeKind, Study};
use serde::Serialize;

/// Whether attributes count by their spread in mm or all alike.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum MapBasis {
    /// All attributes are on one scale: an attribute that spreads the samples more counts more.
    #[default]
    Covariance,
    /// Every attribute is brought to standard deviation 1 first: small differences count like large ones.
    Correlation,
}

/// What goes into the map.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct MapOptions {
    pub basis: MapBasis,
    /// Whether words for the whole ("balance", "true to fruit") take part; they do not by default.
    pub with_integrated: bool,
}

impl MapOptions {
    /// By the settings of a study: they hold none of these, so the map is the usual one.
    pub fn of(_study: &Study) -> Self {
        MapOptions::default()
    }
}

/// The map of a study.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ProductMap {
    pub basis: MapBasis,
    /// From the axis with most variance on; as many as the data can fill.
    pub axes: Vec<MapAxis>,
    /// Variance of all attributes together, divisor samples - 1.
    pub total_variance: f64,
    /// In the order of the study.
    pub samples: Vec<MapSample>,
    pub attributes: Vec<MapAttribute>,
    pub assessors: Vec<MapAssessor>,
    pub left_out: Vec<LeftOut>,
    /// What this map can't say, in words; empty where nothing needs saying.
    pub cautions: Vec<String>,
    pub model: String,
}

/// One axis.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct MapAxis {
    pub variance: f64,
    /// Of the total variance, 0 to 1.
    pub share: f64,
    /// Of this axis and all before it.
    pub cumulative_share: f64,
}

/// Where a sample lies, one coordinate an axis.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MapSample {
    pub sample: String,
    pub position: Vec<f64>,
}

/// Where an attribute points, one entry an axis.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MapAttribute {
    pub attribute: String,
    /// Mean over samples, taken off before projecting.
    pub centre: f64,
    /// What the attribute was divided by; 1 for covariance.
    pub scale: f64,
    /// Weight of the attribute in each axis; squares sum to 1 over attributes.
    pub loadings: Vec<f64>,
    /// Correlation of the attribute with each axis.
    pub correlations: Vec<f64>,
}

/// Where one assessor alone puts the samples on the panel's axes, own level of scoring taken off.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MapAssessor {
    pub assessor: String,
    /// One entry a sample of the map; absent where the assessor missed a score.
    pub samples: Vec<Defined<MapSample>>,
}

/// An attribute or sample that could not take part.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct LeftOut {
    pub what: String,
    pub because: String,
}

/// Panel means of what takes part, `[attribute][sample]`.
pub(in crate::stats) struct Table {
    pub profiles: Profiles,
    /// Attributes of `profiles` that take part.
    pub attributes: Vec<usize>,
    pub means: Vec<Vec<f64>>,
    left_out: Vec<LeftOut>,
}

/// Makes the map of all samples and attributes that count.
///
/// Errors: fewer than two samples, no attribute on which all samples have a score, or no difference at all.
pub fn product_map(study: &Study, options: MapOptions) -> Defined<ProductMap> {
    let table = Table::of(study, options)?;
    let samples = table.profiles.samples.len();
    let scales: Vec<f64> = table.means.iter().map(|row| scale_of(row, options.basis)).collect();
    let centres: Vec<f64> = table.means.iter().map(|row| mean(row).unwrap_or(0.0)).collect();
    let standard: Vec<Vec<f64>> = table
        .means
        .iter()
        .zip(scales.iter().zip(&centres))
        .map(|(row, (scale, centre))| row.iter().map(|value| (value - centre) / scale).collect())
        .collect();
    let (variances, loadings) = components(&standard)?;
    let total_variance = standard.iter().flatten().map(|value| value * value).sum::<f64>() / (samples - 1) as f64;
    let axes = axes_of(&variances, total_variance);
    let positions: Vec<Vec<f64>> = (0..samples)
        .map(|sample| project(&loadings, &standard.iter().map(|row| row[sample]).collect::<Vec<_>>()))
        .collect();
    let named =
        |sample: usize, position: Vec<f64>| MapSample { sample: table.profiles.samples[sample].clone(), position };
    let attributes: Vec<MapAttribute> = table
        .attributes
        .iter()
        .enumerate()
        .map(|(row, attribute)| MapAttribute {
            attribute: table.profiles.attributes[*attribute].name.clone(),
            centre: centres[row],
            scale: scales[row],
            loadings: loadings.iter().map(|axis| axis[row]).collect(),
            correlations: correlations(&standard[row], &loadings, &variances, row),
        })
        .collect();
    Ok(ProductMap {
        basis: options.basis,
        cautions: cautions(samples, axes.len()),
        model: model_in_words(options.basis),
        axes,
        total_variance,
        samples: positions.into_iter().enumerate().map(|(sample, position)| named(sample, position)).collect(),
        assessors: assessors_on_map(&table, &attributes),
        attributes,
        left_out: table.left_out,
    })
}

impl ProductMap {
    /// Position of a profile given in units of the scale, one value an attribute of the map.
    pub fn place(&self, profile: &[f64]) -> Vec<f64> {
        let standard: Vec<f64> =
            profile.iter().zip(&self.attributes).map(|(value, a)| (value - a.centre) / a.scale).collect();
        (0..self.axes.len())
            .map(|axis| standard.iter().zip(&self.attributes).map(|(value, a)| value * a.loadings[axis]).sum())
            .collect()
    }
}

impl Table {
    pub fn of(study: &Study, options: MapOptions) -> Defined<Self> {
        let profiles = Profiles::of(study);
        if profiles.samples.len() < 2 {
            return Err(NotDefined::because("a map takes two samples at least"));
        }
        let everyone = everyone_but(profiles.assessors.len(), None);
        let (mut attributes, mut means, mut left_out) = (Vec::new(), Vec::new(), Vec::new());
        for (index, attribute) in profiles.attributes.iter().enumerate() {
            if attribute.kind == AttributeKind::Integrated && !options.with_integrated {
                continue;
            }
            let row: Option<Vec<f64>> = panel_means(&attribute.means, &everyone).into_iter().collect();
            let out = |because: &str| LeftOut { what: attribute.name.clone(), because: because.to_owned() };
            match row {
                None => left_out.push(out("not all samples have a score on it")),
                Some(row) if row.is_empty() => left_out.push(out("it has no score")),
                Some(row) if is_constant(&row) => left_out.push(out("all samples have the same mean on it")),
                Some(row) => {
                    attributes.push(index);
                    means.push(row);
                }
            }
        }
        if attributes.is_empty() {
            return Err(NotDefined::because("there is no attribute on which all samples have a score and differ"));
        }
        Ok(Table { profiles, attributes, means, left_out })
    }
}

fn scale_of(row: &[f64], basis: MapBasis) -> f64 {
    match basis {
        MapBasis::Covariance => 1.0,
        MapBasis::Correlation => (squares_about_mean(row) / (row.len() - 1) as f64).sqrt(),
    }
}

/// Variances and loadings `[axis][attribute]` of centred rows `[attribute][sample]`, through the smaller of the two
/// cross-product matrices. Axes that hold nothing but rounding are left out.
pub(super) fn components(rows: &[Vec<f64>]) -> Defined<(Vec<f64>, Vec<Vec<f64>>)> {
    let (attributes, samples) = (rows.len(), rows[0].len());
    let df = (samples - 1) as f64;
    let columns: Vec<Vec<f64>> = (0..samples).map(|s| rows.iter().map(|row| row[s]).collect()).collect();
    let by_attributes = attributes < samples;
    let lists = if by_attributes { rows } else { &columns };
    let cross: Vec<Vec<f64>> = lists.iter().map(|x| lists.iter().map(|y| dot(x, y) / df).collect()).collect();
    let eigen = symmetric(&cross).ok_or_else(|| NotDefined::because("the means are out of range"))?;
    let most = eigen.values[0];
    let kept = eigen
        .values
        .iter()
        .take((samples - 1).min(attributes))
        .take_while(|v| **v > crate::numeric::tolerance::ROUNDING * most)
        .count();
    let loadings = eigen.vectors[..kept]
        .iter()
        .map(|vector| {
            let mut loading =
                if by_attributes { vector.clone() } else { rows.iter().map(|row| dot(row, vector)).collect() };
            let length = dot(&loading, &loading).sqrt() * sign_of(&loading);
            loading.iter_mut().for_each(|value| *value /= length);
            loading
        })
        .collect();
    Ok((eigen.values[..kept].to_vec(), loadings))
}

/// The sign rule: the attribute with the largest weight points to the positive side; the first of equals decides.
fn sign_of(loading: &[f64]) -> f64 {
    let largest = loading.iter().fold(0.0_f64, |largest, value| largest.max(value.abs()));
    let first = loading.iter().find(|value| value.abs() >= largest * (1.0 - crate::numeric::tolerance::TIE));
    first.map_or(1.0, |value| value.signum())
}

fn axes_of(variances: &[f64], total: f64) -> Vec<MapAxis> {
    let mut cumulative = 0.0;
    variances
        .iter()
        .map(|variance| {
            cumulative += variance / total;
            MapAxis { variance: *variance, share: variance / total, cumulative_share: cumulative.min(1.0) }
        })
        .collect()
}

pub(super) fn project(loadings: &[Vec<f64>], profile: &[f64]) -> Vec<f64> {
    loadings.iter().map(|axis| axis.iter().zip(profile).map(|(weight, value)| weight * value).sum()).collect()
}

fn correlations(standard: &[f64], loadings: &[Vec<f64>], variances: &[f64], row: usize) -> Vec<f64> {
    let sd = (squares_about_mean(standard) / (standard.len() - 1) as f64).sqrt();
    loadings.iter().zip(variances).map(|(axis, variance)| (axis[row] * variance.sqrt() / sd).clamp(-1.0, 1.0)).collect()
}

fn assessors_on_map(table: &Table, attributes: &[MapAttribute]) -> Vec<MapAssessor> {
    let axes = attributes.first().map_or(0, |attribute| attribute.loadings.len());
    let names = table.profiles.assessors.iter().enumerate();
    names
        .map(|(assessor, name)| {
            let own: Vec<Vec<Option<f64>>> = table
                .attributes
                .iter()
                .zip(&table.means)
                .map(|(index, panel)| level_free(&table.profiles.attributes[*index].means[assessor], panel))
                .collect();
            let samples = (0..table.profiles.samples.len()).map(|sample| {
                let profile: Option<Vec<f64>> = own.iter().map(|row| row[sample]).collect();
                let profile =
                    profile.ok_or_else(|| NotDefined::because("this assessor missed a score of this sample"))?;
                let position = (0..axes)
                    .map(|axis| {
                        profile.iter().zip(attributes).map(|(v, a)| (v - a.centre) / a.scale * a.loadings[axis]).sum()
                    })
                    .collect();
                Ok(MapSample { sample: table.profiles.samples[sample].clone(), position })
            });
            MapAssessor { assessor: name.clone(), samples: samples.collect() }
        })
        .collect()
}

/// One assessor's means with the own level brought to the panel's, over the samples this assessor scored.
pub(super) fn level_free(own: &[Option<f64>], panel: &[f64]) -> Vec<Option<f64>> {
    let gaps: Vec<f64> = own.iter().zip(panel).filter_map(|(own, panel)| Some((*own)? - panel)).collect();
    let level = mean(&gaps).unwrap_or(0.0);
    own.iter().map(|value| value.map(|value| value - level)).collect()
}

fn cautions(samples: usize, axes: usize) -> Vec<String> {
    let mut cautions = Vec::new();
    match samples {
        2 => cautions.push(
            "Two samples differ along one line only: this map is that line, and it holds 100 % whatever the data."
                .to_owned(),
        ),
        3 => cautions.push(
            "Three samples always fit on two axes: 100 % shown here says nothing about how good the map is.".to_owned(),
        ),
        4 => cautions.push(
            "Four samples have three axes at most: a large share on the first two is easily reached and proves little."
                .to_owned(),
        ),
        _ => {}
    }
    if axes < 2 && samples > 2 {
        cautions.push("The samples differ along one axis only, so there is no second one to draw.".to_owned());
    }
    cautions
}

fn model_in_words(basis: MapBasis) -> String {
    let weighing = match basis {
        MapBasis::Covariance => "in units of the scale (covariance)",
        MapBasis::Correlation => "each divided by its standard deviation over samples (correlation)",
    };
    format!(
        "Principal components of the panel means, samples by attributes, {weighing}, divisor samples - 1; shares are of \
         the total variance; the attribute with the largest weight points to the positive side of each axis."
    )
}
