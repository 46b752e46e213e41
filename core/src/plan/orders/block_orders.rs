//! Serving order inside given blocks: samples should stand in each position, and after each other, equally often. It
//! knows nothing of how the blocks were found.

use super::row_choice::Tally;
use crate::numeric::random::Random;

/// Puts each block in an order, beside orders that stand already. Positions count before predecessors.
pub(in crate::plan) fn order_blocks(
    mut blocks: Vec<Vec<usize>>,
    samples: usize,
    standing: &[Vec<usize>],
    random: &mut Random,
) -> Vec<Vec<usize>> {
    blocks.iter_mut().for_each(|block| random.shuffle(block));
    let mut tally = Tally::new(samples);
    blocks.iter().chain(standing).for_each(|order| tally.change(order, 1));
    if blocks.iter().all(|block| block.len() < 2) {
        return blocks;
    }
    let (mut cost, mut best_cost) = (0, 0);
    let mut best = blocks.clone();
    for step in 0..ROUNDS * STEPS {
        let limit = HIGHEST_LIMIT * (STEPS - 1 - step % STEPS) / STEPS;
        let block = random.below(blocks.len());
        let order = &mut blocks[block];
        let (left, right) = (random.below(order.len()), random.below(order.len()));
        if left == right {
            continue;
        }
        let before = tally.change_and_price(order, -1);
        order.swap(left, right);
        let change = before + tally.change_and_price(order, 1);
        if change > limit {
            tally.change(order, -1);
            order.swap(left, right);
            tally.change(order, 1);
            continue;
        }
        cost += change;
        if cost < best_cost {
            best_cost = cost;
            best.clone_from(&blocks);
        }
    }
    best
}

/// A change for the worse is taken while it is under a limit that falls to nothing, a few times over (threshold
/// accepting, Dueck & Scheuer 1990).
const ROUNDS: i64 = 6;
const STEPS: i64 = 60_000;
const HIGHEST_LIMIT: i64 = 36;
