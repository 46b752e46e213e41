//! All results that a report and a workbook show, from one call, so that page and shell program cannot differ.

use super::analyse;
use super::map::product_map::{MapOptions, ProductMap, product_map};
use super::panel::performance::{PanelPerformance, performance};
use super::results::{Analysis, Defined};
use crate::study::Study;

/// What a report shows.
#[derive(Clone, Debug)]
pub struct StudyResults {
    pub analysis: Analysis,
    pub panel: PanelPerformance,
    pub map: Defined<ProductMap>,
}

/// All results under way, method by method.
pub struct ResultsRun {
    study: Study,
    analysis: Option<Analysis>,
    panel: Option<PanelPerformance>,
}

impl StudyResults {
    /// All results of a study by its own settings. Never fails whole. While nobody has settled what counts as a match
    /// there is no verdict in it, as if no target were named.
    pub fn of(study: &Study) -> Self {
        let mut run = ResultsRun::start(study);
        loop {
            if let Some(found) = run.step() {
                return found;
            }
        }
    }
}

impl ResultsRun {
    /// Nothing is computed yet.
    pub fn start(study: &Study) -> Self {
        let mut study = study.clone();
        if study.decided_at.is_none() {
            study.settings.target = None;
        }
        ResultsRun { study, analysis: None, panel: None }
    }

    /// Computes by the next method; gives the results after the last one, and begins anew if it is asked again.
    pub fn step(&mut self) -> Option<StudyResults> {
        match (self.analysis.take(), self.panel.take()) {
            (None, _) => self.analysis = Some(analyse(&self.study)),
            (Some(analysis), None) => {
                self.panel = Some(performance(&self.study, &analysis.sample_p()));
                self.analysis = Some(analysis);
            }
            (Some(analysis), Some(panel)) => {
                return Some(StudyResults { map: product_map(&self.study, MapOptions::default()), analysis, panel });
            }
        }
        None
    }
}

impl Analysis {
    /// p of the sample effect of each attribute, in order: one source for the panel and for adjustment.
    pub fn sample_p(&self) -> Vec<Defined<f64>> {
        let p_of = |attribute: &crate::stats::AttributeAnalysis| {
            attribute.anova.as_ref().map(|anova| anova.p).map_err(Clone::clone)
        };
        self.attributes.iter().map(p_of).collect()
    }
}
