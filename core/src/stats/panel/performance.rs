//! Whether the panel can be believed: discrimination, agreement and repeatability of each assessor and of the panel.
//!
//! ISO 11132:2021 gives the vocabulary. Assessors are judged only on attributes on which the panel finds differences
//! between samples: nobody can find what is not there. Each test says shown, fails, or too few cups to tell
//! (`outcomes`); many are made, so the number of failures that sound assessors would have by chance stands beside, and
//! nobody is ever left out by this file.

use super::assessor::{AssessorOnAttribute, Cells, Squares, describe, f_test, sd_interval95};
use super::intraclass::{Intraclass, intraclass};
use super::outcomes::{Outcome, OutcomeCounts, Outcomes, outcomes};
use super::people::{Parts, Person, people};
use crate::numeric::binomial::clopper_pearson;
use crate::numeric::describe::mean;
use crate::stats::results::{Defined, FTest, Interval, NotDefined};
use crate::study::Study;
use serde::Serialize;

/// The panel and its assessors on all attributes.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PanelPerformance {
    /// Level of all tests here; the study's own.
    pub alpha: f64,
    /// In the order of the score sheet.
    pub attributes: Vec<PanelAttribute>,
    /// In the order of the study.
    pub assessors: Vec<AssessorSummary>,
    /// All assessors together.
    pub all: TestCounts,
    /// Each assessor beside the others, in the same order.
    pub people: Vec<Person>,
    /// What the figures stand on, in words.
    pub model: String,
}

/// The panel as a whole on one attribute, and each assessor on it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PanelAttribute {
    pub attribute: String,
    /// p of the sample effect, assessor random, as handed in.
    pub sample_p: Defined<f64>,
    /// Whether that p is below alpha.
    pub panel_discriminates: bool,
    /// Assessor x sample interaction against the error within assessors: large means the assessors disagree.
    pub interaction: Defined<FTest>,
    /// Pooled over assessors, in units of the scale.
    pub repeatability: Defined<PooledRepeatability>,
    /// Over the assessors' sample means, samples as targets; only where every assessor scored every sample.
    pub intraclass: Defined<Intraclass>,
    pub assessors: Vec<AssessorOnAttribute>,
}

/// Scatter between replicates, all assessors together.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PooledRepeatability {
    pub sd: f64,
    /// 95 % interval by chi-squared, for normal scatter.
    pub interval95: Option<Interval>,
    pub df: f64,
}

/// One assessor over all attributes.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AssessorSummary {
    pub assessor: String,
    /// Attributes on which this assessor's own F has p below alpha, whatever the panel finds.
    pub n_discriminating: usize,
    /// Mean over attributes of the correlation with the others.
    pub mean_correlation: Defined<f64>,
    /// Root of the mean over attributes of the variance between replicates, in units of the scale.
    pub repeatability_sd: Defined<f64>,
    /// The tests on attributes where the panel discriminates, in three ways.
    pub counts: TestCounts,
    /// Such attributes where this assessor's own F is not shown, for lack of cups or of skill; `counts` tells them apart.
    pub fails_to_discriminate: Defined<FailureShare>,
    /// Such attributes where this assessor scatters more than the others (p below alpha).
    pub fails_to_repeat: Defined<FailureShare>,
    /// Such attributes where the correlation with the others is not shown to be positive.
    pub fails_to_agree: Defined<FailureShare>,
}

/// What the three tests said, over attributes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct TestCounts {
    pub discrimination: OutcomeCounts,
    pub repeatability: OutcomeCounts,
    pub agreement: OutcomeCounts,
}

/// A count of what was not shown, among what was tested.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct FailureShare {
    pub failed: usize,
    pub tested: usize,
    pub share: f64,
    /// Exact 95 % interval of Clopper and Pearson.
    pub interval95: Interval,
}

/// Performance of all that count in the study.
///
/// `sample_p` holds one entry an active attribute, in order: the p of the sample effect from the mixed model, assessor
/// random. It is handed in so that the page never shows two different ones.
pub fn performance(study: &Study, sample_p: &[Defined<f64>]) -> PanelPerformance {
    let alpha = study.settings.alpha;
    let unknown = || Err(NotDefined::because("no test of the samples was handed in"));
    let (attributes, parts): (Vec<PanelAttribute>, Vec<Vec<Parts>>) = study
        .active_attributes()
        .into_iter()
        .enumerate()
        .map(|(place, index)| panel_attribute(study, index, sample_p.get(place).cloned().unwrap_or_else(unknown)))
        .unzip();
    let names: Vec<String> = (0..study.assessors.len())
        .filter(|index| !study.assessor_is_excluded(*index))
        .map(|index| study.assessors[index].name.clone())
        .collect();
    let assessors: Vec<AssessorSummary> =
        names.iter().enumerate().map(|(index, name)| summary(name, index, &attributes, alpha)).collect();
    let all = assessors.iter().fold(TestCounts::default(), |sum, one| sum.and(&one.counts));
    let parts: Vec<Vec<Parts>> =
        (0..names.len()).map(|index| parts.iter().filter_map(|all| all.get(index).copied()).collect()).collect();
    let people = people(&names, &parts);
    PanelPerformance { alpha, attributes, assessors, all, people, model: model_in_words() }
}

fn model_in_words() -> String {
    "Per assessor: one-way analysis of variance over samples; scatter between replicates of the same sample; \
     correlation and slope over samples against the mean of the other assessors. Panel: assessor x sample interaction \
     against the scatter between replicates. Assessors are counted only on attributes where the panel itself finds \
     differences between samples. A test fails somebody only where it would show a sound assessor in 80 of 100 cases, \
     and one who scatters half as much again as the others would do as badly in 5 at most, or who is shown to scatter \
     more than that; else there are too few cups to tell. On made-up panels sound assessors failed 2 tests of 100 at most."
        .to_owned()
}

/// The attribute, and what it adds to the figures of each assessor.
fn panel_attribute(study: &Study, index: usize, sample_p: Defined<f64>) -> (PanelAttribute, Vec<Parts>) {
    let scores = study.attribute_scores(index);
    let cells = Cells::of(&scores);
    let error = (0..cells.scores.len()).fold(Squares::default(), |sum, assessor| {
        let own = cells.within(assessor);
        Squares { ss: sum.ss + own.ss, df: sum.df + own.df }
    });
    let fit = additive(&cells);
    let alpha = study.settings.alpha;
    let panel_discriminates = sample_p.as_ref().is_ok_and(|p| *p < alpha);
    let one = |(assessor, name): (usize, &String)| {
        let mut found = describe(&cells, assessor, name, &fit.squares_by_assessor);
        if panel_discriminates {
            found.outcomes = outcomes(&cells, assessor, &found, alpha);
        }
        found
    };
    let assessors = scores.assessors.iter().enumerate().map(one).collect();
    let parts = (0..scores.assessors.len()).map(|at| Parts::of(&cells, at, panel_discriminates)).collect();
    let attribute = PanelAttribute {
        attribute: scores.attribute.clone(),
        panel_discriminates,
        sample_p,
        interaction: interaction(&fit, error),
        repeatability: pooled(error),
        intraclass: cell_intraclass(&cells),
        assessors,
    };
    (attribute, parts)
}

fn interaction(fit: &Additive, error: Squares) -> Defined<FTest> {
    if error.df < 1.0 {
        return Err(NotDefined::because("there are no replicates, so disagreement can't be told from scatter"));
    }
    if error.ss <= 0.0 {
        return Err(NotDefined::because("all replicates are equal, so nothing tells the scatter"));
    }
    if fit.df < 1.0 {
        return Err(NotDefined::because("it takes two assessors and two samples that hang together"));
    }
    f_test(fit.weighted_ss / fit.df, fit.df, error.ss / error.df, error.df)
}

fn pooled(error: Squares) -> Defined<PooledRepeatability> {
    if error.df < 1.0 {
        return Err(NotDefined::because("there are no replicates"));
    }
    Ok(PooledRepeatability { sd: (error.ss / error.df).sqrt(), interval95: sd_interval95(error), df: error.df })
}

fn cell_intraclass(cells: &Cells) -> Defined<Intraclass> {
    let scored: Vec<&Vec<Option<f64>>> = cells.means.iter().filter(|row| row.iter().any(Option::is_some)).collect();
    let whole: Option<Vec<Vec<f64>>> = scored.iter().map(|row| row.iter().copied().collect()).collect();
    let Some(rows) = whole else {
        return Err(NotDefined::because("not every assessor scored every sample"));
    };
    let samples = rows.first().map_or(0, Vec::len);
    intraclass(&(0..samples).map(|sample| rows.iter().map(|row| row[sample]).collect()).collect::<Vec<_>>())
}

/// What is left of the cell means after assessor and sample effects.
struct Additive {
    /// Left-over squares, each cell weighted by its replicates: the interaction sum of squares of any balance.
    weighted_ss: f64,
    df: f64,
    /// The same by assessor.
    squares_by_assessor: Vec<f64>,
}

/// Weighted least squares of the cell means on assessors and samples, by alternating means.
fn additive(cells: &Cells) -> Additive {
    let (rows, columns) = (cells.means.len(), cells.means.first().map_or(0, Vec::len));
    let weight = |a: usize, s: usize| cells.scores[a][s].len() as f64;
    let start = cells.means.iter().flatten().flatten().next().copied().unwrap_or(0.0);
    let value = |a: usize, s: usize| cells.means[a][s].unwrap_or(start) - start;
    let (mut levels, mut effects) = (vec![0.0; rows], vec![0.0; columns]);
    let total = |a: usize, levels: &[f64], effects: &[f64]| -> f64 {
        (0..columns).map(|s| weight(a, s) * (value(a, s) - levels[a] - effects[s]).powi(2)).sum()
    };
    let size: f64 = (0..rows).map(|a| total(a, &levels, &effects)).sum();
    let mut before = f64::INFINITY;
    for _ in 0..5000 {
        for (a, level) in levels.iter_mut().enumerate() {
            *level = weighted_mean((0..columns).map(|s| (weight(a, s), value(a, s) - effects[s])));
        }
        for (s, effect) in effects.iter_mut().enumerate() {
            *effect = weighted_mean((0..rows).map(|a| (weight(a, s), value(a, s) - levels[a])));
        }
        let now: f64 = (0..rows).map(|a| total(a, &levels, &effects)).sum();
        if before - now <= 1e-15 * size {
            break;
        }
        before = now;
    }
    let squares_by_assessor: Vec<f64> = (0..rows).map(|a| total(a, &levels, &effects)).collect();
    let weighted_ss: f64 = squares_by_assessor.iter().sum();
    let floor = crate::numeric::tolerance::ROUNDING_OF_SQUARES * size;
    Additive {
        weighted_ss: if weighted_ss > floor { weighted_ss } else { 0.0 },
        df: interaction_df(cells),
        squares_by_assessor,
    }
}

fn weighted_mean(pairs: impl Iterator<Item = (f64, f64)>) -> f64 {
    let (weights, sum) =
        pairs.fold((0.0, 0.0), |(weights, sum), (weight, value)| (weights + weight, sum + weight * value));
    if weights > 0.0 { sum / weights } else { 0.0 }
}

/// Filled cells less assessors less samples, plus one for every block of them that hangs together.
fn interaction_df(cells: &Cells) -> f64 {
    let (rows, columns) = (cells.means.len(), cells.means.first().map_or(0, Vec::len));
    let filled: Vec<(usize, usize)> = (0..rows)
        .flat_map(|a| (0..columns).map(move |s| (a, s)))
        .filter(|(a, s)| cells.means[*a][*s].is_some())
        .collect();
    // Smallest label of what hangs together, spread until nothing changes.
    let mut labels: Vec<usize> = (0..rows + columns).collect();
    loop {
        let before = labels.clone();
        for (a, s) in &filled {
            let least = labels[*a].min(labels[rows + s]);
            labels[*a] = least;
            labels[rows + s] = least;
        }
        if before == labels {
            break;
        }
    }
    let mut used: Vec<usize> = filled.iter().flat_map(|(a, s)| [*a, rows + s]).collect();
    used.sort_unstable();
    used.dedup();
    let mut blocks: Vec<usize> = used.iter().map(|node| labels[*node]).collect();
    blocks.sort_unstable();
    blocks.dedup();
    (filled.len() + blocks.len()) as f64 - used.len() as f64
}

fn summary(name: &str, assessor: usize, attributes: &[PanelAttribute], alpha: f64) -> AssessorSummary {
    let own = |attribute: &PanelAttribute| attribute.assessors[assessor].clone();
    let all: Vec<AssessorOnAttribute> = attributes.iter().map(own).collect();
    let judged: Vec<AssessorOnAttribute> = attributes.iter().filter(|a| a.panel_discriminates).map(own).collect();
    let correlations: Vec<f64> = all.iter().filter_map(|one| Some(one.agreement.as_ref().ok()?.correlation)).collect();
    let variances: Vec<f64> = all.iter().filter_map(|one| Some(one.repeatability.as_ref().ok()?.sd.powi(2))).collect();
    let over = |fails: &dyn Fn(&AssessorOnAttribute) -> Option<bool>| {
        failure_share(&judged.iter().filter_map(fails).collect::<Vec<bool>>())
    };
    AssessorSummary {
        assessor: name.to_owned(),
        counts: TestCounts::of(&judged),
        n_discriminating: all.iter().filter(|one| one.discrimination.as_ref().is_ok_and(|f| f.p < alpha)).count(),
        mean_correlation: mean(&correlations)
            .ok_or_else(|| NotDefined::because("agreement is not defined on any attribute")),
        repeatability_sd: mean(&variances)
            .map(f64::sqrt)
            .ok_or_else(|| NotDefined::because("this assessor has no replicates")),
        fails_to_discriminate: over(&|one| one.fails_to_discriminate(alpha)),
        fails_to_repeat: over(&|one| one.fails_to_repeat(alpha)),
        fails_to_agree: over(&|one| one.fails_to_agree(alpha)),
    }
}

impl TestCounts {
    fn of(judged: &[AssessorOnAttribute]) -> Self {
        let over =
            |pick: fn(&Outcomes) -> Option<Outcome>| OutcomeCounts::of(judged.iter().map(|one| pick(&one.outcomes)));
        TestCounts {
            discrimination: over(|one| one.discrimination),
            repeatability: over(|one| one.repeatability),
            agreement: over(|one| one.agreement),
        }
    }

    fn and(self, other: &TestCounts) -> Self {
        TestCounts {
            discrimination: self.discrimination.and(other.discrimination),
            repeatability: self.repeatability.and(other.repeatability),
            agreement: self.agreement.and(other.agreement),
        }
    }
}

/// What is not shown, to be asked only where the panel itself finds differences; `None` where it cannot be tested.
impl AssessorOnAttribute {
    /// The assessor's own F does not reach `alpha`.
    pub fn fails_to_discriminate(&self, alpha: f64) -> Option<bool> {
        if self.is_flat() { Some(true) } else { Some(self.discrimination.as_ref().ok()?.p >= alpha) }
    }

    /// Scatters more than the others.
    pub fn fails_to_repeat(&self, alpha: f64) -> Option<bool> {
        Some(self.repeatability.as_ref().ok()?.against_others?.p < alpha)
    }

    /// The correlation with the others is not shown to be positive.
    pub fn fails_to_agree(&self, alpha: f64) -> Option<bool> {
        if self.is_flat() { Some(true) } else { Some(self.agreement.as_ref().ok()?.p >= alpha) }
    }

    /// The same score throughout: no F and no correlation, and a failure all the same.
    fn is_flat(&self) -> bool {
        self.n > 1 && self.scale_use.as_ref().is_ok_and(|range| range.lowest >= range.highest)
    }
}

fn failure_share(failures: &[bool]) -> Defined<FailureShare> {
    let (tested, failed) = (failures.len(), failures.iter().filter(|failed| **failed).count());
    let interval = clopper_pearson(tested as u64, failed as u64, 0.95).ok_or_else(|| {
        NotDefined::because("on no attribute the panel finds differences that this could be tested on")
    })?;
    Ok(FailureShare {
        failed,
        tested,
        share: failed as f64 / tested as f64,
        interval95: Interval { lower: interval.lower, upper: interval.upper },
    })
}
