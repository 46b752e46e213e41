//! Values that carry their first and second derivatives in a few variables: exact derivatives by the rules of calculus.

/// A value with its gradient and Hessian in `N` variables.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SecondOrder<const N: usize> {
    /// The value.
    pub value: f64,
    /// First derivatives.
    pub first: [f64; N],
    /// Second derivatives, symmetric.
    pub second: [[f64; N]; N],
}

impl<const N: usize> Default for SecondOrder<N> {
    fn default() -> Self {
        SecondOrder { value: 0.0, first: [0.0; N], second: [[0.0; N]; N] }
    }
}

impl<const N: usize> SecondOrder<N> {
    /// The variable numbered `place`, standing at `value`.
    pub fn variable(place: usize, value: f64) -> Self {
        let mut variable = SecondOrder { value, ..SecondOrder::default() };
        variable.first[place] = 1.0;
        variable
    }

    /// The product of two quantities.
    pub fn times(&self, other: &Self) -> Self {
        let mut product = SecondOrder { value: self.value * other.value, ..SecondOrder::default() };
        for i in 0..N {
            product.first[i] = self.first[i] * other.value + self.value * other.first[i];
            for j in 0..N {
                product.second[i][j] = self.second[i][j] * other.value
                    + self.first[i] * other.first[j]
                    + self.first[j] * other.first[i]
                    + self.value * other.second[i][j];
            }
        }
        product
    }

    /// A function of this quantity, given the function's value, slope and second derivative at `self.value`.
    pub fn through(&self, value: f64, slope: f64, bend: f64) -> Self {
        let mut image = SecondOrder { value, ..SecondOrder::default() };
        for i in 0..N {
            image.first[i] = slope * self.first[i];
            for j in 0..N {
                image.second[i][j] = slope * self.second[i][j] + bend * self.first[i] * self.first[j];
            }
        }
        image
    }

    /// Adds `factor` times another quantity.
    pub fn add_scaled(&mut self, factor: f64, other: &Self) {
        self.value += factor * other.value;
        for i in 0..N {
            self.first[i] += factor * other.first[i];
            for j in 0..N {
                self.second[i][j] += factor * other.second[i][j];
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn product_and_function_by_hand() {
        // f = ln(x y) at x = 2, y = 5: gradient (1/2, 1/5), Hessian diagonal (-1/4, -1/25), off diagonal 0.
        let product = SecondOrder::<2>::variable(0, 2.0).times(&SecondOrder::variable(1, 5.0));
        let found = product.through(10.0_f64.ln(), 0.1, -0.01);
        let close = |got: f64, expected: f64| (got - expected).abs() < 1e-15;
        assert!(close(found.first[0], 0.5) && close(found.first[1], 0.2));
        assert!(close(found.second[0][0], -0.25) && close(found.second[1][1], -0.04));
        assert!(close(found.second[0][1], 0.0) && close(found.second[1][0], 0.0));
    }
}
