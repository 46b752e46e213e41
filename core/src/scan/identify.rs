//! Which page of the plan a code says: its modules against those of every page that exists. It never guesses: a code
//! that is near none, or near two, is of no page.

use super::known_pages::KnownPages;
use super::landmarks::Ring;
use super::light::Light;
use super::locate::{Located, finders_mm, locate};
use super::picture::Picture;
use super::plane::{Affine, Place};
use super::square_code::text_of;
use crate::plan::ballot::geometry::{BallotGeometry, Paper};
use crate::plan::ballot::pages::CodeSquare;

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
    /// A page of the plan and which of its codes, by index.
    Page(usize, usize),
    /// The text of a readable code that no page of this plan bears; nothing where the text is none of a ballot's form.
    Other(Option<String>),
    /// Too little of it can be read.
    Unreadable,
}

/// One code of the plan, by page and number of the code on it.
type CodePlace = (usize, usize);

/// A code as one size and paper would have it.
struct Seen {
    side: usize,
    bits: Vec<bool>,
    nearest: Option<Nearest>,
}

/// The nearest code of one size.
struct Nearest {
    wrong: f64,
    next: f64,
    code: CodePlace,
    /// Share of the modules that all codes of the size have alike which are wrong.
    wrong_alike: f64,
}

/// Sides of the codes that a ballot may bear, of whatever plan.
const SIDES: [usize; 3] = [25, 29, 33];

/// Compares one code with all pages; one that is none of theirs is read, so that it can be said what it is.
pub fn identify(
    picture: &Picture,
    light: &Light,
    pages: &KnownPages,
    corners: [&Ring; 3],
    others: &[&Ring],
) -> Identity {
    let mut seen: Vec<Seen> = Vec::new();
    for side in sides_of(pages) {
        for paper in [Paper::A4, Paper::Letter] {
            let geometry = BallotGeometry::of_page(paper, 1, 10);
            let located = locate(&geometry, side, corners, others);
            let bits = located.and_then(|located| modules(picture, light, &geometry, side, &located, corners));
            seen.extend(bits.map(|bits| Seen { side, nearest: nearest(&bits, pages, side), bits }));
        }
    }
    known(&seen).unwrap_or_else(|| read(&seen))
}

fn sides_of(pages: &KnownPages) -> Vec<usize> {
    let known = pages.all().flat_map(|page| &page.codes).map(|code| code.square.modules_a_side);
    let mut sides: Vec<usize> = known.chain(SIDES).collect();
    sides.sort_unstable();
    sides.dedup();
    sides
}

/// The page whose code is near, where the next one is clearly farther: of each size the better paper counts.
fn known(seen: &[Seen]) -> Option<Identity> {
    let mut of_sizes: Vec<(usize, &Nearest)> = Vec::new();
    for (side, nearest) in seen.iter().filter_map(|seen| Some((seen.side, seen.nearest.as_ref()?))) {
        match of_sizes.iter_mut().find(|other| other.0 == side) {
            Some(other) if nearest.wrong < other.1.wrong => other.1 = nearest,
            Some(_) => (),
            None => of_sizes.push((side, nearest)),
        }
    }
    of_sizes.sort_by(|one, other| one.1.wrong.total_cmp(&other.1.wrong));
    let best = of_sizes.first()?.1;
    let next = of_sizes.get(1).map_or(best.next, |other| best.next.min(other.1.wrong));
    let is_taken = best.wrong <= MOST_WRONG && next - best.wrong >= NEXT_FARTHER;
    is_taken.then_some(Identity::Page(best.code.0, best.code.1))
}

/// What a code says that is no page of the plan: never taken as a page, only told.
fn read(seen: &[Seen]) -> Identity {
    if let Some(text) = seen.iter().find_map(|seen| text_of(&seen.bits, seen.side)) {
        return Identity::Other(Some(text));
    }
    let is_clear = |seen: &Seen| seen.nearest.as_ref().is_some_and(|nearest| nearest.wrong_alike <= CLEAR);
    if seen.iter().any(is_clear) { Identity::Other(None) } else { Identity::Unreadable }
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
    let codes = pages.all().enumerate().flat_map(|(page, known)| {
        known.codes.iter().enumerate().map(move |(place, code)| ((page, place), &code.square))
    });
    let wrong_in = |square: &CodeSquare| square.dark.iter().zip(bits).filter(|(one, other)| one != other).count();
    let mut distances: Vec<(usize, CodePlace)> = codes
        .filter(|(_, square)| square.modules_a_side == side)
        .map(|(place, square)| (wrong_in(square), place))
        .collect();
    distances.sort_unstable();
    let (wrong, code) = *distances.first()?;
    let alike = fixed_modules(side);
    let first = &pages.page(code.0).codes[code.1].square;
    let wrong_alike = alike.iter().filter(|index| first.dark[**index] != bits[**index]).count() as f64;
    let share = |wrong: usize| wrong as f64 / bits.len() as f64;
    Some(Nearest {
        wrong: share(wrong),
        next: distances.get(1).map_or(1.0, |next| share(next.0)),
        code,
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
