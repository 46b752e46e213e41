//! Which samples share a session where a session can't bear them all: balanced incomplete blocks where they exist, the
//! most even blocks that a search finds where they don't. It knows nothing of serving order.

use super::difference_families::{balanced_blocks, concurrences, meetings_of};
use crate::numeric::random::Random;
use serde::{Deserialize, Serialize};

/// How even the blocks are.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct BlockBalance {
    /// True where all samples are served equally often and all pairs meet equally often.
    pub balanced: bool,
    /// What was asked and what was found, as a sentence.
    pub in_words: String,
    /// How often each sample is served.
    pub served: Vec<u32>,
    /// How often each pair shares a session; the diagonal is 0.
    pub concurrence_counts: Vec<Vec<u32>>,
}

/// Blocks of sample indices.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Blocks {
    pub blocks: Vec<Vec<usize>>,
}

/// `count` blocks of `size` out of `samples`, beside `standing` blocks that can't change any more. Needs
/// 2 <= size < samples.
pub fn one_block_each(
    samples: usize,
    size: usize,
    count: usize,
    standing: &[Vec<usize>],
    random: &mut Random,
) -> Blocks {
    let mut blocks = if standing.is_empty() { whole_designs(samples, size, count) } else { Vec::new() };
    let from = blocks.len();
    blocks.extend((from..count).map(|_| shuffled(samples, random)[..size].to_vec()));
    let movable: Vec<Vec<usize>> = (from..count).map(|index| vec![index]).collect();
    let mut search = Exchange::new(samples, blocks, standing, Partners::AnySample);
    search.run(&movable, random);
    let mut blocks = search.best_blocks;
    relabel(&mut blocks, samples, standing.is_empty(), random);
    random.shuffle(&mut blocks);
    Blocks { blocks }
}

/// For each of `units` (one assessor in one replicate) all samples over `sessions` sessions of nearly equal size.
/// Blocks of one unit follow each other.
pub fn all_samples_over_sessions(
    samples: usize,
    sessions: usize,
    units: usize,
    standing: &[Vec<usize>],
    random: &mut Random,
) -> Blocks {
    let mut blocks = Vec::with_capacity(units * sessions);
    for _ in 0..units {
        let all = shuffled(samples, random);
        for session in 0..sessions {
            let (from, to) = (session * samples / sessions, (session + 1) * samples / sessions);
            blocks.push(all[from..to].to_vec());
        }
    }
    let movable: Vec<Vec<usize>> = (0..units).map(|unit| (unit * sessions..(unit + 1) * sessions).collect()).collect();
    let mut search = Exchange::new(samples, blocks, standing, Partners::SameUnit);
    search.run(&movable, random);
    let mut blocks = search.best_blocks;
    // Which session comes first is drawn, so that no sample is always met on the first day.
    blocks.chunks_mut(sessions).for_each(|unit| random.shuffle(unit));
    Blocks { blocks }
}

/// All samples in an order that is drawn.
fn shuffled(samples: usize, random: &mut Random) -> Vec<usize> {
    let mut all: Vec<usize> = (0..samples).collect();
    random.shuffle(&mut all);
    all
}

impl Blocks {
    /// Counts over these and the standing blocks, with a sentence on what exists.
    pub fn balance(&self, samples: usize, standing: &[Vec<usize>]) -> BlockBalance {
        let all: Vec<Vec<usize>> = standing.iter().chain(&self.blocks).cloned().collect();
        let mut served = vec![0; samples];
        all.iter().flatten().for_each(|sample| served[*sample] += 1);
        let concurrence_counts = concurrences(&all, samples);
        let pairs = || (0..samples).flat_map(|left| (0..left).map(move |right| (left, right)));
        let lowest = pairs().map(|(left, right)| concurrence_counts[left][right]).min().unwrap_or(0);
        let highest = pairs().map(|(left, right)| concurrence_counts[left][right]).max().unwrap_or(0);
        let even = served.iter().all(|count| *count == served[0]);
        let balanced = even && lowest == highest && lowest > 0;
        let in_words = if balanced {
            balanced_in_words(&all, served[0], samples, lowest)
        } else {
            uneven_in_words(&all, &served, lowest, highest)
        };
        BlockBalance { balanced, in_words, served, concurrence_counts }
    }
}

/// The size of all blocks, where it is one.
fn common_size(blocks: &[Vec<usize>]) -> Option<usize> {
    let size = blocks.first().map_or(0, Vec::len);
    blocks.iter().all(|block| block.len() == size).then_some(size)
}

fn uneven_in_words(all: &[Vec<usize>], served: &[u32], lowest: u32, highest: u32) -> String {
    let samples = served.len();
    let why = match common_size(all) {
        Some(size) if meetings_of(samples, size, all.len()).is_none() => {
            "a balanced incomplete design of this size can't exist, because the counts don't divide"
        }
        _ => "no balanced incomplete design of this size was found",
    };
    format!(
        "Best-balanced incomplete design: {samples} samples in {} sessions of assessors; {why}. Pairs of samples share \
         a session {lowest} to {highest} times, samples are served {} to {} times.",
        all.len(),
        served.iter().min().unwrap_or(&0),
        served.iter().max().unwrap_or(&0),
    )
}

fn balanced_in_words(all: &[Vec<usize>], served: u32, samples: usize, meet: u32) -> String {
    let blocks = all.len();
    if let Some(size) = common_size(all) {
        return format!(
            "Balanced incomplete block design ({samples}, {blocks}, {served}, {size}, {meet}): {samples} samples, {blocks} \
             sessions of assessors, each sample served {served} times, {size} samples a session, each pair together {meet} \
             times."
        );
    }
    format!(
        "Balanced: {samples} samples in {blocks} sessions of assessors of unequal size, each sample served {served} times, \
         each pair together {meet} times."
    )
}

/// As many whole balanced designs as fit into `count` blocks: one that fits exactly if there is one, else the smallest.
fn whole_designs(samples: usize, size: usize, count: usize) -> Vec<Vec<usize>> {
    let sizes = || (1..=count).filter(|blocks| meetings_of(samples, size, *blocks).is_some());
    let exact = sizes()
        .filter(|blocks| count.is_multiple_of(*blocks))
        .find_map(|blocks| balanced_blocks(samples, size, blocks));
    let smallest = || sizes().find_map(|blocks| balanced_blocks(samples, size, blocks));
    let Some(design) = exact.or_else(smallest) else { return Vec::new() };
    let copies = count / design.len();
    (0..copies).flat_map(|_| design.clone()).collect()
}

fn relabel(blocks: &mut [Vec<usize>], samples: usize, free: bool, random: &mut Random) {
    if free {
        let mut labels: Vec<usize> = (0..samples).collect();
        random.shuffle(&mut labels);
        blocks.iter_mut().flatten().for_each(|sample| *sample = labels[*sample]);
    }
}

/// What a sample of a block may be exchanged with.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Partners {
    /// Any sample that is not in the block, alone or in exchange with any other block.
    AnySample,
    /// A sample of another block of the same unit, so that the unit still holds all samples.
    SameUnit,
}

/// Exchanges samples at random. A change for the worse is taken while it is under a limit that falls to nothing and
/// rises again a few times (threshold accepting, Dueck & Scheuer 1990); the most even state is kept.
struct Exchange {
    samples: usize,
    blocks: Vec<Vec<usize>>,
    served: Vec<i64>,
    meet: Vec<i64>,
    partners: Partners,
    cost: i64,
    best_cost: i64,
    best_blocks: Vec<Vec<usize>>,
}

/// A block and a place in it.
#[derive(Clone, Copy)]
struct Spot {
    block: usize,
    slot: usize,
}

/// Uneven serving is worse than uneven meeting.
const SERVED_WEIGHT: i64 = 20;
const FEWEST_STEPS: usize = 60_000;
const STEPS_A_SAMPLE: usize = 200;
const ROUNDS: usize = 5;
const HIGHEST_LIMIT: usize = 8;

impl Exchange {
    fn new(samples: usize, blocks: Vec<Vec<usize>>, standing: &[Vec<usize>], partners: Partners) -> Self {
        let mut served = vec![0; samples];
        let mut meet = vec![0; samples * samples];
        for block in blocks.iter().chain(standing) {
            for left in block {
                served[*left] += 1;
                block.iter().filter(|right| *right != left).for_each(|right| meet[left * samples + right] += 1);
            }
        }
        let best_blocks = blocks.clone();
        Exchange { samples, blocks, served, meet, partners, cost: 0, best_cost: 0, best_blocks }
    }

    /// `units` lists the blocks that may change, those of a unit together.
    fn run(&mut self, units: &[Vec<usize>], random: &mut Random) {
        if units.is_empty() {
            return;
        }
        let tastings: usize = self.blocks.iter().map(Vec::len).sum();
        let steps = FEWEST_STEPS.max(STEPS_A_SAMPLE * tastings) / ROUNDS;
        for _ in 0..ROUNDS {
            for step in 0..steps {
                let limit = (HIGHEST_LIMIT * (steps - 1 - step) / steps) as i64;
                self.step(units, limit, random);
                if self.cost < self.best_cost {
                    self.best_cost = self.cost;
                    self.best_blocks.clone_from(&self.blocks);
                }
            }
        }
    }

    fn step(&mut self, units: &[Vec<usize>], limit: i64, random: &mut Random) {
        let unit = &units[random.below(units.len())];
        let spot = self.spot_in(unit, random);
        let other_unit = if self.partners == Partners::SameUnit { unit } else { &units[random.below(units.len())] };
        if self.partners == Partners::AnySample && random.coin() {
            let new = random.below(self.samples);
            if !self.blocks[spot.block].contains(&new) {
                self.try_replacing(spot, new, limit);
            }
            return;
        }
        let other = self.spot_in(other_unit, random);
        let (here, there) = (&self.blocks[spot.block], &self.blocks[other.block]);
        if !here.contains(&there[other.slot]) && !there.contains(&here[spot.slot]) {
            self.try_swapping(spot, other, limit);
        }
    }

    fn spot_in(&self, unit: &[usize], random: &mut Random) -> Spot {
        let block = unit[random.below(unit.len())];
        Spot { block, slot: random.below(self.blocks[block].len()) }
    }

    fn try_replacing(&mut self, spot: Spot, new: usize, limit: i64) {
        let old = self.blocks[spot.block][spot.slot];
        let change = self.replace(spot, new);
        if change > limit {
            self.replace(spot, old);
        } else {
            self.cost += change;
        }
    }

    fn try_swapping(&mut self, left: Spot, right: Spot, limit: i64) {
        let (old_left, old_right) = (self.blocks[left.block][left.slot], self.blocks[right.block][right.slot]);
        let change = self.replace(left, old_right) + self.replace(right, old_left);
        if change > limit {
            self.replace(left, old_left);
            self.replace(right, old_right);
        } else {
            self.cost += change;
        }
    }

    /// Puts a sample in place of another and returns by how much the cost grew.
    fn replace(&mut self, Spot { block, slot }: Spot, new: usize) -> i64 {
        let old = self.blocks[block][slot];
        let mut change = self.serve(old, -1) + self.serve(new, 1);
        for other in 0..self.blocks[block].len() {
            if other != slot {
                let partner = self.blocks[block][other];
                change += self.meet_once(old, partner, -1) + self.meet_once(new, partner, 1);
            }
        }
        self.blocks[block][slot] = new;
        change
    }

    fn serve(&mut self, sample: usize, by: i64) -> i64 {
        let before = self.served[sample];
        self.served[sample] += by;
        SERVED_WEIGHT * (2 * by * before + 1)
    }

    fn meet_once(&mut self, left: usize, right: usize, by: i64) -> i64 {
        let before = self.meet[left * self.samples + right];
        self.meet[left * self.samples + right] += by;
        self.meet[right * self.samples + left] += by;
        2 * by * before + 1
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of_one_block(samples: usize, size: usize, count: usize) -> BlockBalance {
        let mut random = Random::seeded(3);
        let blocks = one_block_each(samples, size, count, &[], &mut random);
        for block in &blocks.blocks {
            let mut sorted = block.clone();
            sorted.sort_unstable();
            sorted.dedup();
            assert_eq!(sorted.len(), size, "{samples} {size} {count}: {block:?}");
        }
        blocks.balance(samples, &[])
    }

    #[test]
    fn known_sizes_are_balanced_and_say_so() {
        let balance = of_one_block(7, 3, 14);
        assert!(balance.balanced);
        assert_eq!(
            balance.in_words,
            "Balanced incomplete block design (7, 14, 6, 3, 2): 7 samples, 14 sessions of assessors, each sample served 6 \
             times, 3 samples a session, each pair together 2 times."
        );
        assert!(of_one_block(9, 3, 12).balanced);
        assert!(of_one_block(6, 4, 15).balanced);
    }

    #[test]
    fn impossible_sizes_say_so_and_stay_even() {
        let balance = of_one_block(8, 3, 12);
        assert!(!balance.balanced);
        assert!(balance.in_words.contains("can't exist"), "{}", balance.in_words);
        for (samples, size, count) in [(8, 3, 12), (7, 3, 12), (10, 4, 20), (9, 5, 11), (12, 4, 24)] {
            let balance = of_one_block(samples, size, count);
            let (low, high) = (balance.served.iter().min().unwrap(), balance.served.iter().max().unwrap());
            assert!(high - low <= 1, "{samples} {size} {count}: {:?}", balance.served);
            let pairs = balance.concurrence_counts.iter().enumerate();
            let meet: Vec<u32> = pairs.flat_map(|(left, line)| line[..left].to_vec()).collect();
            let spread = meet.iter().max().unwrap() - meet.iter().min().unwrap();
            // A sample that is served once more than the others has to meet some of them once more or less.
            assert!(spread <= 1 + high - low, "{samples} {size} {count}: {}", balance.in_words);
        }
    }

    #[test]
    fn all_samples_over_sessions_gives_everybody_everything() {
        let mut random = Random::seeded(5);
        let blocks = all_samples_over_sessions(9, 3, 8, &[], &mut random).blocks;
        for unit in blocks.chunks(3) {
            let mut all: Vec<usize> = unit.concat();
            all.sort_unstable();
            assert_eq!(all, (0..9).collect::<Vec<_>>());
        }
    }
}
