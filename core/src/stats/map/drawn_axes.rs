//! How far axes move when assessors are drawn again: what that adds to the spread of a sample, and to each axis' share.
//!
//! The axes of a map are those along which the means spread most, noise included, so they lean towards the noise and a
//! sample seems farther out than it is. Here that happens again on purpose: the map's own means, drawn in by what noise
//! added to their spread, stand for the truth; a draw's deviation from the map is laid upon them and the axes are found
//! anew. How far the draw then lies from the truth on its own axes is what the map's places may be wrong by.
//!
//! Simulated with `cargo run --release -p likeness-core --example panel_rates -- --only map`; the result stands beside it.

use super::product_map::{components, level_free, project};
use crate::numeric::dense::dot;
use crate::numeric::describe::{mean, squares_about_mean};
use crate::numeric::tails::t_quantile_upper;
use crate::stats::results::{Defined, Interval, NotDefined};

/// Shares nearer to 0 or 1 than this count as that near.
const LEAST_SHARE: f64 = 1e-6;

/// Sums over draws; all rows are `[attribute][sample]`, centred and in the units of the map.
pub(super) struct DrawnAxes {
    /// What stands for the truth.
    truth: Vec<Vec<f64>>,
    /// What brings the spread of draws (divisor n) to that of means (divisor n - 1).
    stretch: f64,
    assessors: usize,
    /// By axis: squared distances from the truth on the draw's own axis, all samples together.
    squares: Vec<f64>,
    /// By axis: logits of the share, summed, and their squares.
    logits: Vec<(f64, f64)>,
    draws: usize,
}

impl DrawnAxes {
    /// `rows`: the map's means. `means`: `[attribute][assessor][sample]` in units of the scale, of which the map divides
    /// each attribute by its entry in `scales`.
    pub fn of(rows: &[Vec<f64>], means: &[Vec<Vec<Option<f64>>>], scales: &[f64], axes: usize) -> Self {
        let spread: f64 = rows.iter().flatten().map(|value| value * value).sum();
        let noise: f64 = means.iter().zip(scales).map(|(own, scale)| noise_of(own) / (scale * scale)).sum();
        let kept = if spread > 0.0 { (1.0 - noise / spread).max(0.0).sqrt() } else { 0.0 };
        let assessors = means.first().map_or(0, Vec::len);
        DrawnAxes {
            truth: rows.iter().map(|row| row.iter().map(|value| kept * value).collect()).collect(),
            stretch: (assessors as f64 / (assessors as f64 - 1.0)).sqrt(),
            assessors,
            squares: vec![0.0; axes],
            logits: vec![(0.0, 0.0); axes],
            draws: 0,
        }
    }

    /// Takes one draw, given as its deviation from the map's means.
    pub fn add(&mut self, deviation: &[Vec<f64>]) {
        let laid: Vec<Vec<f64>> = self
            .truth
            .iter()
            .zip(deviation)
            .map(|(row, off)| row.iter().zip(off).map(|(value, off)| value + self.stretch * off).collect())
            .collect();
        let Ok((variances, loadings)) = components(&laid) else { return };
        self.draws += 1;
        let total: f64 = laid.iter().map(|row| dot(row, row)).sum::<f64>() / (laid[0].len() as f64 - 1.0);
        for (axis, logit) in self.logits.iter_mut().enumerate() {
            let found = logit_of(variances.get(axis).map_or(0.0, |variance| variance / total));
            logit.0 += found;
            logit.1 += found * found;
        }
        for sample in 0..deviation[0].len() {
            let off: Vec<f64> = deviation.iter().map(|row| self.stretch * row[sample]).collect();
            for (square, along) in self.squares.iter_mut().zip(project(&loadings, &off)) {
                *square += along * along;
            }
        }
    }

    /// By axis: how many times the variance of the draws on the map's own axes, `fixed` for all samples together, a place
    /// may be off.
    pub fn widening(&self, fixed: &[f64]) -> Vec<f64> {
        let draws = self.draws.max(1) as f64;
        let one = |(square, fixed): (&f64, &f64)| if *fixed > 0.0 { square / draws / fixed } else { 1.0 };
        self.squares.iter().zip(fixed).map(one).collect()
    }

    /// 95 % interval of the share of each axis, 0 to 1: t about the logit of what was found.
    ///
    /// Errors: the axis holds everything or next to nothing, or there are too few assessors.
    pub fn share_intervals(&self, shares: &[f64]) -> Vec<Defined<Interval>> {
        self.logits.iter().zip(shares).map(|(sums, share)| self.share_interval(*sums, *share)).collect()
    }

    fn share_interval(&self, (sum, squares): (f64, f64), share: f64) -> Defined<Interval> {
        if share <= LEAST_SHARE || share >= 1.0 - LEAST_SHARE || self.draws < 2 {
            return Err(NotDefined::because("the axis holds everything, or next to nothing, whatever the panel"));
        }
        let draws = self.draws as f64;
        let sd = ((squares - sum * sum / draws).max(0.0) / (draws - 1.0)).sqrt();
        let quantile = t_quantile_upper(0.025, self.assessors as f64 - 1.0);
        let reach = quantile.ok_or_else(|| NotDefined::because("there are too few assessors"))? * sd;
        let middle = logit_of(share);
        let back = |logit: f64| 1.0 / (1.0 + (-logit).exp());
        Ok(Interval { lower: back(middle - reach), upper: back(middle + reach) })
    }
}

/// What noise adds to the squared distances of an attribute's means from their level: variances of the means over assessors,
/// `own[assessor][sample]`, each assessor's level taken off.
fn noise_of(own: &[Vec<Option<f64>>]) -> f64 {
    let samples = own.first().map_or(0, Vec::len);
    let panel: Vec<f64> = (0..samples)
        .map(|sample| mean(&own.iter().filter_map(|row| row[sample]).collect::<Vec<_>>()).unwrap_or(0.0))
        .collect();
    let free: Vec<Vec<Option<f64>>> = own.iter().map(|row| level_free(row, &panel)).collect();
    (0..samples)
        .map(|sample| {
            let here: Vec<f64> = free.iter().filter_map(|row| row[sample]).collect();
            let n = here.len() as f64;
            if here.len() < 2 { 0.0 } else { squares_about_mean(&here) / (n - 1.0) / n }
        })
        .sum()
}

fn logit_of(share: f64) -> f64 {
    let share = share.clamp(LEAST_SHARE, 1.0 - LEAST_SHARE);
    (share / (1.0 - share)).ln()
}
