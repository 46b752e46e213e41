//! The calibrated verdict from start to end, in slices: tables in, verdicts out.

use super::differences::{AttributeSummary, Differences};
use super::off_test::{OffFigure, OffRun, OffTest};
use super::options::VerdictOptions;
use super::outcome::CalibratedVerdict;
use super::rule::{Evidence, apply, p_beyond_margin};
use super::served_twice::ServedTwice;
use crate::defined::{Defined, NotDefined};
use crate::stats::samples::multiplicity::holm;

/// Candidates being judged. Any slicing gives the same verdicts.
#[derive(Clone, Debug)]
pub struct VerdictRun {
    candidates: Vec<Differences>,
    summaries: Vec<Vec<AttributeSummary>>,
    /// One test over all candidates, or one for each.
    tests: Vec<OffRun>,
    options: VerdictOptions,
    /// What p-values of tests of single candidates are multiplied by.
    times: f64,
}

/// Verdict on one candidate, at once.
///
/// # Errors
/// Options out of range.
pub fn judge(differences: &Differences, options: &VerdictOptions) -> Defined<CalibratedVerdict> {
    let mut verdicts = VerdictRun::start(std::slice::from_ref(differences), options)?.finish();
    verdicts.pop().ok_or_else(|| NotDefined::because("there is no candidate"))
}

impl VerdictRun {
    /// Starts to judge candidates by their differences to the target. Rows of all tables belong to the same assessors.
    ///
    /// # Errors
    /// Options out of range, or tables with unequal numbers of assessors.
    pub fn start(candidates: &[Differences], options: &VerdictOptions) -> Defined<Self> {
        options.check()?;
        if candidates.windows(2).any(|two| two[0].n_rows() != two[1].n_rows()) {
            return Err(NotDefined::because("the candidates' tables are not of the same assessors"));
        }
        let summaries: Vec<Vec<AttributeSummary>> = candidates.iter().map(Differences::summaries).collect();
        let all: Vec<&Differences> = candidates.iter().collect();
        let lists: Vec<&[AttributeSummary]> = summaries.iter().map(Vec::as_slice).collect();
        let tests = if options.together && candidates.len() > 1 {
            vec![OffRun::sign_flips(&all, &lists, options)]
        } else {
            let each = all.iter().zip(&lists);
            each.map(|(candidate, list)| OffRun::sign_flips(&[*candidate], &[*list], options)).collect()
        };
        Ok(VerdictRun { candidates: candidates.to_vec(), summaries, tests, options: *options, times: 1.0 })
    }

    /// Starts to judge candidates beside a target that came in two cups: against the mean of both, and "off" by which of
    /// an assessor's three servings is the candidate. Taken together, p-values are multiplied by the number of
    /// candidates, because no single rearrangement serves them all.
    ///
    /// # Errors
    /// Options out of range.
    pub fn start_served_twice(candidates: &[ServedTwice], options: &VerdictOptions) -> Defined<Self> {
        options.check()?;
        let tables: Vec<Differences> = candidates.iter().map(|one| one.against_both_cups().clone()).collect();
        let summaries: Vec<Vec<AttributeSummary>> = tables.iter().map(Differences::summaries).collect();
        let each = candidates.iter().zip(&summaries);
        let tests = each.map(|(candidate, list)| candidate.off_run(list, options)).collect();
        let times = if options.together { candidates.len() as f64 } else { 1.0 };
        Ok(VerdictRun { candidates: tables, summaries, tests, options: *options, times })
    }

    /// Patterns gone through so far.
    #[must_use]
    pub fn done(&self) -> u64 {
        self.tests.iter().map(OffRun::done).sum()
    }

    /// Patterns to go through in all; 0 where none are needed.
    #[must_use]
    pub fn wanted(&self) -> u64 {
        self.tests.iter().map(OffRun::wanted).sum()
    }

    #[must_use]
    pub fn is_done(&self) -> bool {
        self.done() >= self.wanted()
    }

    /// Goes through up to `patterns` more patterns.
    pub fn advance(&mut self, patterns: u64) {
        let mut left = patterns;
        for test in &mut self.tests {
            left -= test.advance(left);
        }
    }

    /// Runs to the end; one verdict a candidate, in their order.
    #[must_use]
    pub fn finish(mut self) -> Vec<CalibratedVerdict> {
        let found = self.off_figures();
        let beyond = self.p_beyond();
        let candidates = self.candidates.iter().zip(&self.summaries).zip(found.into_iter().zip(beyond));
        candidates
            .map(|((differences, summaries), ((test, off), p_beyond))| {
                apply(&Evidence { differences, summaries, off, p_beyond, test }, &self.options)
            })
            .collect()
    }

    /// The test of each candidate and its figures.
    fn off_figures(&mut self) -> Vec<(OffTest, Vec<Option<OffFigure>>)> {
        let widths: Vec<usize> = self.candidates.iter().map(Differences::n_attributes).collect();
        let tests = std::mem::take(&mut self.tests);
        if tests.len() == 1 && widths.len() > 1 {
            let together = tests.into_iter().map(|test| test.finish(&widths));
            return together.flat_map(|(test, all)| all.into_iter().map(move |one| (test.clone(), one))).collect();
        }
        let each = tests.into_iter().zip(widths);
        each.flat_map(|(test, width)| {
            let (mut test, figures) = test.finish(&[width]);
            test.n_candidates = self.times as usize;
            test.n_tests *= self.times as usize;
            let times = self.times;
            let adjusted = move |figure: OffFigure| OffFigure { p: (times * figure.p).min(1.0), ..figure };
            figures
                .into_iter()
                .map(move |one| (test.clone(), one.into_iter().map(|figure| figure.map(adjusted)).collect::<Vec<_>>()))
        })
        .collect()
    }

    /// Adjusted p of lying beyond the margin, `[candidate][attribute]`: Holm over what "off" is adjusted over.
    fn p_beyond(&self) -> Vec<Vec<Option<f64>>> {
        let of_candidate = |(table, list): (&Differences, &Vec<AttributeSummary>)| -> Vec<Option<f64>> {
            list.iter().zip(table.margins_mm()).map(|(summary, margin)| p_beyond_margin(summary, *margin)).collect()
        };
        if self.options.verdicts_alone {
            let not_sought =
                |list: &Vec<AttributeSummary>| list.iter().map(|summary| summary.se.map(|_| 1.0)).collect();
            return self.summaries.iter().map(not_sought).collect();
        }
        let raw: Vec<Vec<Option<f64>>> = self.candidates.iter().zip(&self.summaries).map(of_candidate).collect();
        if self.options.together {
            let mut adjusted = holm_where_defined(&raw.concat()).into_iter();
            return raw.iter().map(|list| adjusted.by_ref().take(list.len()).collect()).collect();
        }
        raw.iter().map(|list| holm_where_defined(list)).collect()
    }
}

fn holm_where_defined(p_values: &[Option<f64>]) -> Vec<Option<f64>> {
    let mut adjusted = holm(&p_values.iter().flatten().copied().collect::<Vec<_>>()).into_iter();
    p_values.iter().map(|p| p.and_then(|_| adjusted.next())).collect()
}
