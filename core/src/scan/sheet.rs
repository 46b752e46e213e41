//! Sheet to picture as the paper bends: a homography, and what the dots of each row say beyond it. It knows nothing of
//! marks.

use super::dots::{Dots, minus, plus, times};
use super::plane::{Homography, Place, distance, least_squares};
use crate::plan::ballot::geometry::{BallotGeometry, DOT_RISE_MM, LINE_LENGTH_MM};

/// A page is read where so many of its dots are found, over all and in each column.
const LEAST_FOUND: f64 = 0.6;
const LEAST_OF_COLUMN: f64 = 0.5;
/// A dot farther than this from where its neighbours in the column say is replaced by what they say, in mm.
const OUTLIER_MM: f64 = 0.22;
/// So many rows each way are a dot's neighbours.
const NEIGHBOURS: usize = 3;

/// The map from the sheet to the picture.
pub struct BentSheet {
    pub geometry: BallotGeometry,
    map: Homography,
    /// One a row: what is added to a place on the sheet above the left end, the middle and the right end.
    bends: Vec<[Place; 3]>,
    /// One a row: dots that were replaced.
    pub replaced: Vec<usize>,
    /// One a row: dots that were not found where a neighbour wasn't either.
    pub lost: Vec<usize>,
    /// Share of the dots that were found.
    pub found: f64,
}

impl BentSheet {
    /// Bends the sheet as the dots say.
    ///
    /// # Errors
    /// Why the page can't be read: too few dots.
    pub fn new(geometry: BallotGeometry, map: Homography, dots: &Dots) -> Result<Self, String> {
        let rows = dots.found.len();
        let in_column = |column: usize| dots.found.iter().filter(|row| row[column].is_some()).count();
        let counts = [0, 1, 2].map(in_column);
        let found = counts.iter().sum::<usize>() as f64 / (3 * rows).max(1) as f64;
        let fewest = counts.iter().min().map_or(0.0, |fewest| *fewest as f64 / rows.max(1) as f64);
        if found < LEAST_FOUND || fewest < LEAST_OF_COLUMN {
            let share = (found * 100.0).round();
            return Err(format!(
                "Only {share} % of the dots beside the lines were found: is the page whole, flat and sharp?"
            ));
        }
        let mut sheet = BentSheet {
            geometry,
            map,
            bends: filled(&dots.found),
            replaced: vec![0; rows],
            lost: (0..rows).map(|row| lost_in(&dots.found, row)).collect(),
            found,
        };
        (0..2).for_each(|_| (0..3).for_each(|column| sheet.replace_outliers(column)));
        Ok(sheet)
    }

    fn replace_outliers(&mut self, column: usize) {
        for row in 0..self.bends.len() {
            if let Some(expected) = self.expected(row, column)
                && distance(self.bends[row][column], expected) > OUTLIER_MM
            {
                self.replaced[row] += 1;
                self.bends[row][column] = expected;
            }
        }
    }

    /// Where the neighbours in its column say that a dot is.
    fn expected(&self, row: usize, column: usize) -> Option<Place> {
        let near = row.saturating_sub(NEIGHBOURS)..(row + NEIGHBOURS + 1).min(self.bends.len());
        let near: Vec<(f64, Place)> = near
            .filter(|other| *other != row)
            .map(|other| (other as f64 - row as f64, self.bends[other][column]))
            .collect();
        let axis = |of: fn(Place) -> f64| match near.len() {
            0..=2 => None,
            3 | 4 => least_squares(near.iter().map(move |(y, place)| ([1.0, *y], of(*place)))).map(|fit| fit[0]),
            _ => least_squares(near.iter().map(move |(y, place)| ([1.0, *y, y * y], of(*place)))).map(|fit| fit[0]),
        };
        Some((axis(|place| place.0)?, axis(|place| place.1)?))
    }

    /// How bumpy the dots of a column lie, in mm: the mean second difference.
    pub fn roughness_mm(&self) -> f64 {
        let second = |three: &[[Place; 3]]| -> f64 {
            let bend = |column: usize| {
                let [a, b, c] = [three[0], three[1], three[2]].map(|row| row[column]);
                (a.0 - 2.0 * b.0 + c.0).abs() + (a.1 - 2.0 * b.1 + c.1).abs()
            };
            (0..3).map(bend).sum::<f64>() / 6.0
        };
        let count = self.bends.len().saturating_sub(2);
        self.bends.windows(3).map(second).sum::<f64>() / count.max(1) as f64
    }

    /// How far the dots lie from where the homography says, in mm: the median over both axes.
    pub fn typical_bend_mm(&self) -> f64 {
        let mut all: Vec<f64> = self.bends.iter().flatten().flat_map(|bend| [bend.0.abs(), bend.1.abs()]).collect();
        all.sort_by(f64::total_cmp);
        all.get(all.len() / 2).copied().unwrap_or(0.0)
    }

    /// Places in the picture for a row: at each distance below its line in turn, at each distance along it.
    pub fn row_places(&self, row: usize, along_mm: &[f64], below_mm: &[f64], mut take: impl FnMut(Place)) {
        let line = &self.geometry.rows[row];
        for below in below_mm {
            let [left, middle, right] = self.bends_at(row, *below);
            for along in along_mm {
                let u = along / LINE_LENGTH_MM;
                let shares = [2.0 * (u - 0.5) * (u - 1.0), -4.0 * u * (u - 1.0), 2.0 * u * (u - 0.5)];
                let bend = plus(plus(times(shares[0], left), times(shares[1], middle)), times(shares[2], right));
                let flat = (line.line_left.x_mm + along, line.line_left.y_mm + below);
                take(self.map.at(plus(flat, bend)));
            }
        }
    }

    /// What the three columns say at a distance below a row's line: linear between its dots and the next row's.
    fn bends_at(&self, row: usize, below_mm: f64) -> [Place; 3] {
        let rows = self.bends.len();
        if rows == 1 {
            return self.bends[0];
        }
        let upper = row.min(rows - 2);
        let pitch = self.geometry.rows[upper + 1].line_left.y_mm - self.geometry.rows[upper].line_left.y_mm;
        let share = (below_mm + DOT_RISE_MM) / pitch + (row - upper) as f64;
        let between = |column: usize| {
            let (one, other) = (self.bends[upper][column], self.bends[upper + 1][column]);
            plus(one, times(share, minus(other, one)))
        };
        [0, 1, 2].map(between)
    }
}

/// Gaps filled from the rows above and below in the same column; beyond the first and last one stands what they say.
fn filled(found: &[[Option<Place>; 3]]) -> Vec<[Place; 3]> {
    let value = |row: usize, column: usize| {
        let above = (0..=row).rev().find_map(|row| Some((row, found[row][column]?)));
        let below = (row..found.len()).find_map(|row| Some((row, found[row][column]?)));
        match (above, below) {
            (Some((from, one)), Some((to, other))) if to > from => {
                plus(one, times((row - from) as f64 / (to - from) as f64, minus(other, one)))
            }
            (Some((_, one)), _) | (None, Some((_, one))) => one,
            (None, None) => (0.0, 0.0),
        }
    };
    (0..found.len()).map(|row| [0, 1, 2].map(|column| value(row, column))).collect()
}

fn lost_in(found: &[[Option<Place>; 3]], row: usize) -> usize {
    let is_there =
        |row: Option<usize>, column: usize| row.and_then(|row| found.get(row)).is_some_and(|row| row[column].is_some());
    let is_lost = |column: &usize| {
        let between = is_there(row.checked_sub(1), *column) && is_there(Some(row + 1), *column);
        found[row][*column].is_none() && !between
    };
    (0..3).filter(is_lost).count()
}
