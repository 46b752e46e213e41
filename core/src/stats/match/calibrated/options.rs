//! What a candidate is judged by. Plain values; nothing here computes.

use crate::defined::{Defined, NotDefined};

/// What a candidate is judged by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VerdictOptions {
    /// Chance of a wrong claim, above 0 and below 0.5.
    pub alpha: f64,
    /// Largest typical difference of a profile match, as a share of the margins: 0.7 is 7 mm beside margins of 10 mm.
    pub profile_share: f64,
    /// How many margins far the farthest attribute of a profile match could lie at most.
    pub guard: f64,
    /// Seed of the patterns drawn where there are too many assessors to go through all.
    pub seed: u64,
    /// Up to so many assessors all 2^(n - 1) patterns of signs are gone through.
    pub exact_up_to: u32,
    /// Patterns drawn beyond that, besides the one seen.
    pub random_patterns: u64,
    /// How many median mean squares of all attributes steady that of each. 1 is the rule as specified. 2 finds one attribute
    /// that is off by 15 mm in 0 to 1.7 studies of 100 more (`core/examples/operating_characteristics/RESULT.md`), takes
    /// power from attributes that scatter little, and its chances of error with some attributes off are not simulated.
    pub steadying: f64,
    /// Whether the chance of calling any candidate wrongly off is held over all candidates together.
    pub together: bool,
    /// Whether the p-values of the latest tables are remembered: another margin asks for the same ones again.
    pub remembers: bool,
    /// Whether nothing but verdicts is wanted, on the whole and on each attribute, as of simulated studies: rearranging ends
    /// when no attribute can come out as off any more, and what verdicts don't hang on is not found.
    pub verdicts_alone: bool,
}

impl Default for VerdictOptions {
    fn default() -> Self {
        VerdictOptions {
            alpha: 0.05,
            profile_share: 0.7,
            guard: 2.0,
            seed: 1,
            exact_up_to: 18,
            random_patterns: 9_999,
            steadying: 1.0,
            together: false,
            remembers: false,
            verdicts_alone: false,
        }
    }
}

impl VerdictOptions {
    pub(super) fn check(&self) -> Defined<()> {
        let above_zero = |value: f64| value.is_finite() && value > 0.0;
        if !(self.alpha > 0.0 && self.alpha < 0.5) {
            return Err(NotDefined::because("the chance of a wrong claim is not between 0 and one half"));
        }
        if !(above_zero(self.profile_share) && above_zero(self.guard)) {
            return Err(NotDefined::because("the profile margin and its guard must be above zero"));
        }
        if !(self.steadying.is_finite() && self.steadying >= 0.0) {
            return Err(NotDefined::because("a statistic can't be steadied by less than nothing"));
        }
        Ok(())
    }
}
