//! What the tables about the target say.

use crate::tables::words::{listed, percent};

pub(super) const VERDICTS_HOW: &str = "Distance: root of the summed squared differences over all attributes for single characters. Noise off: the summed squared standard errors are taken off first, because noise alone never shows a distance of zero. Typical difference: distance over the root of the number of attributes. Offset: how much stronger overall. Shape r: correlation of the two profiles.";
pub(super) const DECIDING_GROUP: &str = "deciding attributes";
pub(super) const DISTANCE_GROUP: &str = "distance of the profiles";
pub(super) const FLAT_PROFILE: &str = "one of the profiles is flat";

pub(super) const SE: &str = "standard error";
pub(super) const P_GROUP: &str = "p against";
pub(super) const P_LOWER: &str = "too low";
pub(super) const P_UPPER: &str = "too high";
pub(super) const P_DIFFERENCE: &str = "no difference";
pub(super) const DIFFERENCES_HOW: &str = "Candidate minus target: each assessor's own difference, then the mean over assessors; intervals by Student's t with assessors less one degrees of freedom.";

pub(super) const POWER: &str = "Chance that a true match would have been shown, least first";
pub(super) const POWER_CHANCE: &str = "true match shown in";
pub(super) const POWER_NEEDED: &str = "assessors for 80 of 100";
pub(super) const HALF_WIDTH: &str = "interval reaches \u{b1}";
pub(super) const OWN_MARGIN: &str = "margin \u{b1}";
pub(super) const SCATTER_OF_DIFFERENCE: &str = "scatter of a difference";
pub(super) const POWER_HOW: &str = "A candidate without any difference at all, tasted by a panel of this size, with these replicates and this panel's own scatter on the attribute (mixed model). Exact for normal scatter. It speaks of one attribute; for all deciding ones at once the chance is lower.";

pub(super) const CORRELATION: &str = "correlation";
pub(super) const SAME_DIRECTION: &str = "same direction in";
pub(super) const BETWEEN_SAMPLES: &str = "between samples";
pub(super) const WITHIN_SAMPLES: &str = "within a sample";
pub(super) const NOT_STEADY: &str = "not steady";

pub(super) const LEAVE_ONE_OUT: &str = "Verdicts with everybody and without each assessor";
pub(super) const EVERYBODY: &str = "everybody";
pub(super) const WITHOUT: &str = "without";
pub(super) const ATTRIBUTES_CHANGED: &str = "attributes whose verdict moves";
pub(super) const LEAVE_ONE_OUT_HOW: &str = "Nobody is left out by this: it shows what would change. A verdict that hangs on one person is worth another tasting, and is no reason to leave that person out.";

pub(super) const CLOSEST_OF_ALL: &str = "no candidate is farther from the target";

pub(super) fn verdicts(unit: &str) -> String {
    format!("Verdicts; distances in {unit}")
}

pub(super) fn differences(sample: &str, target: &str, unit: &str) -> String {
    format!("{sample} minus {target}, in {unit}; largest difference first")
}

pub(super) fn all_differences(target: &str, unit: &str) -> String {
    format!("Candidates minus {target}, in {unit}; largest difference first")
}

/// The intervals that the verdict stands on at another alpha: for a difference, for a match.
pub(super) fn verdict_intervals(alpha: f64) -> [String; 2] {
    [format!("{} interval (off)", percent(1.0 - alpha)), format!("{} interval (match)", percent(1.0 - 2.0 * alpha))]
}

pub(super) fn verdict_rule(alpha: f64) -> String {
    format!(
        "Match: the {} interval lies inside the margin. Off: the {} interval excludes zero and the match is not shown. \
         Not shown: anything else, which is not the same as different.",
        percent(1.0 - 2.0 * alpha),
        percent(1.0 - alpha)
    )
}

/// The question that the table of a word for the whole answers.
pub fn goes_with(attribute: &str) -> String {
    format!("What goes with \u{201c}{attribute}\u{201d}?")
}

pub(super) fn integrated_draws(draws: usize, seed: u64) -> String {
    format!("{draws} panels drawn with replacement (seed {seed}).")
}

pub(super) fn verdict_changes(candidates: &[String]) -> String {
    format!("changes {}", listed(candidates))
}
