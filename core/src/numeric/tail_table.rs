//! The upper tail of one law of a largest variable, tabulated: piecewise Chebyshev interpolation of its logarithm, each piece
//! made when it is first asked for. It must not know what the tail is averaged over.
//!
//! What is interpolated is ln(tail) + bend * point^2, which is nearly straight. Error: at most 1e-12 of the tail, and
//! mostly that of rounding (the tests of this file hold it, on points between the nodes and over all numbers of groups that matter).

use super::maximum_law::MaximumLaw;
use std::cell::OnceCell;
use std::f64::consts::PI;

/// Nodes, and so coefficients, a piece.
const NODES: usize = 14;
/// Up to which exponent of the tail, exp(-exponent), there are pieces; the smallest double is exp(-745).
const LAST_EXPONENT: f64 = 640.0;

/// The tail of one law.
pub struct TailTable {
    law: MaximumLaw,
    bend: f64,
    width: f64,
    pieces: Vec<OnceCell<Piece>>,
}

/// A polynomial in x from -1 to 1: powers of x from the constant up.
struct Piece([f64; NODES]);

impl TailTable {
    /// An empty table.
    pub fn new(law: MaximumLaw) -> Self {
        let (bend, width) = (law.bend(), law.smooth_over());
        let pieces = ((LAST_EXPONENT / bend).sqrt() / width) as usize;
        TailTable { law, bend, width, pieces: (0..pieces).map(|_| OnceCell::new()).collect() }
    }

    /// The law that is tabulated.
    pub fn law(&self) -> &MaximumLaw {
        &self.law
    }

    /// ln P(largest > `point`); `point` is above zero.
    pub fn ln_upper(&self, point: f64) -> f64 {
        let at = point / self.width;
        match self.pieces.get(at as usize) {
            Some(piece) => {
                let first = at.floor();
                let piece = piece.get_or_init(|| self.piece(first));
                piece.value(2.0 * (at - first) - 1.0) - self.bend * point * point
            }
            // Smaller than any number: what counts is only that it goes on falling, so that a search finds its way back.
            None => -self.bend * point * point,
        }
    }

    /// Interpolates on the piece that starts so many widths from zero.
    fn piece(&self, first: f64) -> Piece {
        let values: [f64; NODES] = std::array::from_fn(|node| {
            let point = self.width * (first + 0.5 + 0.5 * node_at(node));
            self.law.upper(point).max(f64::MIN_POSITIVE).ln() + self.bend * point * point
        });
        Piece(powers_of_chebyshev(&chebyshev_coefficients(&values)))
    }
}

impl Piece {
    /// Even and odd powers apart, so that the two sums run side by side.
    fn value(&self, x: f64) -> f64 {
        let square = x * x;
        let (mut even, mut odd) = (0.0, 0.0);
        for pair in self.0.as_chunks::<2>().0.iter().rev() {
            even = even * square + pair[0];
            odd = odd * square + pair[1];
        }
        even + x * odd
    }
}

/// Chebyshev's nodes, from 1 down to -1.
fn node_at(node: usize) -> f64 {
    (PI * (node as f64 + 0.5) / NODES as f64).cos()
}

/// Coefficients of Chebyshev's polynomials that go through the values at the nodes.
fn chebyshev_coefficients(values: &[f64; NODES]) -> [f64; NODES] {
    std::array::from_fn(|order| {
        let term =
            |(node, value): (usize, &f64)| value * (order as f64 * PI * (node as f64 + 0.5) / NODES as f64).cos();
        let share = if order == 0 { 1.0 } else { 2.0 } / NODES as f64;
        share * values.iter().enumerate().map(term).sum::<f64>()
    })
}

/// The same polynomial by powers of x: T_(n + 1) = 2 x T_n - T_(n - 1).
fn powers_of_chebyshev(coefficients: &[f64; NODES]) -> [f64; NODES] {
    let (mut powers, mut before, mut now) = ([0.0; NODES], [0.0; NODES], [0.0; NODES]);
    now[0] = 1.0;
    for (order, coefficient) in coefficients.iter().enumerate() {
        powers.iter_mut().zip(&now).for_each(|(sum, power)| *sum += coefficient * power);
        let factor = if order == 0 { 1.0 } else { 2.0 };
        let mut next = before.map(|power| -power);
        for power in 1..NODES {
            next[power] += factor * now[power - 1];
        }
        (before, now) = (now, next);
    }
    powers
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The largest error of the tail between the nodes, relative to it, with where it is.
    fn largest_error(law: MaximumLaw, until: f64) -> (f64, f64) {
        let table = TailTable::new(law);
        let points = (1..=(until / 0.0137) as usize).map(|step| 0.0137 * step as f64);
        let errors = points.map(|point| ((table.ln_upper(point) - table.law.upper(point).ln()).abs(), point));
        errors.fold((0.0, 0.0), |worst, one| if one.0 > worst.0 { one } else { worst })
    }

    #[test]
    fn the_error_of_interpolation_stays_below_its_bound() {
        // Against the quadrature that the table is made from, on points that are no nodes.
        for groups in [2, 3, 4, 7, 12, 20, 40, 60, 100] {
            let (error, at) = largest_error(MaximumLaw::Range(groups), 30.0);
            assert!(error < 1e-12, "{groups} groups: {error:e} at {at}");
        }
        for comparisons in [1, 2, 3, 8, 19, 59] {
            let (error, at) = largest_error(MaximumLaw::Modulus(vec![0.5_f64.sqrt(); comparisons]), 20.0);
            assert!(error < 1e-12, "{comparisons} comparisons: {error:e} at {at}");
        }
        for loadings in [vec![0.0, 0.6, 0.95], vec![0.3, 0.5, 0.5, 0.8]] {
            let (error, at) = largest_error(MaximumLaw::Modulus(loadings.clone()), 20.0);
            assert!(error < 1e-12, "{loadings:?}: {error:e} at {at}");
        }
    }

    #[test]
    fn only_what_is_asked_for_is_made_and_beyond_the_table_there_is_still_a_value() {
        let table = TailTable::new(MaximumLaw::Range(5));
        assert!(table.ln_upper(3.1) < 0.0 && table.ln_upper(3.2) < table.ln_upper(3.1));
        let made = || table.pieces.iter().filter(|piece| piece.get().is_some()).count();
        assert_eq!(made(), 1);
        let (last, beyond) = (table.ln_upper(50.0), table.ln_upper(52.0));
        assert!(last < -600.0 && beyond < last && table.ln_upper(1e9) < -1e17 && made() == 2);
    }
}
