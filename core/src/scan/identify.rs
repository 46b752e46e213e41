//! Which page of the plan a code says: its modules against those of every page that exists. It never guesses: a code
//! that is near none, or near two, is of no page.

use super::known_pages::{KnownPage, KnownPages};
use super::landmarks::Ring;
use super::light::Light;
use super::locate::{Located, finders_mm, locate};
use super::picture::Picture;
use super::plane::{Affine, Place};
use crate::plan::ballot::geometry::{BallotGeometry, Paper};

/// A page is taken at this share of wrong modules at most, and when the next one is so much farther. On the sketch's
/// generated pages right ones were at .005 at most and the next at .144 at least.
const MOST_WRONG: f64 = 0.16;
const NEXT_FARTHER: f64 = 0.06;
/// Modules that every code of a size has alike may be wrong by this share where a code is clearly readable.
const CLEAR: f64 = 0.04;
/// Modules are light or dark against the mean of this many around them, each way.
const AROUND: usize = 4;

/// What a code says.
#[derive(Clone, Debug, PartialEq)]
pub enum Identity {
    /// Index of the page.
    Page(usize),
    /// Readable, and of no page that this plan prints.
    OtherPage,
    /// Too little of it can be read.
    Unreadable,
}

/// The nearest page of one size of codes.
struct Nearest {
    wrong: f64,
    next: f64,
    page: usize,
    /// Share of the modules that all codes of the size have alike which are wrong.
    wrong_alike: f64,
}

/// Compares one code with all pages.
pub fn identify(
    picture: &Picture,
    light: &Light,
    pages: &KnownPages,
    corners: [&Ring; 3],
    others: &[&Ring],
) -> Identity {
    let mut sides: Vec<usize> = pages.pages.iter().map(|page| page.side).collect();
    sides.sort_unstable();
    sides.dedup();
    let mut found: Vec<Nearest> = Vec::new();
    for side in sides {
        let of_paper = [Paper::A4, Paper::Letter].into_iter().filter_map(|paper| {
            let geometry = BallotGeometry::of_page(paper, 1, 10);
            let located = locate(&geometry, side, corners, others)?;
            let bits = modules(picture, light, &geometry, side, &located, corners)?;
            nearest(&bits, pages, side)
        });
        found.extend(of_paper.min_by(|one, other| one.wrong.total_cmp(&other.wrong)));
    }
    found.sort_by(|one, other| one.wrong.total_cmp(&other.wrong));
    let Some(best) = found.first() else { return Identity::Unreadable };
    let next = found.get(1).map_or(best.next, |other| best.next.min(other.wrong));
    if best.wrong <= MOST_WRONG && next - best.wrong >= NEXT_FARTHER {
        return Identity::Page(best.page);
    }
    if best.wrong_alike <= CLEAR { Identity::OtherPage } else { Identity::Unreadable }
}

/// The modules as the picture shows them, true for dark.
fn modules(
    picture: &Picture,
    light: &Light,
    geometry: &BallotGeometry,
    side: usize,
    located: &Located,
    corners: [&Ring; 3],
) -> Option<Vec<bool>> {
    let seen = corners.map(|ring| located.to_sheet.at(ring.place));
    let pairs: Vec<(Place, Place)> = finders_mm(geometry, side).into_iter().zip(seen).collect();
    let mend = Affine::fit(&pairs)?;
    let module = geometry.code_side_mm / side as f64;
    let value = |column: usize, row: usize| -> f32 {
        let around = [(0.0, 0.0), (-0.2, 0.0), (0.2, 0.0), (0.0, -0.2), (0.0, 0.2)];
        let one = |(x, y): (f64, f64)| {
            let on_sheet = (
                geometry.code_corner.x_mm + (column as f64 + 0.5 + x) * module,
                geometry.code_corner.y_mm + (row as f64 + 0.5 + y) * module,
            );
            let there = located.to_picture.at(mend.at(on_sheet));
            light.flat(picture, there.0 as f32, there.1 as f32)
        };
        around.into_iter().map(one).sum()
    };
    let values: Vec<f32> = (0..side * side).map(|index| value(index % side, index / side)).collect();
    Some((0..side * side).map(|index| values[index] < mean_around(&values, side, index % side, index / side)).collect())
}

fn mean_around(values: &[f32], side: usize, column: usize, row: usize) -> f32 {
    let near = |at: usize| at.saturating_sub(AROUND)..(at + AROUND + 1).min(side);
    let lines = near(row).map(|row| &values[row * side..][near(column)]);
    let (sum, count) = lines.fold((0.0, 0), |(sum, count), line| (sum + line.iter().sum::<f32>(), count + line.len()));
    sum / count.max(1) as f32
}

fn nearest(bits: &[bool], pages: &KnownPages, side: usize) -> Option<Nearest> {
    let of_size = || pages.pages.iter().enumerate().filter(|(_, page)| page.side == side);
    let wrong_in = |page: &KnownPage| page.dark.iter().zip(bits).filter(|(one, other)| one != other).count() as f64;
    let mut distances: Vec<(f64, usize)> =
        of_size().map(|(index, page)| (wrong_in(page) / bits.len() as f64, index)).collect();
    distances.sort_by(|one, other| one.0.total_cmp(&other.0));
    let (wrong, page) = *distances.first()?;
    let alike = fixed_modules(side);
    let first = &pages.pages[page];
    let wrong_alike = alike.iter().filter(|index| first.dark[**index] != bits[**index]).count() as f64;
    Some(Nearest {
        wrong,
        next: distances.get(1).map_or(1.0, |next| next.0),
        page,
        wrong_alike: wrong_alike / alike.len() as f64,
    })
}

/// Modules that every code of a size has alike: the three corners with their white edge, and the two dotted lines
/// between them (ISO/IEC 18004, finder and timing patterns).
fn fixed_modules(side: usize) -> Vec<usize> {
    let is_fixed = |column: usize, row: usize| {
        let in_corner = |x: usize, y: usize| x < 8 && y < 8;
        in_corner(column, row)
            || in_corner(side - 1 - column, row)
            || in_corner(column, side - 1 - row)
            || column == 6
            || row == 6
    };
    (0..side * side).filter(|index| is_fixed(index % side, index / side)).collect()
}
