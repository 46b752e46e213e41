//! d': how far apart two products are in standard deviations of perception, for each way of asking.
//!
//! Thurstonian models as in Ennis 1993 (Journal of Sensory Studies 8, 353-370), the tetrad as in Ennis, Ennis, Palen and
//! O'Mahony 1998 (Psychometrika 63, 205-215). Triangle, tetrad and 3-AFC need an integral, done here by quadrature; the
//! others have a closed form. Two out of five has none here.

use super::test_kind::DiscriminationTest;
use crate::numeric::portable::{normal_density, normal_upper};
use crate::numeric::quadrature::GaussLegendre;

/// Beyond this everybody is right to all the digits there are.
const LARGEST: f64 = 40.0;

/// Share of right answers at d' >= 0; `None` for tests without a right answer or a d' below 0.
pub fn share_of_d_prime(test: DiscriminationTest, d_prime: f64) -> Option<f64> {
    if !(0.0..=LARGEST).contains(&d_prime) {
        return None;
    }
    let rule = GaussLegendre::of_96();
    match test {
        DiscriminationTest::Triangle => Some(triangle(rule, d_prime)),
        DiscriminationTest::Tetrad => Some(tetrad(rule, d_prime)),
        DiscriminationTest::ThreeAfc => Some(three_afc(rule, d_prime)),
        DiscriminationTest::DuoTrio => Some(duo_trio(d_prime)),
        DiscriminationTest::TwoAfc => Some(below(d_prime / 2.0_f64.sqrt())),
        DiscriminationTest::TwoOfFive | DiscriminationTest::Paired | DiscriminationTest::Preference => None,
    }
}

/// d' behind a share of right answers: 0 at or below chance, `None` where all are right or for tests without a model.
pub fn d_prime_of(test: DiscriminationTest, share: f64) -> Option<f64> {
    if !(0.0..1.0).contains(&share) {
        return None;
    }
    share_of_d_prime(test, 0.0)?;
    if share <= test.chance() {
        return Some(0.0);
    }
    let (mut low, mut high) = (0.0, LARGEST);
    for _ in 0..56 {
        let middle = 0.5 * (low + high);
        if share_of_d_prime(test, middle)? < share {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(0.5 * (low + high))
}

/// Two cups are alike and one is odd: right where the odd one lies outside and farther off than the two from each other.
fn triangle(rule: &GaussLegendre, d_prime: f64) -> f64 {
    let shift = d_prime * (2.0_f64 / 3.0).sqrt();
    let inner = |z: f64| (below(shift - z * 3.0_f64.sqrt()) + below(-shift - z * 3.0_f64.sqrt())) * normal_density(z);
    2.0 * rule.integrate_in_parts(0.0, 9.0, 4, inner)
}

/// Two cups of each: right where the pairs that lie nearest are the like ones.
fn tetrad(rule: &GaussLegendre, d_prime: f64) -> f64 {
    let inner = |x: f64| {
        let (own, other) = (below(x), below(x - d_prime));
        normal_density(x) * other * (2.0 * own - other)
    };
    1.0 - 2.0 * rule.integrate_in_parts(-9.0, 9.0, 6, inner)
}

/// One cup is stronger: right where it seems so beside both others.
fn three_afc(rule: &GaussLegendre, d_prime: f64) -> f64 {
    let inner = |z: f64| normal_density(z) * below(z + d_prime) * below(z + d_prime);
    rule.integrate_in_parts(-9.0, 9.0, 6, inner)
}

fn duo_trio(d_prime: f64) -> f64 {
    let (a, b) = (below(d_prime / 2.0_f64.sqrt()), below(d_prime / 6.0_f64.sqrt()));
    // 1 - a - b + 2 a b, written as a chance of two like-sided events.
    a * b + (1.0 - a) * (1.0 - b)
}

fn below(z: f64) -> f64 {
    normal_upper(-z)
}
