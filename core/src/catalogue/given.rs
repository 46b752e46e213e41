//! What every entry of the catalogue is given: the study as it counts, and its analysis.

use crate::stats::{Analysis, analyse};
use crate::study::Study;
use std::sync::Arc;

/// How often assessors are drawn again for intervals of distances and for the map: common practice.
pub const DRAWS: usize = 2000;

/// The ground of all results. While nobody has settled what counts as a match there is no target in it, so that nothing
/// can be compared with one.
#[derive(Clone, Debug)]
pub struct Given {
    pub study: Arc<Study>,
    pub analysis: Arc<Analysis>,
    /// How often assessors are drawn again.
    pub draws: usize,
}

impl Given {
    /// Analyses a study by its own settings.
    pub fn of(study: &Study) -> Self {
        Given::taking(study.clone())
    }

    /// The same of a study that nobody else needs: a large one is not copied.
    pub fn taking(study: Study) -> Self {
        let study = as_settled(study);
        let analysis = Arc::new(analyse(&study));
        Given { study: Arc::new(study), analysis, draws: DRAWS }
    }

    /// The same with an analysis that was made of the same study by the same rule.
    pub fn with_analysis(study: &Study, analysis: Arc<Analysis>) -> Self {
        Given { study: Arc::new(as_settled(study.clone())), analysis, draws: DRAWS }
    }

    /// The same with another number of draws.
    pub fn with_draws(self, draws: usize) -> Self {
        Given { draws, ..self }
    }

    /// Names of the attributes that count, in the order of the score sheet.
    pub fn attribute_names(&self) -> Vec<String> {
        self.study.active_attributes().into_iter().map(|index| self.study.attributes[index].name.clone()).collect()
    }
}

/// Without a target while it is not settled what counts as a match.
fn as_settled(mut study: Study) -> Study {
    if study.decided_at.is_none() {
        study.settings.target = None;
    }
    study
}
