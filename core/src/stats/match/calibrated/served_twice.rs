//! A target served twice: its second cup is the target again, sharpens the target's mean, and raises the alarm when the
//! target differs from itself. It knows tables of the assessors' means, and nothing of the verdict's words.

use super::differences::{AttributeSummary, Differences};
use super::off_test::{OffRun, OffTestBy, testable};
use super::options::VerdictOptions;
use super::step_down::Alternatives;
use crate::defined::Defined;

/// One candidate beside two cups of the target: each assessor's own means, `[assessor][attribute]`.
#[derive(Clone, Debug, PartialEq)]
pub struct ServedTwice {
    against_both: Differences,
    against_first: Differences,
    against_second: Differences,
    duplicate: Differences,
    /// Candidate, first cup, second cup, where an assessor has all three on an attribute.
    complete: Vec<Vec<Option<[f64; 3]>>>,
}

impl ServedTwice {
    /// From three tables of one shape and one margin an attribute, in mm.
    ///
    /// # Errors
    /// As [`Differences::between`].
    pub fn new(
        candidate: &[Vec<Option<f64>>],
        first_cup: &[Vec<Option<f64>>],
        second_cup: &[Vec<Option<f64>>],
        margins_mm: &[f64],
    ) -> Defined<Self> {
        let duplicate = Differences::between(second_cup, first_cup, margins_mm)?;
        let against_first = Differences::between(candidate, first_cup, margins_mm)?;
        let cups = first_cup.iter().zip(second_cup);
        let both: Vec<Vec<Option<f64>>> = cups
            .map(|(one, other)| one.iter().zip(other).map(|(one, other)| mean_of_cups(*one, *other)).collect())
            .collect();
        let three = |row: usize, at: usize| Some([candidate[row][at]?, first_cup[row][at]?, second_cup[row][at]?]);
        let rows = 0..candidate.len();
        Ok(ServedTwice {
            against_both: Differences::between(candidate, &both, margins_mm)?,
            against_second: Differences::between(candidate, second_cup, margins_mm)?,
            complete: rows.map(|row| (0..margins_mm.len()).map(|at| three(row, at)).collect()).collect(),
            against_first,
            duplicate,
        })
    }

    /// Second cup minus first.
    #[must_use]
    pub fn duplicate(&self) -> &Differences {
        &self.duplicate
    }

    /// Candidate minus the mean of both cups, or of the one that an assessor has.
    #[must_use]
    pub fn against_both_cups(&self) -> &Differences {
        &self.against_both
    }

    /// Candidate minus the first cup.
    #[must_use]
    pub fn against_first_cup(&self) -> &Differences {
        &self.against_first
    }

    /// Candidate minus the second cup: blind with blind where the first was named or always served first.
    #[must_use]
    pub fn against_second_cup(&self) -> &Differences {
        &self.against_second
    }

    /// "Off" by which of each assessor's three servings is the candidate. Only assessors with all three count on an
    /// attribute: a hole would tell which serving is which.
    pub(super) fn off_run(&self, summaries: &[AttributeSummary], options: &VerdictOptions) -> OffRun {
        let count = |at: usize| self.complete.iter().filter(|row| row[at].is_some()).count();
        let columns: Vec<(usize, usize)> =
            testable(&[summaries]).into_iter().filter(|(_, at)| count(*at) > 1).collect();
        let rows = self.complete.iter().filter(|row| row.iter().any(Option::is_some));
        let value = |row: &[Option<[f64; 3]>], at: usize, choice: usize| {
            row[at].map_or(0.0, |three| 1.5 * three[choice] - 0.5 * three.iter().sum::<f64>())
        };
        let values = rows.flat_map(|row| {
            let columns = &columns;
            (0..3).flat_map(move |choice| columns.iter().map(move |(_, at)| value(row, *at, choice)))
        });
        let alternatives = Alternatives {
            values: values.collect(),
            choices: 3,
            columns: columns.len(),
            counts: columns.iter().map(|(_, at)| count(*at) as f64).collect(),
            first_stays: false,
        };
        OffRun::rearranging(OffTestBy::WhichServing, &alternatives, columns, &[summaries], options)
    }
}

/// The mean of both cups, or the one there is.
fn mean_of_cups(one: Option<f64>, other: Option<f64>) -> Option<f64> {
    match (one, other) {
        (Some(one), Some(other)) => Some(0.5 * (one + other)),
        (one, other) => one.or(other),
    }
}
