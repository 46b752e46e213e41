//! What the calibrated verdict returns. Plain values with units; nothing here computes.

use super::off_test::OffTest;
use super::typical::TypicalDifference;
use crate::defined::Defined;
use crate::stats::verdict::Verdict;
use serde::Serialize;

/// Verdict on one candidate, with the figures it stands on. Attributes are named by their place in the table.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CalibratedVerdict {
    pub verdict: Verdict,
    /// By which rule it is a match; `None` where it is none.
    pub rule: Option<MatchRule>,
    /// What kept it from being a match; empty unless the verdict is "not shown".
    pub not_shown_because: Vec<NotShownBecause>,
    /// One an attribute, in the order of the table.
    pub attributes: Vec<AttributeVerdict>,
    /// Every attribute lies within so many mm of the target (upper 1 - alpha bound of the largest difference).
    pub alike_within_mm: Defined<Widest>,
    /// The same in multiples of each attribute's margin.
    pub alike_multiple: Defined<Widest>,
    /// Typical difference in mm.
    pub typical: Defined<TypicalDifference>,
    /// The same in multiples of the margins: this one is compared with the profile margin.
    pub typical_of_margins: Defined<TypicalDifference>,
    /// How "off" was tested.
    pub test: OffTest,
    /// What the reader must know about the verdict.
    pub cautions: Vec<Caution>,
}

/// By which rule a sample matches.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum MatchRule {
    /// Every attribute is shown to lie inside its margin.
    EachAttribute,
    /// Nothing is off, the typical difference lies within the profile margin, and no attribute could lie far out.
    Profile,
}

/// How far the farthest attribute could lie, and which one that is.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Widest {
    pub within: f64,
    /// Place of the attribute in the table.
    pub attribute: usize,
}

/// Verdict on one attribute.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AttributeVerdict {
    /// Assessors with a difference on it.
    pub n_assessors: usize,
    /// Candidate minus target, mean over assessors.
    pub mean_mm: f64,
    pub margin_mm: f64,
    pub figures: Defined<AttributeFigures>,
    /// Match: inside the margin. Off: shown to differ over all attributes together, and not inside.
    pub verdict: Verdict,
    /// Off, and shown to lie beyond the margin.
    pub beyond: bool,
}

/// Figures of one attribute.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct AttributeFigures {
    /// Standard error of the mean.
    pub se_mm: f64,
    /// Assessors on this attribute - 1.
    pub df: f64,
    /// Largest difference that the 1 - 2 alpha interval holds. Not adjusted for the number of attributes.
    pub reach_mm: f64,
    /// Steadied t, or the size of Student's t where that is tested; `None` where nothing scatters.
    pub statistic: Option<f64>,
    /// Two-sided p of no difference, adjusted over all attributes.
    pub p_off: f64,
    /// One-sided p of lying inside the margin, adjusted over all attributes (Holm).
    pub p_beyond: f64,
    /// All assessors agree to the very mark: nothing tells the noise, and the difference counts as it is.
    pub no_scatter: bool,
}

/// What keeps a sample that is not off from being a match. A profile match needs all but the second out of the way.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "reason", rename_all = "snake_case")]
pub enum NotShownBecause {
    /// Fewer than two assessors scored both samples on these attributes.
    TooFewDifferences { attributes: Vec<usize> },
    /// These attributes are not shown to lie inside their margins.
    OutsideMargin { attributes: Vec<usize> },
    /// There is no bound of the typical difference.
    TypicalNotDefined { because: String },
    /// The typical difference could be larger than allowed; both in multiples of the margins.
    TypicalTooLarge {
        bound: f64,
        allowed: f64,
        /// Whether this scatter would have been too much even for means that don't differ at all.
        out_of_reach: bool,
    },
    /// These attributes could lie farther out than `guard` times their margins.
    BeyondGuard { attributes: Vec<usize>, guard: f64 },
}

impl NotShownBecause {
    /// Whether it stands in the way of a profile match too.
    #[must_use]
    pub fn bars_a_profile_match(&self) -> bool {
        !matches!(self, NotShownBecause::OutsideMargin { .. })
    }
}

/// What the reader must know about a verdict.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "caution", rename_all = "snake_case")]
pub enum Caution {
    /// The chances of error were simulated for six assessors and more.
    FewAssessors { n_assessors: usize },
    /// The same for attributes with fewer than four differences.
    FewDifferences { attributes: Vec<usize> },
    /// All assessors agree to the very mark on these attributes; they count by the difference seen.
    NoScatter { attributes: Vec<usize> },
    /// So few assessors can't reach alpha by rearranging; "off" rests on normal scatter.
    RestsOnNormalScatter { smallest_possible_p: f64 },
}
