//! Numbers of the plan from what was typed; a decimal comma is understood.

use crate::words::plan as say;

/// A count within a range.
///
/// # Errors
/// A sentence that says what is wanted.
pub fn count_from(typed: &str, lowest: usize, highest: usize) -> Result<usize, String> {
    let number: Option<usize> = typed.trim().parse().ok();
    number.filter(|count| (lowest..=highest).contains(count)).ok_or_else(|| say::refused_count(typed, lowest, highest))
}

/// A length in mm, above `above` and below the length of the line.
///
/// # Errors
/// A sentence that says what is wanted.
pub fn length_mm_from(typed: &str) -> Result<f64, String> {
    let number: Option<f64> = typed.trim().replace(',', ".").parse().ok();
    number
        .filter(|length| length.is_finite() && *length > 0.0 && *length < 100.0)
        .ok_or_else(|| say::refused_length(typed))
}

/// A share from 0 to 1; 0 only where `zero_is_one` says so.
///
/// # Errors
/// A sentence that says what is wanted.
pub fn share_from(typed: &str, zero_is_one: bool) -> Result<f64, String> {
    let number: Option<f64> = typed.trim().replace(',', ".").parse().ok();
    let is_share = |share: &f64| (*share > 0.0 && *share <= 1.0) || (*share == 0.0 && zero_is_one);
    number.filter(is_share).ok_or_else(|| say::refused_share(typed))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_understood_or_refused_with_a_sentence() {
        assert_eq!(count_from(" 12 ", 1, 20), Ok(12));
        for typed in ["", "0", "21", "2.5", "many"] {
            assert!(count_from(typed, 1, 20).is_err(), "{typed}");
        }
        assert!(share_from("0,7", false).is_ok_and(|share| (share - 0.7).abs() < 1e-12));
        assert!(share_from("0", true).is_ok() && share_from("0", false).is_err() && share_from("1.1", true).is_err());
        assert!(length_mm_from("7,5").is_ok_and(|length| (length - 7.5).abs() < 1e-12));
        for typed in ["", "0", "-1", "100", "inf", "NaN", "wide"] {
            assert!(length_mm_from(typed).is_err(), "{typed}");
        }
    }
}
