//! The verdict in sentences that a flavourist can act on.
//!
//! One interval stands behind every sentence: that at 1 - 2 alpha, inside which a match must lie.

use super::reasons::common_margin;
use crate::stats::r#match::calibrated::{CalibratedVerdict, MatchRule, Widest};
use crate::stats::r#match::power::PowerReached;
use crate::stats::{
    Analysis, AttributeAnalysis, CandidateAnalysis, Defined, DifferenceTest, TargetDifference, Verdict,
};
use crate::text::lists::listed_at_most;
use crate::text::numbers::{fixed, percent, score, score_in_words, typed};

/// How many off attributes a sentence names before it counts the rest.
const NAMED_AT_MOST: usize = 5;

/// One attribute on which a candidate has a verdict.
struct Judged<'a> {
    attribute: &'a AttributeAnalysis,
    difference: &'a TargetDifference,
}

/// The verdict on one candidate as one to three sentences. The second cup of the target is no candidate: its sentence says
/// what this panel makes of no difference.
pub fn candidate_sentence(analysis: &Analysis, candidate: &CandidateAnalysis) -> String {
    if analysis.is_target_again(&candidate.sample) {
        return again_sentence(analysis, candidate);
    }
    let sentence = match (candidate.verdict, candidate.rule()) {
        (Verdict::Off, _) => off_sentence(analysis, candidate),
        (Verdict::Match, Some(MatchRule::Profile)) => profile_sentence(analysis, candidate),
        (Verdict::Match, _) => match_sentence(analysis, candidate),
        (Verdict::NotShown, _) => not_shown_sentence(candidate),
    };
    let within = match candidate.rule() {
        Some(MatchRule::Profile) => None,
        _ => within_sentence(analysis, candidate),
    };
    [Some(sentence), within].into_iter().flatten().collect::<Vec<_>>().join(" ")
}

/// "Alike within 13.2 mm on every deciding attribute; typical difference at most 3.4 mm (95 %).": shown in any case.
pub fn within_sentence(analysis: &Analysis, candidate: &CandidateAnalysis) -> Option<String> {
    let judged = candidate.judged.as_ref().ok()?;
    let within = alike_phrase(analysis, judged)?;
    let typical = typical_phrase(analysis, judged).map_or_else(String::new, |typical| format!("; {typical}"));
    Some(format!("{within}{typical}."))
}

fn alike_phrase(analysis: &Analysis, judged: &CalibratedVerdict) -> Option<String> {
    let within = length(analysis, judged.alike_within_mm.as_ref().ok()?.within);
    Some(match (judged.verdict, judged.attributes.len()) {
        (Verdict::Off, 1) => format!("It differs by {within} at most"),
        (Verdict::Off, _) => format!("No deciding attribute differs by more than {within}"),
        (_, 1) => format!("Alike within {within} on the one deciding attribute"),
        _ => format!("Alike within {within} on every deciding attribute"),
    })
}

pub(crate) fn typical_phrase(analysis: &Analysis, judged: &CalibratedVerdict) -> Option<String> {
    let bound = length(analysis, judged.typical.as_ref().ok()?.bound);
    // Where margins differ, the bound in margins is what the profile margin is held against.
    let in_margins = match (common_margin(analysis), &judged.typical_of_margins) {
        (None, Ok(typical)) => format!("{} of the margins, ", fixed(typical.bound, 2)),
        _ => String::new(),
    };
    Some(format!("typical difference at most {bound} ({in_margins}{})", percent(1.0 - analysis.alpha)))
}

/// "13.2 mm".
fn length(analysis: &Analysis, value: f64) -> String {
    format!("{} {}", score(value, analysis.scale_maximum), analysis.unit)
}

/// "too much green by 14 mm (90 % interval 9 to 19), beyond the margin".
pub fn direction_phrase(analysis: &Analysis, attribute: &str, difference: &TargetDifference) -> String {
    let direction = if difference.difference > 0.0 { "too much" } else { "too little" };
    let size = score_in_words(difference.difference.abs(), analysis.scale_maximum);
    let interval = match &difference.test {
        Ok(test) => format!(" ({})", interval_phrase(analysis, test, difference.difference < 0.0)),
        Err(_) => String::new(),
    };
    let beyond = if difference.beyond { ", beyond the margin" } else { "" };
    format!("{direction} {attribute} by {size} {}{interval}{beyond}", analysis.unit)
}

/// "90 % interval 9 to 19", by the size of the difference where `flipped`.
fn interval_phrase(analysis: &Analysis, test: &DifferenceTest, flipped: bool) -> String {
    let interval = test.match_interval;
    let (low, high) = if flipped { (-interval.upper, -interval.lower) } else { (interval.lower, interval.upper) };
    format!(
        "{} interval {} to {}",
        percent(1.0 - 2.0 * analysis.alpha),
        score_in_words(low, analysis.scale_maximum),
        score_in_words(high, analysis.scale_maximum)
    )
}

/// "A true match on green would be shown 93 times in 100." and, where that is less than the power aimed at, with how
/// many assessors it would be reached.
pub fn power_sentence(reached: &PowerReached) -> String {
    let times = |share: f64| crate::text::numbers::fixed(100.0 * share, 0);
    let first = format!("A true match on {} would be shown {} times in 100", reached.attribute, times(reached.p_match));
    if reached.p_match >= reached.power {
        return format!("{first}.");
    }
    match &reached.assessors_needed {
        Ok(assessors) => format!("{first}; to reach {} it would take {assessors} assessors.", times(reached.power)),
        Err(reason) => format!("{first}; how many assessors would reach {} is {reason}.", times(reached.power)),
    }
}

fn off_sentence(analysis: &Analysis, candidate: &CandidateAnalysis) -> String {
    format!("{} is off: {}; {}.", candidate.sample, off_phrases(analysis, candidate), counts(candidate))
}

/// What is off, the largest difference first.
fn off_phrases(analysis: &Analysis, candidate: &CandidateAnalysis) -> String {
    let mut off = judged(analysis, &candidate.sample, Verdict::Off);
    off.sort_by(|a, b| b.difference.difference.abs().total_cmp(&a.difference.difference.abs()));
    let phrase = |judged: &Judged| direction_phrase(analysis, &judged.attribute.attribute, judged.difference);
    listed_at_most(&off.iter().map(phrase).collect::<Vec<_>>(), NAMED_AT_MOST)
}

/// "within 10 mm", or by their own margins where these differ.
pub(crate) fn within_margins(analysis: &Analysis) -> String {
    match common_margin(analysis) {
        Some(margin) => format!("within {} {}", typed(margin), analysis.unit),
        None => "within the margins".to_owned(),
    }
}

fn match_sentence(analysis: &Analysis, candidate: &CandidateAnalysis) -> String {
    format!(
        "{} matches the target {}: {} inside the margin ({} intervals).",
        candidate.sample,
        within_margins(analysis),
        match candidate.n_match {
            1 => "the one deciding attribute is shown to lie".to_owned(),
            count => format!("all {count} deciding attributes are shown to lie"),
        },
        percent(1.0 - 2.0 * analysis.alpha)
    )
}

fn profile_sentence(analysis: &Analysis, candidate: &CandidateAnalysis) -> String {
    let typical = candidate.judged.as_ref().ok().and_then(|judged| typical_phrase(analysis, judged));
    let widest = candidate.judged.as_ref().ok().and_then(|judged| widest(analysis, &judged.alike_within_mm));
    let could = widest.map_or_else(String::new, |(name, within)| {
        format!("; {name} could still differ by up to {}", length(analysis, within))
    });
    format!(
        "{} matches the target as a whole: alike in its profile, {}; no single attribute is shown off{could}.",
        candidate.sample,
        typical.unwrap_or_else(|| "typical difference within the profile margin".to_owned()),
    )
}

/// The attribute that could lie farthest out, and how far.
fn widest(analysis: &Analysis, found: &Defined<Widest>) -> Option<(String, f64)> {
    let found = found.as_ref().ok()?;
    Some((analysis.deciding().get(found.attribute)?.attribute.clone(), found.within))
}

fn not_shown_sentence(candidate: &CandidateAnalysis) -> String {
    format!("{} is not shown to match, and nothing is shown to be off: {}.", candidate.sample, counts(candidate))
}

fn again_sentence(analysis: &Analysis, candidate: &CandidateAnalysis) -> String {
    let sample = &candidate.sample;
    let within = within_sentence(analysis, candidate).map_or_else(String::new, |within| format!(" {within}"));
    if candidate.verdict == Verdict::Off {
        return format!(
            "The target differs from itself: {sample} has {}. Something in cups, codes or order went wrong, or chance did \
             this: it is expected in {} of 100 sound studies.{within}",
            off_phrases(analysis, candidate),
            typed(100.0 * analysis.alpha)
        );
    }
    format!(
        "{sample} is the target again, and nothing is shown off between its two cups: that is what this panel makes of no \
         difference.{within}"
    )
}

fn counts(candidate: &CandidateAnalysis) -> String {
    let total = candidate.n_match + candidate.n_off + candidate.n_not_shown;
    let not_shown = match candidate.n_not_shown {
        0 => String::new(),
        count => format!("; not shown on {count}"),
    };
    format!("match on {} of {total}{not_shown}", candidate.n_match)
}

fn judged<'a>(analysis: &'a Analysis, sample: &str, verdict: Verdict) -> Vec<Judged<'a>> {
    analysis
        .attributes
        .iter()
        .filter(|attribute| attribute.deciding)
        .filter_map(|attribute| Some(Judged { attribute, difference: attribute.difference_of(sample)? }))
        .filter(|judged| judged.difference.verdict == verdict)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::NotDefined;
    use crate::stats::r#match::power::PanelPlan;

    fn check(p_match: f64, needed: Result<usize, &str>, expected: &str) {
        let plan = PanelPlan { assessors: 10, replicates: 2, sd_interaction: 5.0, sd_error: 9.0 };
        let reached = PowerReached {
            attribute: "green".to_owned(),
            deciding: true,
            margin: 10.0,
            plan,
            sd_of_difference: plan.sd_of_difference(),
            half_width: 7.0,
            p_match,
            power: 0.8,
            assessors_needed: needed.map_err(NotDefined::because),
        };
        assert_eq!(power_sentence(&reached), expected);
    }

    #[test]
    fn the_power_reached_is_said_with_what_would_raise_it() {
        check(0.93, Ok(8), "A true match on green would be shown 93 times in 100.");
        check(
            0.41,
            Ok(19),
            "A true match on green would be shown 41 times in 100; to reach 80 it would take 19 assessors.",
        );
        check(
            0.02,
            Err("it would take more than 400 assessors"),
            "A true match on green would be shown 2 times in 100; how many assessors would reach 80 is not defined, \
             because it would take more than 400 assessors.",
        );
    }
}
