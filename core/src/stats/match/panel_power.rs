//! What the panel of a study could have shown, attribute by attribute, and for all deciding attributes at once.

use super::power::{PowerReached, power_reached};
use crate::defined::{Defined, NotDefined};
use crate::run::{Reached, Run};
use crate::stats::Analysis;
use serde::Serialize;
use std::sync::Arc;

/// The power that is aimed at: common practice.
pub const POWER_WANTED: f64 = 0.8;

/// One attribute with its power, or why there is none.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AttributePower {
    pub attribute: String,
    pub reached: Defined<PowerReached>,
}

/// The chance for all deciding attributes at once, were they independent of each other.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct AllAtOnce {
    pub deciding: usize,
    pub p_match: f64,
}

/// What the panel could have shown.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PanelPower {
    /// In the order of the study.
    pub attributes: Vec<AttributePower>,
    /// `None` where some deciding attribute has no power to tell.
    pub all_at_once: Option<AllAtOnce>,
}

/// The power reached, one attribute a step.
pub struct PanelPowerRun {
    analysis: Arc<Analysis>,
    found: Vec<AttributePower>,
}

impl PanelPowerRun {
    /// # Errors
    /// No target is named, or it is not settled yet what counts as a match.
    pub fn start(analysis: Arc<Analysis>) -> Defined<Self> {
        if analysis.target.is_none() {
            return Err(NotDefined::because("no target is named"));
        }
        Ok(PanelPowerRun { analysis, found: Vec::new() })
    }
}

impl Run for PanelPowerRun {
    type Found = PanelPower;

    fn step(&mut self) {
        if let Some(attribute) = self.analysis.attributes.get(self.found.len()) {
            let reached = power_reached(attribute, self.analysis.alpha, POWER_WANTED);
            self.found.push(AttributePower { attribute: attribute.attribute.clone(), reached });
        }
    }

    fn reached(&self) -> Reached {
        Reached { done: self.found.len(), wanted: self.analysis.attributes.len() }
    }

    fn finish(self) -> Defined<PanelPower> {
        if self.found.is_empty() {
            return Err(NotDefined::because("every attribute is left out"));
        }
        let all_at_once = all_at_once(&self.found, &self.analysis);
        Ok(PanelPower { attributes: self.found, all_at_once })
    }
}

fn all_at_once(found: &[AttributePower], analysis: &Analysis) -> Option<AllAtOnce> {
    let mut all = AllAtOnce { deciding: 0, p_match: 1.0 };
    for attribute in analysis.attributes.iter().filter(|attribute| attribute.deciding) {
        let reached = found.iter().find(|one| one.attribute == attribute.attribute)?.reached.as_ref().ok()?;
        all.deciding += 1;
        all.p_match *= reached.p_match;
    }
    (all.deciding > 0).then_some(all)
}
