//! Adjusting p-values for how many tests were made: Holm and Benjamini-Hochberg, over attributes or within one.

use crate::defined::{Defined, NotDefined};
use serde::Serialize;

/// A p-value with its adjusted forms, and over how many tests they were adjusted.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct AdjustedP {
    pub p: f64,
    /// Holm 1979: keeps the chance of any false finding among the tests.
    pub holm: f64,
    /// Benjamini and Hochberg 1995: keeps the expected share of false findings among the findings.
    pub benjamini_hochberg: f64,
    pub tests: usize,
}

/// Adjusts the p-values of several attributes together. What is not defined does not count as a test.
pub fn adjust_over_attributes(p_values: &[Defined<f64>]) -> Vec<Defined<AdjustedP>> {
    let defined = p_values.iter().flatten().copied().collect::<Vec<_>>();
    let adjusted = adjust(&defined);
    let mut next = adjusted.into_iter();
    let missing = || NotDefined::because("there is no p-value to adjust");
    p_values.iter().map(|p| p.clone().and_then(|_| next.next().ok_or_else(missing))).collect()
}

/// Adjusts p-values that are all defined, in the order given.
pub fn adjust(p_values: &[f64]) -> Vec<AdjustedP> {
    let (by_holm, by_share) = (holm(p_values), benjamini_hochberg(p_values));
    let tests = p_values.len();
    let each = p_values.iter().zip(by_holm).zip(by_share);
    each.map(|((p, holm), benjamini_hochberg)| AdjustedP { p: *p, holm, benjamini_hochberg, tests }).collect()
}

/// Holm's step-down adjustment (Scandinavian Journal of Statistics 6, 1979), in the order given.
pub fn holm(p_values: &[f64]) -> Vec<f64> {
    let order = rising(p_values);
    let mut adjusted = vec![0.0; p_values.len()];
    let mut highest = 0.0_f64;
    for (rank, index) in order.iter().enumerate() {
        let left = (p_values.len() - rank) as f64;
        highest = highest.max((left * p_values[*index]).min(1.0));
        adjusted[*index] = highest;
    }
    adjusted
}

/// Benjamini and Hochberg's adjustment (Journal of the Royal Statistical Society B 57, 1995), in the order given.
pub fn benjamini_hochberg(p_values: &[f64]) -> Vec<f64> {
    let order = rising(p_values);
    let mut adjusted = vec![0.0; p_values.len()];
    let mut lowest = 1.0_f64;
    for (rank, index) in order.iter().enumerate().rev() {
        lowest = lowest.min(p_values.len() as f64 / (rank + 1) as f64 * p_values[*index]);
        adjusted[*index] = lowest;
    }
    adjusted
}

fn rising(p_values: &[f64]) -> Vec<usize> {
    let mut order = (0..p_values.len()).collect::<Vec<_>>();
    order.sort_by(|a, b| p_values[*a].total_cmp(&p_values[*b]));
    order
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_defined_is_no_test() {
        let adjusted = adjust_over_attributes(&[Ok(0.01), Err(NotDefined::because("constant")), Ok(0.04)]);
        assert_eq!(adjusted[0].as_ref().unwrap().holm, 0.02);
        assert_eq!(adjusted[0].as_ref().unwrap().tests, 2);
        assert_eq!(adjusted[1].as_ref().unwrap_err().because, "constant");
        assert_eq!(adjusted[2].as_ref().unwrap().benjamini_hochberg, 0.04);
    }

    #[test]
    fn adjusted_values_follow_their_order_not_the_rank() {
        assert_eq!(holm(&[0.5, 0.01, 0.2]), [0.5, 0.03, 0.4]);
        assert!(holm(&[]).is_empty() && benjamini_hochberg(&[]).is_empty());
    }
}
