//! Maps of one plane to another, fitted to pairs of places, and the small systems of equations behind them. It knows
//! nothing of pictures or pages.

/// A place: x to the right, y down.
pub type Place = (f64, f64);

/// A map that keeps parallels parallel: x' = a x + b y + c.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Affine {
    x: [f64; 3],
    y: [f64; 3],
}

/// A map that keeps lines straight, as a camera without a lens error sees a flat sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Homography {
    terms: [f64; 9],
}

pub fn distance(one: Place, other: Place) -> f64 {
    ((one.0 - other.0).powi(2) + (one.1 - other.1).powi(2)).sqrt()
}

/// Solves a system by elimination with the largest pivot; nothing where it has no single solution.
pub fn solve<const N: usize>(mut a: [[f64; N]; N], mut b: [f64; N]) -> Option<[f64; N]> {
    for column in 0..N {
        let pivot = (column..N).max_by(|i, j| a[*i][column].abs().total_cmp(&a[*j][column].abs()))?;
        if a[pivot][column].abs() < 1e-12 {
            return None;
        }
        a.swap(column, pivot);
        b.swap(column, pivot);
        for row in column + 1..N {
            let factor = a[row][column] / a[column][column];
            let above = a[column];
            a[row].iter_mut().zip(above).skip(column).for_each(|(cell, over)| *cell -= factor * over);
            b[row] -= factor * b[column];
        }
    }
    let mut found = [0.0; N];
    for row in (0..N).rev() {
        let known: f64 = (row + 1..N).map(|column| a[row][column] * found[column]).sum();
        found[row] = (b[row] - known) / a[row][row];
    }
    Some(found)
}

/// Least squares of rows `coefficients . unknowns = value`, by the normal equations.
pub fn least_squares<const N: usize>(rows: impl Iterator<Item = ([f64; N], f64)>) -> Option<[f64; N]> {
    let (mut a, mut b) = ([[0.0; N]; N], [0.0; N]);
    for (row, value) in rows {
        for i in 0..N {
            b[i] += row[i] * value;
            (0..N).for_each(|j| a[i][j] += row[i] * row[j]);
        }
    }
    solve(a, b)
}

impl Affine {
    /// The best map of pairs (from, to); nothing for fewer than three that span a plane.
    pub fn fit(pairs: &[(Place, Place)]) -> Option<Self> {
        let axis =
            |of: fn(Place) -> f64| least_squares(pairs.iter().map(move |(from, to)| ([from.0, from.1, 1.0], of(*to))));
        Some(Affine { x: axis(|place| place.0)?, y: axis(|place| place.1)? })
    }

    pub fn at(&self, place: Place) -> Place {
        let along = |terms: &[f64; 3]| terms[0] * place.0 + terms[1] * place.1 + terms[2];
        (along(&self.x), along(&self.y))
    }

    /// The same map among those that a camera can make.
    pub fn as_homography(&self) -> Homography {
        let (x, y) = (self.x, self.y);
        Homography { terms: [x[0], x[1], x[2], y[0], y[1], y[2], 0.0, 0.0, 1.0] }
    }
}

impl Homography {
    /// The best map of four pairs (from, to) or more; nothing where they don't settle one.
    pub fn fit(pairs: &[(Place, Place)]) -> Option<Self> {
        if pairs.len() < 4 {
            return None;
        }
        let (from, to) = (Spread::of(pairs.iter().map(|pair| pair.0)), Spread::of(pairs.iter().map(|pair| pair.1)));
        let rows = pairs.iter().flat_map(|pair| {
            let ((x, y), (u, v)) = (from.even(pair.0), to.even(pair.1));
            [([x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y], u), ([0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y], v)]
        });
        let h = least_squares::<8>(rows)?;
        let even = Homography { terms: [h[0], h[1], h[2], h[3], h[4], h[5], h[6], h[7], 1.0] };
        Some(to.uneven().after(&even).after(&from.evening()))
    }

    pub fn at(&self, place: Place) -> Place {
        let h = &self.terms;
        let w = h[6] * place.0 + h[7] * place.1 + h[8];
        ((h[0] * place.0 + h[1] * place.1 + h[2]) / w, (h[3] * place.0 + h[4] * place.1 + h[5]) / w)
    }

    /// The map back.
    pub fn inverse(&self) -> Option<Homography> {
        let h = &self.terms;
        let minor = |a: usize, b: usize, c: usize, d: usize| h[a] * h[d] - h[b] * h[c];
        let determinant = h[0] * minor(4, 5, 7, 8) - h[1] * minor(3, 5, 6, 8) + h[2] * minor(3, 4, 6, 7);
        let terms = [
            minor(4, 5, 7, 8),
            minor(2, 1, 8, 7),
            minor(1, 2, 4, 5),
            minor(5, 3, 8, 6),
            minor(0, 2, 6, 8),
            minor(2, 0, 5, 3),
            minor(3, 4, 6, 7),
            minor(1, 0, 7, 6),
            minor(0, 1, 3, 4),
        ];
        (determinant.abs() > 1e-12).then(|| Homography { terms: terms.map(|term| term / determinant) })
    }

    /// First `other`, then this.
    fn after(&self, other: &Homography) -> Homography {
        let mut terms = [0.0; 9];
        for (place, term) in terms.iter_mut().enumerate() {
            let (row, column) = (place / 3, place % 3);
            *term = (0..3).map(|k| self.terms[row * 3 + k] * other.terms[k * 3 + column]).sum();
        }
        Homography { terms }
    }
}

/// Centre and spread of places: equations in places that are spread evenly about 0 are well conditioned (Hartley 1997,
/// "In defense of the eight-point algorithm").
struct Spread {
    centre: Place,
    size: f64,
}

impl Spread {
    fn of(places: impl Iterator<Item = Place> + Clone) -> Self {
        let count = places.clone().count() as f64;
        let sum = places.clone().fold((0.0, 0.0), |sum, place| (sum.0 + place.0, sum.1 + place.1));
        let centre = (sum.0 / count, sum.1 / count);
        let size = places.map(|place| distance(place, centre)).sum::<f64>() / count;
        Spread { centre, size: size.max(1e-9) }
    }

    fn even(&self, place: Place) -> Place {
        ((place.0 - self.centre.0) / self.size, (place.1 - self.centre.1) / self.size)
    }

    fn evening(&self) -> Homography {
        let (s, c) = (1.0 / self.size, self.centre);
        Homography { terms: [s, 0.0, -c.0 * s, 0.0, s, -c.1 * s, 0.0, 0.0, 1.0] }
    }

    fn uneven(&self) -> Homography {
        let (s, c) = (self.size, self.centre);
        Homography { terms: [s, 0.0, c.0, 0.0, s, c.1, 0.0, 0.0, 1.0] }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_known_map_is_found_and_leads_back() {
        // A map written down here; what it makes of five places is what the fit is given.
        let known = Homography { terms: [9.0, 0.7, 120.0, -0.4, 11.0, 80.0, 0.0006, -0.0002, 1.0] };
        let places = [(16.0, 16.0), (194.0, 16.0), (16.0, 281.0), (194.0, 281.0), (100.0, 90.0)];
        let pairs: Vec<(Place, Place)> = places.iter().map(|place| (*place, known.at(*place))).collect();
        let found = Homography::fit(&pairs).expect("five places settle a map");
        let back = found.inverse().expect("the map has a way back");
        for (place, there) in &pairs {
            assert!(distance(found.at(*place), *there) < 1e-6);
            assert!(distance(back.at(*there), *place) < 1e-6);
        }
        assert_eq!(Homography::fit(&pairs[..3]), None);
        assert_eq!(Affine::fit(&[((0.0, 0.0), (1.0, 1.0)), ((1.0, 1.0), (2.0, 2.0)), ((2.0, 2.0), (3.0, 3.0))]), None);
    }
}
