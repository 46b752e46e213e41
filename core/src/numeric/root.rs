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

/// Where a function of positive numbers crosses zero, by secants from near `guess`, to about 1e-12 of its place; `None` where
/// they leave the positive numbers or don't settle.
pub fn root_near(guess: f64, mut function: impl FnMut(f64) -> f64) -> Option<f64> {
    let (mut before, mut now) = (guess, 1.01 * guess);
    let (mut value_before, mut value) = (function(before), function(now));
    for _ in 0..12 {
        let next = now - value * (now - before) / (value - value_before);
        if !(next.is_finite() && next > 0.0) {
            return None;
        }
        // The error falls faster than from step to step: after a step this small it is that of the arithmetic.
        if (next - now).abs() <= 1e-8 * next {
            return Some(next);
        }
        (before, value_before) = (now, value);
        (now, value) = (next, function(next));
    }
    None
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

    #[test]
    fn secants_settle_near_by_or_say_that_they_did_not() {
        let root = root_near(1.3, |x| x * x - 2.0).unwrap();
        assert!((root - 2.0_f64.sqrt()).abs() < 1e-14);
        assert!(root_near(1.0, |x| x + 1.0).is_none());
        assert!(root_near(1.0, |x| 1.0 + x * x).is_none());
    }
}
