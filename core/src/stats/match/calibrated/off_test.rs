//! The test behind "off": adjusted p-values of no difference, by rearranging assessors or, where so few can't reach alpha,
//! by Holm on Student's t. It knows tables, and nothing of verdicts.

use super::differences::{AttributeSummary, Differences};
use super::options::VerdictOptions;
use super::step_down::{Alternatives, Patterns, StepDownRun};
use crate::numeric::hash::fnv_1a;
use crate::numeric::memory::Memory;
use crate::numeric::tails::t_two_sided;
use crate::stats::samples::multiplicity::holm;
use serde::Serialize;

/// How "no difference" was tested, over what, and how finely.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OffTest {
    pub by: OffTestBy,
    /// Patterns gone through; 0 where none are.
    pub patterns: u64,
    /// Whether these were all patterns; else they were drawn with the seed.
    pub exact: bool,
    /// The smallest p that rearranging so many assessors can give.
    pub smallest_possible_p: f64,
    /// Differences that the p-values are adjusted over: attributes, times candidates where these are taken together.
    pub n_tests: usize,
    /// Candidates that the p-values are adjusted over.
    pub n_candidates: usize,
}

/// What was rearranged.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum OffTestBy {
    /// Signs of all of an assessor's differences together.
    SignFlips,
    /// Which of an assessor's three servings is the candidate; the target came in two cups.
    WhichServing,
    /// Nothing: Holm on Student's t, which rests on normal scatter.
    HolmOnT,
}

impl OffTest {
    /// Whether it is right for normal scatter only.
    #[must_use]
    pub fn rests_on_normal_scatter(&self) -> bool {
        self.by == OffTestBy::HolmOnT
    }
}

/// Adjusted p and the statistic of one attribute.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct OffFigure {
    pub p: f64,
    pub statistic: Option<f64>,
}

/// The test of one or several candidates, in slices.
#[derive(Clone, Debug)]
pub(super) struct OffRun {
    /// Candidate and attribute of each difference tested.
    columns: Vec<(usize, usize)>,
    test: OffTest,
    work: Work,
    /// Under what the result is to be remembered.
    key: Option<Key>,
}

/// What p-values follow from: a hash of all rows, how many columns they have, and what is rearranged how.
type Key = (u64, usize, OffTestBy, [u64; 5]);

thread_local! {
    static LATEST: Memory<Key, (OffTest, Vec<OffFigure>)> = const { Memory::of_latest(64) };
}

#[derive(Clone, Debug)]
enum Work {
    Rearranging(Box<StepDownRun>),
    Known(Vec<OffFigure>),
}

/// A hash of 64 bits: two tables of one study that share it by chance are not to be expected in a lifetime.
fn key_of(alternatives: &Alternatives, by: OffTestBy, options: &VerdictOptions, patterns: Patterns) -> Key {
    let numbers = alternatives.values.iter().chain(&alternatives.counts);
    let bytes: Vec<u8> = numbers.flat_map(|value| value.to_bits().to_le_bytes()).collect();
    // A run that may end early is another one, and where it ends hangs on alpha.
    let ending = if options.verdicts_alone { options.alpha.to_bits() } else { 0 };
    let how = [patterns.all_up_to, patterns.random, patterns.seed, options.steadying.to_bits(), ending];
    (fnv_1a(&bytes), alternatives.columns, by, how)
}

impl OffRun {
    /// Signs flipped; all candidates side by side, one flip an assessor. Their tables have the same assessors.
    pub fn sign_flips(
        candidates: &[&Differences],
        summaries: &[&[AttributeSummary]],
        options: &VerdictOptions,
    ) -> Self {
        let columns = testable(summaries);
        let rows = (0..candidates.first().map_or(0, |first| first.n_rows()))
            .filter(|row| candidates.iter().any(|candidate| candidate.has_any(*row)));
        let mut values = Vec::new();
        for row in rows {
            let seen: Vec<f64> = columns.iter().map(|(c, attribute)| candidates[*c].row(row)[*attribute]).collect();
            values.extend(&seen);
            values.extend(seen.iter().map(|value| -value));
        }
        let counts = columns.iter().map(|(c, attribute)| summaries[*c][*attribute].n_assessors as f64).collect();
        let alternatives = Alternatives { values, choices: 2, columns: columns.len(), counts, first_stays: true };
        OffRun::rearranging(OffTestBy::SignFlips, &alternatives, columns, summaries, options)
    }

    /// Rearranges where that can reach alpha; else Holm on t.
    pub fn rearranging(
        by: OffTestBy,
        alternatives: &Alternatives,
        columns: Vec<(usize, usize)>,
        summaries: &[&[AttributeSummary]],
        options: &VerdictOptions,
    ) -> Self {
        let all_up_to = 1_u64 << options.exact_up_to.clamp(1, 40).saturating_sub(1);
        let patterns = Patterns { all_up_to, random: options.random_patterns, seed: options.seed };
        let exact = alternatives.patterns().filter(|all| *all <= all_up_to);
        let smallest_possible_p = 1.0 / exact.unwrap_or(options.random_patterns + 1) as f64;
        let mut test = OffTest {
            by,
            patterns: 0,
            exact: exact.is_some(),
            smallest_possible_p,
            n_tests: columns.len(),
            n_candidates: summaries.len(),
        };
        if smallest_possible_p > options.alpha {
            test.by = OffTestBy::HolmOnT;
            let work = Work::Known(holm_on_t(&columns, summaries));
            return OffRun { columns, test, work, key: None };
        }
        let key = options.remembers.then(|| key_of(alternatives, by, options, patterns));
        let known = key.as_ref().and_then(|key| LATEST.with(|latest| latest.known(key)));
        if let Some((test, figures)) = known {
            return OffRun { columns, test, work: Work::Known(figures), key: None };
        }
        let run = StepDownRun::start(alternatives, options.steadying, patterns);
        let run = if options.verdicts_alone { run.ending_above(options.alpha) } else { run };
        OffRun { columns, test, work: Work::Rearranging(Box::new(run)), key }
    }

    pub fn done(&self) -> u64 {
        if let Work::Rearranging(run) = &self.work { run.done() } else { 0 }
    }

    pub fn wanted(&self) -> u64 {
        if let Work::Rearranging(run) = &self.work { run.wanted() } else { 0 }
    }

    /// Goes through up to `patterns` more; returns how many it was.
    pub fn advance(&mut self, patterns: u64) -> u64 {
        let before = self.done();
        if let Work::Rearranging(run) = &mut self.work {
            run.advance(patterns);
        }
        self.done() - before
    }

    /// The test and its figures, `[candidate][attribute]`; `None` where an attribute can't be tested.
    pub fn finish(self, shape: &[usize]) -> (OffTest, Vec<Vec<Option<OffFigure>>>) {
        let mut test = self.test;
        let found: Vec<OffFigure> = match self.work {
            Work::Known(known) => known,
            Work::Rearranging(run) => {
                let result = run.finish();
                (test.patterns, test.exact) = (result.patterns, result.exact);
                let each = result.p.iter().zip(&result.statistic);
                let figures: Vec<OffFigure> =
                    each.map(|(p, statistic)| OffFigure { p: *p, statistic: Some(*statistic) }).collect();
                if let Some(key) = self.key {
                    LATEST.with(|latest| latest.keep(key, (test.clone(), figures.clone())));
                }
                figures
            }
        };
        let mut figures: Vec<Vec<Option<OffFigure>>> = shape.iter().map(|width| vec![None; *width]).collect();
        for ((candidate, attribute), figure) in self.columns.iter().zip(found) {
            figures[*candidate][*attribute] = Some(figure);
        }
        (test, figures)
    }
}

/// Candidate and attribute of every difference with a standard error.
pub(super) fn testable(summaries: &[&[AttributeSummary]]) -> Vec<(usize, usize)> {
    let of_candidate = |(candidate, list): (usize, &&[AttributeSummary])| {
        let with_se = (0..list.len()).filter(|attribute| list[*attribute].se.is_some());
        with_se.map(|attribute| (candidate, attribute)).collect::<Vec<_>>()
    };
    summaries.iter().enumerate().flat_map(of_candidate).collect()
}

fn holm_on_t(columns: &[(usize, usize)], summaries: &[&[AttributeSummary]]) -> Vec<OffFigure> {
    let each: Vec<OffFigure> = columns.iter().map(|(c, attribute)| student(&summaries[*c][*attribute])).collect();
    let adjusted = holm(&each.iter().map(|figure| figure.p).collect::<Vec<_>>());
    each.iter().zip(adjusted).map(|(figure, p)| OffFigure { p, ..*figure }).collect()
}

/// Student's t of one attribute. Where nothing scatters the difference counts as it is: p is 0, or 1 for none.
fn student(summary: &AttributeSummary) -> OffFigure {
    let t = summary.se.filter(|se| *se > 0.0).map(|se| summary.mean.abs() / se);
    let by_t = t.and_then(|t| t_two_sided(t, summary.n_assessors as f64 - 1.0));
    OffFigure { p: by_t.unwrap_or(if summary.mean.abs() > 0.0 { 0.0 } else { 1.0 }), statistic: t }
}
