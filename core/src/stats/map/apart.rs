//! Whether two ellipses of the map touch. Geometry alone: it claims nothing about samples.

use super::ellipses::Ellipse;

/// Places between 0 and 1 at which the separating function is looked at.
const PLACES: u32 = 200;

/// Whether two ellipses have a point in common: they have none exactly where, for some s between 0 and 1,
/// d' (A / (1 - s) + B / s)^-1 d is above 1, with d from centre to centre and A, B the matrices whose ellipses they are
/// (Gilitschenski & Hanebeck 2012, 15th International Conference on Information Fusion).
pub fn overlap(a: &Ellipse, b: &Ellipse) -> bool {
    let (dx, dy) = (b.centre_x - a.centre_x, b.centre_y - a.centre_y);
    let (first, second) = (matrix(a), matrix(b));
    let is_apart = |place: u32| {
        let s = f64::from(place) / f64::from(PLACES);
        let part = |at: usize| first[at] / (1.0 - s) + second[at] / s;
        let (xx, xy, yy) = (part(0), part(1), part(2));
        let determinant = xx * yy - xy * xy;
        (yy * dx * dx - 2.0 * xy * dx * dy + xx * dy * dy) / determinant > 1.0
    };
    !(1..PLACES).any(is_apart)
}

/// xx, xy and yy of the matrix M of the ellipse x' M^-1 x = 1.
fn matrix(one: &Ellipse) -> [f64; 3] {
    let (sine, cosine) = (libm::sin(one.angle_radians), libm::cos(one.angle_radians));
    let (long, wide) = (one.half_length * one.half_length, one.half_width * one.half_width);
    [
        long * cosine * cosine + wide * sine * sine,
        (long - wide) * sine * cosine,
        long * sine * sine + wide * cosine * cosine,
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ellipse(centre_x: f64, half_length: f64, half_width: f64, angle_radians: f64) -> Ellipse {
        Ellipse { centre_x, centre_y: 0.0, half_length, half_width, angle_radians }
    }

    /// By hand: circles touch where their radii add up to the way between centres; a long ellipse reaches as far as it lies.
    #[test]
    fn ellipses_touch_where_geometry_says() {
        let one = ellipse(0.0, 1.0, 1.0, 0.0);
        assert!(overlap(&one, &ellipse(1.9, 1.0, 1.0, 0.3)));
        assert!(!overlap(&one, &ellipse(2.1, 1.0, 1.0, 0.3)));
        assert!(overlap(&one, &ellipse(3.9, 3.0, 0.5, 0.0)));
        assert!(!overlap(&one, &ellipse(3.9, 3.0, 0.5, std::f64::consts::FRAC_PI_2)));
        assert!(overlap(&one, &ellipse(0.1, 0.2, 0.1, 1.0)), "one inside the other");
    }
}
