//! Rings with a disc in the middle: the corner targets of a ballot, and the corners of its square code. It knows where
//! they are, and nothing of pages.

use super::plane::{Place, distance};
use super::shapes::{MeasuredShapes, Shape};

/// One ring with a blob in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ring {
    /// In pixels of the picture.
    pub place: Place,
    /// Mean of width and height, in pixels of the picture.
    pub size_px: f64,
    /// It looks like a corner of a square code and not like a target.
    pub is_finder: bool,
}

/// Three rings that may be the corners of one code: the one at the right angle, the one to its right, the one below it.
pub type Triple = [usize; 3];

const SIZES_PX: std::ops::RangeInclusive<u32> = 13..=130;

/// All rings; `factor` is pixels of the picture a pixel of the copy.
pub fn rings(shapes: &MeasuredShapes, factor: f64) -> Vec<Ring> {
    (0..shapes.shapes.len()).filter_map(|index| ring(shapes, index, factor)).collect()
}

fn ring(shapes: &MeasuredShapes, index: usize, factor: f64) -> Option<Ring> {
    let outer = &shapes.shapes[index];
    let (width, height) = (f64::from(outer.width), f64::from(outer.height));
    let fill = f64::from(outer.area) / (width * height);
    let fits = SIZES_PX.contains(&outer.width) && SIZES_PX.contains(&outer.height);
    if !fits || !(0.5..2.0).contains(&(width / height)) || !(0.2..0.68).contains(&fill) {
        return None;
    }
    let middle = (f64::from(outer.x) + (width - 1.0) / 2.0, f64::from(outer.y) + (height - 1.0) / 2.0);
    let inside = shapes.shape_at((middle.0 + 0.5) as u32, (middle.1 + 0.5) as u32).filter(|inside| *inside != index)?;
    let inner = &shapes.shapes[inside];
    let share = (f64::from(inner.width) / width + f64::from(inner.height) / height) / 2.0;
    let off = ((inner.centre.0 - middle.0).abs() / width).max((inner.centre.1 - middle.1).abs() / height);
    if !(0.22..0.62).contains(&share) || off > 0.14 {
        return None;
    }
    // A slanted finder has light corners too: how full it is and the size of its blob decide then.
    let inner_fill = f64::from(inner.area) / (f64::from(inner.width) * f64::from(inner.height));
    let signs = [fill > 0.435, share > 0.39, inner_fill > 0.86].iter().filter(|sign| **sign).count();
    let corners = 2 * usize::from(dark_corners(shapes, index, outer) > 0.15);
    let in_picture = |at: f64| at * factor + (factor - 1.0) / 2.0;
    Some(Ring {
        place: (in_picture(inner.centre.0), in_picture(inner.centre.1)),
        size_px: (width + height) / 2.0 * factor,
        is_finder: signs + corners >= 2,
    })
}

/// How much of the four corners of its box a shape fills: much for a square, nothing for a circle.
fn dark_corners(shapes: &MeasuredShapes, index: usize, shape: &Shape) -> f64 {
    let side = ((f64::from(shape.width.min(shape.height)) * 0.12) as u32).max(1);
    let (right, below) = (shape.x + shape.width, shape.y + shape.height);
    let ends = |low: u32, high: u32| [(low, low + side), (high - side, high)];
    let columns = ends(shape.x, right);
    let dark: u32 = ends(shape.y, below)
        .iter()
        .flat_map(|lines| columns.iter().map(|columns| shapes.pixels_in(index, *columns, *lines)))
        .sum();
    f64::from(dark) / f64::from(4 * side * side)
}

/// Triples of the given rings that make the right angle of a code, the best first, no ring in two of them.
pub fn triples(rings: &[Ring], among: &[usize]) -> Vec<Triple> {
    let mut found: Vec<(f64, Triple)> = Vec::new();
    for corner in among {
        for right in among.iter().filter(|right| *right != corner) {
            for below in among.iter().filter(|below| *below != corner && *below != right) {
                let triple = [*corner, *right, *below];
                found.extend(how_askew(triple.map(|index| &rings[index])).map(|cost| (cost, triple)));
            }
        }
    }
    found.sort_by(|one, other| one.0.total_cmp(&other.0));
    let mut kept: Vec<Triple> = Vec::new();
    for (_, triple) in found {
        if !triple.iter().any(|ring| kept.iter().flatten().any(|used| used == ring)) {
            kept.push(triple);
        }
    }
    kept
}

/// How far three rings are from two equal legs with a right angle; nothing where they can't be a code.
fn how_askew([corner, right, below]: [&Ring; 3]) -> Option<f64> {
    let leg = |to: &Ring| (to.place.0 - corner.place.0, to.place.1 - corner.place.1);
    let (u, v) = (leg(right), leg(below));
    let (along, down) = (distance(right.place, corner.place), distance(below.place, corner.place));
    let mean_size = (corner.size_px + right.size_px + below.size_px) / 3.0;
    let sizes = [corner.size_px, right.size_px, below.size_px];
    let (least, most) = sizes.iter().fold((f64::MAX, 0.0_f64), |(low, high), size| (low.min(*size), high.max(*size)));
    let is_mirrored = u.0 * v.1 - u.1 * v.0 <= 0.0;
    let cosine = (u.0 * v.0 + u.1 * v.1).abs() / (along * down).max(1e-9);
    let legs_fit = (0.6..1.67).contains(&(along / down)) && (1.9..5.5).contains(&((along + down) / 2.0 / mean_size));
    if is_mirrored || cosine > 0.45 || !legs_fit || most / least > 1.5 {
        return None;
    }
    Some(cosine + libm::log(along / down).abs())
}
