//! What the verdict stands on, in one line under the headline: who tasted, who is left out, when the margin was settled, and
//! whether a verdict hangs on one person.

use crate::stats::r#match::distance_bootstrap::DistanceResampling;
use crate::stats::r#match::leave_one_out::Influence;
use crate::stats::panel::round_shift::RoundShift;
use crate::stats::{Analysis, Verdict};
use crate::study::{ExclusionScope, LogEntry, LogKind, Study};
use crate::tables::words::first_of;
use crate::text::lists::{counted, counted_regular, listed};
use crate::text::numbers::fixed;

/// "10 assessors, nobody left out, margin settled beforehand; hangs on nobody." Without `influence` nothing is said of whom it
/// hangs on.
pub fn stands_on(study: &Study, analysis: &Analysis, influence: Option<&Influence>) -> String {
    let assessors = counted_regular(analysis.assessors.len(), "assessor");
    let hangs = influence.map_or_else(String::new, |found| format!("; {}", hangs_in_words(found)));
    format!("{assessors}, {}, {}{hangs}.", left_out(study), settled(study))
}

fn left_out(study: &Study) -> String {
    let people: Vec<String> = (0..study.assessors.len())
        .filter(|at| study.assessor_is_excluded(*at))
        .map(|at| study.assessors[at].name.clone())
        .collect();
    let other = study.exclusions.iter().filter(|one| !matches!(one.scope, ExclusionScope::Assessor(_))).count();
    let people =
        if people.is_empty() { "nobody left out".to_owned() } else { format!("{} left out", first_of(&people)) };
    match other {
        0 => people,
        count => format!("{people}, {} besides", counted(count, "thing left out", "things left out")),
    }
}

fn settled(study: &Study) -> &'static str {
    let is_late = |kind: LogKind| study.log.iter().any(|line: &LogEntry| line.late && line.kind == kind);
    match (study.decided_at.is_some(), is_late(LogKind::MarginDecided), is_late(LogKind::Decided)) {
        (false, ..) => "margin not settled yet",
        (true, true, _) => "margin changed after the verdict was seen",
        (true, false, true) => "margin settled beforehand, other settings changed since",
        (true, false, false) => "margin settled beforehand",
    }
}

/// "Candidate A turns to off without any of Amara, Bruno and Emil": by candidate and by what it becomes.
fn hangs_in_words(found: &Influence) -> String {
    let phrase = |sample: &String, becomes: Verdict| {
        let moves = |one: &&crate::stats::r#match::leave_one_out::WithoutAssessor| {
            one.changed.contains(sample)
                && one.candidates.iter().any(|other| other.sample == *sample && other.verdict == becomes)
        };
        let names: Vec<String> = found.without.iter().filter(moves).map(|one| one.assessor.clone()).collect();
        match names.as_slice() {
            [] => None,
            [only] => Some(format!("{sample} {} without {only}", turns(becomes))),
            many => Some(format!("{sample} {} without any of {}", turns(becomes), listed(many))),
        }
    };
    let verdicts = [Verdict::Match, Verdict::Off, Verdict::NotShown];
    let all = found.everybody.iter().flat_map(|one| verdicts.map(|becomes| phrase(&one.sample, becomes)));
    let all: Vec<String> = all.flatten().collect();
    if all.is_empty() { "hangs on nobody".to_owned() } else { all.join("; ") }
}

fn turns(becomes: Verdict) -> String {
    format!("turns to {}", becomes.in_words())
}

/// "Candidate A is the closest in 98 of 100 panels drawn again."
pub fn closest(analysis: &Analysis, found: &DistanceResampling) -> Option<String> {
    let first = found.ranking.iter().find(|one| !analysis.is_target_again(&one.sample))?;
    let share = first.share_closest.as_ref().ok()?;
    Some(format!("{} is the closest in {} of 100 panels drawn again.", first.sample, fixed(100.0 * share, 0)))
}

/// Whether a difference to the target is shown to shift between rounds.
pub fn shifts(found: &[RoundShift]) -> Option<String> {
    let known: Vec<_> = found.iter().filter_map(|one| Some((one, one.found.as_ref().ok()?))).collect();
    if known.is_empty() {
        return None;
    }
    let shown = known.iter().filter(|(_, shift)| shift.is_shown);
    let shown: Vec<String> = shown.map(|(one, _)| format!("{} on {}", one.candidate, one.attribute)).collect();
    Some(match shown.as_slice() {
        [] => "No shift is shown.".to_owned(),
        some => format!("A shift is shown: {}.", first_of(some)),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::r#match::leave_one_out::{CandidateVerdict, WithoutAssessor};

    /// Sentences as the issue words them.
    #[test]
    fn a_verdict_that_hangs_on_people_names_them() {
        let verdict = |verdict| vec![CandidateVerdict { sample: "A".to_owned(), verdict }];
        let without = |name: &str, now| WithoutAssessor {
            assessor: name.to_owned(),
            candidates: verdict(now),
            changed: if now == Verdict::Match { Vec::new() } else { vec!["A".to_owned()] },
            attributes: Vec::new(),
        };
        let found = |second| Influence {
            target: "T".to_owned(),
            everybody: verdict(Verdict::Match),
            without: vec![without("Amara", second), without("Bruno", Verdict::Match), without("Emil", second)],
        };
        assert_eq!(hangs_in_words(&found(Verdict::Match)), "hangs on nobody");
        assert_eq!(hangs_in_words(&found(Verdict::Off)), "A turns to off without any of Amara and Emil");
    }
}
