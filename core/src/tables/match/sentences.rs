//! The verdict in sentences that a flavourist can act on.

use crate::stats::r#match::power::PowerReached;
use crate::stats::{Analysis, AttributeAnalysis, CandidateAnalysis, DifferenceTest, TargetDifference, Verdict};
use crate::text::numbers::{percent, score_in_words};

/// How many off attributes a sentence names before it counts the rest.
const NAMED_AT_MOST: usize = 5;

/// One attribute on which a candidate has a verdict.
struct Judged<'a> {
    attribute: &'a AttributeAnalysis,
    difference: &'a TargetDifference,
}

/// The verdict on one candidate as one or two sentences.
pub fn candidate_sentence(analysis: &Analysis, candidate: &CandidateAnalysis) -> String {
    match candidate.verdict {
        Verdict::Off => off_sentence(analysis, candidate),
        Verdict::Match => match_sentence(analysis, candidate),
        Verdict::NotShown => not_shown_sentence(analysis, candidate),
    }
}

/// "too much green by 14 mm (95 % interval 9 to 19)".
pub fn direction_phrase(analysis: &Analysis, attribute: &str, difference: &TargetDifference) -> String {
    let direction = if difference.difference > 0.0 { "too much" } else { "too little" };
    let size = score_in_words(difference.difference.abs(), analysis.scale_maximum);
    let interval = match &difference.test {
        Ok(test) => format!(" ({})", interval_phrase(analysis, test, difference.difference < 0.0)),
        Err(_) => String::new(),
    };
    format!("{direction} {attribute} by {size} {}{interval}", analysis.unit)
}

/// "95 % interval 9 to 19", by the size of the difference where `flipped`.
fn interval_phrase(analysis: &Analysis, test: &DifferenceTest, flipped: bool) -> String {
    let interval = test.difference_interval;
    let (low, high) = if flipped { (-interval.upper, -interval.lower) } else { (interval.lower, interval.upper) };
    format!(
        "{} interval {} to {}",
        percent(1.0 - analysis.alpha),
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
    let mut off = judged(analysis, &candidate.sample, Verdict::Off);
    off.sort_by(|a, b| b.difference.difference.abs().total_cmp(&a.difference.difference.abs()));
    let mut phrases: Vec<String> = off
        .iter()
        .take(NAMED_AT_MOST)
        .map(|judged| direction_phrase(analysis, &judged.attribute.attribute, judged.difference))
        .collect();
    if off.len() > NAMED_AT_MOST {
        phrases.push(format!("and {} more", off.len() - NAMED_AT_MOST));
    }
    format!("{} is off: {}; {}.", candidate.sample, phrases.join(", "), counts(candidate))
}

fn match_sentence(analysis: &Analysis, candidate: &CandidateAnalysis) -> String {
    format!(
        "{} matches the target: {} inside the margin ({} intervals).",
        candidate.sample,
        match candidate.n_match {
            1 => "the one deciding attribute is shown to lie".to_owned(),
            count => format!("all {count} deciding attributes are shown to lie"),
        },
        percent(1.0 - 2.0 * analysis.alpha)
    )
}

fn not_shown_sentence(analysis: &Analysis, candidate: &CandidateAnalysis) -> String {
    let widest = judged(analysis, &candidate.sample, Verdict::NotShown)
        .into_iter()
        .filter_map(|judged| Some((judged.attribute, judged.difference.test.as_ref().ok()?.match_interval)))
        .max_by(|(_, a), (_, b)| (a.upper - a.lower).total_cmp(&(b.upper - b.lower)));
    let least_sure = widest.map_or_else(String::new, |(attribute, interval)| {
        format!(
            " Least sure is {}: anywhere from {} to {} {} against the target ({} interval).",
            attribute.attribute,
            score_in_words(interval.lower, analysis.scale_maximum),
            score_in_words(interval.upper, analysis.scale_maximum),
            analysis.unit,
            percent(1.0 - 2.0 * analysis.alpha)
        )
    });
    format!(
        "{} is not shown to match, and nothing is shown to be off: {}.{least_sure}",
        candidate.sample,
        counts(candidate)
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
