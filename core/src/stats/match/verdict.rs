//! The three-way verdict: match, off, or not shown. "Not significantly different" is never called a match.

use crate::stats::results::{AttributeAnalysis, CandidateAnalysis, Defined, DifferenceTest, ProfileDistance, Verdict};

/// Verdict on one attribute.
///
/// Match: the 1 - 2 alpha interval lies inside the margin. Off: the 1 - alpha interval excludes zero and it is no
/// match. Anything else is not shown. A difference that is sure but tiny is a match.
pub fn verdict_of(test: &DifferenceTest, margin: f64) -> Verdict {
    if test.match_interval.is_inside(margin) {
        Verdict::Match
    } else if test.difference_interval.excludes_zero() {
        Verdict::Off
    } else {
        Verdict::NotShown
    }
}

/// Verdict on the whole sample from its deciding attributes: off if any is off, match if all match, else not shown.
///
/// An intersection-union test (Berger 1982): each attribute is tested at alpha without correction, because all of
/// them have to match. A deciding attribute without a verdict (`None`) bars a match. No attribute, no match.
pub fn whole_verdict(deciding: &[Option<Verdict>]) -> Verdict {
    if deciding.contains(&Some(Verdict::Off)) {
        Verdict::Off
    } else if !deciding.is_empty() && deciding.iter().all(|verdict| *verdict == Some(Verdict::Match)) {
        Verdict::Match
    } else {
        Verdict::NotShown
    }
}

/// Gathers the verdict on one candidate from the attributes. Attributes must carry their verdicts already.
pub fn judge_candidate(
    sample: &str,
    attributes: &[AttributeAnalysis],
    distance: Defined<ProfileDistance>,
) -> CandidateAnalysis {
    let deciding: Vec<Option<Verdict>> = attributes
        .iter()
        .filter(|attribute| attribute.deciding)
        .map(|attribute| attribute.difference_of(sample).map(|difference| difference.verdict))
        .collect();
    let count = |wanted: Option<Verdict>| deciding.iter().filter(|verdict| **verdict == wanted).count();
    CandidateAnalysis {
        sample: sample.to_owned(),
        verdict: whole_verdict(&deciding),
        n_match: count(Some(Verdict::Match)),
        n_off: count(Some(Verdict::Off)),
        n_not_shown: count(Some(Verdict::NotShown)) + count(None),
        distance,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::r#match::differences::{DifferenceOptions, test_from_summary};

    fn verdict(difference: f64, se: f64) -> Verdict {
        let test = test_from_summary(difference, se, 9.0, DifferenceOptions { margin: 10.0, alpha: 0.05 }).unwrap();
        verdict_of(&test, 10.0)
    }

    #[test]
    fn each_verdict_has_its_region() {
        // t(.95; 9) = 1.833 and t(.975; 9) = 2.262 (any table): the cases stand well away from the borders.
        assert_eq!(verdict(0.0, 3.0), Verdict::Match);
        assert_eq!(verdict(3.0, 1.0), Verdict::Match, "sure but tiny is a match");
        assert_eq!(verdict(14.0, 3.0), Verdict::Off);
        assert_eq!(verdict(8.0, 2.0), Verdict::Off, "sure, and perhaps beyond the margin");
        assert_eq!(verdict(0.0, 9.0), Verdict::NotShown, "not significant is no match");
        assert_eq!(verdict(12.0, 9.0), Verdict::NotShown);
    }

    #[test]
    fn the_whole_is_off_if_any_is_off_and_matches_only_if_all_match() {
        use Verdict::{Match, NotShown, Off};
        assert_eq!(whole_verdict(&[Some(Match), Some(Off), None]), Off);
        assert_eq!(whole_verdict(&[Some(Match), Some(Match)]), Match);
        assert_eq!(whole_verdict(&[Some(Match), Some(NotShown)]), NotShown);
        assert_eq!(whole_verdict(&[Some(Match), None]), NotShown);
        assert_eq!(whole_verdict(&[]), NotShown);
    }
}
