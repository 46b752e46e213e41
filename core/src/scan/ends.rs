//! The ticks that end every printed line: what an unmarked end looks like on this very page, and taking it off. It
//! knows nothing of marks.

use super::fits::percentile;
use super::light::Grid;
use super::strip::{ENDS, HEIGHT, Strip, below_mm};

/// Columns each way about an end.
const HALF: usize = 13;
const WIDE: usize = 2 * HALF + 1;
/// The percentile of all ends of the page that an unmarked end is: marks at an end are dark, and most ends have none.
const UNMARKED: f32 = 0.3;
/// A tick may lie so many columns off where the dots say.
const REACH: isize = 5;
/// Darkness beyond the tick's that is ink, and darkness at which the tick hides a part of what lies on it.
const INK: f32 = 0.16;
const HIDES: f32 = 0.12;
const HIDDEN_SHARE: f32 = 1.4;

/// How an unmarked end looks.
pub struct Tick {
    dark: Grid,
}

impl Tick {
    /// From all strips of a page.
    pub fn of(strips: &[Strip]) -> Self {
        let mut dark = Grid { width: WIDE, height: HEIGHT, values: Vec::with_capacity(WIDE * HEIGHT) };
        for y in 0..HEIGHT {
            for x in 0..WIDE {
                let of_strip = |strip: &Strip| ENDS.map(|end| strip.ink.line(y)[end - HALF + x]);
                let mut all: Vec<f32> = strips.iter().flat_map(of_strip).collect();
                dark.values.push(percentile(&mut all, UNMARKED).clamp(0.0, 1.0));
            }
        }
        Tick { dark: dark.widened() }
    }

    /// Takes the ticks off a strip.
    pub fn take_off(&self, ink: &mut Grid) {
        for end in ENDS {
            let shift = self.best_shift(ink, end);
            for y in 0..HEIGHT {
                for x in 0..WIDE {
                    let tick = self.shifted(x, y, shift);
                    let cell = &mut ink.line_mut(y)[end - HALF + x];
                    let over = *cell - tick;
                    *cell = match over {
                        _ if over <= INK => over.min(0.02),
                        _ if tick > HIDES => over * HIDDEN_SHARE,
                        _ => *cell,
                    };
                }
            }
        }
    }

    /// The shift that leaves least.
    fn best_shift(&self, ink: &Grid, end: usize) -> isize {
        let lines: Vec<usize> = (0..HEIGHT).filter(|y| (0.45..1.5).contains(&(below_mm(*y).abs() - 1e-9))).collect();
        let left = |shift: isize| -> f32 {
            let of_line = |y: &usize| -> f32 {
                let line = &ink.line(*y)[end - HALF..];
                (0..WIDE).map(|x| (line[x] - self.shifted(x, *y, shift)).abs().min(0.3)).sum()
            };
            lines.iter().map(of_line).sum::<f32>() + 0.02 * shift.unsigned_abs() as f32
        };
        (-REACH..=REACH).min_by(|one, other| left(*one).total_cmp(&left(*other))).unwrap_or(0)
    }

    fn shifted(&self, x: usize, y: usize, shift: isize) -> f32 {
        self.dark.line(y)[(x as isize - shift).rem_euclid(WIDE as isize) as usize]
    }
}

impl Grid {
    /// The largest of each place and its two neighbours in the line.
    fn widened(&self) -> Grid {
        let mut wide = self.clone();
        for y in 0..self.height {
            for x in 0..self.width {
                let near = &self.line(y)[x.saturating_sub(1)..(x + 2).min(self.width)];
                wide.line_mut(y)[x] = near.iter().copied().fold(f32::MIN, f32::max);
            }
        }
        wide
    }
}
