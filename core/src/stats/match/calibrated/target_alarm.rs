//! The alarm of a target served twice: it is raised where the target differs from itself.

use super::options::VerdictOptions;
use super::outcome::CalibratedVerdict;
use super::served_twice::ServedTwice;
use super::verdict_run::judge;
use crate::defined::Defined;
use crate::stats::verdict::Verdict;
use serde::Serialize;

/// Whether the target differs from itself.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TargetAlarm {
    /// Something in cups, codes or order went wrong, or chance did this.
    pub raised: bool,
    /// The share of sound studies in which it is raised at most.
    pub expected_in_sound_studies: f64,
    /// Places of the attributes on which the second cup is off.
    pub attributes: Vec<usize>,
    /// Smallest adjusted p; 1 where nothing could be tested.
    pub smallest_p: f64,
    /// The second cup judged as if it were a candidate.
    pub second_cup: CalibratedVerdict,
}

/// Tests the second cup of the target against the first as if it were a candidate.
///
/// # Errors
/// Options out of range.
pub fn target_alarm(served: &ServedTwice, options: &VerdictOptions) -> Defined<TargetAlarm> {
    let second_cup = judge(served.duplicate(), options)?;
    let figures = second_cup.attributes.iter().filter_map(|attribute| attribute.figures.as_ref().ok());
    Ok(TargetAlarm {
        raised: second_cup.verdict == Verdict::Off,
        expected_in_sound_studies: options.alpha,
        attributes: (0..second_cup.attributes.len())
            .filter(|at| second_cup.attributes[*at].verdict == Verdict::Off)
            .collect(),
        smallest_p: figures.map(|figures| figures.p_off).fold(1.0, f64::min),
        second_cup,
    })
}
