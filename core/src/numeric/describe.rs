//! Means, sums of squares, correlations and ranks of plain lists, centred before squaring.

use super::tolerance::ROUNDING;

/// Mean with the first value taken off before summing, so that large levels cost no digits. `None` for no values.
pub fn mean(values: &[f64]) -> Option<f64> {
    let first = values.first()?;
    Some(first + values.iter().map(|value| value - first).sum::<f64>() / values.len() as f64)
}

/// Sum of squares about the mean; 0 for fewer than two values.
pub fn squares_about_mean(values: &[f64]) -> f64 {
    mean(values).map_or(0.0, |mean| values.iter().map(|value| (value - mean) * (value - mean)).sum())
}

/// Standard deviation with divisor n - 1; `None` for fewer than two values.
pub fn standard_deviation(values: &[f64]) -> Option<f64> {
    (values.len() > 1).then(|| (squares_about_mean(values) / (values.len() - 1) as f64).sqrt())
}

/// Whether values differ by no more than rounding of the arithmetic would make them differ.
pub fn is_constant(values: &[f64]) -> bool {
    let largest = values.iter().fold(0.0_f64, |largest, value| largest.max(value.abs()));
    let (low, high) = extremes(values).unwrap_or((0.0, 0.0));
    high - low <= ROUNDING * largest
}

/// Smallest and largest value; `None` for no values.
pub fn extremes(values: &[f64]) -> Option<(f64, f64)> {
    let first = *values.first()?;
    Some(values.iter().fold((first, first), |(low, high), value| (low.min(*value), high.max(*value))))
}

/// Middle value, or the mean of the middle two; `None` for no values. Puts the list into another order.
pub fn median_in_place(values: &mut [f64]) -> Option<f64> {
    if values.is_empty() {
        return None;
    }
    let middle = values.len() / 2;
    let (lower, upper, _) = values.select_nth_unstable_by(middle, f64::total_cmp);
    let upper = *upper;
    let below = lower.iter().copied().max_by(f64::total_cmp);
    Some(if values.len() % 2 == 1 { upper } else { 0.5 * (below.unwrap_or(upper) + upper) })
}

/// A straight line through pairs, and how close they lie to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// Product-moment correlation.
    pub correlation: f64,
    /// Change of y for one unit of x.
    pub slope: f64,
}

/// Least-squares line of `y` on `x`; `None` for fewer than two pairs, lists of unequal length, or a constant side.
pub fn line(x: &[f64], y: &[f64]) -> Option<Line> {
    if x.len() != y.len() || x.len() < 2 || is_constant(x) || is_constant(y) {
        return None;
    }
    let (mean_x, mean_y) = (mean(x)?, mean(y)?);
    let (xx, yy) = (squares_about_mean(x), squares_about_mean(y));
    let xy: f64 = x.iter().zip(y).map(|(x, y)| (x - mean_x) * (y - mean_y)).sum();
    Some(Line { correlation: (xy / (xx.sqrt() * yy.sqrt())).clamp(-1.0, 1.0), slope: xy / xx })
}

/// Ranks from 1; equal values share the mean of their ranks. Values that differ by rounding only count as equal: means
/// of marks that are equal on paper must not be ranked by their last bit.
pub fn midranks(values: &[f64]) -> Vec<f64> {
    let mut order: Vec<usize> = (0..values.len()).collect();
    order.sort_by(|a, b| values[*a].total_cmp(&values[*b]));
    let mut ranks = vec![0.0; values.len()];
    let rounding = ROUNDING * values.iter().fold(0.0_f64, |largest, value| largest.max(value.abs()));
    let mut start = 0;
    while start < order.len() {
        let mut end = start + 1;
        while end < order.len() && values[order[end]] <= values[order[end - 1]] + rounding {
            end += 1;
        }
        let shared = 0.5 * (start + 1 + end) as f64;
        order[start..end].iter().for_each(|place| ranks[*place] = shared);
        start = end;
    }
    ranks
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_middle_of_a_list_in_any_order() {
        assert_eq!(median_in_place(&mut [5.0, 1.0, 4.0]), Some(4.0));
        assert_eq!(median_in_place(&mut [5.0, 1.0, 4.0, 2.0]), Some(3.0));
        assert_eq!(median_in_place(&mut [7.0, 2.0]), Some(4.5));
        assert_eq!((median_in_place(&mut [2.5]), median_in_place(&mut [])), (Some(2.5), None));
    }

    #[test]
    fn ranks_are_shared_by_ties() {
        assert_eq!(midranks(&[3.0, 1.0, 3.0, 2.0]), [3.5, 1.0, 3.5, 2.0]);
        assert_eq!(midranks(&[0.0, -0.0]), [1.5, 1.5]);
        assert_eq!(midranks(&[0.1 + 0.2, 0.3, 0.2]), [2.5, 2.5, 1.0]);
        assert!(midranks(&[]).is_empty());
    }

    #[test]
    fn a_line_by_hand() {
        // x 1 2 3, y 2 3 7: xy = 5, xx = 2, yy = 14.
        let line = line(&[1.0, 2.0, 3.0], &[2.0, 3.0, 7.0]).unwrap();
        assert!((line.slope - 2.5).abs() < 1e-14);
        assert!((line.correlation - 5.0 / 28.0_f64.sqrt()).abs() < 1e-14);
    }

    #[test]
    fn constants_have_no_line_even_at_a_high_level() {
        assert_eq!(line(&[0.1, 0.2], &[1e9, 1e9]), None);
        assert!(is_constant(&[0.1 + 0.2, 0.3]));
        assert!(!is_constant(&[1.0, 1.0 + 1e-9]));
        assert_eq!(standard_deviation(&[1.0]), None);
    }
}
