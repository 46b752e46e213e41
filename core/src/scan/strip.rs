//! One row as a straight strip of darkness, 0 for paper and 1 for black, its printed line laid at the middle and taken
//! off. It knows nothing of marks.

use super::fits::{Cubic, median, percentile};
use super::light::Grid;
use super::picture::Picture;
use super::sheet::BentSheet;

/// Samples a mm.
pub const PX_PER_MM: usize = 10;
/// The strip begins so far before the line's left end, in mm.
const BEFORE_MM: f64 = 6.0;
/// Columns and lines of a strip: from -6 to 106 mm, and 4.4 mm each way.
pub const WIDTH: usize = 1121;
pub const HEIGHT: usize = 89;
/// The line of a strip on which the printed line lies.
pub const MIDDLE: usize = 44;
/// Columns of the two ends of the line.
pub const ENDS: [usize; 2] = [60, 1060];

/// Columns in which the paper's level is found, and its percentile of light.
const PAPER_COLUMNS: usize = 30;
const PAPER_SHARE: f32 = 0.75;
/// Columns in which the line is found, and how far from the middle it is looked for, in samples.
const LINE_COLUMNS: usize = 80;
const LINE_REACH: usize = 8;
/// The line is taken off so far from its middle, in mm, by a median of so many columns, of which every fourth counts.
const OFF_MM: f64 = 0.85;
const EVERY: usize = 4;
const MEDIAN_OF: usize = 35;

/// A row, straightened.
pub struct Strip {
    /// Darkness with the line.
    pub dark: Grid,
    /// Darkness without the line.
    pub ink: Grid,
    /// How far the line lay off its place at most, in mm; nothing where it wasn't found.
    pub shift_mm: Option<f64>,
    /// Whether a part of the row lies outside the picture.
    pub is_cut: bool,
}

/// Distance along the line of a column, in mm from its left end.
pub fn along_mm(column: usize) -> f64 {
    column as f64 / PX_PER_MM as f64 - BEFORE_MM
}

/// Distance below the line of a line of the strip, in mm.
pub fn below_mm(line: usize) -> f64 {
    (line as f64 - MIDDLE as f64) / PX_PER_MM as f64
}

impl Strip {
    /// Samples a row and straightens it.
    pub fn of_row(picture: &Picture, sheet: &BentSheet, row: usize) -> Self {
        let (grey, is_cut) = sampled(picture, sheet, row);
        let dark = darkness(&grey);
        let (dark, shift_mm) = straightened(dark);
        let ink = without_line(&dark);
        Strip { dark, ink, shift_mm, is_cut }
    }
}

fn sampled(picture: &Picture, sheet: &BentSheet, row: usize) -> (Grid, bool) {
    let along: Vec<f64> = (0..WIDTH).map(along_mm).collect();
    let below: Vec<f64> = (0..HEIGHT).map(below_mm).collect();
    let mut values = Vec::with_capacity(WIDTH * HEIGHT);
    let mut is_cut = false;
    sheet.row_places(row, &along, &below, |(x, y)| {
        let (x, y) = (x as f32, y as f32);
        is_cut |= !picture.holds(x, y);
        values.push(picture.grey_at(x, y));
    });
    (Grid { width: WIDTH, height: HEIGHT, values }, is_cut)
}

/// Darkness against the paper of the same part of the row.
fn darkness(grey: &Grid) -> Grid {
    let blocks = WIDTH / PAPER_COLUMNS;
    let level = |block: usize| {
        let columns = block * PAPER_COLUMNS..(block + 1) * PAPER_COLUMNS;
        let mut values: Vec<f32> = (0..HEIGHT).flat_map(|y| grey.line(y)[columns.clone()].iter().copied()).collect();
        percentile(&mut values, PAPER_SHARE)
    };
    let levels: Vec<f32> = (0..blocks).map(level).collect();
    let mean_of_five = |block: usize| {
        let near = |offset: usize| levels[(block + offset).saturating_sub(2).min(blocks - 1)];
        (0..5).map(near).sum::<f32>() / 5.0
    };
    let smooth = Grid { width: blocks, height: 1, values: (0..blocks).map(mean_of_five).collect() };
    let paper = |column: usize| smooth.at(column as f32 / PAPER_COLUMNS as f32 - 0.5, 0.0).max(8.0);
    let papers: Vec<f32> = (0..WIDTH).map(paper).collect();
    let values = (0..HEIGHT).flat_map(|y| grey.line(y).iter().zip(&papers));
    let values = values.map(|(grey, paper)| (1.0 - grey / paper).clamp(-0.3, 1.0)).collect();
    Grid { width: WIDTH, height: HEIGHT, values }
}

/// Lays the printed line at the middle. Where too little of it is found the strip stays as it is.
fn straightened(dark: Grid) -> (Grid, Option<f64>) {
    let Some((fit, first, last)) = line_fit(&dark) else { return (dark, None) };
    let shift = |column: usize| fit.at(even(column as f64).clamp(first, last)) as f32;
    let shifts: Vec<f32> = (0..WIDTH).map(shift).collect();
    let most = shifts.iter().fold(0.0_f32, |most, shift| most.max(shift.abs()));
    let values = (0..HEIGHT).flat_map(|y| shifts.iter().enumerate().map(move |(x, shift)| (x, y as f32 + shift)));
    let values = values.map(|(x, y)| dark.at(x as f32, y)).collect();
    let straight = Grid { width: WIDTH, height: HEIGHT, values };
    (straight, Some(f64::from(most) / PX_PER_MM as f64))
}

/// A column brought to about -1 to 1.
fn even(column: f64) -> f64 {
    column / (WIDTH / 2) as f64 - 1.0
}

/// How far the line lies below the middle, in samples, by place along it; and the first and last place it was found at.
fn line_fit(dark: &Grid) -> Option<(Cubic, f64, f64)> {
    let smooth = dark.smoothed(1.0);
    let starts = (ENDS[0]..=ENDS[1] - LINE_COLUMNS).step_by(LINE_COLUMNS);
    let found = starts.filter_map(|start| Some((even((start + LINE_COLUMNS / 2) as f64), line_in(&smooth, start)?)));
    let (mut x, mut y): (Vec<f64>, Vec<f64>) = found.unzip();
    if x.len() < 4 {
        return None;
    }
    for _ in 0..2 {
        let fit = Cubic::fit(&x, &y)?;
        let errors: Vec<f64> = x.iter().zip(&y).map(|(x, y)| (fit.at(*x) - y).abs()).collect();
        let typical = median(&mut errors.iter().map(|error| *error as f32).collect::<Vec<_>>());
        let most = (2.5 * f64::from(typical)).max(1.0);
        let kept: Vec<usize> = (0..x.len()).filter(|index| errors[*index] < most).collect();
        if kept.len() >= 4 {
            (x, y) = kept.iter().map(|index| (x[*index], y[*index])).unzip();
        }
    }
    Some((Cubic::fit(&x, &y)?, *x.first()?, *x.last()?))
}

/// How far below the middle the line lies in some columns, in samples.
fn line_in(smooth: &Grid, start: usize) -> Option<f64> {
    let reach = LINE_REACH + 3;
    let profile: Vec<f32> = (MIDDLE - reach..=MIDDLE + reach)
        .map(|y| median(&mut smooth.line(y)[start..start + LINE_COLUMNS].to_vec()))
        .collect();
    let inner = 3..profile.len() - 3;
    let top = inner.max_by(|one, other| profile[*one].total_cmp(&profile[*other]).then(other.cmp(one)))?;
    let base = median(&mut profile.clone());
    let weights = (top - 3..=top + 3).map(|place| (place as f64, f64::from((profile[place] - base).max(0.0))));
    let (sum, moment) =
        weights.fold((0.0, 0.0), |(sum, moment), (place, weight)| (sum + weight, moment + place * weight));
    (sum >= 0.15).then(|| moment / sum - reach as f64)
}

/// Takes off what runs along near the middle: the median of 14 mm around each place.
fn without_line(dark: &Grid) -> Grid {
    let mut ink = dark.clone();
    for y in (0..HEIGHT).filter(|y| below_mm(*y).abs() < OFF_MM) {
        let sparse: Vec<f32> = dark.line(y).iter().step_by(EVERY).copied().collect();
        let medians = Grid { width: sparse.len(), height: 1, values: running_median(&sparse) };
        for (x, cell) in ink.line_mut(y).iter_mut().enumerate() {
            *cell -= medians.at(x as f32 / EVERY as f32, 0.0).max(0.0);
        }
    }
    ink
}

/// The median of the places around each place, mirrored at the ends.
fn running_median(values: &[f32]) -> Vec<f32> {
    let half = MEDIAN_OF as isize / 2;
    let last = values.len() as isize - 1;
    let mirrored = |place: isize| values[(if place > last { 2 * last - place } else { place.abs() }) as usize];
    let mut window = [0.0; MEDIAN_OF];
    let mut at = |place: isize| {
        window.iter_mut().zip(-half..).for_each(|(cell, offset)| *cell = mirrored(place + offset));
        median(&mut window)
    };
    (0..values.len() as isize).map(&mut at).collect()
}
