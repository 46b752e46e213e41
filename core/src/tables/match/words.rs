//! What the tables about the target say.

use super::reasons::share_of_margins;
use crate::stats::Analysis;
use crate::stats::r#match::calibrated::OffTestBy;
use crate::tables::words::{grouped, listed, percent};
use crate::text::numbers::typed;

pub(super) const VERDICTS_HOW: &str = "Alike within: no deciding attribute differs by more, by its interval. Typical difference: root mean square of the true differences over the deciding attributes; \u{201c}scatter taken off\u{201d} is the best estimate, \u{201c}at most\u{201d} its upper bound. Distance: root of the summed squared differences over all attributes for single characters; scatter alone never shows a distance of zero, so what it adds is taken off. Offset: how much stronger overall.";
pub(super) const TYPICAL_GROUP: &str = "typical difference";
pub(super) const DRAWN_AGAIN: &str = "drawn again";
pub(super) const AS_A_WHOLE: &str = "as a whole";
pub(super) const BEYOND: &str = "beyond the margin";
pub(super) const P_OFF: &str = "p of no difference, adjusted";
pub(super) const DECIDING_GROUP: &str = "deciding attributes";
pub(super) const DISTANCE_GROUP: &str = "distance of the profiles";

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
    [format!("{} interval", percent(1.0 - alpha)), format!("{} interval (match)", percent(1.0 - 2.0 * alpha))]
}

pub(super) fn verdict_rule(alpha: f64) -> String {
    format!(
        "Match: the {} interval of this attribute alone lies inside the margin. Off: the adjusted p is {} at most and it is \
         no match; beyond the margin where even that is shown. Not shown: anything else, which is not the same as \
         different. Intervals and the p-values on the right are those of each attribute by itself.",
        percent(1.0 - 2.0 * alpha),
        typed(alpha)
    )
}

/// How the whole sample is judged.
pub fn whole_rule(analysis: &Analysis) -> String {
    format!(
        "A sample is off where any deciding attribute is; in {} of 100 studies at most this happens to a sample that does \
         not differ at all, however many attributes were marked. It matches where every deciding attribute lies inside its \
         margin, or as a whole: nothing off, typical difference at most {} and no attribute that could lie farther out \
         than twice its margin.",
        typed(100.0 * analysis.alpha),
        share_of_margins(analysis, analysis.profile_share)
    )
}

/// How \u{201c}off\u{201d} was tested, and over what it is adjusted.
pub fn off_test(analysis: &Analysis) -> String {
    let tests = analysis.candidates.iter().filter(|one| !analysis.is_target_again(&one.sample));
    let Some(test) = tests.filter_map(|one| one.judged.as_ref().ok()).map(|judged| &judged.test).next() else {
        return "Nothing could be tested.".to_owned();
    };
    let over = match test.n_candidates {
        0 | 1 => "over all deciding attributes of a candidate".to_owned(),
        count => format!("over all deciding attributes of all {count} candidates together"),
    };
    let patterns = match test.exact {
        true => format!("all {} rearrangements", grouped(test.patterns as usize)),
        false => format!("{} rearrangements drawn with the seed", grouped(test.patterns as usize)),
    };
    match test.by {
        OffTestBy::SignFlips => format!(
            "Adjusted p: {over}, step by step from the largest difference down; if nothing differed, each assessor's \
             differences could as well have come out the other way round, all attributes together ({patterns})."
        ),
        OffTestBy::WhichServing => format!(
            "Adjusted p: {over}, step by step from the largest difference down; if nothing differed, any of an assessor's \
             three servings could have been the candidate ({patterns})."
        ),
        OffTestBy::HolmOnT => format!(
            "Adjusted p: {over}, by Holm's method on Student's t; with so few assessors that rests on normal scatter."
        ),
    }
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

pub(super) const CHANCES: &str = "How often this panel would reach each verdict";
pub(super) const IF_TRUE: &str = "if this were true";
pub(super) const NEXT_MARGINS: &str = "Margins for the next study";
pub(super) const MARGIN_OF: &str = "margin of";
pub(super) const OF_EACH: &str = "each attribute";
pub(super) const OF_TYPICAL: &str = "the typical difference";

pub(super) fn chances_how(assessors: usize, attributes: usize, studies: u64) -> String {
    format!(
        "Simulated: {studies} studies of each kind by {assessors} assessors on {attributes} deciding attributes, with this \
         panel's own scatter, drawn together a little because few assessors show it larger and smaller than it is. Good to \
         about 2 in 100. It tells what the panel can do; it changes no verdict."
    )
}

pub(super) fn next_margins_how(each: &str, unit: &str, share: f64, draws: usize) -> String {
    format!(
        "From the target's two cups ({draws} draws): with margins of {each} {unit} this panel would show the target to match \
         itself on every attribute in {} of 100 studies. A margin can't well be smaller; how large it may be is a matter of \
         what people notice and of what the customer allows. For the next study only: a margin taken from the scores that it \
         judges proves nothing.",
        typed(100.0 * share)
    )
}

pub(super) const SECOND_OPINION: &str = "Inside the margin by the mixed model";
pub(super) const INSIDE: &str = "inside by the model";
pub(super) const YES: &str = "yes";
pub(super) const NO: &str = "no";
pub(super) const SECOND_OPINION_HOW: &str = "The verdict stands on each assessor\u{2019}s own differences and assumes no equal scatter of samples. The mixed model takes the scatter of all samples together: more degrees of freedom, and wrong where samples scatter differently. It decides nothing; where the two differ, the match hangs on which is believed.";
