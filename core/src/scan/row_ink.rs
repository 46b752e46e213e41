//! All that was found in one row: marks that cross the line, other ink, faint traces, and whether the line itself is
//! where it should be. It knows nothing of what is asked and what is taken.

use super::blobs::{BAND_MM, patches};
use super::ends::Tick;
use super::fits::median;
use super::light::Grid;
use super::marks::{Mark, measured};
use super::strip::{HEIGHT, PX_PER_MM, Strip, WIDTH, along_mm, below_mm};

/// A patch of ink is a mark from this size on, where it touches the line.
const LEAST_AREA_MM2: f64 = 0.14;
const LEAST_HEIGHT_MM: f64 = 0.75;

/// What a row holds.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RowInk {
    pub marks: Vec<Mark>,
    /// Ink that is no mark.
    pub specks: Vec<Mark>,
    /// The strongest half millimetre of the row, as mm of full darkness.
    pub faint: f64,
    /// Ink along the line just above or below it: darkness over 2.5 mm.
    pub along: f64,
    /// The line goes on past an end, or isn't there inside it.
    pub ends_misfit: bool,
    /// How far the line lay off its place at most, in mm.
    pub shift_mm: Option<f64>,
    /// A part of the row lies outside the picture.
    pub is_cut: bool,
}

/// How much the paper of a strip scatters about its own median, as a standard deviation of darkness.
pub fn noise_of(strip: &Strip) -> f32 {
    let lines = (0..HEIGHT).filter(|y| below_mm(*y).abs() <= BAND_MM + 1e-9);
    let mut values: Vec<f32> = lines.flat_map(|y| strip.ink.line(y)[60..WIDTH - 60].iter().copied()).collect();
    let middle = median(&mut values);
    values.iter_mut().for_each(|value| *value = (*value - middle).abs());
    1.4826 * median(&mut values)
}

impl RowInk {
    /// Looks for ink darker than a limit in a strip, its ticks taken off.
    pub fn of(strip: &Strip, tick: &Tick, limit: f32) -> Self {
        let mut ink = strip.ink.clone();
        tick.take_off(&mut ink);
        let found = patches(&ink, limit);
        let all = found.patches.iter().filter_map(|patch| measured(patch, &strip.dark, limit));
        let is_mark =
            |mark: &Mark| mark.area_mm2 >= LEAST_AREA_MM2 && mark.height_mm >= LEAST_HEIGHT_MM && mark.touches_line;
        let (marks, specks) = all.partition(is_mark);
        RowInk {
            marks,
            specks,
            faint: strongest_column(&ink),
            along: along_the_line(&found.smooth),
            ends_misfit: ends_misfit(&strip.dark),
            shift_mm: strip.shift_mm,
            is_cut: strip.is_cut,
        }
    }
}

/// Mean of a line over places around each, mirrored at the ends.
fn box_mean(line: &[f32], reach: isize) -> Vec<f32> {
    let last = line.len() as isize - 1;
    let at = |place: isize| line[(if place > last { 2 * last - place } else { place.abs() }) as usize];
    let mean = |place: isize| (place - reach..=place + reach).map(at).sum::<f32>() / (2 * reach + 1) as f32;
    (0..=last).map(mean).collect()
}

fn highest(values: &[f32], from_mm: f64, to_mm: f64) -> f64 {
    let inside = values.iter().enumerate().filter(|(column, _)| (from_mm..to_mm).contains(&along_mm(*column)));
    f64::from(inside.map(|(_, value)| *value).fold(f32::MIN, f32::max))
}

fn strongest_column(ink: &Grid) -> f64 {
    let mut sums = vec![0.0; WIDTH];
    for y in (0..HEIGHT).filter(|y| below_mm(*y).abs() <= BAND_MM + 1e-9) {
        sums.iter_mut().zip(ink.line(y)).for_each(|(sum, value)| *sum += value.clamp(-0.3, 1.0) / PX_PER_MM as f32);
    }
    highest(&box_mean(&sums, 2), -2.0, 102.0)
}

fn along_the_line(smooth: &Grid) -> f64 {
    let beside = |side: f64| {
        let lines: Vec<usize> = (0..HEIGHT).filter(|y| (0.32..0.62).contains(&(below_mm(*y) * side))).collect();
        let mean = |column: usize| lines.iter().map(|y| smooth.line(*y)[column]).sum::<f32>() / lines.len() as f32;
        highest(&box_mean(&(0..WIDTH).map(mean).collect::<Vec<_>>(), 12), -3.0, 103.0)
    };
    beside(1.0).max(beside(-1.0))
}

fn ends_misfit(dark: &Grid) -> bool {
    let lines: Vec<usize> = (0..HEIGHT).filter(|y| below_mm(*y).abs() < 0.25).collect();
    let part = |from_mm: f64, to_mm: f64| {
        let columns = (0..WIDTH).filter(|column| (from_mm..=to_mm).contains(&along_mm(*column)));
        let mean = |column: usize| lines.iter().map(|y| dark.line(*y)[column]).sum::<f32>() / lines.len() as f32;
        median(&mut columns.map(mean).collect::<Vec<_>>())
    };
    let inside = part(4.0, 12.0).min(part(88.0, 96.0));
    inside > 0.08 && part(-4.5, -1.5).max(part(101.5, 104.5)) > 0.6 * inside
}
