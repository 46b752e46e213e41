//! Variances of a balanced study in closed form: the textbook table, then restricted maximum likelihood by pooling.
//!
//! Model: score = sample + assessor (random) + assessor x sample (random) + error, or without the error line where
//! there is one score a cell. Restricted maximum likelihood keeps MS assessor >= MS interaction >= MS error by pooling
//! adjacent violators, weighted by degrees of freedom; this equals what lmer with Satterthwaite degrees of freedom
//! gives (checked against lmerTest 3.1-3 on R 4.2.2). It does not know names, files or unbalanced data.

use super::cells::CellTable;
use crate::stats::results::AnovaLine;
use crate::stats::samples::means::{EstimatedMeans, MeanSquareTerm};

/// The lines of the textbook table, nothing pooled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TextbookLines {
    pub assessor: AnovaLine,
    pub sample: AnovaLine,
    pub interaction: AnovaLine,
    /// `None` with one score a cell.
    pub error: Option<AnovaLine>,
    pub total_df: f64,
    pub total_ss: f64,
}

/// Mean squares after pooling. Lines of one pool carry the same mean square and the degrees of freedom of the pool.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PooledLines {
    pub assessor: PooledLine,
    pub interaction: PooledLine,
    pub error: Option<PooledLine>,
}

/// One line after pooling.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PooledLine {
    pub ms: f64,
    pub df: f64,
    /// Lines of one pool have one number; 0 is the pool of the lowest line.
    pub pool: usize,
}

/// Shape of a balanced table.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Shape {
    assessors: f64,
    samples: f64,
    replicates: f64,
}

/// The textbook table of a balanced study. `table` must have `replicates` scores in every cell.
pub fn textbook_lines(table: &CellTable, replicates: usize) -> TextbookLines {
    let shape = Shape::of(table, replicates);
    let squares = TwoWaySquares::of(table);
    let assessor_df = shape.assessors - 1.0;
    let sample_df = shape.samples - 1.0;
    let error_df = shape.assessors * shape.samples * (shape.replicates - 1.0);
    let error = (replicates > 1).then(|| AnovaLine::new(error_df, table.within_square_sum()));
    let assessor = AnovaLine::new(assessor_df, shape.samples * shape.replicates * squares.rows);
    let sample = AnovaLine::new(sample_df, shape.assessors * shape.replicates * squares.columns);
    let interaction = AnovaLine::new(assessor_df * sample_df, shape.replicates * squares.rest);
    TextbookLines {
        assessor,
        sample,
        interaction,
        error,
        total_df: table.n as f64 - 1.0,
        total_ss: assessor.ss + sample.ss + interaction.ss + error.map_or(0.0, |line| line.ss),
    }
}

impl TextbookLines {
    /// Pools adjacent violators so that mean squares rise from error to interaction to assessor.
    pub fn pooled(&self) -> PooledLines {
        let lines = [self.error, Some(self.interaction), Some(self.assessor)];
        let mut pools: Vec<(f64, f64, usize)> = Vec::new();
        for line in lines.iter().flatten().filter(|line| line.df > 0.0) {
            let (mut ss, mut df, mut members) = (line.ss, line.df, 1);
            // A pool below that is larger breaks the order, so the two become one.
            while let Some((below_ss, below_df, below_members)) = pools.last().copied()
                && below_ss * df > ss * below_df
            {
                (ss, df, members) = (ss + below_ss, df + below_df, members + below_members);
                pools.pop();
            }
            pools.push((ss, df, members));
        }
        let mut found = pools.iter().enumerate().flat_map(|(pool, (ss, df, members))| {
            std::iter::repeat_n(PooledLine { ms: ss / df, df: *df, pool }, *members)
        });
        let error = self.error.filter(|line| line.df > 0.0).and_then(|_| found.next());
        let nothing = PooledLine { ms: 0.0, df: 0.0, pool: 0 };
        let interaction = if self.interaction.df > 0.0 { found.next() } else { error };
        let assessor = if self.assessor.df > 0.0 { found.next() } else { None };
        PooledLines {
            assessor: assessor.unwrap_or(nothing),
            interaction: interaction.or(assessor).unwrap_or(nothing),
            error,
        }
    }
}

/// Means of the samples with what their spread stands on, from the pooled lines of a balanced study.
pub fn balanced_means(table: &CellTable, replicates: usize, pooled: &PooledLines) -> EstimatedMeans {
    let shape = Shape::of(table, replicates);
    let means = (0..table.samples.len()).map(|sample| table.raw_sample_mean(sample)).collect();
    let servings = shape.assessors * shape.replicates;
    // Variance of l'm is MS interaction |l|^2 / (a r) + (MS assessor - MS interaction) (sum l)^2 / (s a r).
    let own = 1.0 / servings;
    let shared = 1.0 / (shape.samples * servings);
    let interaction = pooled.interaction;
    let assessor = pooled.assessor;
    let terms = if table.samples.len() == 1 {
        vec![MeanSquareTerm { ms: assessor.ms, df: assessor.df, own: 0.0, shared }]
    } else if assessor.pool == interaction.pool {
        vec![MeanSquareTerm { ms: interaction.ms, df: interaction.df, own, shared: 0.0 }]
    } else {
        vec![
            MeanSquareTerm { ms: interaction.ms, df: interaction.df, own, shared: -shared },
            MeanSquareTerm { ms: assessor.ms, df: assessor.df, own: 0.0, shared },
        ]
    };
    EstimatedMeans::exchangeable(means, terms)
}

impl AnovaLine {
    /// A line from its sum of squares; without degrees of freedom its mean square is 0.
    pub fn new(df: f64, ss: f64) -> Self {
        AnovaLine { df, ss, ms: if df > 0.0 { ss / df } else { 0.0 } }
    }
}

impl Shape {
    fn of(table: &CellTable, replicates: usize) -> Self {
        Shape {
            assessors: table.assessors.len() as f64,
            samples: table.samples.len() as f64,
            replicates: replicates as f64,
        }
    }
}

/// Sums of squares of a full table of cell means: of row means, of column means, and of what both leave.
struct TwoWaySquares {
    rows: f64,
    columns: f64,
    rest: f64,
}

impl TwoWaySquares {
    fn of(table: &CellTable) -> Self {
        let (height, width) = (table.assessors.len(), table.samples.len());
        let grand = table.shifted_means.iter().sum::<f64>() / (height * width) as f64;
        let mut rows = vec![0.0; height];
        let mut columns = vec![0.0; width];
        for (cell, mean) in table.shifted_means.iter().enumerate() {
            rows[cell / width] += (mean - grand) / width as f64;
            columns[cell % width] += (mean - grand) / height as f64;
        }
        let rest = table.shifted_means.iter().enumerate().map(|(cell, mean)| {
            let left = mean - grand - rows[cell / width] - columns[cell % width];
            left * left
        });
        TwoWaySquares {
            rest: rest.sum(),
            rows: rows.iter().map(|row| row * row).sum(),
            columns: columns.iter().map(|column| column * column).sum(),
        }
    }
}
