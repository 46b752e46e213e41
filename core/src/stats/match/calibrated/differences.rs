//! A table of differences, candidate minus target: one row an assessor, one column an attribute, with holes.
//!
//! It knows means and standard errors, and nothing of studies or verdicts.

use crate::defined::{Defined, NotDefined};

/// Scatter below this share of the largest difference or the margin is rounding of the arithmetic, not scatter.
const ROUNDING: f64 = 1e-13;

/// Differences of one candidate to the target, each an assessor's own mean for the candidate minus the same assessor's
/// own mean for the target, in mm, and the margin of each attribute in mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Differences {
    n_rows: usize,
    /// Row by row; 0 where missing.
    values_mm: Vec<f64>,
    present: Vec<bool>,
    margins_mm: Vec<f64>,
}

/// Mean and standard error of one attribute.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AttributeSummary {
    /// Assessors with a difference on this attribute.
    pub n_assessors: usize,
    /// Mean of their differences; 0 where there is none.
    pub mean: f64,
    /// Standard error of the mean; 0 where all differences are the very same, `None` for fewer than two.
    pub se: Option<f64>,
}

impl AttributeSummary {
    /// Whether two assessors or more agree to the very mark.
    #[must_use]
    pub fn has_no_scatter(&self) -> bool {
        self.se.is_some_and(|se| se <= 0.0)
    }
}

impl Differences {
    /// A table from its rows, `rows[assessor][attribute]`, and one margin an attribute.
    ///
    /// # Errors
    /// No attribute, no assessor, rows of unequal length, a number that is none, or a margin that is not above zero.
    pub fn from_rows(rows: &[Vec<Option<f64>>], margins_mm: &[f64]) -> Defined<Self> {
        check(rows, margins_mm)?;
        Ok(Differences {
            n_rows: rows.len(),
            values_mm: rows.iter().flatten().map(|value| value.unwrap_or(0.0)).collect(),
            present: rows.iter().flatten().map(Option::is_some).collect(),
            margins_mm: margins_mm.to_vec(),
        })
    }

    /// Candidate minus target from two tables of the assessors' own means; missing where either is.
    ///
    /// # Errors
    /// As [`Differences::from_rows`], and tables of unequal shape.
    pub fn between(candidate: &[Vec<Option<f64>>], target: &[Vec<Option<f64>>], margins_mm: &[f64]) -> Defined<Self> {
        let same_shape =
            candidate.len() == target.len() && candidate.iter().zip(target).all(|(c, t)| c.len() == t.len());
        if !same_shape {
            return Err(NotDefined::because("candidate and target are not tables of one shape"));
        }
        let minus = |(c, t): (&Option<f64>, &Option<f64>)| Some((*c)? - (*t)?);
        let rows: Vec<Vec<Option<f64>>> =
            candidate.iter().zip(target).map(|(c, t)| c.iter().zip(t).map(minus).collect()).collect();
        Differences::from_rows(&rows, margins_mm)
    }

    /// Rows of the table, whether or not anything stands in them.
    #[must_use]
    pub fn n_rows(&self) -> usize {
        self.n_rows
    }

    /// Assessors with a difference on one attribute at least.
    #[must_use]
    pub fn n_assessors(&self) -> usize {
        (0..self.n_rows).filter(|row| self.has_any(*row)).count()
    }

    #[must_use]
    pub fn n_attributes(&self) -> usize {
        self.margins_mm.len()
    }

    /// One margin an attribute, in mm.
    #[must_use]
    pub fn margins_mm(&self) -> &[f64] {
        &self.margins_mm
    }

    /// One difference; `None` where it is missing or outside the table.
    #[must_use]
    pub fn get(&self, row: usize, attribute: usize) -> Option<f64> {
        let at = row * self.n_attributes() + attribute;
        (attribute < self.n_attributes() && *self.present.get(at)?).then(|| self.values_mm[at])
    }

    /// Differences of one assessor, 0 where missing.
    pub(super) fn row(&self, row: usize) -> &[f64] {
        let width = self.n_attributes();
        &self.values_mm[row * width..(row + 1) * width]
    }

    pub(super) fn has_any(&self, row: usize) -> bool {
        let width = self.n_attributes();
        self.present[row * width..(row + 1) * width].contains(&true)
    }

    /// Differences and margins as multiples of the margins: every margin is 1 then.
    #[must_use]
    pub fn in_margins(&self) -> Self {
        let by = |(at, value): (usize, &f64)| value / self.margins_mm[at % self.n_attributes()];
        Differences {
            values_mm: self.values_mm.iter().enumerate().map(by).collect(),
            margins_mm: vec![1.0; self.n_attributes()],
            ..self.clone()
        }
    }

    /// The same table with the signs of the assessors marked turned round.
    pub(super) fn flipped(&self, flipped: &[bool]) -> Self {
        let sign = |at: usize| if flipped[at / self.n_attributes()] { -1.0 } else { 1.0 };
        let values_mm = self.values_mm.iter().enumerate().map(|(at, value)| sign(at) * value).collect();
        Differences { values_mm, ..self.clone() }
    }

    /// The one margin of all attributes; `None` where they differ.
    #[must_use]
    pub fn common_margin_mm(&self) -> Option<f64> {
        let first = self.margins_mm[0];
        self.margins_mm.iter().all(|margin| (margin - first).abs() <= ROUNDING * first).then_some(first)
    }

    /// Mean and standard error of every attribute.
    #[must_use]
    pub fn summaries(&self) -> Vec<AttributeSummary> {
        (0..self.n_attributes()).map(|attribute| self.summary(attribute)).collect()
    }

    fn summary(&self, attribute: usize) -> AttributeSummary {
        let present = || (0..self.n_rows).filter_map(|row| self.get(row, attribute));
        let n_assessors = present().count();
        if n_assessors == 0 {
            return AttributeSummary { n_assessors, mean: 0.0, se: None };
        }
        let n = n_assessors as f64;
        let mean = present().sum::<f64>() / n;
        let squares: f64 = present().map(|value| (value - mean) * (value - mean)).sum();
        let largest = present().fold(self.margins_mm[attribute], |largest, value| largest.max(value.abs()));
        let se = (squares / (n - 1.0).max(1.0) / n).sqrt();
        let se = if se <= ROUNDING * largest { 0.0 } else { se };
        AttributeSummary { n_assessors, mean, se: (n_assessors > 1).then_some(se) }
    }

    /// What is left of each difference when the attribute's mean is taken off, row by row; 0 where missing, and 0 where
    /// all assessors agree to the very mark.
    pub(super) fn residuals(&self, summaries: &[AttributeSummary]) -> Vec<f64> {
        let residual = |(at, value): (usize, &f64)| {
            let summary = &summaries[at % self.n_attributes()];
            if self.present[at] && !summary.has_no_scatter() { value - summary.mean } else { 0.0 }
        };
        self.values_mm.iter().enumerate().map(residual).collect()
    }
}

fn check(rows: &[Vec<Option<f64>>], margins_mm: &[f64]) -> Defined<()> {
    let width = margins_mm.len();
    if width == 0 || rows.is_empty() {
        return Err(NotDefined::because("there is no attribute or no assessor to judge by"));
    }
    if rows.iter().any(|row| row.len() != width) {
        return Err(NotDefined::because("the assessors' rows and the margins are not of one length"));
    }
    if rows.iter().flatten().flatten().any(|value| !value.is_finite()) {
        return Err(NotDefined::because("a difference is no finite number"));
    }
    if margins_mm.iter().any(|margin| !(margin.is_finite() && *margin > 0.0)) {
        return Err(NotDefined::because("a margin is not above zero"));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn means_and_standard_errors_by_hand() {
        // 2, 4, 6: mean 4, variance 4, standard error sqrt(4 / 3). One value has a mean and no standard error.
        let rows = [vec![Some(2.0), Some(5.0)], vec![Some(4.0), None], vec![Some(6.0), None]];
        let table = Differences::from_rows(&rows, &[10.0, 10.0]).unwrap();
        let summaries = table.summaries();
        assert!((summaries[0].mean - 4.0).abs() < 1e-15);
        assert!((summaries[0].se.unwrap() - (4.0_f64 / 3.0).sqrt()).abs() < 1e-15);
        assert_eq!(summaries[1], AttributeSummary { n_assessors: 1, mean: 5.0, se: None });
        assert_eq!((table.n_assessors(), table.get(1, 1), table.get(9, 0)), (3, None, None));
    }

    #[test]
    fn rounding_is_no_scatter() {
        let rows = [vec![Some(0.1 + 0.2)], vec![Some(0.3)], vec![Some(0.3)]];
        let summary = Differences::from_rows(&rows, &[10.0]).unwrap().summaries()[0];
        assert!(summary.has_no_scatter());
    }

    #[test]
    fn what_is_no_table_is_refused_with_a_reason() {
        let because = |rows: &[Vec<Option<f64>>], margins: &[f64]| {
            Differences::from_rows(rows, margins).map(|_| ()).unwrap_err().because
        };
        assert!(because(&[], &[10.0]).contains("no assessor"));
        assert!(because(&[vec![Some(1.0)]], &[10.0, 10.0]).contains("length"));
        assert!(because(&[vec![Some(f64::NAN)]], &[10.0]).contains("finite"));
        assert!(because(&[vec![Some(1.0)]], &[0.0]).contains("margin"));
        let uneven = Differences::between(&[vec![Some(1.0)]], &[], &[10.0]);
        assert!(uneven.unwrap_err().because.contains("shape"));
    }
}
