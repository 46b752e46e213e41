//! Margins for the next study out of a blind duplicate: what a true duplicate would be shown to lie within.
//!
//! A target that doesn't differ from itself gives differences whose signs mean nothing; flipped at random they show what
//! other studies by this panel would have shown. Never for the study at hand: a margin comes before its data.

use super::differences::Differences;
use super::typical::typical_difference;
use crate::defined::{Defined, NotDefined};
use crate::numeric::random::Random;
use crate::numeric::tails::t_quantile_upper;
use serde::Serialize;

/// In this share of studies a true duplicate is shown to lie within the margins returned.
const SHARE: f64 = 0.8;

/// Least margins that a panel like this shows a true duplicate within, in 80 of 100 studies.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct NextMargins {
    /// One margin for every attribute: each of them inside.
    pub each_attribute_mm: f64,
    /// The same as a multiple of the margins that the attributes have now.
    pub each_attribute_multiple: f64,
    /// Bound of the typical difference.
    pub typical_mm: f64,
    /// The same in multiples of the margins.
    pub typical_multiple: f64,
    /// The share of studies: 0.8.
    pub share: f64,
    /// Flips drawn.
    pub draws: usize,
}

/// Signs flipped slice by slice; any slicing gives the same result.
#[derive(Clone, Debug)]
pub struct NextMarginsRun {
    differences: Differences,
    in_margins: Option<Differences>,
    alpha: f64,
    random: Random,
    wanted: usize,
    /// Reach and typical bound in mm, then both in margins, of each draw.
    drawn: Vec<[f64; 4]>,
}

impl NextMarginsRun {
    /// Starts from the differences between the two cups of the target.
    ///
    /// # Errors
    /// No draws, or no typical difference in this table ([`typical_difference`]).
    pub fn start(duplicate: &Differences, alpha: f64, draws: usize, seed: u64) -> Defined<Self> {
        typical_difference(duplicate, alpha)?;
        if draws == 0 {
            return Err(NotDefined::because("nothing was drawn"));
        }
        let same_margin = duplicate.common_margin_mm().is_some();
        Ok(NextMarginsRun {
            in_margins: (!same_margin).then(|| duplicate.in_margins()),
            differences: duplicate.clone(),
            alpha,
            random: Random::seeded_for(seed, "margins for the next study"),
            wanted: draws,
            drawn: Vec::new(),
        })
    }

    #[must_use]
    pub fn done(&self) -> usize {
        self.drawn.len()
    }

    #[must_use]
    pub fn wanted(&self) -> usize {
        self.wanted
    }

    #[must_use]
    pub fn is_done(&self) -> bool {
        self.done() >= self.wanted
    }

    /// Makes up to `draws` more flips.
    ///
    /// # Errors
    /// Numbers out of range.
    pub fn advance(&mut self, draws: usize) -> Defined<()> {
        for _ in 0..draws.min(self.wanted - self.done()) {
            let flipped: Vec<bool> = (0..self.differences.n_rows()).map(|_| self.random.coin()).collect();
            let mm = shown(&self.differences.flipped(&flipped), self.alpha)?;
            let multiples = match &self.in_margins {
                Some(table) => shown(&table.flipped(&flipped), self.alpha)?,
                None => mm.map(|length| length / self.differences.margins_mm()[0]),
            };
            self.drawn.push([mm[0], mm[1], multiples[0], multiples[1]]);
        }
        Ok(())
    }

    /// Runs to the end and sums up.
    ///
    /// # Errors
    /// Numbers out of range.
    pub fn finish(mut self) -> Defined<NextMargins> {
        self.advance(usize::MAX)?;
        let point = |figure: usize| {
            let mut values: Vec<f64> = self.drawn.iter().map(|draw| draw[figure]).collect();
            values.sort_by(f64::total_cmp);
            values[((SHARE * values.len() as f64).ceil() as usize).clamp(1, values.len()) - 1]
        };
        Ok(NextMargins {
            each_attribute_mm: point(0),
            typical_mm: point(1),
            each_attribute_multiple: point(2),
            typical_multiple: point(3),
            share: SHARE,
            draws: self.drawn.len(),
        })
    }
}

/// How far the farthest attribute could lie, and the bound of the typical difference.
fn shown(table: &Differences, alpha: f64) -> Defined<[f64; 2]> {
    let reaches = table.summaries().into_iter().filter_map(|summary| {
        let t = t_quantile_upper(alpha, summary.n_assessors as f64 - 1.0)?;
        Some(summary.mean.abs() + t * summary.se?)
    });
    Ok([reaches.fold(0.0, f64::max), typical_difference(table, alpha)?.bound])
}
