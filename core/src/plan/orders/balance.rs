//! Counts that tell how well a set of serving orders is balanced. It knows nothing of how the orders were found.

use serde::{Deserialize, Serialize};

/// How often each sample stood where, and after what. Samples are indices from 0.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct BalanceCounts {
    /// One line a sample, one column a serving position.
    pub position_counts: Vec<Vec<u32>>,
    /// One line the sample before, one column the sample after.
    pub predecessor_counts: Vec<Vec<u32>>,
}

impl BalanceCounts {
    /// No orders yet: `samples` samples in `positions` positions.
    pub fn empty(samples: usize, positions: usize) -> Self {
        BalanceCounts {
            position_counts: vec![vec![0; positions]; samples],
            predecessor_counts: vec![vec![0; samples]; samples],
        }
    }

    /// The counts of these orders, each a list of sample indices below `samples`.
    pub fn of<'a>(orders: impl IntoIterator<Item = &'a [usize]>, samples: usize, positions: usize) -> Self {
        let mut counts = BalanceCounts::empty(samples, positions);
        for order in orders {
            counts.add(order);
        }
        counts
    }

    /// Counts one more order. A sample or position outside the table is not counted.
    pub fn add(&mut self, order: &[usize]) {
        for (position, sample) in order.iter().enumerate() {
            if let Some(count) = self.position_counts.get_mut(*sample).and_then(|line| line.get_mut(position)) {
                *count += 1;
            }
        }
        for pair in order.windows(2) {
            if let Some(count) = self.predecessor_counts.get_mut(pair[0]).and_then(|line| line.get_mut(pair[1])) {
                *count += 1;
            }
        }
    }

    /// Highest less lowest of the position counts; 0 is perfect, 1 is the best where numbers don't divide.
    pub fn position_spread(&self) -> u32 {
        spread(self.position_counts.iter().flatten().copied())
    }

    /// Highest less lowest of the predecessor counts, a sample after itself left out.
    pub fn predecessor_spread(&self) -> u32 {
        let lines = self.predecessor_counts.iter().enumerate();
        spread(lines.flat_map(|(before, line)| {
            line.iter().enumerate().filter(move |(after, _)| *after != before).map(|(_, count)| *count)
        }))
    }
}

/// Highest less lowest; 0 of nothing.
pub fn spread(counts: impl Iterator<Item = u32>) -> u32 {
    let (lowest, highest) = counts.fold((u32::MAX, 0), |(low, high), count| (low.min(count), high.max(count)));
    highest.saturating_sub(lowest)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_are_those_of_a_hand_count() {
        let orders = [vec![0, 1, 2], vec![1, 2, 0]];
        let counts = BalanceCounts::of(orders.iter().map(Vec::as_slice), 3, 3);
        assert_eq!(counts.position_counts, [[1, 0, 1], [1, 1, 0], [0, 1, 1]]);
        assert_eq!(counts.predecessor_counts, [[0, 1, 0], [0, 0, 2], [1, 0, 0]]);
        assert_eq!((counts.position_spread(), counts.predecessor_spread()), (1, 2));
    }
}
