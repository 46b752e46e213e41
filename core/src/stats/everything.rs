//! All results that a report and a workbook show, from one call, so that page and shell program cannot differ.

use super::analyse;
use super::map::{MapOptions, ProductMap, product_map};
use super::panel::{PanelPerformance, performance};
use super::results::{Analysis, Defined};
use crate::study::Study;

/// What a report shows.
#[derive(Clone, Debug)]
pub struct StudyResults {
    pub analysis: Analysis,
    pub panel: PanelPerformance,
    pub map: Defined<ProductMap>,
}

impl StudyResults {
    /// All results of a study by its own settings. Never fails whole. While nobody has settled what counts as a match
    /// there is no verdict in it, as if no target were named.
    pub fn of(study: &Study) -> Self {
        let unsettled;
        let study = match study.decided_at {
            Some(_) => study,
            None => {
                unsettled = without_target(study);
                &unsettled
            }
        };
        let analysis = analyse(study);
        let sample_p = analysis.sample_p();
        StudyResults { panel: performance(study, &sample_p), map: product_map(study, MapOptions::default()), analysis }
    }
}

fn without_target(study: &Study) -> Study {
    let mut study = study.clone();
    study.settings.target = None;
    study
}

impl Analysis {
    /// p of the sample effect of each attribute, in order: one source for the panel and for adjustment.
    pub fn sample_p(&self) -> Vec<Defined<f64>> {
        let p_of =
            |attribute: &super::AttributeAnalysis| attribute.anova.as_ref().map(|anova| anova.p).map_err(Clone::clone);
        self.attributes.iter().map(p_of).collect()
    }
}
