//! What one patch of ink looks like: where it crosses the line, how straight, wide, dark it is. It knows nothing of
//! what is asked and what is taken.

use super::blobs::Patch;
use super::fits::percentile;
use super::light::Grid;
use super::plane::solve;
use super::strip::{HEIGHT, PX_PER_MM, WIDTH, along_mm, below_mm};

/// Square mm a sample.
pub const AREA_MM2: f64 = 1.0 / (PX_PER_MM * PX_PER_MM) as f64;
/// Residuals of this size count half in the fit of a stroke, in mm.
const ROBUST_MM: f64 = 0.35;
/// Where a stroke crosses is judged this near the line, in mm.
const NEAR_MM: f64 = 0.8;
/// Its shape is judged farther from the line than this, where no rest of the line can be taken for ink, in mm.
const OFF_LINE_MM: f64 = 0.45;

/// A patch of ink, measured. Lengths in mm, places along the line from its left end and below it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mark {
    pub area_mm2: f64,
    /// Darkness summed over the area.
    pub ink_mm2: f64,
    /// Darkness of its darker part, 0 to 1.
    pub dark: f64,
    pub height_mm: f64,
    pub width_mm: f64,
    pub left_mm: f64,
    pub right_mm: f64,
    pub top_mm: f64,
    pub bottom_mm: f64,
    pub touches_line: bool,
    /// Where the fitted stroke crosses the line, and how far it moves along a mm below it.
    pub crossing_mm: f64,
    pub slant: f64,
    /// The same, judged near the line.
    pub near_mm: f64,
    /// Centre of its ink.
    pub mean_mm: f64,
    /// Root mean square about the fitted stroke.
    pub rms_mm: f64,
    /// Strokes side by side.
    pub runs: usize,
    /// Ink about the crossing of its box, and beside it.
    pub heart_mm2: f64,
    pub waist_mm2: f64,
    /// How much of the way to the strip's upper and to its lower edge has ink along the stroke, 0 to 1: the lesser of the
    /// way and of its last part, since words and dots beside a line fill a part of it.
    pub goes_up: f64,
    pub goes_down: f64,
}

/// One sample as the fits take it: along, below, darkness.
type Sample = (f64, f64, f64);

/// Measures a patch; nothing where it is too small to be anything.
pub fn measured(patch: &Patch, dark: &Grid, limit: f32) -> Option<Mark> {
    let samples: Vec<Sample> = patch
        .samples
        .iter()
        .map(|inked| (along_mm(inked.column), below_mm(inked.line), f64::from(inked.dark)))
        .collect();
    let area_mm2 = samples.len() as f64 * AREA_MM2;
    if area_mm2 < 0.03 {
        return None;
    }
    let mut mark = Mark { area_mm2, ..boxed(patch) };
    let mut darks: Vec<f32> = patch.samples.iter().map(|inked| inked.dark).collect();
    mark.dark = f64::from(percentile(&mut darks, 0.8));
    let weight: f64 = samples.iter().map(|sample| sample.2).sum();
    mark.ink_mm2 = weight * AREA_MM2;
    mark.mean_mm = samples.iter().map(|(along, _, dark)| along * dark).sum::<f64>() / weight.max(1e-9);
    (mark.crossing_mm, mark.slant) = stroke_through(&samples, mark.mean_mm);
    mark.near_mm = crossing_near(&samples, (mark.crossing_mm, mark.slant)).unwrap_or(mark.crossing_mm);
    mark.add_shape(&samples, patch);
    mark.goes_up = inked_share(&mark, dark, limit, -4.0, -2.0).min(inked_share(&mark, dark, limit, -4.35, -4.0));
    mark.goes_down = inked_share(&mark, dark, limit, 2.0, 4.0).min(inked_share(&mark, dark, limit, 4.0, 4.35));
    Some(mark)
}

fn boxed(patch: &Patch) -> Mark {
    let (top_mm, bottom_mm) = (below_mm(patch.lines.0), below_mm(patch.lines.1));
    let samples = |(first, last): (usize, usize)| (last - first + 1) as f64 / PX_PER_MM as f64;
    Mark {
        height_mm: samples(patch.lines),
        width_mm: samples(patch.columns),
        left_mm: along_mm(patch.columns.0),
        right_mm: along_mm(patch.columns.1),
        top_mm,
        bottom_mm,
        touches_line: top_mm <= OFF_LINE_MM && bottom_mm >= -OFF_LINE_MM,
        ..Mark::default()
    }
}

/// A robust straight stroke through ink, pulled a little to upright: crossing and slant.
fn stroke_through(samples: &[Sample], start: f64) -> (f64, f64) {
    let mut fit = (start, 0.0);
    for round in 0..4 {
        let weight = |(along, below, dark): &Sample| {
            let off = along - fit.0 - fit.1 * below;
            if round == 0 { *dark } else { dark / (1.0 + (off / ROBUST_MM).powi(2)) }
        };
        fit = weighted_line(samples, weight, 2.0).unwrap_or(fit);
    }
    fit
}

/// The same near the line only; nothing where ink lies on one side of it only.
fn crossing_near(samples: &[Sample], start: (f64, f64)) -> Option<f64> {
    let near = |(_, below, dark): &Sample| dark * libm::exp(-(below / NEAR_MM).powi(2));
    let beyond = |side: f64| samples.iter().filter(|sample| sample.1 * side > 0.3).map(near).sum::<f64>();
    let (under, over) = (beyond(1.0), beyond(-1.0));
    if under.min(over) <= 0.15 * under.max(over) {
        return None;
    }
    let mut fit = start;
    for _ in 0..3 {
        let weight = |sample: &Sample| {
            let off = sample.0 - fit.0 - fit.1 * sample.1;
            near(sample) / (1.0 + (off / ROBUST_MM).powi(2))
        };
        fit = weighted_line(samples, weight, 0.3)?;
    }
    Some(fit.0)
}

/// Weighted least squares of along = p + q below, with `pull` added to the weight of q = 0.
fn weighted_line(samples: &[Sample], weight: impl Fn(&Sample) -> f64, pull: f64) -> Option<(f64, f64)> {
    let mut sums = [0.0; 5];
    for sample in samples {
        let (along, below, w) = (sample.0, sample.1, weight(sample));
        let terms = [w, w * below, w * below * below, w * along, w * along * below];
        sums.iter_mut().zip(terms).for_each(|(sum, term)| *sum += term);
    }
    let fit = solve([[sums[0] + 1e-9, sums[1]], [sums[1], sums[2] + pull]], [sums[3], sums[4]])?;
    Some((fit[0], fit[1]))
}

impl Mark {
    /// Width, straightness, runs, heart and waist.
    fn add_shape(&mut self, samples: &[Sample], patch: &Patch) {
        let off_line: Vec<&Sample> = samples.iter().filter(|sample| sample.1.abs() > OFF_LINE_MM).collect();
        let judged = if off_line.len() > 12 {
            let mut along: Vec<f32> = off_line.iter().map(|sample| sample.0 as f32).collect();
            self.left_mm = f64::from(percentile(&mut along, 0.01));
            self.right_mm = f64::from(percentile(&mut along, 0.99));
            self.width_mm = self.right_mm - self.left_mm + 1.0 / PX_PER_MM as f64;
            off_line
        } else {
            samples.iter().collect()
        };
        let square = |sample: &&Sample| sample.2 * (sample.0 - self.crossing_mm - self.slant * sample.1).powi(2);
        let weight: f64 = judged.iter().map(|sample| sample.2).sum();
        self.rms_mm = (judged.iter().map(square).sum::<f64>() / weight.max(1e-9)).sqrt();
        self.runs = runs_side_by_side(patch);
        let middle = (self.left_mm + self.right_mm) / 2.0;
        let area_of = |belongs: &dyn Fn(f64, f64) -> bool| {
            let inside = samples.iter().filter(|sample| belongs((sample.0 - middle).abs(), sample.1.abs()));
            inside.count() as f64 * AREA_MM2
        };
        self.heart_mm2 = area_of(&|off, below| off < 0.7 && below < 1.0);
        self.waist_mm2 = area_of(&|off, below| below < 0.7 && below > 0.3 && off > 1.5 && off < 2.2);
    }
}

/// How many strokes lie side by side in most lines off the printed one: the 85th percentile.
fn runs_side_by_side(patch: &Patch) -> usize {
    let mut runs = [0.0_f32; HEIGHT];
    let mut before: Option<(usize, usize)> = None;
    for inked in &patch.samples {
        let goes_on = before == Some((inked.line, inked.column.wrapping_sub(1)));
        runs[inked.line] += f32::from(u8::from(!goes_on));
        before = Some((inked.line, inked.column));
    }
    let off_line = |line: &usize| runs[*line] > 0.0 && below_mm(*line).abs() > OFF_LINE_MM;
    let mut counts: Vec<f32> = (0..HEIGHT).filter(off_line).map(|line| runs[line]).collect();
    if counts.is_empty() { 1 } else { percentile(&mut counts, 0.85) as usize }
}

/// How many of the lines between two distances below the printed one have ink where the stroke would be, as a share.
fn inked_share(mark: &Mark, dark: &Grid, limit: f32, from_mm: f64, to_mm: f64) -> f64 {
    let least = limit.max(0.3 * mark.dark as f32);
    let lines: Vec<usize> =
        (0..HEIGHT).filter(|line| (from_mm - 1e-9..=to_mm + 1e-9).contains(&below_mm(*line))).collect();
    let has_ink = |line: &usize| {
        let along = mark.crossing_mm + mark.slant * below_mm(*line);
        let column = ((along - along_mm(0)) * PX_PER_MM as f64).round().clamp(0.0, (WIDTH - 1) as f64) as usize;
        let near = &dark.line(*line)[column.saturating_sub(5)..(column + 6).min(WIDTH)];
        near.iter().any(|value| *value > least)
    };
    lines.iter().filter(|line| has_ink(line)).count() as f64 / lines.len().max(1) as f64
}
