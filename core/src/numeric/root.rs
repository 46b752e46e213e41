//! Root of a monotone function in a bracket, by regula falsi with a guard that halves the bracket when it stalls.

/// Where a function crosses zero.
///
/// `at_lower` and `at_upper` must have different signs at the ends. Stops when the bracket is narrower than `relative`
/// of its place; `None` where the signs are the same or the function gives no number.
pub fn root_in_bracket(lower: f64, upper: f64, relative: f64, mut function: impl FnMut(f64) -> f64) -> Option<f64> {
    let (mut a, mut b) = (lower, upper);
    let (mut value_a, mut value_b) = (function(a), function(b));
    if value_a.is_nan() || value_b.is_nan() || value_a * value_b > 0.0 {
        return None;
    }
    for step in 0..200 {
        if (b - a).abs() <= relative * (a.abs() + b.abs()) || value_b.abs() <= f64::MIN_POSITIVE {
            break;
        }
        // Every third step halves, so the bracket always shrinks; the others aim straight.
        let aim = if step % 3 == 2 { 0.5 * (a + b) } else { b - value_b * (b - a) / (value_b - value_a) };
        let inside = aim > a.min(b) && aim < a.max(b);
        let middle = if inside { aim } else { 0.5 * (a + b) };
        let value = function(middle);
        if value.is_nan() {
            return None;
        }
        if value * value_b < 0.0 {
            (a, value_a) = (b, value_b);
        } else {
            // The far end stays: halving its value keeps the aim from sticking to it (Illinois).
            value_a *= 0.5;
        }
        (b, value_b) = (middle, value);
    }
    Some(b)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_a_crossing_of_either_direction() {
        let root = root_in_bracket(0.0, 3.0, 1e-15, |x| x * x - 2.0).unwrap();
        assert!((root - 2.0_f64.sqrt()).abs() < 1e-14);
        let root = root_in_bracket(0.0, 50.0, 1e-15, |x| (-x).exp() - 1e-6).unwrap();
        assert!((root - 1e6_f64.ln()).abs() < 1e-12);
    }

    #[test]
    fn no_crossing_is_no_root() {
        assert!(root_in_bracket(0.0, 1.0, 1e-12, |x| x + 1.0).is_none());
        assert!(root_in_bracket(0.0, 1.0, 1e-12, |_| f64::NAN).is_none());
    }
}
