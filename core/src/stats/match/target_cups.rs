//! Which cups of the target a candidate is held against, where the target was served twice. It knows who was served what
//! and how, and no scores.

use crate::study::{Serving, Study};
use serde::Serialize;

/// Which cups of the target candidates are held against.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(tag = "cups", rename_all = "snake_case")]
pub enum TargetCups {
    /// The target as it is named. A second cup, where there is one, only watches.
    Named,
    /// The target under its other code: blind is held against blind.
    Blind {
        /// What told the first cup from the others, as the end of a sentence.
        because: String,
    },
    /// The mean of both, because that was asked for.
    Both,
}

/// The cups of a target that may stand in the study a second time, as `again`.
///
/// Where the first cup was named to the assessors, or always served first, they could know it; a candidate was tasted
/// blind, and so it is held against the blind cup alone, whatever was asked for.
pub fn target_cups(study: &Study, target: &str, again: Option<&str>) -> TargetCups {
    let Some(again) = again else { return TargetCups::Named };
    let (first, second) = (servings_of(study, target), servings_of(study, again));
    let is_named = |serving: &&Serving| serving.label.is_some();
    let is_first = |serving: &&Serving| serving.position == Some(1);
    let told_apart = |tells: &dyn Fn(&&Serving) -> bool| {
        !first.is_empty() && first.iter().all(tells) && !second.is_empty() && !second.iter().any(tells)
    };
    let because = if told_apart(&is_named) {
        "the target's first cup was named to the assessors"
    } else if told_apart(&is_first) {
        "the target's first cup was always served first"
    } else if study.settings.both_cups {
        return TargetCups::Both;
    } else {
        return TargetCups::Named;
    };
    TargetCups::Blind { because: because.to_owned() }
}

fn servings_of<'a>(study: &'a Study, sample: &str) -> Vec<&'a Serving> {
    let Some(index) = study.sample_index(sample) else { return Vec::new() };
    let counts =
        |serving: &&Serving| serving.sample as usize == index && !study.assessor_is_excluded(serving.assessor as usize);
    study.servings.iter().filter(counts).collect()
}
