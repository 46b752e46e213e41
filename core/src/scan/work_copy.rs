//! A smaller copy of a picture as dark and light only, in which landmarks are looked for; made band by band. It knows
//! nothing of what a landmark is.

use super::light::{Grid, Light, bell, bell_at};
use super::picture::Picture;

/// The longer side of the copy is this at most, in pixels.
const LONGEST_PX: f64 = 2400.0;
/// Darker than this share of the paper is dark.
const DARK: f32 = 0.62;
/// Standard deviation of the smoothing, in pixels of the copy.
const SMOOTH_PX: f32 = 0.7;
/// Lines of the copy that one step makes.
const LINES_A_STEP: usize = 80;

/// The copy while it is made.
pub struct WorkCopy {
    /// Pixels of the picture a pixel of the copy.
    pub factor: f64,
    flat: Grid,
    lines_done: usize,
}

impl WorkCopy {
    pub fn new(picture: &Picture) -> Self {
        let factor = (picture.longest_side() as f64 / LONGEST_PX).max(1.0);
        let width = (picture.width() as f64 / factor) as usize;
        let height = (picture.height() as f64 / factor) as usize;
        WorkCopy { factor, flat: Grid { width, height, values: vec![1.0; width * height] }, lines_done: 0 }
    }

    /// How many steps there are.
    pub fn steps(&self) -> usize {
        self.flat.height.div_ceil(LINES_A_STEP)
    }

    pub fn is_done(&self) -> bool {
        self.lines_done >= self.flat.height
    }

    /// Makes the next band.
    pub fn step(&mut self, picture: &Picture, light: &Light) {
        let bell = bell(SMOOTH_PX);
        let end = (self.lines_done + LINES_A_STEP).min(self.flat.height);
        let mut sums = vec![0.0; picture.width()];
        for y in self.lines_done..end {
            self.shrink_line(picture, y, &mut sums);
            self.divide_line(light, y);
            let line = self.flat.line(y).to_vec();
            self.flat.line_mut(y).iter_mut().enumerate().for_each(|(x, cell)| *cell = bell_at(&line, x, &bell));
        }
        self.lines_done = end;
    }

    /// One line as the mean of the pixels it covers, edges by their share.
    fn shrink_line(&mut self, picture: &Picture, y: usize, sums: &mut [f32]) {
        sums.fill(0.0);
        for (line, share) in covered(y, self.factor, picture.height()) {
            sums.iter_mut().zip(picture.line(line)).for_each(|(sum, grey)| *sum += share * f32::from(*grey));
        }
        let factor = self.factor;
        let area = (factor * factor) as f32;
        for (x, cell) in self.flat.line_mut(y).iter_mut().enumerate() {
            *cell = covered(x, factor, sums.len()).map(|(column, share)| share * sums[column]).sum::<f32>() / area;
        }
    }

    fn divide_line(&mut self, light: &Light, y: usize) {
        let factor = self.factor as f32;
        let middle = |place: usize| (place as f32 + 0.5) * factor - 0.5;
        let down = middle(y);
        self.flat
            .line_mut(y)
            .iter_mut()
            .enumerate()
            .for_each(|(x, cell)| *cell = (*cell / light.at(middle(x), down)).min(1.2));
    }

    /// Where one line of the copy is dark, smoothed across lines: pieces as (first column, column after the last).
    pub fn dark_pieces(&self, y: usize) -> Vec<(u32, u32)> {
        let bell = bell(SMOOTH_PX);
        let last = self.flat.height as isize - 1;
        let near = |offset: isize| self.flat.line((y as isize + offset).clamp(0, last) as usize);
        let lines: Vec<(f32, &[f32])> = (-(bell.len() as isize) + 1..bell.len() as isize)
            .map(|offset| (bell[offset.unsigned_abs()], near(offset)))
            .collect();
        let mut pieces: Vec<(u32, u32)> = Vec::new();
        for x in 0..self.flat.width {
            if lines.iter().map(|(weight, line)| weight * line[x]).sum::<f32>() < DARK {
                match pieces.last_mut() {
                    Some(piece) if piece.1 == x as u32 => piece.1 += 1,
                    _ => pieces.push((x as u32, x as u32 + 1)),
                }
            }
        }
        pieces
    }

    /// Lines of the copy.
    pub fn height(&self) -> usize {
        self.flat.height
    }
}

/// The pixels that a pixel of the copy covers, each with its share.
fn covered(place: usize, factor: f64, pixels: usize) -> impl Iterator<Item = (usize, f32)> {
    let (start, end) = (place as f64 * factor, (place + 1) as f64 * factor);
    let last = (end.ceil() as usize).min(pixels);
    (start as usize..last).map(move |pixel| {
        let share = (end.min((pixel + 1) as f64) - start.max(pixel as f64)).max(0.0);
        (pixel, share as f32)
    })
}
