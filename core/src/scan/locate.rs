//! From the corners of a code and the targets around it to a map from the sheet, in mm, to the picture, in pixels. It
//! knows nothing of which page it is.

use super::landmarks::Ring;
use super::plane::{Affine, Homography, Place, distance};
use crate::plan::ballot::geometry::{BallotGeometry, PointMm, TARGET_RADIUS_MM};

/// Where a sheet lies in the picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Located {
    /// Sheet in mm to picture in pixels.
    pub to_picture: Homography,
    pub to_sheet: Homography,
    /// Places of the targets in the picture: upper left, upper right, lower left, lower right.
    pub targets: [Option<Place>; 4],
}

/// How far beside its expected place a target is looked for, in mm: beside the code, and at the upper left.
const NEAR_CODE_MM: f64 = 5.0;
const UPPER_LEFT_MM: f64 = 30.0;
/// The same for the two at the foot, whose place the code alone tells poorly.
const AT_FOOT_MM: f64 = 140.0;
/// What a target that isn't taken costs against the misfit of those that are, in mm; and the most misfit.
const MISSING_COSTS_MM: f64 = 8.0;
const MOST_MISFIT_MM: f64 = 20.0;

pub fn place(point: PointMm) -> Place {
    (point.x_mm, point.y_mm)
}

/// Where the three corners of a code of so many modules lie on the sheet.
pub fn finders_mm(geometry: &BallotGeometry, side: usize) -> [Place; 3] {
    let (x, y) = place(geometry.code_corner);
    let near = 3.5 * geometry.code_side_mm / side as f64;
    let far = geometry.code_side_mm - near;
    [(x + near, y + near), (x + far, y + near), (x + near, y + far)]
}

/// Lays a sheet over the picture by the corners of its code and the targets among other rings.
pub fn locate(geometry: &BallotGeometry, side: usize, corners: [&Ring; 3], others: &[&Ring]) -> Option<Located> {
    let finders = finders_mm(geometry, side);
    let mut search = Search {
        geometry,
        pairs: finders.iter().zip(corners).map(|(from, ring)| (*from, ring.place)).collect(),
        px_per_mm: distance(corners[1].place, corners[0].place) / (finders[1].0 - finders[0].0),
        left: others.to_vec(),
        targets: [None; 4],
    };
    search.take_nearest(1, NEAR_CODE_MM)?;
    search.take_nearest(0, UPPER_LEFT_MM)?;
    let affine = Affine::fit(&search.pairs)?;
    let to_picture = search.with_foot(&affine).unwrap_or_else(|| affine.as_homography());
    Some(Located { to_picture, to_sheet: to_picture.inverse()?, targets: search.targets })
}

struct Search<'a> {
    geometry: &'a BallotGeometry,
    pairs: Vec<(Place, Place)>,
    px_per_mm: f64,
    left: Vec<&'a Ring>,
    targets: [Option<Place>; 4],
}

impl Search<'_> {
    /// A ring's size as a share of what a target would have here.
    fn size_share(&self, ring: &Ring) -> f64 {
        ring.size_px / (2.0 * TARGET_RADIUS_MM * self.px_per_mm)
    }

    /// Takes the ring next to where a target should be. Nothing where the places so far span no plane.
    fn take_nearest(&mut self, target: usize, reach_mm: f64) -> Option<()> {
        let from = place(self.geometry.targets[target]);
        let expected = Affine::fit(&self.pairs)?.at(from);
        let fits = |ring: &&Ring| (0.5..1.8).contains(&self.size_share(ring));
        let near = self.left.iter().enumerate().filter(|(_, ring)| fits(ring));
        let near = near.map(|(index, ring)| (distance(ring.place, expected), index));
        if let Some((off, index)) = near.min_by(|one, other| one.0.total_cmp(&other.0))
            && off < reach_mm * self.px_per_mm
        {
            let ring = self.left.remove(index);
            self.pairs.push((from, ring.place));
            self.targets[target] = Some(ring.place);
        }
        Some(())
    }

    /// The two targets at the foot: the pair that one plane explains best.
    fn with_foot(&mut self, affine: &Affine) -> Option<Homography> {
        let near = |target: usize| -> Vec<Option<Place>> {
            let expected = affine.at(place(self.geometry.targets[target]));
            let fits = |ring: &&&Ring| {
                distance(ring.place, expected) < AT_FOOT_MM * self.px_per_mm
                    && (0.4..2.0).contains(&self.size_share(ring))
            };
            self.left.iter().filter(fits).map(|ring| Some(ring.place)).chain([None]).collect()
        };
        let (lefts, rights) = (near(2), near(3));
        let mut best: Option<(f64, Homography, [Option<Place>; 2])> = None;
        for pair in lefts.iter().flat_map(|left| rights.iter().map(move |right| [*left, *right])) {
            if let Some((cost, map)) = self.cost_of_foot(pair)
                && best.as_ref().is_none_or(|best| cost < best.0)
            {
                best = Some((cost, map, pair));
            }
        }
        let (_, map, pair) = best?;
        self.targets[2..].copy_from_slice(&pair);
        Some(map)
    }

    fn cost_of_foot(&self, pair: [Option<Place>; 2]) -> Option<(f64, Homography)> {
        let found = pair.iter().flatten().count();
        if found == 0 || pair[0] == pair[1] {
            return None;
        }
        let mut pairs = self.pairs.clone();
        let foot = self.geometry.targets[2..].iter().zip(pair);
        pairs.extend(foot.filter_map(|(target, there)| Some((place(*target), there?))));
        if pairs.len() < 5 {
            return None;
        }
        let map = Homography::fit(&pairs)?;
        let back = map.inverse()?;
        let misfit = |(from, to): &(Place, Place)| {
            let there = back.at(*to);
            (there.0 - from.0).abs().max((there.1 - from.1).abs())
        };
        let worst = pairs.iter().map(misfit).fold(0.0, f64::max);
        (worst < MOST_MISFIT_MM).then(|| (worst + (2 - found) as f64 * MISSING_COSTS_MM, map))
    }
}
