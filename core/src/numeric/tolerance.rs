//! How far two numbers may lie apart and still count as one, and how little counts as nothing: one name and one reason
//! for each. Steps at which one search stops stand beside that search.

/// Absolute: numbers as typed, printed or stated (scores, ends of scales, alpha) that lie closer are the same number.
/// Nobody types nine decimals, and reading a decimal number errs by far less.
pub const SAME_NUMBER: f64 = 1e-9;

/// Relative: what sums and products of some thousand numbers of one size may lose by rounding. A spread or a share below
/// this is none.
pub const ROUNDING: f64 = 1e-12;

/// The same of sums of squares.
pub const ROUNDING_OF_SQUARES: f64 = 1e-24;

/// Relative: what is left of a quantity after subtracting what explains all of it. Few subtractions, so closer to the
/// machine's own error than `ROUNDING`.
pub const NOTHING_LEFT: f64 = 1e-13;

/// Relative: two statistics of rearranged data that lie closer are tied. Sums that are updated step by step drift more
/// than sums that are formed once.
pub const TIE: f64 = 1e-9;

/// Relative to the squares of single deviations: means whose squares add up to less do not differ. The root of it is a
/// hundred times `ROUNDING`, because the deviations are means of differences themselves.
pub const FLAT_SQUARES: f64 = 1e-20;

/// Absolute: degrees of freedom that lie closer are equal, so that their joint value needs no formula that divides by
/// differences between them.
pub const SAME_DF: f64 = 1e-8;

/// Absolute, in units of a scale or in CSS pixels: no spread and no length that is divided by is smaller.
pub const SMALLEST_LENGTH: f64 = 1e-9;

/// Whether two numbers as typed, printed or stated are the same.
pub fn is_same_number(one: f64, other: f64) -> bool {
    (one - other).abs() < SAME_NUMBER
}

/// Whether a number as typed or printed is whole.
pub fn is_whole(number: f64) -> bool {
    is_same_number(number, number.round())
}

/// By how much scores of this size may be wrong for having been read from decimal text and averaged: 16 units in the
/// last place.
pub fn reading_error(largest_score: f64) -> f64 {
    16.0 * f64::EPSILON * largest_score
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sums_of_decimals_are_the_numbers_they_mean() {
        assert!(is_same_number(0.1 + 0.2, 0.3) && !is_same_number(0.3, 0.300_001));
        assert!(is_whole(0.1 * 30.0) && is_whole(-4.0) && !is_whole(12.5) && !is_whole(f64::NAN));
        assert!((0.1 + 0.2 - 0.3_f64).abs() < reading_error(0.3));
    }
}
