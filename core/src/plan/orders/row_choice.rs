//! Chooses rows from a pool of serving orders so that counts stay as even as they can, around rows that stand already.
//! It knows nothing of where the pool comes from.

use crate::numeric::random::Random;

/// Counts of positions and predecessors, flat, that can be taken back.
#[derive(Clone, Debug)]
pub(in crate::plan) struct Tally {
    samples: usize,
    positions: Vec<i64>,
    predecessors: Vec<i64>,
}

/// Weight of positions against predecessors where a search may pass over plateaus.
const POSITION_WEIGHT: i64 = 8;

/// What is made small, in this order of importance: unevenness of positions and of predecessors in the replicate, then
/// over the whole plan. Sums of squares.
type Cost = [i64; 4];

impl Tally {
    pub(in crate::plan) fn new(samples: usize) -> Self {
        Tally { samples, positions: vec![0; samples * samples], predecessors: vec![0; samples * samples] }
    }

    pub(in crate::plan) fn change(&mut self, order: &[usize], by: i64) {
        for (position, sample) in order.iter().enumerate() {
            self.positions[sample * self.samples + position] += by;
        }
        for pair in order.windows(2) {
            self.predecessors[pair[0] * self.samples + pair[1]] += by;
        }
    }

    /// Adds or takes back an order and returns by how much unevenness grew, positions counting most.
    pub(in crate::plan) fn change_and_price(&mut self, order: &[usize], by: i64) -> i64 {
        if by < 0 {
            self.change(order, -1);
        }
        let (positions, predecessors) = self.cost_of_adding(order);
        if by > 0 {
            self.change(order, 1);
        }
        by.signum() * (POSITION_WEIGHT * positions + predecessors)
    }

    /// What one more such order adds to the two sums of squares.
    fn cost_of_adding(&self, order: &[usize]) -> (i64, i64) {
        let squares = |count: i64| 2 * count + 1;
        let positions = order
            .iter()
            .enumerate()
            .map(|(position, sample)| squares(self.positions[sample * self.samples + position]));
        let predecessors = order.windows(2).map(|pair| squares(self.predecessors[pair[0] * self.samples + pair[1]]));
        (positions.sum(), predecessors.sum())
    }
}

/// Indices into `pool` of `count` rows, repeats allowed. `replicate` and `overall` hold what stands already and are
/// left as they were.
pub(in crate::plan) fn choose_rows(
    pool: &[Vec<usize>],
    count: usize,
    replicate: &Tally,
    overall: &Tally,
    random: &mut Random,
) -> Vec<usize> {
    let (mut replicate, mut overall) = (replicate.clone(), overall.clone());
    let mut chosen = Vec::with_capacity(count);
    // Whole designs are balanced by themselves: only the remainder has to be looked for.
    let untouched = replicate.positions.iter().all(|cell| *cell == 0);
    let whole_designs = if untouched { count / pool.len() } else { 0 };
    for _ in 0..whole_designs {
        for (index, order) in pool.iter().enumerate() {
            chosen.push(index);
            replicate.change(order, 1);
            overall.change(order, 1);
        }
    }
    let rest = count - chosen.len();
    let mut best: Option<(Cost, Vec<usize>)> = None;
    for start in 0..STARTS {
        let candidate = descend(pool, first_guess(pool, rest, start, random), &replicate, &overall);
        if best.as_ref().is_none_or(|(cost, _)| candidate.0 < *cost) {
            best = Some(candidate);
        }
    }
    chosen.extend(best.map(|(_, rows)| rows).unwrap_or_default());
    chosen
}

/// Gives the rows of a replicate to assessors so that nobody meets a sample again in a position where they had it.
/// `earlier` lists each assessor's orders of other replicates. The result is in the order of `earlier`.
pub(in crate::plan) fn assign_rows(
    rows: Vec<Vec<usize>>,
    earlier: &[Vec<&[usize]>],
    random: &mut Random,
) -> Vec<Vec<usize>> {
    let mut rows = rows;
    random.shuffle(&mut rows);
    let repeats = |assessor: usize, row: &[usize]| -> usize {
        let same = |before: &&[usize]| before.iter().zip(row).filter(|(old, new)| old == new).count();
        earlier[assessor].iter().map(|before| same(before).pow(2)).sum()
    };
    let mut improved = true;
    while improved {
        improved = false;
        for left in 0..rows.len() {
            for right in left + 1..rows.len() {
                let now = repeats(left, &rows[left]) + repeats(right, &rows[right]);
                if repeats(left, &rows[right]) + repeats(right, &rows[left]) < now {
                    rows.swap(left, right);
                    improved = true;
                }
            }
        }
    }
    rows
}

const STARTS: usize = 24;

/// The first guess takes the pool from its front, which holds a Latin square whole; the others are random.
fn first_guess(pool: &[Vec<usize>], count: usize, start: usize, random: &mut Random) -> Vec<usize> {
    if start == 0 {
        return (0..count).map(|index| index % pool.len()).collect();
    }
    let mut order: Vec<usize> = (0..pool.len()).collect();
    random.shuffle(&mut order);
    (0..count).map(|index| order[index % order.len()]).collect()
}

/// Replaces one row at a time by the one that helps most until none helps.
fn descend(pool: &[Vec<usize>], rows: Vec<usize>, replicate: &Tally, overall: &Tally) -> (Cost, Vec<usize>) {
    let tallies = [replicate.clone(), overall.clone()];
    let mut descent = Descent { pool, rows: Vec::with_capacity(rows.len()), tallies, total: [0; 4] };
    rows.into_iter().for_each(|row| descent.add(row));
    let mut improved = true;
    while improved {
        improved = false;
        for slot in 0..descent.rows.len() {
            improved |= descent.improve(slot);
        }
    }
    (descent.total, descent.rows)
}

struct Descent<'p> {
    pool: &'p [Vec<usize>],
    rows: Vec<usize>,
    /// Within the replicate, and over all.
    tallies: [Tally; 2],
    total: Cost,
}

impl Descent<'_> {
    fn add(&mut self, row: usize) {
        self.total = plus(self.total, self.cost_of(row), 1);
        self.change(row, 1);
        self.rows.push(row);
    }

    /// Puts the best row into a slot; false where it stands there already.
    fn improve(&mut self, slot: usize) -> bool {
        let old = self.rows[slot];
        self.change(old, -1);
        let old_cost = self.cost_of(old);
        let costs = (0..self.pool.len()).map(|row| (self.cost_of(row), row));
        let (new_cost, new) = costs.min().unwrap_or((old_cost, old));
        let is_better = new_cost < old_cost;
        if is_better {
            self.total = plus(plus(self.total, old_cost, -1), new_cost, 1);
            self.rows[slot] = new;
        }
        self.change(self.rows[slot], 1);
        is_better
    }

    fn cost_of(&self, row: usize) -> Cost {
        let [own, overall] = &self.tallies;
        let (position, predecessor) = own.cost_of_adding(&self.pool[row]);
        let (position_overall, predecessor_overall) = overall.cost_of_adding(&self.pool[row]);
        [position, predecessor, position_overall, predecessor_overall]
    }

    fn change(&mut self, row: usize, by: i64) {
        let order = &self.pool[row];
        self.tallies.iter_mut().for_each(|tally| tally.change(order, by));
    }
}

fn plus(mut total: Cost, part: Cost, sign: i64) -> Cost {
    total.iter_mut().zip(part).for_each(|(sum, term)| *sum += sign * term);
    total
}
