//! Connected patches of ink in a strip, with what the printed line hides bridged. It knows nothing of scores.

use super::light::Grid;
use super::shapes::Shapes;
use super::strip::{HEIGHT, WIDTH, below_mm};

/// Ink counts so far from the line, in mm.
pub const BAND_MM: f64 = 1.9;
/// A gap of so many samples over the line is closed, half of them each way, and of three across.
const CLOSE_DOWN: usize = 4;
const CLOSE_ACROSS: usize = 1;
/// Standard deviation of the smoothing, in samples.
const SMOOTH: f32 = 0.9;

/// A sample with ink: column, line of the strip, darkness.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Inked {
    pub column: usize,
    pub line: usize,
    pub dark: f32,
}

/// One patch: its box with bridges, its samples without.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Patch {
    pub columns: (usize, usize),
    pub lines: (usize, usize),
    pub samples: Vec<Inked>,
}

/// Ink of a strip that was smoothed, and its patches.
pub struct Patches {
    pub smooth: Grid,
    pub patches: Vec<Patch>,
}

/// The patches of ink darker than a limit.
pub fn patches(ink: &Grid, limit: f32) -> Patches {
    let smooth = ink.smoothed(SMOOTH);
    let in_band = |y: usize| below_mm(y).abs() <= BAND_MM + 1e-9;
    let mut dark = vec![false; WIDTH * HEIGHT];
    for y in (0..HEIGHT).filter(|y| in_band(*y)) {
        smooth.line(y).iter().enumerate().for_each(|(x, value)| dark[y * WIDTH + x] = *value > limit);
    }
    let closed = shrunk(&grown(&dark));
    let mut shapes = Shapes::default();
    for y in 0..HEIGHT {
        let line = if in_band(y) { pieces(&closed[y * WIDTH..(y + 1) * WIDTH]) } else { Vec::new() };
        shapes.add_line(&line);
    }
    let measured = shapes.measured();
    let boxed = |shape: &super::shapes::Shape| Patch {
        columns: (shape.x as usize, (shape.x + shape.width - 1) as usize),
        lines: (shape.y as usize, (shape.y + shape.height - 1) as usize),
        samples: Vec::new(),
    };
    let mut found: Vec<Patch> = measured.shapes.iter().map(boxed).collect();
    for index in (0..dark.len()).filter(|index| dark[*index]) {
        let (column, line) = (index % WIDTH, index / WIDTH);
        if let Some(patch) = measured.shape_at(column as u32, line as u32) {
            found[patch].samples.push(Inked { column, line, dark: smooth.values[index].clamp(0.0, 1.0) });
        }
    }
    Patches { smooth, patches: found }
}

fn pieces(line: &[bool]) -> Vec<(u32, u32)> {
    let mut pieces: Vec<(u32, u32)> = Vec::new();
    for x in (0..line.len()).filter(|x| line[*x]) {
        match pieces.last_mut() {
            Some(piece) if piece.1 == x as u32 => piece.1 += 1,
            _ => pieces.push((x as u32, x as u32 + 1)),
        }
    }
    pieces
}

/// Every sample that has a dark one near it.
fn grown(dark: &[bool]) -> Vec<bool> {
    let mut grown = vec![false; dark.len()];
    for index in (0..dark.len()).filter(|index| dark[*index]) {
        let (x, y) = (index % WIDTH, index / WIDTH);
        for line in y.saturating_sub(CLOSE_DOWN)..(y + CLOSE_DOWN + 1).min(HEIGHT) {
            let columns = x.saturating_sub(CLOSE_ACROSS)..(x + CLOSE_ACROSS + 1).min(WIDTH);
            grown[line * WIDTH..][columns].fill(true);
        }
    }
    grown
}

/// Every sample that has only dark ones near it.
fn shrunk(dark: &[bool]) -> Vec<bool> {
    let stays = |index: usize| {
        let (x, y) = (index % WIDTH, index / WIDTH);
        let columns = x.saturating_sub(CLOSE_ACROSS)..(x + CLOSE_ACROSS + 1).min(WIDTH);
        (y.saturating_sub(CLOSE_DOWN)..(y + CLOSE_DOWN + 1).min(HEIGHT))
            .all(|line| dark[line * WIDTH..][columns.clone()].iter().all(|dark| *dark))
    };
    (0..dark.len()).map(|index| dark[index] && stays(index)).collect()
}
