//! Adjusted p-values for many attributes at once, by rearranging whole assessors: the largest steadied difference,
//! attribute by attribute from the largest down. It knows rows of alternatives, and nothing of verdicts.
//!
//! Under "no difference" an assessor's row could as well have been any of a few others: its mirror image (signs flipped),
//! or the one in which another of the servings is called the candidate. All assessors' rows are rearranged together over
//! all attributes, so correlation between attributes is kept as it is. Step-down maxima: Westfall and Young 1993,
//! Resampling-Based Multiple Testing, section 2.6. Steadied: the mean square of an attribute has the median mean square of
//! all attributes added, so that a chance small scatter makes no large difference; both are unchanged by rearranging.

use super::gray_code::GrayCode;
use crate::numeric::random::Random;

/// A rearranged statistic this close below the one seen, relative to it, counts as tied with it.
const TIE: f64 = 1e-9;
/// Sums are added up anew after so many patterns, so that rounding doesn't gather.
const ANEW_AFTER: u64 = 4096;

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
    /// `[movable assessor][choice][column]`, weighted, columns from the smallest statistic to the largest.
    rows: Vec<f64>,
    /// What the assessor that stays put adds to each column.
    fixed: Vec<f64>,
    choices: usize,
    /// Sums of the rows of a few assessors, one list for each way to choose theirs; only where patterns are drawn.
    blocks: Vec<Block>,
    /// Which column of the input stands at each place.
    order: Vec<usize>,
    statistic: Vec<f64>,
    thresholds: Vec<f64>,
    reached: Vec<u64>,
    sums: Vec<f64>,
    code: GrayCode,
    random: Option<Random>,
    done: u64,
    wanted: u64,
}

/// A few neighbouring assessors: `[way to choose their rows][column]`, the first one's choice counting fastest.
#[derive(Clone, Debug)]
struct Block {
    first: usize,
    places: usize,
    sums: Vec<f64>,
}

/// Numbers that all blocks of one length hold at most, and ways to choose in one of them.
const BLOCK_NUMBERS: usize = 1 << 18;
const BLOCK_WAYS: usize = 256;

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
        let typical = median(&mean_squares);
        let weight = |(mean_square, count): (&f64, &f64)| {
            let steadied = mean_square + steadying * typical;
            if steadied > 0.0 { 1.0 / (count.max(1.0) * steadied).sqrt() } else { 0.0 }
        };
        mean_squares.iter().zip(&self.counts).map(weight).collect()
    }

    /// What the assessor that stays put adds, and the rows of the others; weighted, the columns in this order.
    fn weighted_rows(&self, order: &[usize], weights: &[f64]) -> (Vec<f64>, Vec<f64>) {
        let rows = self.values.chunks_exact(self.columns.max(1));
        let mut fixed: Vec<f64> =
            rows.flat_map(|row| order.iter().map(|column| row[*column] * weights[*column])).collect();
        let stays = if self.first_stays { self.choices * self.columns } else { 0 };
        let rows = fixed.split_off(stays.min(fixed.len()));
        fixed.resize(self.columns, 0.0);
        (fixed, rows)
    }

    /// Statistic of every column as the rows came.
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
        let shape = (alternatives.choices, alternatives.columns);
        StepDownRun {
            blocks: if all.is_none() { blocks_of(&rows, shape) } else { Vec::new() },
            rows,
            fixed,
            choices: alternatives.choices,
            thresholds: order.iter().map(|column| statistic[*column] * (1.0 - TIE)).collect(),
            reached: vec![0; order.len()],
            sums: vec![0.0; order.len()],
            order,
            statistic,
            code: GrayCode::new(alternatives.movable(), alternatives.choices),
            random: all.is_none().then(|| Random::seeded_for(patterns.seed, "calibrated verdict")),
            done: 0,
            wanted: all.unwrap_or(patterns.random + 1),
        }
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
            self.rearrange();
            self.count();
            self.done += 1;
        }
    }

    /// Runs to the end and sums up.
    pub fn finish(mut self) -> StepDownResult {
        self.advance(u64::MAX);
        let mut p = vec![1.0; self.order.len()];
        let mut highest = 0.0_f64;
        for (column, reached) in self.order.iter().zip(&self.reached).rev() {
            highest = highest.max(*reached as f64 / self.done as f64);
            p[*column] = highest;
        }
        StepDownResult { p, statistic: self.statistic, patterns: self.done, exact: self.random.is_none() }
    }

    /// Brings the sums to the next pattern; the first is the one seen.
    fn rearrange(&mut self) {
        if let Some(random) = self.random.as_mut().filter(|_| self.done > 0) {
            self.code.draw(random);
        }
        let step = if self.random.is_none() && self.done > 0 { self.code.next() } else { None };
        match step {
            Some(step) if !self.done.is_multiple_of(ANEW_AFTER) => {
                let width = self.sums.len();
                let row = |choice: usize| &self.rows[(step.place * self.choices + choice) * width..][..width];
                for ((sum, to), from) in self.sums.iter_mut().zip(row(step.to)).zip(row(step.from)) {
                    *sum += to - from;
                }
            }
            _ => self.add_up(),
        }
    }

    fn add_up(&mut self) {
        let width = self.sums.len();
        self.sums.copy_from_slice(&self.fixed);
        for block in &self.blocks {
            let chosen = &self.code.chosen()[block.first..block.first + block.places];
            let way = chosen.iter().rev().fold(0, |way, choice| way * self.choices + choice);
            let row = &block.sums[way * width..][..width];
            self.sums.iter_mut().zip(row).for_each(|(sum, value)| *sum += value);
        }
        if !self.blocks.is_empty() {
            return;
        }
        for (place, choice) in self.code.chosen().iter().enumerate() {
            let row = &self.rows[(place * self.choices + choice) * width..][..width];
            self.sums.iter_mut().zip(row).for_each(|(sum, value)| *sum += value);
        }
    }

    /// Counts the columns that are reached by the largest of themselves and all smaller ones.
    fn count(&mut self) {
        let mut largest = 0.0_f64;
        for ((sum, threshold), reached) in self.sums.iter().zip(&self.thresholds).zip(&mut self.reached) {
            let size = sum.abs();
            largest = if size > largest { size } else { largest };
            *reached += u64::from(largest >= *threshold);
        }
    }
}

/// Rows `[assessor][choice][column]` summed up a few assessors at a time, so that a drawn pattern takes few additions.
fn blocks_of(rows: &[f64], (choices, columns): (usize, usize)) -> Vec<Block> {
    let ways_at_most = (BLOCK_NUMBERS / columns.max(1)).clamp(choices, BLOCK_WAYS);
    let most = (1..).take_while(|places| choices.pow(*places) <= ways_at_most).last().unwrap_or(1) as usize;
    let assessors = rows.len() / (choices * columns).max(1);
    let block = |first: usize| {
        let places = most.min(assessors - first);
        let mut sums = vec![0.0; columns];
        for place in first..first + places {
            // Every way so far, followed by each choice of this assessor.
            let so_far = sums.clone();
            sums.clear();
            for choice in 0..choices {
                let row = &rows[(place * choices + choice) * columns..][..columns];
                sums.extend(so_far.iter().enumerate().map(|(at, sum)| sum + row[at % columns]));
            }
        }
        Block { first, places, sums }
    };
    (0..assessors).step_by(most).map(block).collect()
}

/// Middle value, or the mean of the middle two; 0 for none.
fn median(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let middle = sorted.len() / 2;
    match sorted.len() {
        0 => 0.0,
        length if length % 2 == 1 => sorted[middle],
        _ => 0.5 * (sorted[middle - 1] + sorted[middle]),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

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
        plain.blocks.clear();
        assert_eq!(plain.finish().p, chance.p);
        for (one, other) in exact.p.iter().zip(&chance.p) {
            // Four standard errors of a share out of 10,000.
            assert!((one - other).abs() < 4.0 * (one * (1.0 - one) / 1e4).sqrt() + 1e-4, "{one} {other}");
        }
    }
}
