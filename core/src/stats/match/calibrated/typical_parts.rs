//! Arithmetic of the bound of the typical difference, from the size and the directions of the noise. Numbers only.

use super::f_quantile::f_quantile_lower;
use crate::numeric::tails::t_quantile_upper;

/// Size and directions of the noise of the means.
#[derive(Clone, Copy, Debug)]
pub(super) struct Noise {
    pub attributes: f64,
    /// Degrees of freedom: assessors - 1, on the average over attributes.
    pub df: f64,
    /// Sum of the squared standard errors.
    pub total: f64,
    /// Sum of the squared eigenvalues of the noise as observed.
    pub squares: f64,
    /// Largest and second eigenvalue as observed.
    pub first: f64,
    pub second: f64,
    /// Length of the means along the first direction of the noise.
    pub along_first: f64,
}

/// How a bound came about: lengths and squared lengths over all attributes together, not divided by their number.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoundParts {
    /// Squared length of the means.
    pub squared_length: f64,
    /// Sum of squared standard errors, which is the noise in it.
    pub noise: f64,
    /// Sum of squared eigenvalues of the noise: observed, and with the scatter of few assessors taken off.
    pub noise_squares: f64,
    pub noise_squares_reduced: f64,
    /// The two largest eigenvalues observed.
    pub first: f64,
    pub second: f64,
    /// The largest one, reduced.
    pub largest: f64,
    /// Quantile of Student's t, and its degrees of freedom.
    pub t: f64,
    pub df: f64,
    /// Noise outside the largest direction: degrees of freedom, lower end, and the length of the means without it.
    pub rest_df: f64,
    pub rest_lower_end: f64,
    pub length: f64,
    /// Length along the first direction and its upper bound.
    pub along_first: f64,
    pub along_first_bound: f64,
    /// The same figures in the directions left.
    pub other: OtherDirections,
    /// Upper bound of the length in one piece, and by the first direction and the others apart.
    pub whole: f64,
    pub split: f64,
}

/// What the directions other than the first of the noise give.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct OtherDirections {
    pub noise: f64,
    pub noise_squares: f64,
    pub largest: f64,
    pub rest_df: f64,
    pub rest_lower_end: f64,
    pub length: f64,
    pub bound: f64,
}

/// A length with its noise taken off, and its upper bound.
struct Length {
    rest_df: f64,
    rest_lower_end: f64,
    length: f64,
    bound: f64,
}

/// A squared length seen and the noise in it.
struct Seen {
    squared_length: f64,
    noise: f64,
    noise_squares: f64,
    largest: f64,
    dimensions: f64,
}

impl Noise {
    /// Upper 1 - `alpha` bound of the true length; `None` where a quantile has no value.
    pub fn bound(&self, squared_length: f64, alpha: f64) -> Option<BoundParts> {
        let t = t_quantile_upper(alpha, self.df)?;
        let noise_squares_reduced = self.squares_reduced();
        let largest = self.largest(noise_squares_reduced);
        let seen = Seen {
            squared_length,
            noise: self.total,
            noise_squares: noise_squares_reduced,
            largest,
            dimensions: self.attributes,
        };
        let in_one = self.length(&seen, t, alpha)?;
        let along_first_bound = self.along_first + t * self.first.sqrt();
        let other = self.other_directions(&seen, t, alpha)?;
        let split = joined(self.along_first, along_first_bound, other.length, other.bound);
        Some(BoundParts {
            squared_length,
            noise: self.total,
            noise_squares: self.squares,
            noise_squares_reduced,
            first: self.first,
            second: self.second,
            largest,
            t,
            df: self.df,
            rest_df: in_one.rest_df,
            rest_lower_end: in_one.rest_lower_end,
            length: in_one.length,
            along_first: self.along_first,
            along_first_bound,
            other,
            whole: in_one.bound,
            split: if self.attributes > 1.0 { split } else { in_one.bound },
        })
    }

    /// Sum of squared eigenvalues without what few assessors add to it; between its least and its observed value.
    fn squares_reduced(&self) -> f64 {
        let (df, least) = (self.df, self.total * self.total / self.attributes);
        let reduced = df * df / ((df - 1.0) * (df + 2.0)) * (self.squares - self.total * self.total / df);
        // At one degree of freedom there is nothing to reduce by.
        if df > 1.0 { reduced.max(least).min(self.squares) } else { self.squares }
    }

    /// The largest eigenvalue without what few assessors add to it.
    fn largest(&self, squares: f64) -> f64 {
        let rest = self.total - self.first;
        let reduced = if self.df > 1.0 { self.first - rest / (self.df - 1.0) } else { self.first };
        self.first.min(reduced.max(squares / self.total))
    }

    fn length(&self, seen: &Seen, t: f64, alpha: f64) -> Option<Length> {
        let rest = (seen.noise - seen.largest).max(0.0);
        let (mut rest_df, mut rest_lower_end) = (1.0, rest);
        if seen.dimensions > 1.0 && rest > 0.0 {
            let squares = seen.noise_squares - seen.largest * seen.largest;
            rest_df = rest * rest / squares.max(rest * rest / (seen.dimensions - 1.0));
            rest_df = rest_df.max(1.0).min(self.attributes);
            rest_lower_end = rest * f_quantile_lower(alpha, rest_df, rest_df * self.df)?;
        }
        let length = (seen.squared_length - rest).max(0.0).sqrt();
        let stretch = (seen.squared_length - rest_lower_end).max(0.0).sqrt() - length;
        let bound = length + (t * t * seen.largest + stretch * stretch).sqrt();
        Some(Length { rest_df, rest_lower_end, length, bound })
    }

    fn other_directions(&self, all: &Seen, t: f64, alpha: f64) -> Option<OtherDirections> {
        if self.attributes <= 1.0 {
            return Some(OtherDirections { rest_df: 1.0, ..OtherDirections::default() });
        }
        let dimensions = self.attributes - 1.0;
        let noise = (self.total - self.first).max(0.0);
        let noise_squares = (all.noise_squares - all.largest * all.largest).max(noise * noise / dimensions);
        let floor = if noise > 0.0 { noise_squares / noise } else { 0.0 };
        let reduced = self.second - (noise - self.second) / (self.df - 2.0).max(1.0);
        let largest = self.second.min(reduced.max(floor).max(0.0));
        let squared_length = (all.squared_length - self.along_first * self.along_first).max(0.0);
        let seen = Seen { squared_length, noise, noise_squares, largest, dimensions };
        let Length { rest_df, rest_lower_end, length, bound } = self.length(&seen, t, alpha)?;
        Some(OtherDirections { noise, noise_squares, largest, rest_df, rest_lower_end, length, bound })
    }
}

/// Upper bound of the length of two perpendicular parts, from each part's length and bound.
fn joined(one: f64, one_bound: f64, other: f64, other_bound: f64) -> f64 {
    let excess = (one_bound * one_bound - one * one).hypot(other_bound * other_bound - other * other);
    (one * one + other * other + excess).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn noise_that_is_the_same_in_all_directions_has_a_largest_one_of_its_mean_size() {
        // Four directions of size 1 each: reduced, the first would come out at 1 - 3 / 19; the floor holds it at 1.
        let noise =
            Noise { attributes: 4.0, df: 20.0, total: 4.0, squares: 4.0, first: 1.0, second: 1.0, along_first: 0.0 };
        let parts = noise.bound(0.0, 0.05).unwrap();
        assert!((parts.largest - 1.0).abs() < 1e-15 && (parts.noise_squares_reduced - 4.0).abs() < 1e-15);
        assert!((parts.rest_df - 3.0).abs() < 1e-15 && (parts.other.largest - 1.0).abs() < 1e-15);
        // No means at all: the bound is what the largest direction alone could hide.
        assert!((parts.whole - parts.t).abs() < 1e-15, "{parts:?}");
    }
}
