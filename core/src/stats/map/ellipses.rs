//! How firmly a sample lies where the map puts it: assessors drawn again, each draw projected on the map's own axes, and
//! widened by how far the axes themselves move (`drawn_axes`).
//!
//! The ellipse is Hotelling's for the mean of I assessors: with F(2, I - 2) in closed form its squared radius is
//! (I - 1)(level left out ^ (-2 / (I - 2)) - 1), which tends to that of chi-squared. It held the true place in 94 to 96 of
//! 100 simulated cases, 5 to 20 assessors, 4 to 8 samples (`core/examples/panel_rates/RESULT.md`); by chi-squared on the
//! map's own axes it were 34 to 91.
//!
//! Runs in slices like `resampling`; any slicing gives the same result.

use super::drawn_axes::DrawnAxes;
use super::product_map::{MapAttribute, MapBasis, MapOptions, MapSample, ProductMap, Table};
use crate::numeric::random::Random;
use crate::run::{Reached, Run};
use crate::stats::results::{Defined, Interval, NotDefined};
use crate::stats::samples::profiles::panel_means;
use crate::study::Study;
use serde::Serialize;

/// Axes for which clouds are kept; nobody draws the fifth.
const AXES_KEPT: usize = 4;
/// With fewer an ellipse is wider than any map; simulated from here on.
const FEWEST_ASSESSORS: usize = 5;

/// A run that is under way.
pub struct EllipseRun {
    map: ProductMap,
    /// `[attribute of the map][assessor][sample]`.
    means: Vec<Vec<Vec<Option<f64>>>>,
    /// `[attribute of the map][sample]`: the map's means, centred, in its units.
    rows: Vec<Vec<f64>>,
    random: Random,
    wanted: usize,
    seed: u64,
    done: usize,
    redrawn: usize,
    /// `[sample]`: sums of positions and of their products, about the map's own position.
    sums: Vec<Moments>,
    axes: DrawnAxes,
}

/// The clouds of all samples.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MapEllipses {
    pub draws: usize,
    /// Draws thrown away because a sample was left without a score; none in complete data.
    pub redrawn: usize,
    pub seed: u64,
    pub samples: Vec<SampleCloud>,
    /// By axis, first axes only: 95 % interval of its share of all differences.
    pub share_intervals: Vec<Defined<Interval>>,
    pub model: String,
}

/// Where one sample fell in the draws.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SampleCloud {
    pub sample: String,
    /// Position on the map, first axes only.
    pub centre: Vec<f64>,
    /// Variances and covariances of the draws over the same axes.
    pub covariance: Vec<Vec<f64>>,
    /// The same, widened for axes that move and for few assessors: what the ellipse is made of.
    pub widened: Vec<Vec<f64>>,
    pub n_assessors: usize,
}

/// An ellipse to draw, in the map's own units.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Ellipse {
    pub centre_x: f64,
    pub centre_y: f64,
    pub half_length: f64,
    pub half_width: f64,
    /// Angle of the long axis from the x axis, anticlockwise, in radians.
    pub angle_radians: f64,
}

#[derive(Clone, Debug)]
struct Moments {
    first: Vec<f64>,
    second: Vec<Vec<f64>>,
}

/// Draws of panels between two looks at a clock.
const DRAWS_A_STEP: usize = 10;

impl Run for EllipseRun {
    type Found = MapEllipses;

    fn step(&mut self) {
        self.advance(DRAWS_A_STEP);
    }

    fn reached(&self) -> Reached {
        Reached { done: self.done, wanted: self.wanted }
    }

    /// Draws that could not be used count against a limit of their own.
    fn is_done(&self) -> bool {
        EllipseRun::is_done(self)
    }

    fn finish(self) -> Defined<MapEllipses> {
        EllipseRun::finish(self)
    }
}

impl EllipseRun {
    /// Prepares the run for a map made from the same study.
    ///
    /// Errors: fewer than three assessors, or no map.
    pub fn start(study: &Study, map: &ProductMap, draws: usize, seed: u64) -> Defined<Self> {
        // Which attributes take part was settled by the map; here only their scores are fetched.
        let table = Table::of(study, MapOptions { basis: MapBasis::Covariance, with_integrated: true })?;
        if table.profiles.assessors.len() < 3 {
            return Err(NotDefined::because("it takes three assessors at least to draw assessors again"));
        }
        let means = map.attributes.iter().filter_map(|wanted| {
            let found = table.profiles.attributes.iter().find(|attribute| attribute.name == wanted.attribute);
            found.map(|attribute| attribute.means.clone())
        });
        let means: Vec<_> = means.collect();
        if means.len() != map.attributes.len() || table.profiles.samples.len() != map.samples.len() {
            return Err(NotDefined::because("the map was made from another state of the study"));
        }
        let axes = map.axes.len().min(AXES_KEPT);
        let row = |(attribute, means): (&MapAttribute, &Vec<Vec<Option<f64>>>)| -> Vec<f64> {
            let panel = panel_means(means, &vec![1.0; means.len()]);
            panel.iter().map(|value| (value.unwrap_or(attribute.centre) - attribute.centre) / attribute.scale).collect()
        };
        let rows: Vec<Vec<f64>> = map.attributes.iter().zip(&means).map(row).collect();
        let scales: Vec<f64> = map.attributes.iter().map(|attribute| attribute.scale).collect();
        let empty = Moments { first: vec![0.0; axes], second: vec![vec![0.0; axes]; axes] };
        Ok(EllipseRun {
            sums: vec![empty; map.samples.len()],
            axes: DrawnAxes::of(&rows, &means, &scales, axes),
            rows,
            map: map.clone(),
            means,
            random: Random::seeded_for(seed, "assessors"),
            wanted: draws,
            seed,
            done: 0,
            redrawn: 0,
        })
    }

    pub fn draws_done(&self) -> usize {
        self.done
    }

    pub fn is_done(&self) -> bool {
        self.done >= self.wanted || self.redrawn > 20 * self.wanted
    }

    /// Makes up to `draws` more draws.
    pub fn advance(&mut self, draws: usize) {
        for _ in 0..draws {
            if self.is_done() {
                break;
            }
            self.draw_once();
        }
    }

    /// Runs to the end and sums up.
    ///
    /// Errors: fewer than two draws could be made.
    pub fn finish(mut self) -> Defined<MapEllipses> {
        self.advance(usize::MAX);
        if self.done < 2 {
            return Err(NotDefined::because("too few assessors scored all samples to draw them again"));
        }
        Ok(MapEllipses {
            draws: self.done,
            redrawn: self.redrawn,
            seed: self.seed,
            samples: self.clouds(),
            share_intervals: self.axes.share_intervals(&self.map.axes.iter().map(|axis| axis.share).collect::<Vec<_>>()),
            model: "Whole assessors drawn with replacement; each draw's means, level of the draw taken off, projected on \
                    the axes of the map. Widened by how far axes found anew in each draw move, and by Hotelling's law for \
                    few assessors. In simulated panels of 5 to 20 assessors with 4 to 8 samples such an ellipse held the \
                    sample's true place in 94 to 96 of 100 cases, marks piled up at 0 included; the interval of an axis' \
                    share held the true share in 90 to 97."
                .to_owned(),
        })
    }

    fn clouds(&self) -> Vec<SampleCloud> {
        let draws = self.done as f64;
        let axes = self.sums.first().map_or(0, |sums| sums.first.len());
        let fixed: Vec<f64> =
            (0..axes).map(|axis| self.sums.iter().map(|sums| sums.second[axis][axis]).sum::<f64>() / draws).collect();
        let widening = self.axes.widening(&fixed);
        let widened = |x: usize, y: usize, covariance: f64| covariance * (widening[x] * widening[y]).sqrt();
        let cloud = |(sample, sums): (&MapSample, &Moments)| {
            let covariance = sums.covariance(draws);
            let widened = covariance
                .iter()
                .enumerate()
                .map(|(x, row)| row.iter().enumerate().map(|(y, value)| widened(x, y, *value)).collect())
                .collect();
            let centre = sample.position.iter().take(axes).copied().collect();
            let n_assessors = self.means.first().map_or(0, Vec::len);
            SampleCloud { sample: sample.sample.clone(), centre, covariance, widened, n_assessors }
        };
        self.map.samples.iter().zip(&self.sums).map(cloud).collect()
    }

    fn draw_once(&mut self) {
        let assessors = self.means[0].len();
        let mut weights = vec![0.0; assessors];
        for _ in 0..assessors {
            weights[self.random.below(assessors)] += 1.0;
        }
        let rows: Option<Vec<Vec<f64>>> =
            self.means.iter().map(|means| panel_means(means, &weights).into_iter().collect()).collect();
        let Some(mut rows) = rows else {
            self.redrawn += 1;
            return;
        };
        // The map shows differences between samples, so the level of the drawn assessors is brought to the panel's.
        for (row, attribute) in rows.iter_mut().zip(&self.map.attributes) {
            let level = row.iter().sum::<f64>() / row.len() as f64 - attribute.centre;
            row.iter_mut().for_each(|value| *value -= level);
        }
        self.done += 1;
        let deviation: Vec<Vec<f64>> = rows
            .iter()
            .zip(&self.map.attributes)
            .zip(&self.rows)
            .map(|((row, a), own)| from_map(row, a, own))
            .collect();
        self.axes.add(&deviation);
        for (index, sums) in self.sums.iter_mut().enumerate() {
            let profile: Vec<f64> = rows.iter().map(|row| row[index]).collect();
            sums.add(&self.map.place(&profile), &self.map.samples[index].position);
        }
    }
}

/// A drawn row less the map's own, in the units of the map.
fn from_map(row: &[f64], attribute: &MapAttribute, own: &[f64]) -> Vec<f64> {
    row.iter().zip(own).map(|(value, own)| (value - attribute.centre) / attribute.scale - own).collect()
}

impl Moments {
    fn add(&mut self, position: &[f64], about: &[f64]) {
        let deviation: Vec<f64> = position.iter().zip(about).map(|(position, about)| position - about).collect();
        for (x, row) in self.second.iter_mut().enumerate() {
            self.first[x] += deviation[x];
            row.iter_mut().zip(&deviation).for_each(|(sum, y)| *sum += deviation[x] * y);
        }
    }

    fn covariance(&self, draws: f64) -> Vec<Vec<f64>> {
        let entry = |x: usize, y: usize| (self.second[x][y] - self.first[x] * self.first[y] / draws) / (draws - 1.0);
        let axes = self.first.len();
        (0..axes).map(|x| (0..axes).map(|y| entry(x, y)).collect()).collect()
    }
}

impl SampleCloud {
    /// The ellipse on two axes (from 0) that holds the sample's true place with the chance `level`.
    ///
    /// Errors: an axis that the map does not have, a level outside 0 to 1, or fewer than five assessors.
    pub fn ellipse(&self, x_axis: usize, y_axis: usize, level: f64) -> Defined<Ellipse> {
        let axes = self.centre.len();
        if x_axis >= axes || y_axis >= axes || !(level > 0.0 && level < 1.0) {
            return Err(NotDefined::because(format!("the map has {axes} axes only")));
        }
        if self.n_assessors < FEWEST_ASSESSORS {
            return Err(NotDefined::because("with fewer than five assessors it would be wider than the map"));
        }
        let (xx, yy, xy) = (self.widened[x_axis][x_axis], self.widened[y_axis][y_axis], self.widened[x_axis][y_axis]);
        let middle = 0.5 * (xx + yy);
        let reach = libm::sqrt(0.25 * (xx - yy) * (xx - yy) + xy * xy);
        let radius_squared = hotelling_radius_squared(self.n_assessors as f64, level);
        Ok(Ellipse {
            centre_x: self.centre[x_axis],
            centre_y: self.centre[y_axis],
            half_length: libm::sqrt(radius_squared * (middle + reach).max(0.0)),
            half_width: libm::sqrt(radius_squared * (middle - reach).max(0.0)),
            angle_radians: 0.5 * libm::atan2(2.0 * xy, xx - yy),
        })
    }
}

/// 2 (n - 1) / (n - 2) times the quantile of F on 2 and n - 2 degrees of freedom, which has a closed form.
fn hotelling_radius_squared(n: f64, level: f64) -> f64 {
    (n - 1.0) * libm::expm1(-2.0 / (n - 2.0) * libm::log(1.0 - level))
}
