//! The three dots above every line: found one after the other, each search from the dots before it. It knows nothing
//! of marks.

use super::light::Light;
use super::picture::Picture;
use super::plane::{Homography, Place};
use crate::plan::ballot::geometry::BallotGeometry;
use std::sync::OnceLock;

/// Samples a mm of a search.
const PX_PER_MM: f64 = 12.0;
/// How much lighter the ring about a dot must be than its disc, as a share of the paper.
const LEAST_SCORE: f32 = 0.22;
/// How far a dot may lie from where the dots before it say, in mm.
const MOVE_MM: f64 = 1.1;
/// Radii of disc and ring of the filter, in mm.
const DISC_MM: f64 = 0.5;
const RING_MM: std::ops::RangeInclusive<f64> = 0.78..=1.05;
const FILTER_MM: f64 = 1.1;
/// How much of a step between two dots the next one is expected to repeat.
const MOMENTUM: f64 = 0.6;

/// What was found of the dots: where each lies beside the place that the homography says, in mm on the sheet.
pub struct Dots {
    /// One a row: left, middle, right.
    pub found: Vec<[Option<Place>; 3]>,
}

/// What is looked at.
#[derive(Clone, Copy)]
pub struct Sight<'a> {
    pub picture: &'a Picture,
    pub light: &'a Light,
}

/// Follows the columns, one a step: the middle one down, then the right and the left one, which start from what is known.
pub struct DotSearch {
    geometry: BallotGeometry,
    map: Homography,
    start: Place,
    found: Vec<[Option<Place>; 3]>,
    /// Scores of the middle column.
    scores: Vec<f32>,
    good: f32,
    columns_done: usize,
}

/// Columns in the order in which they are followed.
const COLUMNS: [usize; 3] = [1, 2, 0];

impl DotSearch {
    pub fn new(geometry: BallotGeometry, map: Homography, start: Place) -> Self {
        let rows = geometry.rows.len();
        let (found, scores) = (vec![[None; 3]; rows], vec![0.0; rows]);
        DotSearch { geometry, map, start, found, scores, good: LEAST_SCORE, columns_done: 0 }
    }

    /// Whether every column was followed.
    pub fn is_done(&self) -> bool {
        self.columns_done == COLUMNS.len()
    }

    /// Follows the next column.
    pub fn step(&mut self, sight: Sight) {
        let column = COLUMNS[self.columns_done];
        self.down(sight, column);
        self.back_up(sight, column);
        if column == 1 {
            self.raise_limit();
        }
        self.columns_done += 1;
    }

    pub fn dots(self) -> Dots {
        Dots { found: self.found }
    }

    fn down(&mut self, sight: Sight, column: usize) {
        let (mut before, mut before_that) = (None, None);
        for row in 0..self.found.len() {
            let (guess, reach) = match before {
                Some(last) => (self.next_guess(row, column, last, before_that), MOVE_MM),
                None => self.first_guess(row, column),
            };
            let found = self.look(sight, row, column, guess, reach);
            before_that = if found.is_some() { before } else { None };
            before = found.or(before);
        }
    }

    fn next_guess(&self, row: usize, column: usize, last: Place, before_that: Option<Place>) -> Place {
        let middle = |row: usize| self.found[row][1];
        let step = match (before_that, middle(row), row.checked_sub(1).and_then(middle)) {
            (Some(earlier), ..) => times(MOMENTUM, minus(last, earlier)),
            (None, Some(here), Some(above)) if column != 1 => minus(here, above),
            _ => (0.0, 0.0),
        };
        plus(last, step)
    }

    fn first_guess(&self, row: usize, column: usize) -> (Place, f64) {
        let widened = |from: f64| (from + 0.8 * row as f64).min(6.0);
        let [_, middle, right] = self.found[row];
        match (column, middle, right) {
            (1, ..) => (self.start, widened(3.4)),
            (0, Some(middle), Some(right)) => (minus(times(2.0, middle), right), widened(3.6)),
            (0, ..) => (middle.or(right).unwrap_or(self.start), 4.2),
            _ => (middle.unwrap_or(self.start), 4.2),
        }
    }

    /// A column that was found late is followed back up.
    fn back_up(&mut self, sight: Sight, column: usize) {
        let Some(first) = self.found.iter().position(|row| row[column].is_some()) else { return };
        for row in (0..first).rev() {
            let Some(below) = self.found[row + 1][column] else { return };
            let further = self.found.get(row + 2).and_then(|row| row[column]);
            let step = further.map_or((0.0, 0.0), |further| times(MOMENTUM, minus(below, further)));
            self.look(sight, row, column, plus(below, step), MOVE_MM);
        }
    }

    /// Dots of one print are much alike: half of the usual score is asked of the outer columns.
    fn raise_limit(&mut self) {
        let mut scores: Vec<f32> =
            self.scores.iter().zip(&self.found).filter(|(_, row)| row[1].is_some()).map(|(score, _)| *score).collect();
        if !scores.is_empty() {
            scores.sort_by(f32::total_cmp);
            let middle = (scores[(scores.len() - 1) / 2] + scores[scores.len() / 2]) / 2.0;
            self.good = self.good.max(0.5 * middle);
        }
    }

    fn look(&mut self, sight: Sight, row: usize, column: usize, guess: Place, reach: f64) -> Option<Place> {
        let dot = self.geometry.rows[row].dots[column];
        let (off, score) = self.best_near(sight, plus((dot.x_mm, dot.y_mm), guess), reach);
        if column == 1 {
            self.scores[row] = score;
        }
        let found = (score >= self.good).then(|| plus(guess, off));
        self.found[row][column] = found;
        found
    }

    /// The best dot within `reach` mm of a place: offset in mm, and how dark it is against its ring.
    fn best_near(&self, sight: Sight, centre: Place, reach: f64) -> (Place, f32) {
        let wide = ((reach + FILTER_MM) * PX_PER_MM).ceil() as isize;
        let patch = Patch { side: 2 * wide as usize + 1, values: self.sampled(sight, centre, wide) };
        let inner = wide - (FILTER_MM * PX_PER_MM) as isize;
        let mut best = (f32::MIN, (0, 0));
        for y in -inner..=inner {
            for x in -inner..=inner {
                let far = ((x * x + y * y) as f64).sqrt() / PX_PER_MM;
                if far <= reach {
                    let score = patch.score(x + wide, y + wide) - (0.03 * far / reach.max(0.1)) as f32;
                    if score > best.0 {
                        best = (score, (x, y));
                    }
                }
            }
        }
        let (x, y) = best.1;
        let at = |dx: isize, dy: isize| patch.score(x + wide + dx, y + wide + dy);
        let middle = at(0, 0);
        let finer_x = x as f64 + peak(at(-1, 0), middle, at(1, 0));
        let finer_y = y as f64 + peak(at(0, -1), middle, at(0, 1));
        ((finer_x / PX_PER_MM, finer_y / PX_PER_MM), middle)
    }

    /// Brightness on a grid about a place of the sheet; over so little of it the map is taken as affine.
    fn sampled(&self, sight: Sight, centre: Place, wide: isize) -> Vec<f32> {
        let here = self.map.at(centre);
        let right = minus(self.map.at(plus(centre, (1.0, 0.0))), here);
        let below = minus(self.map.at(plus(centre, (0.0, 1.0))), here);
        let mut values = Vec::with_capacity((2 * wide as usize + 1).pow(2));
        for y in -wide..=wide {
            for x in -wide..=wide {
                let (across, down) = (x as f64 / PX_PER_MM, y as f64 / PX_PER_MM);
                let there = plus(here, plus(times(across, right), times(down, below)));
                values.push(sight.light.flat(sight.picture, there.0 as f32, there.1 as f32));
            }
        }
        values
    }
}

/// Offset of the top of a parabola through three values, within half a step.
fn peak(left: f32, middle: f32, right: f32) -> f64 {
    let bend = left - 2.0 * middle + right;
    if bend >= 0.0 { 0.0 } else { f64::from((0.5 * (left - right) / bend).clamp(-0.5, 0.5)) }
}

struct Patch {
    side: usize,
    values: Vec<f32>,
}

impl Patch {
    /// How much lighter the ring is than the disc at a place; places beyond the edge count as the edge.
    fn score(&self, x: isize, y: isize) -> f32 {
        let filter = Filter::get();
        let (last, reach) = (self.side as isize - 1, filter.reach);
        if x < reach || y < reach || x + reach > last || y + reach > last {
            return self.mean(&filter.ring, x, y) - self.mean(&filter.disc, x, y);
        }
        let first = (y - reach) as usize * self.side + (x - reach) as usize;
        let inside = &self.values[first..];
        let mean = |places: &[(isize, isize)]| {
            let value = |(dx, dy): &(isize, isize)| inside[(dy + reach) as usize * self.side + (dx + reach) as usize];
            places.iter().map(value).sum::<f32>() / places.len() as f32
        };
        mean(&filter.ring) - mean(&filter.disc)
    }

    fn mean(&self, places: &[(isize, isize)], x: isize, y: isize) -> f32 {
        let last = self.side as isize - 1;
        let value = |(dx, dy): &(isize, isize)| {
            let (x, y) = ((x + dx).clamp(0, last), (y + dy).clamp(0, last));
            self.values[y as usize * self.side + x as usize]
        };
        places.iter().map(value).sum::<f32>() / places.len() as f32
    }
}

/// Places of the filter, in samples.
struct Filter {
    reach: isize,
    disc: Vec<(isize, isize)>,
    ring: Vec<(isize, isize)>,
}

impl Filter {
    fn get() -> &'static Filter {
        static FILTER: OnceLock<Filter> = OnceLock::new();
        FILTER.get_or_init(|| {
            let reach = (FILTER_MM * PX_PER_MM).ceil() as isize;
            let places = || (-reach..=reach).flat_map(move |y| (-reach..=reach).map(move |x| (x, y)));
            let far = |(x, y): (isize, isize)| ((x * x + y * y) as f64).sqrt() / PX_PER_MM;
            Filter {
                reach,
                disc: places().filter(|place| far(*place) <= DISC_MM).collect(),
                ring: places().filter(|place| RING_MM.contains(&far(*place))).collect(),
            }
        })
    }
}

pub fn plus(one: Place, other: Place) -> Place {
    (one.0 + other.0, one.1 + other.1)
}

pub fn minus(one: Place, other: Place) -> Place {
    (one.0 - other.0, one.1 - other.1)
}

pub fn times(factor: f64, place: Place) -> Place {
    (factor * place.0, factor * place.1)
}
