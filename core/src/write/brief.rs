//! A brief for the flavourist: what to change, what to leave, what nobody knows yet, in five plain sentences at most.
//!
//! It says directions and sizes on the panel's line and never what substance stands behind them: a profile holds
//! characters, not causes. It knows results only.

use crate::stats::r#match::calibrated::MatchRule;
use crate::stats::{Analysis, AttributeAnalysis, CandidateAnalysis, TargetDifference, Verdict};
use crate::tables::r#match::late_sentence;
use crate::tables::r#match::sentences::{direction_phrase, typical_phrase, within_margins};
use crate::text::lists::listed_at_most;
use crate::text::numbers::{percent, score_in_words};
use serde::Serialize;

/// No brief is longer.
pub const SENTENCES_AT_MOST: usize = 5;
/// Characters that are off and named with their size, before the rest is counted.
const OFF_NAMED_AT_MOST: usize = 6;
/// Characters named without a size, before the rest is counted.
const OTHERS_NAMED_AT_MOST: usize = 8;

/// Sentences in reading order, each with its full stop: verdict, what is off, what is fine, what is not shown, caution.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct FlavouristBrief {
    pub sample: String,
    pub sentences: Vec<String>,
}

impl FlavouristBrief {
    /// All sentences as one paragraph.
    pub fn text(&self) -> String {
        self.sentences.join(" ")
    }
}

/// The brief on one candidate, from its deciding attributes.
pub fn flavourist_brief(analysis: &Analysis, candidate: &CandidateAnalysis) -> FlavouristBrief {
    let sample = candidate.sample.as_str();
    let mut sentences = vec![verdict_sentence(analysis, candidate)];
    sentences.extend(off_sentence(analysis, sample));
    sentences.extend(fine_sentence(analysis, sample));
    sentences.extend(not_shown_sentence(analysis, sample));
    sentences.push(caution(candidate.verdict));
    sentences.truncate(SENTENCES_AT_MOST);
    FlavouristBrief { sample: sample.to_owned(), sentences }
}

fn verdict_sentence(analysis: &Analysis, candidate: &CandidateAnalysis) -> String {
    let target = analysis.target.as_deref().unwrap_or("the target");
    let panel = match analysis.assessors.len() {
        1 => "one assessor".to_owned(),
        count => format!("{count} assessors"),
    };
    let typical = candidate.judged.as_ref().ok().and_then(|judged| typical_phrase(analysis, judged));
    let verdict = match (candidate.verdict, candidate.rule(), typical) {
        (Verdict::Match, Some(MatchRule::Profile), Some(typical)) => format!("it matches as a whole, {typical}"),
        (Verdict::Match, ..) => format!("it matches {}", within_margins(analysis)),
        (Verdict::Off, ..) => "it is off".to_owned(),
        (Verdict::NotShown, ..) => "neither a match nor a fault is shown on the whole".to_owned(),
    };
    // One sentence: what came late is said in the same breath as the verdict.
    let late = late_sentence(analysis).map_or_else(String::new, |late| format!(" ({})", late.trim_end_matches('.')));
    format!("{} was compared with {target} by {panel}: {verdict}{late}.", candidate.sample)
}

fn off_sentence(analysis: &Analysis, sample: &str) -> Option<String> {
    let off = largest_first(analysis, sample, Verdict::Off);
    let phrases: Vec<String> = off
        .iter()
        .map(|(attribute, difference)| direction_phrase(analysis, &attribute.attribute, difference))
        .collect();
    (!phrases.is_empty()).then(|| format!("It has {}.", listed_at_most(&phrases, OFF_NAMED_AT_MOST)))
}

fn fine_sentence(analysis: &Analysis, sample: &str) -> Option<String> {
    let fits = |attribute: &&AttributeAnalysis| {
        attribute.deciding && attribute.difference_of(sample).is_some_and(|found| found.verdict == Verdict::Match)
    };
    // In the order of the ballot.
    let names: Vec<String> =
        analysis.attributes.iter().filter(fits).map(|attribute| attribute.attribute.clone()).collect();
    (!names.is_empty()).then(|| {
        format!("Fine, so leave as it is (shown inside the margin): {}.", listed_at_most(&names, OTHERS_NAMED_AT_MOST))
    })
}

fn not_shown_sentence(analysis: &Analysis, sample: &str) -> Option<String> {
    let unsure = largest_first(analysis, sample, Verdict::NotShown);
    let phrases: Vec<String> =
        unsure.iter().map(|(attribute, difference)| span_phrase(analysis, attribute, difference)).collect();
    (!phrases.is_empty()).then(|| {
        format!(
            "Not shown either way, so taste again before you change or trust it: {}.",
            listed_at_most(&phrases, OTHERS_NAMED_AT_MOST)
        )
    })
}

fn caution(verdict: Verdict) -> String {
    let caution = match verdict {
        Verdict::Match => "A match holds for this margin and for cups and assessors like these",
        _ => "Sizes are marks on the panel's line and no doses",
    };
    format!(
        "{caution}; what to change in the recipe is your judgement, and one change can move other characters, so taste again beside the target."
    )
}

/// "sour (90 % interval -3 to 12 mm)".
fn span_phrase(analysis: &Analysis, attribute: &AttributeAnalysis, difference: &TargetDifference) -> String {
    let name = &attribute.attribute;
    match &difference.test {
        Ok(test) => format!(
            "{name} ({} interval {} to {} {})",
            percent(1.0 - 2.0 * analysis.alpha),
            score_in_words(test.match_interval.lower, analysis.scale_maximum),
            score_in_words(test.match_interval.upper, analysis.scale_maximum),
            analysis.unit
        ),
        Err(_) => name.clone(),
    }
}

/// Deciding characters with a verdict, the largest difference first.
fn largest_first<'a>(
    analysis: &'a Analysis,
    sample: &str,
    verdict: Verdict,
) -> Vec<(&'a AttributeAnalysis, &'a TargetDifference)> {
    let mut found = analysis.differences_of(sample);
    found.retain(|(attribute, difference)| attribute.deciding && difference.verdict == verdict);
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::r#match::target_cups::TargetCups;
    use crate::stats::{DifferenceTest, Interval, NotDefined};
    use crate::study::AttributeKind;

    /// Name, difference and half-width of its 95 % interval; the 90 % one is taken 0.8 times as wide. Margin 10 mm.
    fn attribute(name: &str, difference: f64, half: f64) -> AttributeAnalysis {
        let around = |half: f64| Interval { lower: difference - half, upper: difference + half };
        let (interval95, interval90) = (around(half), around(0.8 * half));
        let test = DifferenceTest {
            se: half / 2.0,
            df: 9.0,
            interval95,
            interval90,
            difference_interval: interval95,
            match_interval: interval90,
            p_lower: 0.5,
            p_upper: 0.5,
            p_difference: 0.5,
        };
        let verdict = match (interval90.is_inside(10.0), interval95.excludes_zero()) {
            (true, _) => Verdict::Match,
            (false, true) => Verdict::Off,
            _ => Verdict::NotShown,
        };
        let none = || NotDefined::because("a brief does not need it");
        AttributeAnalysis {
            attribute: name.to_owned(),
            kind: AttributeKind::Analytic,
            deciding: true,
            n_used: 20,
            n_dropped: 0,
            share_at_end: 0.0,
            anova: Err(none()),
            model: Err(none()),
            means: Vec::new(),
            versus_target: vec![TargetDifference {
                sample: "B".to_owned(),
                difference,
                n_assessors: 10,
                margin: 10.0,
                test: Ok(test),
                verdict,
                p_off: Err(none()),
                beyond: false,
            }],
        }
    }

    /// Off where any attribute is, a match where all are.
    fn candidate(attributes: &[AttributeAnalysis]) -> CandidateAnalysis {
        let count = |wanted: Verdict| {
            let verdicts =
                attributes.iter().filter(|attribute| attribute.deciding).map(|one| one.versus_target[0].verdict);
            verdicts.filter(|verdict| *verdict == wanted).count()
        };
        let (n_match, n_off, n_not_shown) = (count(Verdict::Match), count(Verdict::Off), count(Verdict::NotShown));
        let verdict = match (n_off, n_not_shown, n_match) {
            (0, 0, 1..) => Verdict::Match,
            (0, ..) => Verdict::NotShown,
            _ => Verdict::Off,
        };
        let none = || NotDefined::because("a brief does not need it");
        CandidateAnalysis {
            sample: "B".to_owned(),
            verdict,
            n_match,
            n_off,
            n_not_shown,
            distance: Err(none()),
            judged: Err(none()),
        }
    }

    fn brief_of(attributes: Vec<AttributeAnalysis>) -> FlavouristBrief {
        let candidate = candidate(&attributes);
        let analysis = Analysis {
            target_again: None,
            cups: TargetCups::Named,
            profile_share: 0.7,
            unit: "mm".to_owned(),
            scale_maximum: 100.0,
            alpha: 0.05,
            target: Some("Mango".to_owned()),
            margin: 10.0,
            samples: vec!["Mango".to_owned(), "B".to_owned()],
            assessors: (1..=10).map(|number| format!("A{number}")).collect(),
            attributes,
            candidates: vec![candidate.clone()],
            notices: Vec::new(),
            late: None,
        };
        flavourist_brief(&analysis, &candidate)
    }

    /// What must stand in the brief. Sentences between the verdict and the caution are compared whole.
    fn check(profile: &[(&str, f64, f64)], verdict: &str, middle: &[&str]) {
        let brief = brief_of(profile.iter().map(|(name, size, half)| attribute(name, *size, *half)).collect());
        let [first, rest @ .., last] = brief.sentences.as_slice() else { panic!("{brief:?}") };
        assert_eq!(first, &format!("B was compared with Mango by 10 assessors: {verdict}."));
        assert_eq!(rest, middle);
        assert!(last.ends_with("so taste again beside the target."), "{last}");
    }

    #[test]
    fn briefs_say_what_is_off_fine_and_not_shown() {
        const OFF: &str = "it is off";
        const OPEN: &str = "neither a match nor a fault is shown on the whole";
        check(&[("green", 14.0, 5.0)], OFF, &["It has too much green by 14 mm (90 % interval 10 to 18)."]);
        check(&[("green", -14.0, 5.0)], OFF, &["It has too little green by 14 mm (90 % interval 10 to 18)."]);
        check(
            &[("ripe", 1.0, 4.0)],
            "it matches within 10 mm",
            &["Fine, so leave as it is (shown inside the margin): ripe."],
        );
        check(
            &[("sour", 5.0, 12.0)],
            OPEN,
            &["Not shown either way, so taste again before you change or trust it: sour (90 % interval -5 to 15 mm)."],
        );
        check(
            &[("ripe", 1.0, 4.0), ("green", 12.0, 3.0), ("peach", 20.0, 4.0), ("sour", 5.0, 12.0)],
            OFF,
            &[
                "It has too much peach by 20 mm (90 % interval 17 to 23) and too much green by 12 mm (90 % interval 10 to 14).",
                "Fine, so leave as it is (shown inside the margin): ripe.",
                "Not shown either way, so taste again before you change or trust it: sour (90 % interval -5 to 15 mm).",
            ],
        );
    }

    #[test]
    fn a_brief_never_has_more_than_five_sentences_whatever_the_profile() {
        // Every mix of up to 40 attributes of the three verdicts: identity, no outside figure.
        for count in 0..=40_usize {
            let kinds = [(20.0, 4.0), (1.0, 4.0), (5.0, 12.0)];
            let profile = (0..count).map(|place| {
                let (size, half) = kinds[(place * 7 + count) % 3];
                attribute(&format!("character {place}"), size, half)
            });
            let brief = brief_of(profile.collect());
            assert!((2..=SENTENCES_AT_MOST).contains(&brief.sentences.len()), "{count}: {brief:?}");
            assert!(brief.sentences.iter().all(|sentence| sentence.ends_with('.')));
            // One full stop a sentence: names in this test hold none, and no number has decimals here.
            assert_eq!(brief.text().matches('.').count(), brief.sentences.len(), "{count}: {}", brief.text());
        }
    }

    #[test]
    fn what_is_too_much_to_name_is_counted() {
        let profile = (0..9).map(|place| attribute(&format!("c{place}"), 20.0 + place as f64, 3.0)).collect();
        let brief = brief_of(profile);
        assert!(brief.sentences[1].starts_with("It has too much c8 by 28 mm"), "{brief:?}");
        assert!(brief.sentences[1].ends_with("and 3 more."), "{brief:?}");
    }

    #[test]
    fn attributes_that_do_not_decide_are_not_briefed() {
        let whole = AttributeAnalysis { deciding: false, ..attribute("true to fruit", -30.0, 4.0) };
        assert!(!brief_of(vec![whole, attribute("ripe", 1.0, 4.0)]).text().contains("true to fruit"));
    }
}
