//! What a fit gives before names are put to it. Plain values; nothing here computes.

use crate::stats::results::{Anova, Defined, ModelVariances, NotDefined};
use crate::stats::samples::means::EstimatedMeans;

/// What a fit gives before names are put to it.
pub(in crate::stats) struct Parts {
    pub anova: Defined<Anova>,
    pub model: Defined<ModelVariances>,
    pub estimated: Defined<EstimatedMeans>,
}

impl Parts {
    /// Nothing is defined, for one reason.
    pub fn nothing(because: impl Into<String>) -> Parts {
        let because = NotDefined::because(because);
        Parts { anova: Err(because.clone()), model: Err(because.clone()), estimated: Err(because) }
    }
}
