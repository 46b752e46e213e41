//! Which preparation of a sample a replicate is served from. It knows nothing of sheets.
//!
//! Where every assessor is served from one pot, whatever sets that pot apart lies inside each assessor's difference alike,
//! and no interval over assessors holds it. Replicates from preparations of their own average it, and show it: replicate
//! against replicate.

use crate::plan::brief::study_brief::Brief;
use crate::plan::tasting_plan::TastingPlan;

/// Why samples are prepared more than once, as it stands on sheets.
pub const WHY_SEPARATE: &str = "Each sample is made anew for each preparation, from weighing on: what sets one pot apart would \
    otherwise count as the sample's own, and no interval would show it.";

impl Brief {
    /// The preparation that a replicate is served from, from 1; preparations take turns. `None` where there is one only.
    pub fn preparation_of(&self, replicate: u32) -> Option<u32> {
        let preparations = u32::try_from(self.preparations).unwrap_or(u32::MAX);
        (preparations > 1).then(|| replicate.saturating_sub(1) % preparations + 1)
    }
}

impl TastingPlan {
    /// The preparation that a session is served from; `None` where there is one only.
    pub fn preparation_in(&self, session: u32) -> Option<u32> {
        self.orders.key(session).and_then(|key| self.brief.preparation_of(key.replicate))
    }
}
