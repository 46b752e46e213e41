//! The verdict on all candidates in one line, and the alarm of a target that differs from itself.

use super::sentences::{candidate_sentence, typical_phrase, within_margins};
use crate::stats::r#match::calibrated::MatchRule;
use crate::stats::{Analysis, CandidateAnalysis, Verdict};
use crate::text::lists::{listed, plural};

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
