//! How often this panel, at its own scatter, would reach each verdict where the truth is known. It knows no words.
//!
//! The scatter is that of the differences seen: each candidate's residuals about its own mean, all candidates together.

use super::calibrated::{Chances, ChancesOptions, ChancesRun, Differences, Scatter, Truth, VerdictOptions};
use super::judged::deciding_differences;
use super::paired::{PairedAttribute, Pairing};
use crate::defined::{Defined, NotDefined};
use crate::run::{Reached, Run};
use crate::study::Study;
use serde::Serialize;

/// Studies simulated for each truth: the standard error of a chance is 2 in 100 at most.
const STUDIES: u64 = 600;
/// Studies between two looks at a clock.
const STUDIES_A_STEP: u64 = 3;
/// What is asked, as shares of the line: 15 mm and 3 mm of 100.
const ONE_OFF_SHARE: f64 = 0.15;
const ALL_OFF_SHARE: f64 = 0.03;

/// Chances of each verdict.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PanelChances {
    pub n_assessors: usize,
    /// Deciding attributes.
    pub n_attributes: usize,
    /// Studies simulated for each truth.
    pub studies: u64,
    pub chances: Vec<Chances>,
}

/// The simulation under way.
pub struct PanelChancesRun {
    run: ChancesRun,
    n_assessors: usize,
    n_attributes: usize,
    failed: Option<NotDefined>,
}

impl PanelChancesRun {
    /// # Errors
    /// No target, or an attribute with fewer than two differences.
    pub fn start(study: &Study) -> Defined<Self> {
        let pairing = Pairing::of(study).ok_or_else(|| NotDefined::because("no target is named"))?;
        let scores = study.active_attributes().into_iter().map(|index| study.attribute_scores(index));
        let attributes: Vec<PairedAttribute> = scores.map(|scores| pairing.attribute(study, &scores)).collect();
        let tables: Defined<Vec<Differences>> =
            (0..pairing.candidates.len()).map(|at| deciding_differences(&pairing, &attributes, at)).collect();
        let tables = tables?;
        let first = tables.first().ok_or_else(|| NotDefined::because("there is no candidate"))?;
        let (n_assessors, n_attributes) = (pairing.assessors.len(), first.n_attributes());
        let options = ChancesOptions {
            n_assessors,
            margins_mm: first.margins_mm().to_vec(),
            studies: STUDIES,
            verdict: VerdictOptions { together: false, remembers: false, ..VerdictOptions::of(&study.settings) },
        };
        let line = study.scale.maximum - study.scale.minimum;
        let truths =
            [Truth::Duplicate, Truth::OneOff { mm: ONE_OFF_SHARE * line }, Truth::AllOff { mm: ALL_OFF_SHARE * line }];
        let run = ChancesRun::start(Scatter::of(&pooled(&tables)?)?, &truths, options)?;
        Ok(PanelChancesRun { run, n_assessors, n_attributes, failed: None })
    }
}

/// Residuals of all candidates below each other, scaled so that variances keep their size although each candidate's mean
/// was taken off.
fn pooled(tables: &[Differences]) -> Defined<Differences> {
    let mut rows: Vec<Vec<Option<f64>>> = Vec::new();
    let mut lost = vec![0.0_f64; tables[0].n_attributes()];
    for table in tables {
        let summaries = table.summaries();
        for row in 0..table.n_rows() {
            let residual = |at: usize| table.get(row, at).map(|value| value - summaries[at].mean);
            rows.push((0..table.n_attributes()).map(residual).collect());
        }
        lost.iter_mut().zip(&summaries).for_each(|(lost, one)| *lost += f64::from(u8::from(one.n_assessors > 0)));
    }
    for (at, lost) in lost.iter().enumerate() {
        let count = rows.iter().filter(|row| row[at].is_some()).count() as f64;
        let factor = if count > *lost { ((count - 1.0) / (count - lost)).sqrt() } else { 1.0 };
        rows.iter_mut().for_each(|row| row[at] = row[at].map(|value| factor * value));
    }
    Differences::from_rows(&rows, tables[0].margins_mm())
}

impl Run for PanelChancesRun {
    type Found = PanelChances;

    fn step(&mut self) {
        if let Err(reason) = self.run.advance(STUDIES_A_STEP) {
            self.failed = Some(reason);
        }
    }

    fn reached(&self) -> Reached {
        let wanted = self.run.wanted() as usize;
        Reached { done: if self.failed.is_some() { wanted } else { self.run.done() as usize }, wanted }
    }

    fn finish(self) -> Defined<PanelChances> {
        match self.failed {
            Some(reason) => Err(reason),
            None => Ok(PanelChances {
                n_assessors: self.n_assessors,
                n_attributes: self.n_attributes,
                studies: STUDIES,
                chances: self.run.finish()?,
            }),
        }
    }
}
