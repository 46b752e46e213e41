//! The light on the paper: how bright blank paper is at each place of a picture, so that shadows and uneven lamps go
//! away. It knows nothing of what is printed or marked.

use super::picture::Picture;

/// The longer side of the map of the light, in cells.
const CELLS: f64 = 300.0;
/// How far white is looked for around a cell, and how far it is taken back, in cells each way.
const WIDEN: usize = 4;
const NARROW: usize = 2;
/// Standard deviation of the smoothing, in cells.
const SMOOTH: f32 = 3.0;
/// Paper is never taken to be darker than this grey level.
const DARKEST: f32 = 12.0;
/// Nothing is taken to be lighter than this share of the paper.
const LIGHTEST: f32 = 1.2;

/// Grey level of blank paper over a picture.
pub struct Light {
    cells: Grid,
    /// Cells a pixel.
    across: f32,
    down: f32,
}

/// A small table of numbers.
#[derive(Clone)]
pub struct Grid {
    pub width: usize,
    pub height: usize,
    pub values: Vec<f32>,
}

/// The light while it is measured: block means line by line of cells, then the largest of a neighbourhood, taken back a
/// little, smoothed.
pub struct LightRun {
    cells: Grid,
}

/// Lines of cells that one step measures.
const LINES_A_STEP: usize = 60;

impl LightRun {
    pub fn new(picture: &Picture) -> Self {
        let factor = (picture.longest_side() as f64 / CELLS).max(1.0);
        let width = ((picture.width() as f64 / factor) as usize).max(8);
        let height = ((picture.height() as f64 / factor) as usize).max(8);
        LightRun { cells: Grid { width, height, values: Vec::with_capacity(width * height) } }
    }

    /// How many steps there are.
    pub fn steps(&self) -> usize {
        self.cells.height.div_ceil(LINES_A_STEP)
    }

    /// Whether every cell is measured.
    pub fn is_done(&self) -> bool {
        self.cells.values.len() == self.cells.width * self.cells.height
    }

    /// Measures the next lines.
    pub fn step(&mut self, picture: &Picture) {
        let (width, height) = (self.cells.width, self.cells.height);
        let done = self.cells.values.len() / width;
        for row in done..(done + LINES_A_STEP).min(height) {
            let lines = span(row, height, picture.height());
            let mean = |column: usize| mean_in(picture, span(column, width, picture.width()), lines);
            self.cells.values.extend((0..width).map(mean));
        }
    }

    /// The light, once every cell is measured.
    pub fn light(&self, picture: &Picture) -> Light {
        let cells = self.cells.extreme(WIDEN, f32::max).extreme(NARROW, f32::min).smoothed(SMOOTH);
        let (across, down) =
            (cells.width as f32 / picture.width() as f32, cells.height as f32 / picture.height() as f32);
        Light { cells, across, down }
    }
}

impl Light {
    /// Grey level of blank paper at a place of the picture.
    pub fn at(&self, x: f32, y: f32) -> f32 {
        self.cells.at((x + 0.5) * self.across - 0.5, (y + 0.5) * self.down - 0.5).max(DARKEST)
    }

    /// Brightness as a share of blank paper; white outside the picture.
    pub fn flat(&self, picture: &Picture, x: f32, y: f32) -> f32 {
        if picture.holds(x, y) { (picture.grey_at(x, y) / self.at(x, y)).min(LIGHTEST) } else { 1.0 }
    }
}

fn span(cell: usize, cells: usize, pixels: usize) -> (usize, usize) {
    let start = cell * pixels / cells;
    (start, ((cell + 1) * pixels / cells).max(start + 1).min(pixels))
}

fn mean_in(picture: &Picture, columns: (usize, usize), lines: (usize, usize)) -> f32 {
    let sum: u32 = (lines.0..lines.1)
        .map(|y| picture.line(y)[columns.0..columns.1].iter().map(|grey| u32::from(*grey)).sum::<u32>())
        .sum();
    sum as f32 / ((columns.1 - columns.0) * (lines.1 - lines.0)).max(1) as f32
}

impl Grid {
    pub fn line(&self, y: usize) -> &[f32] {
        &self.values[y * self.width..(y + 1) * self.width]
    }

    pub fn line_mut(&mut self, y: usize) -> &mut [f32] {
        &mut self.values[y * self.width..(y + 1) * self.width]
    }

    /// The value between cells; beyond the edge stands what is at the edge.
    pub fn at(&self, x: f32, y: f32) -> f32 {
        let x = x.clamp(0.0, (self.width - 1) as f32);
        let y = y.clamp(0.0, (self.height - 1) as f32);
        let (left, top) = (x as usize, y as usize);
        let (right, below) = ((left + 1).min(self.width - 1), (top + 1).min(self.height - 1));
        let (fx, fy) = (x - left as f32, y - top as f32);
        let (upper, lower) = (self.line(top), self.line(below));
        let over = upper[left] + (upper[right] - upper[left]) * fx;
        let under = lower[left] + (lower[right] - lower[left]) * fx;
        over + (under - over) * fy
    }

    /// Largest or smallest value of the square around each cell.
    fn extreme(&self, reach: usize, pick: fn(f32, f32) -> f32) -> Grid {
        self.along_lines(|line, x| {
            let near = &line[x.saturating_sub(reach)..(x + reach + 1).min(line.len())];
            near.iter().copied().fold(line[x], pick)
        })
        .turned()
        .along_lines(|line, y| {
            let near = &line[y.saturating_sub(reach)..(y + reach + 1).min(line.len())];
            near.iter().copied().fold(line[y], pick)
        })
        .turned()
    }

    /// Smoothed by a bell curve of this standard deviation in cells; edges are mirrored about their own cell.
    pub fn smoothed(&self, deviation: f32) -> Grid {
        let bell = bell(deviation);
        self.along_lines(|line, x| bell_at(line, x, &bell))
            .turned()
            .along_lines(|line, y| bell_at(line, y, &bell))
            .turned()
    }

    fn along_lines(&self, value: impl Fn(&[f32], usize) -> f32) -> Grid {
        let values = (0..self.height).flat_map(|y| (0..self.width).map(move |x| (x, y)));
        let values = values.map(|(x, y)| value(self.line(y), x)).collect();
        Grid { width: self.width, height: self.height, values }
    }

    fn turned(&self) -> Grid {
        let places = (0..self.width).flat_map(|x| (0..self.height).map(move |y| y * self.width + x));
        Grid { width: self.height, height: self.width, values: places.map(|place| self.values[place]).collect() }
    }
}

/// One side of a bell curve, from its middle outwards; the whole curve sums to 1.
pub fn bell(deviation: f32) -> Vec<f32> {
    let reach = (deviation * 4.0).ceil() as usize;
    let height = |place: usize| libm::expf(-0.5 * (place as f32 / deviation).powi(2));
    let sum: f32 = height(0) + 2.0 * (1..=reach).map(height).sum::<f32>();
    (0..=reach).map(|place| height(place) / sum).collect()
}

/// The mean of a line around a place, weighted by a bell curve.
pub fn bell_at(line: &[f32], place: usize, bell: &[f32]) -> f32 {
    let last = line.len() as isize - 1;
    let at = |offset: isize| {
        let place = (place as isize + offset).abs();
        line[if place > last { (2 * last - place).max(0) } else { place } as usize]
    };
    let sides =
        bell.iter().enumerate().skip(1).map(|(offset, weight)| weight * (at(offset as isize) + at(-(offset as isize))));
    bell[0] * line[place] + sides.sum::<f32>()
}
