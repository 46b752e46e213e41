//! One page of a picture, step by step: rows laid over it, strips cut, marks found, every row judged. It knows the
//! page's own layout and nothing of other pages.

use super::dots::{DotSearch, Sight, minus, plus, times};
use super::ends::Tick;
use super::fits::median;
use super::judge::{Pen, RowPlace, RowReading, judge, shared_strokes};
use super::known_pages::KnownPage;
use super::landmarks::Ring;
use super::locate::{Located, finders_mm, locate, place};
use super::picture::Picture;
use super::plane::Place;
use super::row_ink::{RowInk, noise_of};
use super::sheet::BentSheet;
use super::small_strip::SmallStrip;
use super::strip::Strip;
use crate::plan::ballot::geometry::BallotGeometry;

/// Ink is darker than this, and than so many times the paper's scatter.
const INK: f32 = 0.10;
const INK_TO_NOISE: f32 = 4.5;
/// Where the first dots are looked for, at most so far from where the homography says, in mm.
const START_MM: f64 = 8.0;

/// A page before its rows are laid over the picture: on each paper that it may be printed on, then on the one that fits best.
pub struct PageStart {
    /// Layouts that are still to be tried.
    layouts: Vec<BallotGeometry>,
    side: usize,
    corners: [Ring; 3],
    others: Vec<Ring>,
    search: Option<(Located, BallotGeometry, DotSearch)>,
    tries: Vec<Result<(f64, BentSheet), String>>,
}

impl PageStart {
    pub fn new(page: &KnownPage, code: usize, corners: [Ring; 3], others: Vec<Ring>) -> Self {
        let mut layouts: Vec<BallotGeometry> = page.layouts_of(code).cloned().collect();
        layouts.reverse();
        let side = page.codes[code].square.modules_a_side;
        PageStart { layouts, side, corners, others, search: None, tries: Vec::new() }
    }

    /// Finds corners, one column of dots, or the bend of the sheet; answers when every paper was tried.
    ///
    /// # Errors
    /// Why the page can't be read on any paper.
    pub fn step(&mut self, sight: Sight) -> Option<Result<PageReading, String>> {
        match self.search.take() {
            Some((located, geometry, search)) if search.is_done() => self.tries.push(laid(&located, geometry, search)),
            Some((located, geometry, mut search)) => {
                search.step(sight);
                self.search = Some((located, geometry, search));
            }
            None => match self.layouts.pop() {
                Some(geometry) => self.locate(geometry),
                None => return Some(self.best()),
            },
        }
        None
    }

    fn locate(&mut self, geometry: BallotGeometry) {
        let corners = [&self.corners[0], &self.corners[1], &self.corners[2]];
        let others: Vec<&Ring> = self.others.iter().collect();
        match locate(&geometry, self.side, corners, &others) {
            Some(located) => {
                let start = start_of_rows(&geometry, self.side, &located, corners);
                let search = DotSearch::new(geometry.clone(), located.to_picture, start);
                self.search = Some((located, geometry, search));
            }
            None => self.tries.push(Err("The corners of the page were not found.".to_owned())),
        }
    }

    fn best(&mut self) -> Result<PageReading, String> {
        let mut tries = std::mem::take(&mut self.tries);
        tries.sort_by(|one, other| fit_of(other).total_cmp(&fit_of(one)));
        let best = tries.into_iter().next().unwrap_or_else(|| Err("The page has no rows.".to_owned()));
        best.map(|(_, sheet)| PageReading { sheet, strips: Vec::new(), noises: Vec::new() })
    }
}

/// The sheet as its dots bend it, and how well that fits.
fn laid(located: &Located, geometry: BallotGeometry, search: DotSearch) -> Result<(f64, BentSheet), String> {
    let sheet = BentSheet::new(geometry, located.to_picture, &search.dots())?;
    let targets = located.targets.iter().flatten().count() as f64;
    let fit = sheet.found * (0.6 + 0.1 * targets) - sheet.roughness_mm() - 0.02 * sheet.typical_bend_mm();
    Ok((fit, sheet))
}

/// A page while it is read.
pub struct PageReading {
    sheet: BentSheet,
    strips: Vec<Strip>,
    /// Scatter of the paper in each strip.
    noises: Vec<f32>,
}

impl PageReading {
    /// Rows of the page.
    pub fn rows(&self) -> usize {
        self.sheet.geometry.rows.len()
    }

    /// Whether every strip is cut.
    pub fn is_cut(&self) -> bool {
        self.strips.len() >= self.rows()
    }

    /// Cuts the next strip.
    pub fn step(&mut self, picture: &Picture) {
        let strip = Strip::of_row(picture, &self.sheet, self.strips.len());
        self.noises.push(noise_of(&strip));
        self.strips.push(strip);
    }

    /// Small pictures of all rows that are cut.
    pub fn small_strips(&self) -> Vec<SmallStrip> {
        self.strips.iter().map(|strip| SmallStrip::of(&strip.dark)).collect()
    }

    /// What an unmarked end looks like, and how dark ink is at least.
    pub fn background(&self) -> Background {
        let noise = median(&mut self.noises.clone());
        Background { tick: Tick::of(&self.strips), noise }
    }

    /// What one row holds.
    pub fn ink_of(&self, row: usize, background: &Background) -> RowInk {
        let limit = INK.max(INK_TO_NOISE * background.noise);
        RowInk::of(&self.strips[row], &background.tick, limit)
    }

    /// Judges all rows.
    pub fn judged(&self, rows: &[RowInk], background: &Background) -> Vec<RowReading> {
        let pen = Pen::of(rows, f64::from(background.noise));
        let lines = &self.sheet.geometry.rows;
        let pitch_mm =
            lines.windows(2).map(|two| two[1].line_left.y_mm - two[0].line_left.y_mm).fold(f64::MAX, f64::min);
        let shared = shared_strokes(rows, pitch_mm);
        let place = |row: usize| RowPlace {
            replaced: self.sheet.replaced[row],
            lost: self.sheet.lost[row],
            is_shared: shared[row],
        };
        rows.iter().enumerate().map(|(row, ink)| judge(ink, place(row), &pen)).collect()
    }
}

/// What a page looks like where nothing is marked.
pub struct Background {
    tick: Tick,
    noise: f32,
}

fn fit_of(tried: &Result<(f64, BentSheet), String>) -> f64 {
    tried.as_ref().map_or(f64::MIN, |(fit, _)| *fit)
}

/// Where code and upper left target lie beside the homography starts the rows.
fn start_of_rows(geometry: &BallotGeometry, side: usize, located: &Located, corners: [&Ring; 3]) -> Place {
    let off = |ring: &Ring, from: Place| minus(located.to_sheet.at(ring.place), from);
    let finders = finders_mm(geometry, side);
    let sum = corners.iter().zip(finders).fold((0.0, 0.0), |sum, (ring, from)| plus(sum, off(ring, from)));
    let mut start = times(1.0 / 3.0, sum);
    if let Some(target) = located.targets[0] {
        let off = minus(located.to_sheet.at(target), place(geometry.targets[0]));
        start = times(0.5, plus(start, off));
    }
    (start.0.clamp(-START_MM, START_MM), start.1.clamp(-START_MM, START_MM))
}
