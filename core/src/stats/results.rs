//! What the methods return. Plain values with units; nothing here computes.
//!
//! Scores, means, differences, standard errors and intervals are in units of the study's scale: mm on the 100 mm line.

use super::r#match::calibrated::CalibratedVerdict;
use super::r#match::target_cups::TargetCups;
use crate::notice::Notice;
use crate::study::AttributeKind;
use serde::Serialize;

pub use super::verdict::Verdict;
pub use crate::defined::{Defined, NotDefined};

/// A closed interval in units of the scale.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Interval {
    pub lower: f64,
    pub upper: f64,
}

/// Analysis of variance of one attribute, assessor random.
///
/// `f` tests samples against the assessor x sample interaction, never against the error within assessors. Where a
/// variance component is zero the mean squares are pooled, as restricted maximum likelihood does.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Anova {
    pub sample_df: f64,
    /// Denominator degrees of freedom of `f`; a fraction where the data are unbalanced.
    pub error_df: f64,
    pub f: f64,
    pub p: f64,
    /// The textbook table; only where the data are balanced.
    pub table: Defined<AnovaTable>,
    /// What `f` stands on, in words.
    pub model: String,
}

/// The textbook table of a balanced study: mean squares as they come, nothing pooled.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AnovaTable {
    pub assessor: AnovaLine,
    pub sample: AnovaLine,
    pub interaction: AnovaLine,
    /// Between replicates within assessor and sample; absent without replicates.
    pub error: Defined<AnovaLine>,
    pub total_df: f64,
    pub total_ss: f64,
    /// MS sample / MS error: the wrong denominator, shown for teaching only. Absent without replicates.
    pub f_on_error_wrong: Defined<f64>,
    /// MS interaction / MS error with its p-value. Absent without replicates.
    pub interaction_f: Defined<FTest>,
}

/// One line of the table.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct AnovaLine {
    pub df: f64,
    pub ss: f64,
    pub ms: f64,
}

/// An F test.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct FTest {
    pub f: f64,
    pub df1: f64,
    pub df2: f64,
    pub p: f64,
}

/// How the variances were found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ModelMethod {
    /// Balanced data: restricted maximum likelihood in closed form, by pooling mean squares.
    ClosedForm,
    /// Any other data: restricted maximum likelihood by Newton steps.
    Reml,
}

/// Variances of the mixed model, in squared units of the scale; zero is zero, never negative.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ModelVariances {
    pub method: ModelMethod,
    pub var_assessor: f64,
    /// Absent without replicates: then it is part of `var_error`.
    pub var_interaction: Defined<f64>,
    pub var_error: f64,
}

/// Mean of one sample on one attribute under the mixed model.
///
/// The interval is for this one mean and contains the spread between assessors: it is wider than what it takes to
/// tell two samples apart.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SampleMean {
    pub sample: String,
    /// Scores that went in.
    pub n: usize,
    pub mean: f64,
    pub spread: Defined<MeanSpread>,
}

/// How sure a mean is: standard error, Satterthwaite degrees of freedom, 95 % interval.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct MeanSpread {
    pub se: f64,
    pub df: f64,
    pub lower: f64,
    pub upper: f64,
}

/// Difference of a candidate to the target on one attribute, from per-assessor differences (df = assessors - 1).
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TargetDifference {
    pub sample: String,
    /// Candidate minus target, mean over assessors of their own differences.
    pub difference: f64,
    /// Assessors that scored both.
    pub n_assessors: usize,
    pub margin: f64,
    pub test: Defined<DifferenceTest>,
    /// Match: the `match_interval` lies inside the margin. Off: `p_off` is at most alpha, and it is no match.
    pub verdict: Verdict,
    /// Two-sided p of no difference, adjusted over all attributes of its kind: deciding ones, or the others.
    pub p_off: Defined<f64>,
    /// Off, and shown to lie beyond the margin.
    pub beyond: bool,
}

/// Intervals and tests of one difference by itself; nothing here is adjusted for the number of attributes.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct DifferenceTest {
    pub se: f64,
    pub df: f64,
    /// Two-sided 95 % interval.
    pub interval95: Interval,
    /// Two-sided 90 % interval.
    pub interval90: Interval,
    /// Interval at 1 - alpha.
    pub difference_interval: Interval,
    /// Interval at 1 - 2 alpha: lies inside the margin when the match is shown.
    pub match_interval: Interval,
    /// One-sided p against "the difference is at or below -margin".
    pub p_lower: f64,
    /// One-sided p against "the difference is at or above +margin".
    pub p_upper: f64,
    /// Two-sided p against "no difference".
    pub p_difference: f64,
}

/// Everything about one attribute.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AttributeAnalysis {
    pub attribute: String,
    pub kind: AttributeKind,
    pub deciding: bool,
    pub n_used: usize,
    pub n_dropped: usize,
    /// Share of the scores that lie at an end of the scale, 0 to 1.
    pub share_at_end: f64,
    pub anova: Defined<Anova>,
    pub model: Defined<ModelVariances>,
    /// In the order of the study.
    pub means: Vec<SampleMean>,
    /// One entry a candidate, in the order of the study; empty while no target is named.
    pub versus_target: Vec<TargetDifference>,
}

/// One candidate against the target, all deciding attributes together.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CandidateAnalysis {
    pub sample: String,
    /// Off if any deciding attribute is; match by one of two rules; else not shown.
    pub verdict: Verdict,
    pub n_match: usize,
    pub n_off: usize,
    pub n_not_shown: usize,
    pub distance: Defined<ProfileDistance>,
    /// By which rule, within what, why not, and how sure. Places are those in the list of deciding attributes.
    pub judged: Defined<CalibratedVerdict>,
}

/// Distance between two whole profiles over all analytic attributes that both have.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ProfileDistance {
    /// Attributes that went in.
    pub n_attributes: usize,
    /// Square root of the sum of squared differences.
    pub distance: f64,
    /// The same after taking off what noise alone would add: sqrt(max(0, sum d^2 - sum se^2)).
    pub distance_adjusted: f64,
    /// What the standard errors alone would give: sqrt(sum se^2).
    pub distance_of_noise: f64,
    /// `distance` / sqrt(n_attributes).
    pub typical_difference: f64,
    /// Mean difference over attributes: how much stronger the candidate is overall.
    pub overall_offset: f64,
    /// Correlation of the two profiles over attributes: whether the shape is alike.
    pub shape_correlation: Option<f64>,
}

/// The whole analysis of a study.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Analysis {
    /// "mm" or "points".
    pub unit: String,
    pub scale_maximum: f64,
    pub alpha: f64,
    pub target: Option<String>,
    /// The sample that is the target under another code, where there is one. No result, so it stands in no file.
    #[serde(skip)]
    pub target_again: Option<String>,
    /// Which cups of the target the candidates are held against.
    #[serde(skip)]
    pub cups: TargetCups,
    /// Margin for attributes without one of their own.
    pub margin: f64,
    /// Largest typical difference of a profile match, as a share of the margins.
    pub profile_share: f64,
    /// Names of the samples that count, in the order of the study.
    pub samples: Vec<String>,
    /// Names of the assessors that count.
    pub assessors: Vec<String>,
    pub attributes: Vec<AttributeAnalysis>,
    /// In the order of the study; empty while no target is named.
    pub candidates: Vec<CandidateAnalysis>,
    /// What the analysis had to say about the data.
    pub notices: Vec<Notice>,
    /// What came of the study when the verdict had been seen; `None` where nothing did.
    pub late: Option<LateChanges>,
}

/// What was left out or corrected when the verdict had been seen, and what the verdicts were without that.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LateChanges {
    /// What was left out, in words.
    pub left_out: Vec<String>,
    /// Scores that were corrected.
    pub corrected: usize,
    /// Verdicts with everything as it stood then, in the order of the study.
    pub verdicts_before: Vec<(String, Verdict)>,
}

impl Interval {
    /// Whether the interval lies strictly inside -margin to +margin.
    pub fn is_inside(&self, margin: f64) -> bool {
        self.lower > -margin && self.upper < margin
    }

    pub fn excludes_zero(&self) -> bool {
        self.lower > 0.0 || self.upper < 0.0
    }
}
