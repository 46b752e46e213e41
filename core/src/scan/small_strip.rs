//! A straightened row made small, for a person to look at: paper white, ink dark, five samples a mm. It knows nothing of
//! how a row is judged, nor of how it is shown.

use super::light::Grid;
use super::strip::{HEIGHT, PX_PER_MM, WIDTH, along_mm, below_mm};

/// Samples of a strip that become one of its small picture, each way.
const SHRINK: usize = 2;
/// The first line that is used, so that the line of the ballot lies as near the middle as it can.
const FIRST_LINE: usize = 1;
/// Darkness, 0 to 1, that is shown black; beyond it a pen is a pen.
const BLACK: f32 = 0.75;

/// A small picture of a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SmallStrip {
    /// Row by row, `WIDTH_PX` by `HEIGHT_PX`; 0 is paper and `LEVELS - 1` black.
    pub levels: Vec<u8>,
}

impl SmallStrip {
    /// Shades that a strip has.
    pub const LEVELS: u8 = 8;
    pub const WIDTH_PX: usize = WIDTH / SHRINK;
    pub const HEIGHT_PX: usize = (HEIGHT - FIRST_LINE) / SHRINK;

    /// Where its left edge lies along the line, in mm from the line's left end, and how long it is.
    pub fn across_mm() -> (f64, f64) {
        (along_mm(0) - half_sample(), (Self::WIDTH_PX * SHRINK) as f64 / PX_PER_MM as f64)
    }

    /// Where its upper edge lies below the line, in mm, and how high it is.
    pub fn down_mm() -> (f64, f64) {
        (below_mm(FIRST_LINE) - half_sample(), (Self::HEIGHT_PX * SHRINK) as f64 / PX_PER_MM as f64)
    }

    /// From the darkness of a strip.
    pub(super) fn of(dark: &Grid) -> Self {
        let places = (0..Self::HEIGHT_PX).flat_map(|line| (0..Self::WIDTH_PX).map(move |column| (line, column)));
        SmallStrip { levels: places.map(|(line, column)| level(mean_at(dark, line, column))).collect() }
    }
}

fn half_sample() -> f64 {
    0.5 / PX_PER_MM as f64
}

fn mean_at(dark: &Grid, line: usize, column: usize) -> f32 {
    let lines = (0..SHRINK).map(|down| dark.line(FIRST_LINE + line * SHRINK + down));
    let sum: f32 = lines.map(|line| line[column * SHRINK..(column + 1) * SHRINK].iter().sum::<f32>()).sum();
    sum / (SHRINK * SHRINK) as f32
}

fn level(dark: f32) -> u8 {
    let most = f32::from(SmallStrip::LEVELS - 1);
    (dark / BLACK * most).round().clamp(0.0, most) as u8
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_dark_place_lies_where_its_millimetre_is() {
        let mut dark = Grid { width: WIDTH, height: HEIGHT, values: vec![0.0; WIDTH * HEIGHT] };
        // 25 mm along the line and 1 mm below it, 2 by 2 samples.
        for line in [54, 55] {
            dark.line_mut(line)[310..312].fill(1.0);
        }
        let strip = SmallStrip::of(&dark);
        let most = strip.levels.iter().enumerate().max_by_key(|(_, level)| **level).expect("a strip has samples").0;
        let (left, width) = SmallStrip::across_mm();
        let (top, height) = SmallStrip::down_mm();
        let along = left + width * (0.5 + (most % SmallStrip::WIDTH_PX) as f64) / SmallStrip::WIDTH_PX as f64;
        let below = top + height * (0.5 + (most / SmallStrip::WIDTH_PX) as f64) / SmallStrip::HEIGHT_PX as f64;
        assert!((along - 25.05).abs() < 1e-9 && (below - 1.05).abs() < 0.11, "{along} {below}");
        assert_eq!(strip.levels.len(), SmallStrip::WIDTH_PX * SmallStrip::HEIGHT_PX);
    }
}
