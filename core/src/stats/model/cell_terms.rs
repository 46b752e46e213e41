//! Quantities of cells with their derivatives in the variances of error and interaction, by name. It knows no scores.

use crate::numeric::second_order::SecondOrder;

/// Place of the variance of the error in gradients and Hessians.
pub const ERROR: usize = 0;
/// Place of the variance of the interaction of assessor and sample.
pub const INTERACTION: usize = 1;
/// Place of the variance between assessors.
pub const ASSESSOR: usize = 2;
/// How many variances there are.
pub const VARIANCES: usize = 3;

/// The three variances, by place, in squared score points.
pub type Variances = [f64; VARIANCES];

/// A number for each pair of variances.
pub type Pairs = [[f64; VARIANCES]; VARIANCES];

/// A quantity as an expansion in all three variances.
pub type Expansion = SecondOrder<VARIANCES>;

/// A quantity that depends on error and interaction alone, with its first and second derivatives in them.
///
/// Weights of cells and all sums over them are of this kind; six numbers do where an `Expansion` holds thirteen.
#[derive(Clone, Copy, Debug, Default)]
pub struct CellTerm {
    pub value: f64,
    pub by_error: f64,
    pub by_interaction: f64,
    pub by_error_twice: f64,
    pub by_error_and_interaction: f64,
    pub by_interaction_twice: f64,
}

impl CellTerm {
    /// The weight of a cell, one over the variance of its mean without the assessor: 1 / (interaction + share error),
    /// `share` being one over its number of scores.
    pub fn weight(share: f64, variances: &Variances) -> CellTerm {
        let weight = 1.0 / (variances[INTERACTION] + variances[ERROR] * share);
        let square = weight * weight;
        let cube = 2.0 * square * weight;
        CellTerm {
            value: weight,
            by_error: -square * share,
            by_interaction: -square,
            by_error_twice: cube * share * share,
            by_error_and_interaction: cube * share,
            by_interaction_twice: cube,
        }
    }

    /// For a weight: the logarithm of the variance that it is one over, as an expansion.
    pub fn log_variance(&self, share: f64) -> Expansion {
        let mut log_variance = Expansion { value: -self.value.ln(), ..Expansion::default() };
        let shares = [share, 1.0];
        for i in [ERROR, INTERACTION] {
            log_variance.first[i] = shares[i] * self.value;
            for j in [ERROR, INTERACTION] {
                log_variance.second[i][j] = -shares[i] * shares[j] * self.value * self.value;
            }
        }
        log_variance
    }

    /// First derivatives by place; a term of cells does not depend on the variance between assessors.
    pub fn slopes(&self) -> Variances {
        [self.by_error, self.by_interaction, 0.0]
    }

    /// The same quantity as an expansion in all three variances.
    pub fn expansion(&self) -> Expansion {
        let mut expansion = Expansion { value: self.value, first: self.slopes(), ..Expansion::default() };
        expansion.second[ERROR][ERROR] = self.by_error_twice;
        expansion.second[ERROR][INTERACTION] = self.by_error_and_interaction;
        expansion.second[INTERACTION][ERROR] = self.by_error_and_interaction;
        expansion.second[INTERACTION][INTERACTION] = self.by_interaction_twice;
        expansion
    }

    /// Adds `factor`, which does not depend on the variances, times another term.
    pub fn add_scaled(&mut self, factor: f64, other: &CellTerm) {
        self.value += factor * other.value;
        self.by_error += factor * other.by_error;
        self.by_interaction += factor * other.by_interaction;
        self.by_error_twice += factor * other.by_error_twice;
        self.by_error_and_interaction += factor * other.by_error_and_interaction;
        self.by_interaction_twice += factor * other.by_interaction_twice;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_weight_by_hand() {
        // Two scores in the cell, error 4, interaction 3: v = 3 + 4 / 2 = 5, w = 1/5; dw/dE = -w^2 / 2 = -0.02,
        // dw/dI = -0.04, second derivatives 2 w^3 / 4 = 0.004, 0.008 and 0.016; d ln v/dE = 0.1, d2 = -0.01.
        let weight = CellTerm::weight(0.5, &[4.0, 3.0, 9.0]);
        let close = |got: f64, expected: f64| (got - expected).abs() < 1e-15;
        assert!(close(weight.value, 0.2) && close(weight.by_error, -0.02) && close(weight.by_interaction, -0.04));
        let expansion = weight.expansion();
        assert!(close(expansion.second[ERROR][ERROR], 0.004) && close(expansion.second[INTERACTION][ERROR], 0.008));
        assert!(close(expansion.second[INTERACTION][INTERACTION], 0.016) && expansion.first[ASSESSOR] == 0.0);
        let log_variance = weight.log_variance(0.5);
        assert!(close(log_variance.value, 5.0_f64.ln()) && close(log_variance.first[ERROR], 0.1));
        assert!(close(log_variance.second[ERROR][ERROR], -0.01));
    }
}
