//! Margins for the next study out of the target's own second cup: never for the study at hand. It knows no words.

use super::calibrated::{NextMargins, NextMarginsRun};
use super::judged::deciding_differences;
use super::paired::{PairedAttribute, Pairing};
use crate::defined::{Defined, NotDefined};
use crate::run::{Reached, Run};
use crate::study::Study;

/// Flips drawn: the 80 % point is good to about one percent of the studies.
const DRAWS: usize = 2000;
/// Flips between two looks at a clock.
const DRAWS_A_STEP: usize = 10;

/// The search under way.
pub struct MarginsToComeRun {
    run: NextMarginsRun,
    failed: Option<NotDefined>,
}

impl MarginsToComeRun {
    /// # Errors
    /// No target, no second cup of it, or too few differences between the two.
    pub fn start(study: &Study) -> Defined<Self> {
        let pairing = Pairing::of(study).ok_or_else(|| NotDefined::because("no target is named"))?;
        let again = pairing
            .candidates
            .iter()
            .position(|candidate| candidate.is_target_again)
            .ok_or_else(|| NotDefined::because("the target was not served a second time under another code"))?;
        let scores = study.active_attributes().into_iter().map(|index| study.attribute_scores(index));
        let attributes: Vec<PairedAttribute> = scores.map(|scores| pairing.attribute(study, &scores)).collect();
        let duplicate = deciding_differences(&pairing, &attributes, again)?;
        let run = NextMarginsRun::start(&duplicate, study.settings.alpha, DRAWS, study.settings.seed)?;
        Ok(MarginsToComeRun { run, failed: None })
    }
}

impl Run for MarginsToComeRun {
    type Found = NextMargins;

    fn step(&mut self) {
        if let Err(reason) = self.run.advance(DRAWS_A_STEP) {
            self.failed = Some(reason);
        }
    }

    fn reached(&self) -> Reached {
        let wanted = self.run.wanted();
        Reached { done: if self.failed.is_some() { wanted } else { self.run.done() }, wanted }
    }

    fn finish(self) -> Defined<NextMargins> {
        match self.failed {
            Some(reason) => Err(reason),
            None => self.run.finish(),
        }
    }
}
