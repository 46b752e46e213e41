//! How sure a correlation is, and which of several are more than chance.

use super::random::Random;

/// Normal quantile of a two-sided 95 % interval.
const Z_95: f64 = 1.959_963_984_540_054;
/// From so few pairs up all orders are gone through.
const ALL_ORDERS_UP_TO: usize = 7;
/// Orders drawn at random beyond that.
const ORDERS_DRAWN: usize = 9_999;

/// 95 % interval of a correlation of `n` pairs by Fisher's z: approximate, and exact for no law but the normal's limit.
/// `None` for fewer than four pairs or a correlation of 1 in size.
pub fn fisher_interval95(r: f64, n: usize) -> Option<(f64, f64)> {
    if n < 4 || r.is_nan() || r.abs() >= 1.0 - 1e-12 {
        return None;
    }
    let (z, reach) = (r.atanh(), Z_95 / (n as f64 - 3.0).sqrt());
    Some(((z - reach).tanh(), (z + reach).tanh()))
}

/// For each list: the chance that the largest of all correlations, in size, reaches this list's when `common` stands in
/// random order beside them (Westfall and Young 1993, in one step). Counts all lists together, takes no
/// normal law. `pairs` are the `common` and the other values of each list, all of one length; all orders up to seven
/// pairs, drawn ones beyond.
pub fn permuted_p_adjusted(pairs: &[(Vec<f64>, Vec<f64>)], random: &mut Random) -> Vec<f64> {
    let n = pairs.first().map_or(0, |pair| pair.0.len());
    let scaled: Vec<(Vec<f64>, Vec<f64>)> = pairs.iter().map(|(y, x)| (unit(y), unit(x))).collect();
    let sizes = |order: &[usize]| -> Vec<f64> {
        let product = |(y, x): &(Vec<f64>, Vec<f64>)| order.iter().zip(x).map(|(at, x)| y[*at] * x).sum::<f64>().abs();
        scaled.iter().map(product).collect()
    };
    let mut order: Vec<usize> = (0..n).collect();
    let seen = sizes(&order);
    let (mut reached, mut orders) = (vec![0_usize; pairs.len()], 0_usize);
    let mut count = |order: &[usize]| {
        let largest = sizes(order).into_iter().fold(0.0, f64::max);
        reached.iter_mut().zip(&seen).for_each(|(count, seen)| *count += usize::from(largest >= seen - 1e-9));
        orders += 1;
    };
    count(&order);
    if n <= ALL_ORDERS_UP_TO {
        while next_order(&mut order) {
            count(&order);
        }
    } else {
        for _ in 0..ORDERS_DRAWN {
            random.shuffle(&mut order);
            count(&order);
        }
    }
    reached.iter().map(|count| *count as f64 / orders as f64).collect()
}

/// Centred, unit length; zeros where nothing varies.
fn unit(values: &[f64]) -> Vec<f64> {
    let mean = values.iter().sum::<f64>() / values.len().max(1) as f64;
    let length = values.iter().map(|value| (value - mean) * (value - mean)).sum::<f64>().sqrt();
    values.iter().map(|value| if length > 0.0 { (value - mean) / length } else { 0.0 }).collect()
}

/// The next order in the dictionary of orders; false after the last.
fn next_order(order: &mut [usize]) -> bool {
    let Some(turn) = (1..order.len()).rev().find(|at| order[at - 1] < order[*at]) else { return false };
    let larger = (turn..order.len()).rev().find(|at| order[*at] > order[turn - 1]).unwrap_or(turn);
    order.swap(turn - 1, larger);
    order[turn..].reverse();
    true
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn intervals_are_those_of_scipy() {
        // scipy 1.17.1: stats.pearsonr(range(8), [1,3,2,5,4,4,8,6]).confidence_interval() gives .35983442525054027 to
        // .9721344769426716 about .8491836184754222.
        let (lower, upper) = fisher_interval95(0.849_183_618_475_422_2, 8).unwrap();
        assert!((lower - 0.359_834_425_250_540_27).abs() < 1e-12 && (upper - 0.972_134_476_942_671_6).abs() < 1e-12);
        assert!(fisher_interval95(0.5, 3).is_none() && fisher_interval95(1.0, 9).is_none());
    }

    #[test]
    fn every_order_is_seen_once() {
        // 5! = 120 orders. 1 2 3 4 5 beside itself: only it and its reverse reach a correlation of 1, so p = 2 / 120.
        let rising: Vec<f64> = (1..=5).map(f64::from).collect();
        let p = permuted_p_adjusted(&[(rising.clone(), rising.clone())], &mut Random::seeded(1));
        assert!((p[0] - 2.0 / 120.0).abs() < 1e-15, "{p:?}");
        // One mark that stands out in both: 5 of the 25 pairs of places put both together, p = 1 / 5.
        let one = vec![0.0, 0.0, 9.0, 0.0, 0.0];
        let p = permuted_p_adjusted(&[(one.clone(), one)], &mut Random::seeded(1));
        assert!((p[0] - 0.2).abs() < 1e-15, "{p:?}");
    }
}
