//! Least squares with blocks swept out and a jackknife over assessors: the arithmetic under `order`.

use crate::numeric::dense::SquareMatrix;
use crate::stats::results::{Defined, NotDefined};
use std::collections::BTreeMap;

/// One score with its place in the order.
#[derive(Clone, Copy, Debug)]
pub(in crate::stats) struct Serving {
    pub assessor: u32,
    /// Session and replicate: positions start anew in each.
    pub block: (Option<u32>, u32),
    pub sample: u32,
    pub position: u32,
    /// Sample tasted just before, where there was one.
    pub before: Option<u32>,
    pub score: f64,
}

/// Columns of explaining numbers, one entry a serving.
pub(in crate::stats) struct Design {
    /// Block of each serving, numbered, with its assessor.
    blocks: Vec<(usize, u32)>,
    scores: Vec<f64>,
    columns: Vec<Vec<f64>>,
}

/// An effect with its jackknife standard error.
#[derive(Clone, Copy, Debug)]
pub(in crate::stats) struct JackknifeEstimate {
    pub estimate: f64,
    pub se: f64,
    /// Assessors - 1.
    pub df: f64,
}

/// Cross products of one assessor's servings, blocks swept out.
#[derive(Clone)]
struct Products {
    matrix: Vec<Vec<f64>>,
    vector: Vec<f64>,
}

impl Design {
    /// Starts with blocks and samples.
    pub fn with_samples(servings: &[Serving]) -> Self {
        let mut numbers = BTreeMap::new();
        for serving in servings {
            let next = numbers.len();
            numbers.entry((serving.assessor, serving.block)).or_insert(next);
        }
        let blocks = servings.iter().map(|s| (numbers[&(s.assessor, s.block)], s.assessor)).collect();
        let first = servings.first().map_or(0.0, |serving| serving.score);
        let mut design =
            Design { blocks, scores: servings.iter().map(|s| s.score - first).collect(), columns: Vec::new() };
        let mut samples: Vec<u32> = servings.iter().map(|serving| serving.sample).collect();
        samples.sort_unstable();
        samples.dedup();
        design.add_levels(servings, &samples, |serving| Some(serving.sample));
        design
    }

    /// Adds a factor, effects summing to zero: one column a level but the last. Servings without a level get zeros.
    /// Returns the number of the first column.
    pub fn add_levels(
        &mut self,
        servings: &[Serving],
        levels: &[u32],
        level: impl Fn(&Serving) -> Option<u32>,
    ) -> usize {
        let from = self.columns.len();
        let Some((last, others)) = levels.split_last() else { return from };
        for one in others {
            let entry = |serving: &Serving| match level(serving) {
                Some(found) if found == *one => 1.0,
                Some(found) if found == *last => -1.0,
                _ => 0.0,
            };
            self.columns.push(servings.iter().map(entry).collect());
        }
        from
    }

    /// Adds one explaining number and returns its column.
    pub fn add_number(&mut self, servings: &[Serving], number: impl Fn(&Serving) -> f64) -> usize {
        self.columns.push(servings.iter().map(number).collect());
        self.columns.len() - 1
    }

    /// Effects of all levels of a factor added with `add_levels`, the last one included.
    ///
    /// Errors: too few assessors, or `confounded` where the effects can't be told apart.
    pub fn estimate_levels(&self, from: usize, levels: usize, confounded: &str) -> Defined<Vec<JackknifeEstimate>> {
        let all = self.solve_all(confounded)?;
        let effect = |solution: &[f64], level: usize| -> f64 {
            let own = &solution[from..from + levels - 1];
            if level + 1 < levels { own[level] } else { -own.iter().sum::<f64>() }
        };
        Ok((0..levels).map(|level| jackknife(&all, |solution| effect(solution, level))).collect())
    }

    /// Effect of one explaining number.
    ///
    /// Errors: as `estimate_levels`.
    pub fn estimate_number(&self, column: usize, confounded: &str) -> Defined<JackknifeEstimate> {
        Ok(jackknife(&self.solve_all(confounded)?, |solution| solution[column]))
    }

    /// The solution with everybody, then with each assessor left out.
    fn solve_all(&self, confounded: &str) -> Defined<Vec<Vec<f64>>> {
        let by_assessor = self.products_by_assessor();
        if by_assessor.len() < 3 {
            return Err(NotDefined::because("it takes three assessors at least"));
        }
        let outs = std::iter::once(None).chain((0..by_assessor.len()).map(Some));
        outs.map(|out| {
            let kept = by_assessor.iter().enumerate().filter(|(index, _)| Some(*index) != out).map(|(_, part)| part);
            solve(kept).ok_or_else(|| {
                NotDefined::because(match out {
                    None => confounded.to_owned(),
                    Some(_) => format!("without one of the assessors {confounded}"),
                })
            })
        })
        .collect()
    }

    fn products_by_assessor(&self) -> Vec<Products> {
        let scores = self.swept(&self.scores);
        let columns: Vec<Vec<f64>> = self.columns.iter().map(|column| self.swept(column)).collect();
        let width = columns.len();
        let empty = Products { matrix: vec![vec![0.0; width]; width], vector: vec![0.0; width] };
        let mut parts: BTreeMap<u32, Products> = BTreeMap::new();
        for (index, (_, assessor)) in self.blocks.iter().enumerate() {
            let part = parts.entry(*assessor).or_insert_with(|| empty.clone());
            for (row, column) in columns.iter().enumerate() {
                part.vector[row] += column[index] * scores[index];
                for (other, entry) in columns.iter().zip(part.matrix[row].iter_mut()) {
                    *entry += column[index] * other[index];
                }
            }
        }
        parts.into_values().collect()
    }

    /// A column with the mean of its block taken off.
    fn swept(&self, column: &[f64]) -> Vec<f64> {
        let count = self.blocks.iter().map(|(block, _)| block + 1).max().unwrap_or(0);
        let mut sums = vec![(0.0, 0.0); count];
        for ((block, _), value) in self.blocks.iter().zip(column) {
            sums[*block].0 += value;
            sums[*block].1 += 1.0;
        }
        self.blocks.iter().zip(column).map(|((block, _), value)| value - sums[*block].0 / sums[*block].1).collect()
    }
}

fn solve<'a>(parts: impl Iterator<Item = &'a Products>) -> Option<Vec<f64>> {
    let mut total: Option<Products> = None;
    for part in parts {
        match &mut total {
            None => total = Some(part.clone()),
            Some(total) => {
                total.vector.iter_mut().zip(&part.vector).for_each(|(sum, value)| *sum += value);
                for (row, other) in total.matrix.iter_mut().zip(&part.matrix) {
                    row.iter_mut().zip(other).for_each(|(sum, value)| *sum += value);
                }
            }
        }
    }
    let total = total?;
    let size = total.vector.len();
    let mut matrix = SquareMatrix::zeros(size);
    for (row, entries) in total.matrix.iter().enumerate() {
        matrix.row_mut(row).copy_from_slice(entries);
    }
    // Effects that can't be told apart leave a pivot of rounding size; the inverse then blows up.
    let inverse = matrix.positive_inverse()?.inverse;
    let steady = (0..size).all(|index| inverse[(index, index)] * matrix[(index, index)] < 1e9);
    steady.then(|| inverse.times_vector(&total.vector))
}

fn jackknife(solutions: &[Vec<f64>], effect: impl Fn(&[f64]) -> f64) -> JackknifeEstimate {
    let estimate = effect(&solutions[0]);
    let left_out: Vec<f64> = solutions[1..].iter().map(|solution| effect(solution)).collect();
    let n = left_out.len() as f64;
    let mean = left_out.iter().sum::<f64>() / n;
    let squares: f64 = left_out.iter().map(|value| (value - mean) * (value - mean)).sum();
    JackknifeEstimate { estimate, se: ((n - 1.0) / n * squares).sqrt(), df: n - 1.0 }
}
