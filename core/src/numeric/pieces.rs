//! Quadrature over a stretch cut into equal pieces, for functions too peaked for one rule over the whole.

use super::quadrature::GaussLegendre;

/// Integral of `f` from `from` to `to`, the rule applied to each of `pieces` equal parts.
pub fn integrate(rule: &GaussLegendre, from: f64, to: f64, pieces: usize, f: impl Fn(f64) -> f64) -> f64 {
    let pieces = pieces.max(1);
    let width = (to - from) / pieces as f64;
    let edge = |piece: usize| from + width * piece as f64;
    (0..pieces).map(|piece| rule.integrate(edge(piece), edge(piece + 1), &f)).sum()
}
