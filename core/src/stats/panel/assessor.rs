//! One assessor on one attribute: discrimination, repeatability, agreement and use of the scale.
//!
//! The words are those of ISO 11132:2021. Agreement is always with the *others*: an assessor who is compared with a
//! mean that holds their own scores agrees with themselves.

use super::outcome_counts::Outcomes;
use crate::numeric::correlation::fisher_interval95;
use crate::numeric::describe::{is_constant, line, mean, midranks, squares_about_mean, standard_deviation};
use crate::numeric::tails::{chi_squared_quantile, f_upper, t_quantile_upper, t_upper};
use crate::stats::results::{Defined, FTest, Interval, NotDefined};
use crate::stats::samples::profiles::{everyone_but, panel_means};
use crate::study::AttributeScores;
use serde::Serialize;

/// What is known of one assessor on one attribute. Scores and standard deviations in units of the scale.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AssessorOnAttribute {
    pub assessor: String,
    /// Scores that went in.
    pub n: usize,
    /// One-way F over samples, against this assessor's own scatter between replicates.
    pub discrimination: Defined<FTest>,
    pub repeatability: Defined<Repeatability>,
    pub agreement: Defined<Agreement>,
    pub scale_use: Defined<ScaleRange>,
    /// Share of the panel's whole assessor x sample interaction that comes from this assessor, 0 to 1.
    pub interaction_share: Defined<f64>,
    /// What the tests say in three ways; nothing where the panel itself finds no differences.
    pub outcomes: Outcomes,
}

/// Scatter between replicates of the same sample.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Repeatability {
    /// Square root of the mean square within samples.
    pub sd: f64,
    /// 95 % interval of `sd` by chi-squared, for normal scatter.
    pub interval95: Option<Interval>,
    pub df: f64,
    /// This assessor's variance over that of all others together, tested upwards: small p means scatters more than
    /// the others do. `None` where the others show no scatter or have no replicates.
    pub against_others: Option<FTest>,
}

/// Likeness to the mean of the other assessors over samples.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Agreement {
    pub correlation: f64,
    /// 95 % interval by Fisher's z, approximate; from five samples on.
    pub correlation_interval95: Option<Interval>,
    /// Spearman's rank correlation.
    pub rank_correlation: f64,
    /// mm of this assessor for one mm of the others: below 1 a narrow, above 1 a wide use of the scale.
    pub slope: f64,
    /// 95 % interval by t with samples - 2 degrees of freedom; the others' means are taken as they are.
    pub slope_interval95: Option<Interval>,
    /// One-sided p against "no positive correlation" (t with samples - 2 degrees of freedom).
    pub p: f64,
    pub n_samples: usize,
}

/// Where on the line an assessor works.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ScaleRange {
    /// Mean of all scores.
    pub level: f64,
    pub lowest: f64,
    pub highest: f64,
    /// Standard deviation of all scores; `None` for a single score.
    pub sd_of_scores: Option<f64>,
    /// Standard deviation of the sample means; `None` for a single sample.
    pub sd_of_sample_means: Option<f64>,
}

/// Scores of one attribute sorted into cells, `[assessor][sample]`, each a list of replicates.
#[derive(Clone, Debug)]
pub(in crate::stats) struct Cells {
    pub scores: Vec<Vec<Vec<f64>>>,
    pub means: Vec<Vec<Option<f64>>>,
}

/// Sum of squares and degrees of freedom.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::stats) struct Squares {
    pub ss: f64,
    pub df: f64,
}

impl Cells {
    pub fn of(scores: &AttributeScores) -> Self {
        let mut cells = vec![vec![Vec::new(); scores.samples.len()]; scores.assessors.len()];
        for observation in &scores.observations {
            cells[observation.assessor as usize][observation.sample as usize].push(observation.score);
        }
        let means = cells.iter().map(|row| row.iter().map(|cell| mean(cell)).collect()).collect();
        Cells { scores: cells, means }
    }

    /// Scatter between replicates of one assessor, all samples together.
    pub fn within(&self, assessor: usize) -> Squares {
        self.scores[assessor].iter().filter(|cell| !cell.is_empty()).fold(Squares::default(), |sum, cell| Squares {
            ss: sum.ss + if is_constant(cell) { 0.0 } else { squares_about_mean(cell) },
            df: sum.df + (cell.len() - 1) as f64,
        })
    }
}

/// Everything about one assessor on one attribute. `residual_squares[a]` is assessor a's part of the interaction.
pub(in crate::stats) fn describe(
    cells: &Cells,
    assessor: usize,
    name: &str,
    residual_squares: &[f64],
) -> AssessorOnAttribute {
    let all: Vec<f64> = cells.scores[assessor].iter().flatten().copied().collect();
    AssessorOnAttribute {
        assessor: name.to_owned(),
        n: all.len(),
        discrimination: discrimination(cells, assessor, &all),
        repeatability: repeatability(cells, assessor),
        agreement: agreement(cells, assessor),
        scale_use: scale_range(cells, assessor, &all),
        interaction_share: interaction_share(residual_squares, assessor),
        outcomes: Outcomes::default(),
    }
}

fn discrimination(cells: &Cells, assessor: usize, all: &[f64]) -> Defined<FTest> {
    let filled: Vec<&Vec<f64>> = cells.scores[assessor].iter().filter(|cell| !cell.is_empty()).collect();
    if filled.len() < 2 {
        return Err(NotDefined::because("this assessor scored fewer than two samples"));
    }
    let within = cells.within(assessor);
    if within.df < 1.0 {
        return Err(NotDefined::because("this assessor has no replicates, so nothing tells the scatter"));
    }
    if is_constant(all) {
        return Err(NotDefined::because("this assessor gave the same score throughout"));
    }
    if within.ss <= 0.0 {
        return Err(NotDefined::because("this assessor's replicates are all equal, so nothing tells the scatter"));
    }
    let grand = mean(all).unwrap_or(0.0);
    let between: f64 = filled
        .iter()
        .filter_map(|cell| Some((cell.len() as f64) * (mean(cell)? - grand) * (mean(cell)? - grand)))
        .sum();
    f_test(between / (filled.len() - 1) as f64, (filled.len() - 1) as f64, within.ss / within.df, within.df)
}

fn repeatability(cells: &Cells, assessor: usize) -> Defined<Repeatability> {
    let own = cells.within(assessor);
    if own.df < 1.0 {
        return Err(NotDefined::because("this assessor has no replicates"));
    }
    let others = (0..cells.scores.len()).filter(|other| *other != assessor).fold(Squares::default(), |sum, other| {
        let squares = cells.within(other);
        Squares { ss: sum.ss + squares.ss, df: sum.df + squares.df }
    });
    let against_others = if others.df >= 1.0 && others.ss > 0.0 {
        f_test(own.ss / own.df, own.df, others.ss / others.df, others.df).ok()
    } else {
        None
    };
    Ok(Repeatability { sd: (own.ss / own.df).sqrt(), interval95: sd_interval95(own), df: own.df, against_others })
}

/// Interval of the standard deviation behind a sum of squares; `None` where nothing scatters.
pub(in crate::stats) fn sd_interval95(squares: Squares) -> Option<Interval> {
    let end = |lower: f64| Some((squares.ss / chi_squared_quantile(lower, squares.df)?).sqrt());
    if squares.ss > 0.0 { Some(Interval { lower: end(0.975)?, upper: end(0.025)? }) } else { None }
}

/// From fewer samples Fisher's z says nothing of use.
const FEWEST_SAMPLES: usize = 5;

/// Interval of a correlation over so many samples; `None` below five.
pub(in crate::stats) fn correlation_interval95(r: f64, samples: usize) -> Option<Interval> {
    let (lower, upper) = fisher_interval95(r, samples).filter(|_| samples >= FEWEST_SAMPLES)?;
    Some(Interval { lower, upper })
}

/// Student's interval of the slope of y on x: its standard error follows from the correlation.
fn slope_interval95(x: &[f64], y: &[f64], slope: f64, r: f64) -> Option<Interval> {
    let df = x.len() as f64 - 2.0;
    let rest = (1.0 - r) * (1.0 + r) * squares_about_mean(y) / df;
    let reach = t_quantile_upper(0.025, df)? * (rest / squares_about_mean(x)).sqrt();
    Some(Interval { lower: slope - reach, upper: slope + reach })
}

fn agreement(cells: &Cells, assessor: usize) -> Defined<Agreement> {
    let others = panel_means(&cells.means, &everyone_but(cells.means.len(), Some(assessor)));
    let pairs: Vec<(f64, f64)> =
        others.iter().zip(&cells.means[assessor]).filter_map(|(x, y)| Some(((*x)?, (*y)?))).collect();
    if pairs.len() < 3 {
        return Err(NotDefined::because("fewer than three samples were scored by this assessor and by others"));
    }
    let (x, y): (Vec<f64>, Vec<f64>) = pairs.iter().copied().unzip();
    if is_constant(&y) {
        return Err(NotDefined::because("this assessor gave all samples the same mean"));
    }
    let fit = line(&x, &y).ok_or_else(|| NotDefined::because("the others gave all samples the same mean"))?;
    let ranks = line(&midranks(&x), &midranks(&y));
    let df = pairs.len() as f64 - 2.0;
    let r = fit.correlation;
    let rest = (1.0 - r) * (1.0 + r);
    let p = if rest > 0.0 { t_upper(r * (df / rest).sqrt(), df) } else { Some(if r > 0.0 { 0.0 } else { 1.0 }) };
    Ok(Agreement {
        correlation: r,
        correlation_interval95: correlation_interval95(r, pairs.len()),
        slope_interval95: slope_interval95(&x, &y, fit.slope, r),
        rank_correlation: ranks.map_or(0.0, |ranks| ranks.correlation),
        slope: fit.slope,
        p: p.unwrap_or(1.0),
        n_samples: pairs.len(),
    })
}

fn scale_range(cells: &Cells, assessor: usize, all: &[f64]) -> Defined<ScaleRange> {
    let means: Vec<f64> = cells.means[assessor].iter().flatten().copied().collect();
    let extremes = crate::numeric::describe::extremes(all);
    match (mean(all), extremes) {
        (Some(level), Some((lowest, highest))) => Ok(ScaleRange {
            level,
            lowest,
            highest,
            sd_of_scores: standard_deviation(all),
            sd_of_sample_means: standard_deviation(&means),
        }),
        _ => Err(NotDefined::because("this assessor gave no score on this attribute")),
    }
}

fn interaction_share(residual_squares: &[f64], assessor: usize) -> Defined<f64> {
    let total: f64 = residual_squares.iter().sum();
    if residual_squares.len() < 2 || total <= 0.0 {
        return Err(NotDefined::because("assessors and samples do not interact at all"));
    }
    Ok(residual_squares[assessor] / total)
}

/// Ratio of two mean squares with its upper tail.
pub(in crate::stats) fn f_test(top: f64, df1: f64, bottom: f64, df2: f64) -> Defined<FTest> {
    let f = top / bottom;
    f_upper(f, df1, df2)
        .map(|p| FTest { f, df1, df2, p })
        .ok_or_else(|| NotDefined::because("the mean squares are out of range"))
}
