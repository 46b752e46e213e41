//! Gauss-Legendre quadrature: nodes, weights, and an integral over an interval.

use std::sync::OnceLock;

/// Nodes and weights on -1 to 1.
#[derive(Clone, Debug, PartialEq)]
pub struct GaussLegendre {
    nodes: Vec<f64>,
    weights: Vec<f64>,
}

impl GaussLegendre {
    /// The rule with `count` nodes, by Newton steps on the Legendre polynomial.
    pub fn new(count: usize) -> Self {
        let (mut nodes, mut weights) = (vec![0.0; count], vec![0.0; count]);
        for index in 0..count {
            let mut node = (std::f64::consts::PI * (index as f64 + 0.75) / (count as f64 + 0.5)).cos();
            let mut slope = 0.0;
            for _ in 0..100 {
                let found = legendre(count, node);
                slope = found.slope;
                let step = found.value / slope;
                node -= step;
                if step.abs() < 1e-16 {
                    break;
                }
            }
            nodes[index] = node;
            weights[index] = 2.0 / ((1.0 - node * node) * slope * slope);
        }
        GaussLegendre { nodes, weights }
    }

    /// The rule with 64 nodes.
    pub fn of_64() -> &'static GaussLegendre {
        static RULE: OnceLock<GaussLegendre> = OnceLock::new();
        RULE.get_or_init(|| GaussLegendre::new(64))
    }

    /// The rule with 96 nodes.
    pub fn of_96() -> &'static GaussLegendre {
        static RULE: OnceLock<GaussLegendre> = OnceLock::new();
        RULE.get_or_init(|| GaussLegendre::new(96))
    }

    /// The rule with 144 nodes.
    pub fn of_144() -> &'static GaussLegendre {
        static RULE: OnceLock<GaussLegendre> = OnceLock::new();
        RULE.get_or_init(|| GaussLegendre::new(144))
    }

    /// Integral of a function from `lower` to `upper`.
    pub fn integrate(&self, lower: f64, upper: f64, mut function: impl FnMut(f64) -> f64) -> f64 {
        let (middle, half) = (0.5 * (lower + upper), 0.5 * (upper - lower));
        let terms = self.nodes.iter().zip(&self.weights);
        half * terms.map(|(node, weight)| weight * function(middle + half * node)).sum::<f64>()
    }

    /// Integral of a function from `lower` to `upper`, by the rule on each of so many equal parts: for functions too
    /// peaked for one rule over the whole.
    pub fn integrate_in_parts(&self, lower: f64, upper: f64, parts: usize, function: impl Fn(f64) -> f64) -> f64 {
        let parts = parts.max(1);
        let width = (upper - lower) / parts as f64;
        let edge = |part: usize| lower + width * part as f64;
        (0..parts).map(|part| self.integrate(edge(part), edge(part + 1), &function)).sum()
    }

    /// Integral from -`reach` to `reach`, given the sum of the function at x and at -x. The number of nodes is even.
    pub fn integrate_pairs(&self, reach: f64, mut sum_at: impl FnMut(f64) -> f64) -> f64 {
        let terms = self.nodes.iter().zip(&self.weights).take(self.nodes.len() / 2);
        reach * terms.map(|(node, weight)| weight * sum_at(reach * node)).sum::<f64>()
    }
}

struct Polynomial {
    value: f64,
    slope: f64,
}

/// The Legendre polynomial of a degree and its slope, by the three-term recurrence.
fn legendre(degree: usize, at: f64) -> Polynomial {
    let (mut value, mut before) = (1.0, 0.0);
    for order in 0..degree {
        let order = order as f64;
        let next = ((2.0 * order + 1.0) * at * value - order * before) / (order + 1.0);
        (before, value) = (value, next);
    }
    Polynomial { value, slope: degree as f64 * (at * value - before) / (at * at - 1.0) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_nodes_as_in_every_table() {
        // Abramowitz & Stegun 1964, table 25.4, n = 3: nodes 0 and .774596669241483, weights 8/9 and 5/9.
        let rule = GaussLegendre::new(3);
        assert!((rule.nodes[0] - 0.774596669241483).abs() < 1e-15 && rule.nodes[1].abs() < 1e-15);
        assert!((rule.weights[0] - 5.0 / 9.0).abs() < 1e-15 && (rule.weights[1] - 8.0 / 9.0).abs() < 1e-15);
    }

    #[test]
    fn polynomials_up_to_twice_the_nodes_are_exact() {
        let integral = GaussLegendre::of_64().integrate(-1.0, 2.0, |x| 128.0 * x.powi(127));
        let expected = 2.0_f64.powi(128) - 1.0;
        assert!((integral / expected - 1.0).abs() < 1e-13);
    }

    #[test]
    fn the_normal_density_integrates_to_one() {
        let density = |z: f64| (-0.5 * z * z).exp() / (2.0 * std::f64::consts::PI).sqrt();
        assert!((GaussLegendre::of_96().integrate(-9.0, 9.0, density) - 1.0).abs() < 1e-14);
    }
}
