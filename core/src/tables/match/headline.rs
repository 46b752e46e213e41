//! The verdict on all candidates in one line, and the alarm of a target that differs from itself.

use super::sentences::{candidate_sentence, typical_phrase, within_margins};
use crate::stats::r#match::calibrated::MatchRule;
use crate::stats::{Analysis, CandidateAnalysis, Verdict};
use crate::tables::words::first_of;
use crate::text::lists::{counted_regular, listed, plural};

/// One sentence for each kind of verdict that came out; the target under another code is no candidate.
pub fn headline(analysis: &Analysis) -> String {
    let ordered = analysis.most_alike_first();
    let candidates: Vec<&CandidateAnalysis> =
        ordered.into_iter().filter(|one| !analysis.is_target_again(&one.sample)).collect();
    let with = |wanted: &dyn Fn(&CandidateAnalysis) -> bool| -> Vec<&CandidateAnalysis> {
        candidates.iter().copied().filter(|one| wanted(one)).collect()
    };
    let by_profile = |one: &CandidateAnalysis| one.rule() == Some(MatchRule::Profile);
    let each = with(&|one| one.verdict == Verdict::Match && !by_profile(one));
    let whole = with(&by_profile);
    let mut parts = matching(analysis, &each, &whole);
    let off = with(&|one| one.verdict == Verdict::Off);
    if !off.is_empty() {
        parts.push(format!("{} {} off.", names(&off), plural(off.len(), "is", "are")));
    }
    let open = with(&|one| one.verdict == Verdict::NotShown);
    if !open.is_empty() {
        parts.push(format!("Not shown either way: {}.", names(&open)));
    }
    parts.join(" ")
}

/// What is said where the target's second cup differs from its first; `None` where it does not, or was not served.
pub fn alarm(analysis: &Analysis) -> Option<String> {
    let again = analysis.candidates.iter().find(|one| analysis.is_target_again(&one.sample))?;
    (again.verdict == Verdict::Off).then(|| candidate_sentence(analysis, again))
}

/// "Without assessor Gus, left out after the verdict was seen; with everything as it stood then: A not shown." `None` where
/// nothing was left out or corrected late.
pub fn late_sentence(analysis: &Analysis) -> Option<String> {
    let late = analysis.late.as_ref()?;
    let mut done = Vec::new();
    if !late.left_out.is_empty() {
        done.push(format!("without {}, left out after the verdict was seen", first_of(&late.left_out)));
    }
    if late.corrected > 0 {
        done.push(format!("with {} corrected after the verdict was seen", counted_regular(late.corrected, "score")));
    }
    let done = done.join(", and ");
    let done = done.chars().next().map_or_else(String::new, |first| first.to_uppercase().to_string() + &done[1..]);
    let today = |sample: &String| analysis.candidates.iter().find(|one| one.sample == *sample).map(|one| one.verdict);
    let moved = late.verdicts_before.iter().filter(|(sample, before)| today(sample) != Some(*before));
    let moved: Vec<String> = moved.map(|(sample, before)| format!("{sample} {}", before.in_words())).collect();
    Some(match moved.as_slice() {
        [] => format!("{done}; with everything as it stood then the verdicts would be the same."),
        some => format!("{done}; with everything as it stood then: {}.", listed(some)),
    })
}

fn matching(analysis: &Analysis, each: &[&CandidateAnalysis], whole: &[&CandidateAnalysis]) -> Vec<String> {
    let target = analysis.target.as_deref().unwrap_or_default();
    let mut parts = Vec::new();
    if each.is_empty() && whole.is_empty() {
        parts.push(format!("No candidate is shown to match {target}."));
    }
    if !each.is_empty() {
        let verb = plural(each.len(), "matches", "match");
        parts.push(format!("{} {verb} {target} {}.", names(each), within_margins(analysis)));
    }
    let typical =
        |one: &CandidateAnalysis| one.judged.as_ref().ok().and_then(|judged| typical_phrase(analysis, judged));
    match whole {
        [] => {}
        [only] => {
            let typical = typical(only).map_or_else(String::new, |typical| format!(": {typical}"));
            parts.push(format!("{} matches {target} as a whole{typical}.", only.sample));
        }
        many => parts.push(format!("{} match {target} as a whole.", names(many))),
    }
    parts
}

fn names(candidates: &[&CandidateAnalysis]) -> String {
    listed(&candidates.iter().map(|one| one.sample.clone()).collect::<Vec<_>>())
}
