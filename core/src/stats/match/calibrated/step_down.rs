//! Adjusted p-values for many attributes at once, by rearranging whole assessors: the largest steadied difference,
//! attribute by attribute from the largest down. It knows rows of alternatives, and nothing of verdicts.
//!
//! Under "no difference" an assessor's row could as well have been any of a few others: its mirror image (signs flipped),
//! or the one in which another of the servings is called the candidate. All assessors' rows are rearranged together over
//! all attributes, so correlation between attributes is kept as it is. Step-down maxima: Westfall and Young 1993,
//! Resampling-Based Multiple Testing, section 2.6. Steadied: the mean square of an attribute has the median mean square of
//! all attributes added, so that a chance small scatter makes no large difference; both are unchanged by rearranging.

use super::drawn_patterns::{Drawing, n_blocks, places_a_block};
use super::lanes::{LANES, Lanes, are_worth_it};
use super::tiles::{Block, CHUNK, Chunk, count_tile, in_chunks};
use crate::numeric::describe::median_in_place;
use std::ops::Range;
use std::sync::Arc;

/// A rearranged statistic this close below the one seen, relative to it, counts as tied with it.
const TIE: f64 = 1e-9;
/// Chunks that go through a batch of patterns together: the sums made beforehand for them stay near the processor.
const CHUNKS_A_TILE: usize = 8;
/// Patterns that go through the columns together.
const BATCH: u64 = 16_384;
/// The same at first, where it may turn out soon that no column can come out as small as asked for; then as many as so far.
const FIRST_BATCH: u64 = 256;

/// How many patterns are gone through.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Patterns {
    /// All patterns where there are at most so many.
    pub all_up_to: u64,
    /// Else so many drawn by chance, and the one seen besides.
    pub random: u64,
    pub seed: u64,
}

/// What each assessor's row could as well have been.
#[derive(Clone, Debug)]
pub(super) struct Alternatives {
    /// `[assessor][choice][column]`, one after the other; choice 0 is the row seen. 0 where missing.
    pub values: Vec<f64>,
    /// Rows an assessor: 2 or more.
    pub choices: usize,
    pub columns: usize,
    /// Assessors with a value, one count a column.
    pub counts: Vec<f64>,
    /// Whether the same choice for everybody gives the same sizes, so that the first assessor can stay put.
    pub first_stays: bool,
}

/// Patterns gone through slice by slice; any slicing gives the same result.
#[derive(Clone, Debug)]
pub(super) struct StepDownRun {
    /// `[movable assessor][choice][chunk of columns]`, weighted, columns from the smallest statistic to the largest.
    rows: Vec<Chunk>,
    /// What the assessor that stays put adds to each column.
    fixed: Vec<Chunk>,
    choices: usize,
    movable: usize,
    /// So many neighbouring assessors' rows are summed up beforehand, for every way to choose them.
    places_a_block: usize,
    /// Which column of the input stands at each place.
    order: Vec<usize>,
    statistic: Vec<f64>,
    /// Infinite behind the last column.
    thresholds: Vec<Chunk>,
    reached: Vec<[u64; CHUNK]>,
    /// Drawn patterns as `ways`; `None` where all are gone through.
    drawn: Option<Arc<Vec<u8>>>,
    done: u64,
    wanted: u64,
    /// Where more patterns than these reach the largest statistic, the rest are not gone through.
    enough: Option<u64>,
}

/// Adjusted p-values, in the order of the columns.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct StepDownResult {
    /// Share of patterns whose largest statistic reaches the column's, made to rise from column to column.
    pub p: Vec<f64>,
    /// Steadied statistic seen, one a column.
    pub statistic: Vec<f64>,
    /// Patterns gone through, the one seen among them.
    pub patterns: u64,
    /// Whether these were all patterns.
    pub exact: bool,
}

impl Alternatives {
    fn assessors(&self) -> usize {
        self.values.len() / (self.choices * self.columns).max(1)
    }

    fn movable(&self) -> usize {
        self.assessors().saturating_sub(usize::from(self.first_stays))
    }

    /// How many patterns there are; `None` beyond 2^64.
    pub fn patterns(&self) -> Option<u64> {
        (self.choices as u64).checked_pow(self.movable() as u32)
    }

    /// Factor that makes the size of a column's sum its statistic, steadied by so many median mean squares.
    fn weights(&self, steadying: f64) -> Vec<f64> {
        let mut squares = vec![0.0; self.columns];
        for row in self.values.chunks_exact(self.columns) {
            squares.iter_mut().zip(row).for_each(|(sum, value)| *sum += value * value);
        }
        let each = squares.iter().zip(&self.counts);
        let mean_squares: Vec<f64> = each.map(|(sum, count)| sum / (self.choices as f64 * count.max(1.0))).collect();
        let typical = median_in_place(&mut mean_squares.clone()).unwrap_or(0.0);
        let weight = |(mean_square, count): (&f64, &f64)| {
            let steadied = mean_square + steadying * typical;
            if steadied > 0.0 { 1.0 / (count.max(1.0) * steadied).sqrt() } else { 0.0 }
        };
        mean_squares.iter().zip(&self.counts).map(weight).collect()
    }

    /// What the assessor that stays put adds, and the rows of the others; weighted, the columns in this order.
    fn weighted_rows(&self, order: &[usize], weights: &[f64]) -> (Vec<Chunk>, Vec<Chunk>) {
        let rows = self.values.chunks_exact(self.columns.max(1));
        let weighted = |row: &[f64]| in_chunks(order.iter().map(|column| row[*column] * weights[*column]), 0.0);
        let mut fixed: Vec<Chunk> = rows.flat_map(weighted).collect();
        let width = order.len().div_ceil(CHUNK);
        let stays = if self.first_stays { self.choices * width } else { 0 };
        let rows = fixed.split_off(stays.min(fixed.len()));
        fixed.resize(width, [0.0; CHUNK]);
        fixed.truncate(width);
        (fixed, rows)
    }

    fn seen(&self, weights: &[f64]) -> Vec<f64> {
        let mut sums = vec![0.0; self.columns];
        for row in self.values.chunks_exact(self.columns).step_by(self.choices) {
            sums.iter_mut().zip(row).for_each(|(sum, value)| *sum += value);
        }
        sums.iter().zip(weights).map(|(sum, weight)| (sum * weight).abs()).collect()
    }
}

impl StepDownRun {
    pub fn start(alternatives: &Alternatives, steadying: f64, patterns: Patterns) -> Self {
        let weights = alternatives.weights(steadying);
        let statistic = alternatives.seen(&weights);
        let mut order: Vec<usize> = (0..alternatives.columns).collect();
        order.sort_by(|a, b| statistic[*a].total_cmp(&statistic[*b]).then(b.cmp(a)));
        let (fixed, rows) = alternatives.weighted_rows(&order, &weights);
        let all = alternatives.patterns().filter(|all| *all <= patterns.all_up_to);
        let thresholds = in_chunks(order.iter().map(|column| statistic[*column] * (1.0 - TIE)), f64::INFINITY);
        let (movable, choices) = (alternatives.movable(), alternatives.choices);
        let places_a_block = places_a_block(movable, choices, all.unwrap_or(patterns.random));
        let drawing =
            Drawing { places: movable, choices, places_a_block, patterns: patterns.random, seed: patterns.seed };
        StepDownRun {
            rows,
            fixed,
            choices,
            movable,
            places_a_block,
            reached: vec![[0; CHUNK]; thresholds.len()],
            thresholds,
            order,
            statistic,
            drawn: all.is_none().then(|| drawing.ways()),
            done: 0,
            wanted: all.unwrap_or(patterns.random + 1),
            enough: None,
        }
    }

    /// Ends the run as soon as no p can come out at `alpha` or below: all p found are above it then, and no more is known of
    /// them. The column with the largest statistic has the smallest p.
    pub fn ending_above(self, alpha: f64) -> Self {
        StepDownRun { enough: Some((alpha * self.wanted as f64 * (1.0 + TIE)) as u64), ..self }
    }

    /// Patterns gone through so far.
    pub fn done(&self) -> u64 {
        self.done
    }

    /// Patterns to go through in all.
    pub fn wanted(&self) -> u64 {
        self.wanted
    }

    /// Goes through up to `patterns` more patterns.
    pub fn advance(&mut self, patterns: u64) {
        let until = self.wanted.min(self.done.saturating_add(patterns));
        while self.done < until {
            let most = if self.enough.is_some() { FIRST_BATCH.max(self.done).min(BATCH) } else { BATCH };
            self.done += self.count_next(most.min(until - self.done));
            if self.enough.is_some_and(|enough| self.largest_reached() > enough) {
                self.wanted = self.done;
                return;
            }
        }
    }

    /// Counts up to so many patterns more, and returns how many it was: those in lanes begin at a multiple.
    fn count_next(&mut self, patterns: u64) -> u64 {
        let lanes = LANES as u64;
        let by_lanes = self.drawn.is_none() && self.choices == 2 && are_worth_it(self.movable, self.order.len());
        if by_lanes && self.done.is_multiple_of(lanes) && patterns >= lanes {
            let whole = patterns - patterns % lanes;
            self.count_in_lanes(self.done..self.done + whole);
            return whole;
        }
        let batch = if by_lanes { patterns.min(lanes - self.done % lanes) } else { patterns };
        let ways = self.next_ways(batch);
        self.count(&ways, batch as usize);
        batch
    }

    fn count_in_lanes(&mut self, patterns: Range<u64>) {
        let (columns, width) = (self.order.len(), self.fixed.len());
        let row = |place: usize, choice: usize| self.rows[(2 * place + choice) * width..][..width].as_flattened();
        let thresholds = &self.thresholds.as_flattened()[..columns];
        let lanes = Lanes { row, places: self.movable, fixed: self.fixed.as_flattened(), thresholds };
        lanes.count(patterns, self.reached.as_flattened_mut());
    }

    fn largest_reached(&self) -> u64 {
        self.order.len().checked_sub(1).map_or(0, |last| self.reached.as_flattened()[last])
    }

    /// Runs to the end and sums up.
    pub fn finish(mut self) -> StepDownResult {
        self.advance(u64::MAX);
        let mut p = vec![1.0; self.order.len()];
        let mut highest = 0.0_f64;
        for (column, reached) in self.order.iter().zip(self.reached.as_flattened()).rev() {
            highest = highest.max(*reached as f64 / self.done as f64);
            p[*column] = highest;
        }
        StepDownResult { p, statistic: self.statistic, patterns: self.done, exact: self.drawn.is_none() }
    }

    fn n_blocks(&self) -> usize {
        n_blocks(self.movable, self.places_a_block)
    }

    /// The next patterns, `[pattern][block]`: which way the rows of the block are chosen, the first assessor's choice
    /// counting fastest. The first pattern of all is the one seen.
    fn next_ways(&self, patterns: u64) -> Vec<u8> {
        let until = self.done + patterns;
        if let Some(drawn) = &self.drawn {
            return drawn[self.done as usize * self.n_blocks()..until as usize * self.n_blocks()].to_vec();
        }
        let ways_a_block = (self.choices as u64).pow(self.places_a_block as u32);
        let mut ways = Vec::with_capacity(patterns as usize * self.n_blocks());
        for mut pattern in self.done..until {
            for _ in 0..self.n_blocks() {
                ways.push((pattern % ways_a_block) as u8);
                pattern /= ways_a_block;
            }
        }
        ways
    }

    /// Counts the columns that are reached by the largest of themselves and all smaller ones, tile by tile.
    fn count(&mut self, ways: &[u8], patterns: usize) {
        let mut largest = vec![0.0; patterns];
        for first in (0..self.fixed.len()).step_by(CHUNKS_A_TILE) {
            let until = self.fixed.len().min(first + CHUNKS_A_TILE);
            let blocks: Vec<Block> = (0..self.n_blocks()).map(|block| self.block(block, first..until)).collect();
            let (thresholds, reached) = (&self.thresholds[first..until], &mut self.reached[first..until]);
            let mut rows: Vec<&[Chunk]> = Vec::with_capacity(blocks.len());
            for (ways, largest) in ways.chunks_exact(blocks.len()).zip(&mut largest) {
                rows.clear();
                rows.extend(blocks.iter().zip(ways).map(|(block, way)| block.row(*way)));
                *largest = count_tile(&rows, thresholds, reached, *largest);
            }
        }
    }

    /// The sums of one block on a tile, for every way to choose its assessors' rows.
    fn block(&self, block: usize, tile: Range<usize>) -> Block {
        let (first, width) = (block * self.places_a_block, self.fixed.len());
        let until = self.movable.min(first + self.places_a_block);
        let mut sums = Block::new(tile.len(), self.choices.pow((until - first) as u32));
        if block == 0 {
            sums.start(&self.fixed[tile.clone()]);
        }
        for place in first..until {
            let row = |choice: usize| &self.rows[(place * self.choices + choice) * width..][tile.clone()];
            sums.multiply(self.choices, row);
        }
        sums
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numeric::random::Random;

    /// Every pattern by counting in the base of the choices, added up from nothing: no code shared with the run.
    fn by_plain_loops(table: &Alternatives) -> Vec<f64> {
        let (weights, movable, stays) = (table.weights(1.0), table.movable(), usize::from(table.first_stays));
        let seen = table.seen(&weights);
        let mut order: Vec<usize> = (0..table.columns).collect();
        order.sort_by(|a, b| seen[*b].total_cmp(&seen[*a]));
        let mut p = vec![0.0_f64; table.columns];
        let all = table.choices.pow(movable as u32);
        for pattern in 0..all {
            let choice = |assessor: usize| {
                if assessor < stays {
                    0
                } else {
                    pattern / table.choices.pow((assessor - stays) as u32) % table.choices
                }
            };
            let value = |a: usize, k: usize| table.values[(a * table.choices + choice(a)) * table.columns + k];
            let statistic = |k: usize| ((0..movable + stays).map(|a| value(a, k)).sum::<f64>() * weights[k]).abs();
            for (rank, column) in order.iter().enumerate() {
                let largest = order[rank..].iter().map(|k| statistic(*k)).fold(0.0, f64::max);
                p[*column] += f64::from(u8::from(largest >= seen[*column] * (1.0 - TIE))) / all as f64;
            }
        }
        let mut highest = 0.0_f64;
        for column in order {
            highest = highest.max(p[column]);
            p[column] = highest;
        }
        p
    }

    fn made_up(assessors: usize, choices: usize, columns: usize, seed: u64) -> Alternatives {
        let mut random = Random::seeded_for(seed, "step down");
        let mut values = Vec::new();
        for _ in 0..assessors {
            let row: Vec<f64> = (0..columns).map(|_| (20.0 * random.normal()).round() / 2.0 + 2.0).collect();
            for choice in 0..choices {
                // Mirror images for two choices; for three another row each.
                let other = |value: &f64| if choice == 1 { -value } else { value * (1.0 - 0.7 * choice as f64) };
                values.extend(row.iter().map(other));
            }
        }
        Alternatives { values, choices, columns, counts: vec![assessors as f64; columns], first_stays: choices == 2 }
    }

    #[test]
    fn every_pattern_by_the_code_and_by_plain_loops() {
        for (assessors, choices, columns) in [(7, 2, 5), (2, 2, 1), (13, 2, 3), (5, 3, 4), (8, 3, 2)] {
            let table = made_up(assessors, choices, columns, assessors as u64);
            let all = Patterns { all_up_to: 1 << 17, random: 0, seed: 0 };
            let got = StepDownRun::start(&table, 1.0, all).finish();
            assert!(got.exact && got.patterns == table.patterns().unwrap());
            for (one, other) in got.p.iter().zip(by_plain_loops(&table)) {
                assert!((one - other).abs() < 1e-12, "{assessors} {choices}: {:?}", got.p);
            }
        }
    }

    #[test]
    fn any_slicing_gives_the_same_and_chance_is_near_the_whole() {
        let table = made_up(12, 2, 6, 3);
        let all = Patterns { all_up_to: 1 << 17, random: 9_999, seed: 4 };
        let drawn = Patterns { all_up_to: 10, ..all };
        for patterns in [all, drawn] {
            let whole = StepDownRun::start(&table, 1.0, patterns).finish();
            let mut sliced = StepDownRun::start(&table, 1.0, patterns);
            while sliced.done() < sliced.wanted() {
                sliced.advance(37);
            }
            assert_eq!(sliced.finish(), whole);
        }
        let (exact, chance) =
            (StepDownRun::start(&table, 1.0, all).finish(), StepDownRun::start(&table, 1.0, drawn).finish());
        assert!(!chance.exact && chance.patterns == 10_000);
        // Identity: assessor by assessor, without sums made beforehand.
        let mut plain = StepDownRun::start(&table, 1.0, drawn);
        let drawing = Drawing { places: 11, choices: 2, places_a_block: 1, patterns: 9_999, seed: 4 };
        (plain.places_a_block, plain.drawn) = (1, Some(drawing.ways()));
        assert_eq!(plain.finish().p, chance.p);
        for (one, other) in exact.p.iter().zip(&chance.p) {
            // Four standard errors of a share out of 10,000.
            assert!((one - other).abs() < 4.0 * (one * (1.0 - one) / 1e4).sqrt() + 1e-4, "{one} {other}");
        }
    }

    #[test]
    fn a_run_that_ends_early_has_every_p_above_alpha_and_else_all_as_they_are() {
        let all = Patterns { all_up_to: 1 << 17, random: 0, seed: 0 };
        let mut ended = 0;
        for seed in 0..40 {
            let table = made_up(11, 2, 4, seed);
            let whole = StepDownRun::start(&table, 1.0, all).finish();
            let early = StepDownRun::start(&table, 1.0, all).ending_above(0.2).finish();
            if early.patterns < whole.patterns {
                ended += 1;
                assert!(whole.p.iter().chain(&early.p).all(|p| *p > 0.2), "{:?} {:?}", whole.p, early.p);
            } else {
                assert_eq!(early.p, whole.p);
            }
        }
        assert!((5..40).contains(&ended), "{ended}");
    }
}
