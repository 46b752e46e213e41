//! What keeps a verdict from being more, and what its reader must know, in sentences.

use crate::stats::r#match::calibrated::{Caution, NotShownBecause};
use crate::stats::r#match::target_cups::TargetCups;
use crate::stats::{Analysis, AttributeAnalysis, CandidateAnalysis, Verdict};
use crate::text::lists::{listed_at_most, plural};
use crate::text::numbers::{score, statistic, typed};

/// Attributes named before the rest is counted.
const NAMED_AT_MOST: usize = 5;

/// What kept a candidate that is not off from being a match, one sentence each; none where it is a match or off.
pub fn bars(analysis: &Analysis, candidate: &CandidateAnalysis) -> Vec<String> {
    match &candidate.judged {
        Ok(judged) => judged.not_shown_because.iter().map(|bar| bar_sentence(analysis, bar)).collect(),
        Err(reason) => vec![format!("There is no verdict, because {}.", reason.because)],
    }
}

/// What the reader must know about the verdict on a candidate.
pub fn cautions(analysis: &Analysis, candidate: &CandidateAnalysis) -> Vec<String> {
    let judged = candidate.judged.iter().flat_map(|judged| &judged.cautions);
    judged.map(|caution| caution_sentence(analysis, caution)).chain(piled_up(analysis, candidate)).collect()
}

/// From this share of marks at an end of the line on, matches are claimed wrongly a little more often than alpha: 5.0 to
/// 6.5 of 100 with 30 to 50 % of the target's marks at 0, and 4.1 to 5.9 below
/// (`core/examples/operating_characteristics/RESULT.md`, marks piled up at 0).
const PILED_UP_FROM: f64 = 0.3;

/// Says on which of the matching attributes marks pile up at an end of the line.
fn piled_up(analysis: &Analysis, candidate: &CandidateAnalysis) -> Option<String> {
    let matches = |one: &&AttributeAnalysis| {
        one.share_at_end >= PILED_UP_FROM
            && one.difference_of(&candidate.sample).is_some_and(|found| found.verdict == Verdict::Match)
    };
    let names: Vec<String> =
        analysis.deciding().into_iter().filter(matches).map(|attribute| attribute.attribute.clone()).collect();
    (!names.is_empty()).then(|| {
        format!(
            "Marks pile up at an end of the line on {}: a match there is claimed wrongly in up to 7 of 100 studies and not \
             in 5.",
            listed_at_most(&names, NAMED_AT_MOST)
        )
    })
}

/// Which cups of the target the candidates are held against, where there is something to say about it.
pub fn cups_sentence(analysis: &Analysis) -> Option<String> {
    let (target, again) = (analysis.target.as_ref()?, analysis.target_again.as_ref()?);
    match &analysis.cups {
        TargetCups::Named => None,
        TargetCups::Both => {
            Some(format!("Candidates are held against the mean of both cups of the target, {target} and {again}."))
        }
        TargetCups::Blind { because } => Some(format!(
            "Candidates are held against {again}, the target's blind cup, because {because}: an assessor who knows \
             the target marks it differently, and that is no difference of the candidate."
        )),
    }
}

/// Names of deciding attributes by their places.
fn named(analysis: &Analysis, places: &[usize]) -> String {
    let deciding: Vec<&AttributeAnalysis> = analysis.deciding();
    let name = |place: &usize| deciding.get(*place).map(|attribute| attribute.attribute.clone());
    listed_at_most(&places.iter().filter_map(name).collect::<Vec<_>>(), NAMED_AT_MOST)
}

fn bar_sentence(analysis: &Analysis, bar: &NotShownBecause) -> String {
    match bar {
        NotShownBecause::TooFewDifferences { attributes } => {
            format!("Fewer than two assessors scored both samples on {}.", named(analysis, attributes))
        }
        NotShownBecause::OutsideMargin { attributes } => format!(
            "{} {} not shown to lie inside {}.",
            named(analysis, attributes),
            plural(attributes.len(), "is", "are"),
            plural(attributes.len(), "its margin", "their margins")
        ),
        NotShownBecause::TypicalNotDefined { because } => {
            format!("There is no bound of the typical difference, because {because}.")
        }
        NotShownBecause::TypicalTooLarge { bound, allowed, out_of_reach } => {
            let out_of_reach = if *out_of_reach {
                ". With this scatter not even a candidate without any difference would have been shown to lie within that"
            } else {
                ""
            };
            format!(
                "The typical difference could be as large as {}; a profile match asks for {} at most{out_of_reach}.",
                share_of_margins(analysis, *bound),
                share_of_margins(analysis, *allowed),
            )
        }
        NotShownBecause::BeyondGuard { attributes, guard } => format!(
            "{} could lie farther out than {} times {}, which bars a profile match.",
            named(analysis, attributes),
            typed(*guard),
            plural(attributes.len(), "its margin", "their margins")
        ),
    }
}

/// "7 mm" where all deciding attributes have one margin, else "0.7 of the margins".
pub fn share_of_margins(analysis: &Analysis, share: f64) -> String {
    match common_margin(analysis) {
        Some(margin) => {
            format!("{} {}", without_idle_zeros(&score(share * margin, analysis.scale_maximum)), analysis.unit)
        }
        None => format!("{} of the margins", typed((100.0 * share).round() / 100.0)),
    }
}

/// "7" of "7.0".
fn without_idle_zeros(number: &str) -> &str {
    if number.contains('.') { number.trim_end_matches('0').trim_end_matches('.') } else { number }
}

/// The one margin of all deciding attributes; `None` where they differ, or nothing is compared.
pub fn common_margin(analysis: &Analysis) -> Option<f64> {
    let first_of = |attribute: &AttributeAnalysis| attribute.versus_target.first().map(|found| found.margin);
    let mut margins = analysis.attributes.iter().filter(|attribute| attribute.deciding).filter_map(first_of);
    let first = margins.next()?;
    margins.all(|margin| crate::numeric::tolerance::is_same_number(margin, first)).then_some(first)
}

fn caution_sentence(analysis: &Analysis, caution: &Caution) -> String {
    match caution {
        Caution::FewAssessors { n_assessors } => format!(
            "Only {n_assessors} {} scored both samples. How often verdicts are wrong was found out for six and more: \
             take this one as a first impression.",
            plural(*n_assessors, "assessor", "assessors")
        ),
        Caution::FewDifferences { attributes } => format!(
            "Fewer than four assessors scored both samples on {}: what is said there is a first impression.",
            named(analysis, attributes)
        ),
        Caution::NoScatter { attributes } => format!(
            "All assessors differ by the very same amount on {}: no scatter was seen, so {} by the difference as it is.",
            named(analysis, attributes),
            plural(attributes.len(), "it counts", "they count")
        ),
        Caution::RestsOnNormalScatter { smallest_possible_p } => format!(
            "So few assessors can't be rearranged often enough (smallest possible p {}), so \u{201c}off\u{201d} rests on \
             the assumption of normal scatter here.",
            statistic(*smallest_possible_p, 3)
        ),
    }
}
