//! Ballot pages drawn with marks at known places, and seen by a camera that turns and scales them: pictures whose truth
//! is the drawing. It draws no words, which no step of the reading looks at, and knows nothing of reading.

use super::known_pages::KnownPage;
use super::picture::{Picture, PictureFault};
use super::plane::{Place, distance};
use crate::numeric::random::Random;
use crate::plan::ballot::geometry::{BallotGeometry, LINE_WIDTH_MM, TARGET_RADIUS_MM, TICK_HALF_MM};
use crate::plan::ballot::pages::CodeSquare;

/// Pixels a mm of a drawing.
const PX_PER_MM: f64 = 10.0;
/// How wide the pen draws.
const PEN_MM: f64 = 0.5;

/// A sheet as it was printed and marked.
#[derive(Clone)]
pub struct Drawn {
    width: usize,
    height: usize,
    grey: Vec<u8>,
    geometry: BallotGeometry,
}

/// How a sheet is seen.
#[derive(Clone, Copy)]
pub struct View {
    pub px_per_mm: f64,
    pub degrees: f64,
    /// Grey of the paper.
    pub paper: f64,
    /// Standard deviation of the noise in grey levels.
    pub noise: f64,
    pub seed: u64,
}

impl Default for View {
    fn default() -> Self {
        View { px_per_mm: 8.0, degrees: 0.0, paper: 240.0, noise: 2.0, seed: 1 }
    }
}

impl Drawn {
    /// A blank page as it is printed now on its first paper.
    pub fn blank(page: &KnownPage) -> Self {
        Self::with_code(page, &page.codes[0].square)
    }

    /// A blank page that bears another code.
    pub fn with_code(page: &KnownPage, square: &CodeSquare) -> Self {
        let geometry = page.layouts[0].clone();
        let side = |mm: f64| (mm * PX_PER_MM).round() as usize;
        let (width, height) = (side(geometry.paper.width_mm()), side(geometry.paper.height_mm()));
        let mut drawn = Drawn { width, height, grey: vec![255; width * height], geometry: geometry.clone() };
        for target in &geometry.targets {
            drawn.disc(target.x_mm, target.y_mm, TARGET_RADIUS_MM, 0);
            drawn.disc(target.x_mm, target.y_mm, TARGET_RADIUS_MM - 1.0, 255);
            drawn.disc(target.x_mm, target.y_mm, 1.2, 0);
        }
        let (side, dark) = (square.modules_a_side, &square.dark);
        let module = geometry.code_side_mm / side as f64;
        for index in (0..dark.len()).filter(|index| dark[*index]) {
            let x = geometry.code_corner.x_mm + module * (index % side) as f64;
            let y = geometry.code_corner.y_mm + module * (index / side) as f64;
            drawn.fill(x, y, x + module, y + module, 0);
        }
        for row in &geometry.rows {
            let (left, right, y, half) =
                (row.line_left.x_mm, row.line_right.x_mm, row.line_left.y_mm, LINE_WIDTH_MM / 2.0);
            drawn.fill(left, y - half, right, y + half, 128);
            for x in [left, right] {
                drawn.fill(x - half, y - TICK_HALF_MM, x + half, y + TICK_HALF_MM, 128);
            }
            row.dots.iter().for_each(|dot| drawn.disc(dot.x_mm, dot.y_mm, geometry.dot_radius_mm, 0));
        }
        drawn
    }

    /// A stroke of half a mm that crosses a row's line at a score: from so far above it to so far below it, leaning by
    /// `slant` mm a mm.
    pub fn stroke(&mut self, row: usize, score: f64, reach_mm: (f64, f64), slant: f64, grey: u8) {
        let along = |below: f64| score + slant * below;
        let from = (along(-reach_mm.0), -reach_mm.0);
        self.pen(row, from, (along(reach_mm.1), reach_mm.1), grey);
    }

    /// A straight line of the pen between two places of a row, in mm along its line and below it.
    pub fn pen(&mut self, row: usize, from: Place, to: Place, grey: u8) {
        let line = self.geometry.rows[row].line_left;
        let steps = (distance(from, to) * 20.0).ceil().max(1.0);
        for step in 0..=steps as usize {
            let share = step as f64 / steps;
            let at = (from.0 + (to.0 - from.0) * share, from.1 + (to.1 - from.1) * share);
            self.disc(line.x_mm + at.0, line.y_mm + at.1, PEN_MM / 2.0, grey);
        }
    }

    fn disc(&mut self, x_mm: f64, y_mm: f64, radius_mm: f64, grey: u8) {
        self.paint(x_mm - radius_mm, y_mm - radius_mm, x_mm + radius_mm, y_mm + radius_mm, grey, |x, y| {
            (x - x_mm).powi(2) + (y - y_mm).powi(2) <= radius_mm * radius_mm
        });
    }

    fn fill(&mut self, left: f64, top: f64, right: f64, below: f64, grey: u8) {
        self.paint(left, top, right, below, grey, |x, y| x >= left && x < right && y >= top && y < below);
    }

    fn paint(&mut self, left: f64, top: f64, right: f64, below: f64, grey: u8, inside: impl Fn(f64, f64) -> bool) {
        let first = |mm: f64| (mm * PX_PER_MM).floor().max(0.0) as usize;
        for y in first(top)..(first(below) + 2).min(self.height) {
            for x in first(left)..(first(right) + 2).min(self.width) {
                if inside((x as f64 + 0.5) / PX_PER_MM, (y as f64 + 0.5) / PX_PER_MM) {
                    self.grey[y * self.width + x] = grey;
                }
            }
        }
    }

    /// Mean grey about a place of the sheet in mm; nothing beside the sheet.
    fn grey_at(&self, x_mm: f64, y_mm: f64, reach_mm: f64) -> Option<f64> {
        let inside = |x: f64, y: f64| x >= 0.0 && y >= 0.0 && x < self.width as f64 && y < self.height as f64;
        let thirds = [-1.0 / 3.0, 0.0, 1.0 / 3.0];
        let mut sum = 0.0;
        for (dx, dy) in thirds.iter().flat_map(|dx| thirds.iter().map(move |dy| (dx, dy))) {
            let (x, y) = ((x_mm + dx * reach_mm) * PX_PER_MM, (y_mm + dy * reach_mm) * PX_PER_MM);
            if !inside(x, y) {
                return None;
            }
            sum += f64::from(self.grey[y as usize * self.width + x as usize]);
        }
        Some(sum / 9.0)
    }

    fn size_mm(&self) -> (f64, f64) {
        (self.width as f64 / PX_PER_MM, self.height as f64 / PX_PER_MM)
    }
}

/// One picture of sheets that lie side by side, turned about its middle, on a dark desk.
///
/// # Errors
/// A view so small or so large that no picture of that size is taken.
#[cfg(test)]
pub fn seen(sheets: &[&Drawn], view: View) -> Result<Picture, PictureFault> {
    let mut exposure = Exposure::new(sheets, view);
    while !exposure.is_done() {
        exposure.add_line(sheets);
    }
    exposure.picture()
}

/// Room between sheets.
const GAP_MM: f64 = 12.0;

/// A picture of sheets while it is taken, line by line.
pub struct Exposure {
    view: View,
    /// Width of each sheet, and of all together with the highest, in mm.
    widths: Vec<f64>,
    wide: f64,
    high: f64,
    /// Columns and lines of the picture.
    width: usize,
    height: usize,
    chance: Random,
    luma: Vec<u8>,
    /// Lines that are there.
    pub lines: usize,
}

impl Exposure {
    pub fn new(sheets: &[&Drawn], view: View) -> Self {
        let widths: Vec<f64> = sheets.iter().map(|sheet| sheet.size_mm().0).collect();
        let wide: f64 = widths.iter().sum::<f64>() + GAP_MM * (sheets.len() - 1) as f64;
        let high = sheets.iter().map(|sheet| sheet.size_mm().1).fold(0.0, f64::max);
        let (sine, cosine) = view.degrees.to_radians().sin_cos();
        let picture_wide = (wide * cosine.abs() + high * sine.abs()) * view.px_per_mm;
        let picture_high = (wide * sine.abs() + high * cosine.abs()) * view.px_per_mm;
        let (width, height) = (picture_wide as usize + 8, picture_high as usize + 8);
        let (chance, luma) = (Random::seeded_for(view.seed, "grain"), Vec::with_capacity(width * height));
        Exposure { view, widths, wide, high, width, height, chance, luma, lines: 0 }
    }

    /// How many lines the picture has.
    pub fn height(&self) -> usize {
        self.height
    }

    pub fn is_done(&self) -> bool {
        self.lines >= self.height
    }

    /// Adds the next line; the sheets are those of the beginning.
    pub fn add_line(&mut self, sheets: &[&Drawn]) {
        let view = self.view;
        let (sine, cosine) = view.degrees.to_radians().sin_cos();
        let v = self.lines as f64 - self.height as f64 / 2.0;
        for x in 0..self.width {
            let u = x as f64 - self.width as f64 / 2.0;
            let across = (u * cosine + v * sine) / view.px_per_mm + self.wide / 2.0;
            let down = (-u * sine + v * cosine) / view.px_per_mm + self.high / 2.0;
            let grey = grey_of(sheets, &self.widths, across, down, 1.0 / view.px_per_mm);
            let light = grey.map_or(60.0, |grey| grey * view.paper / 255.0);
            self.luma.push((light + grain(&mut self.chance, view.noise)).clamp(0.0, 255.0) as u8);
        }
        self.lines += 1;
    }

    /// # Errors
    /// A picture of a size that isn't taken, or one that isn't done.
    pub fn picture(self) -> Result<Picture, PictureFault> {
        Picture::new(self.width, self.height, self.luma)
    }
}

fn grey_of(sheets: &[&Drawn], widths: &[f64], across: f64, down: f64, reach: f64) -> Option<f64> {
    let mut left = 0.0;
    for (sheet, width) in sheets.iter().zip(widths) {
        if across < left + width {
            return sheet.grey_at(across - left, down, reach);
        }
        left += width + GAP_MM;
    }
    None
}

/// Noise of a standard deviation: the sum of four even numbers, which costs less than a true bell curve and looks the same.
pub fn grain(chance: &mut Random, deviation: f64) -> f64 {
    let sum: f64 = (0..4).map(|_| chance.unit() - 0.5).sum();
    sum * 3.0_f64.sqrt() * deviation
}
