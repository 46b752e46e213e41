//! The rule: what makes an attribute a match or off, and a whole sample a match, a profile match, off, or not shown.
//!
//! It takes adjusted p-values as they come and knows nothing of how they were found.

use super::differences::{AttributeSummary, Differences};
use super::off_test::{OffFigure, OffTest};
use super::options::VerdictOptions;
use super::outcome::{
    AttributeFigures, AttributeVerdict, CalibratedVerdict, Caution, MatchRule, NotShownBecause, Widest,
};
use super::typical::{TypicalDifference, typical_from};
use crate::defined::{Defined, NotDefined};
use crate::numeric::tails::{t_quantile_upper, t_upper};
use crate::stats::verdict::Verdict;

/// Below so many assessors the chances of error were not simulated.
const CALIBRATED_FROM: usize = 6;
/// The same for the differences on one attribute.
const CALIBRATED_FROM_ON_ONE: usize = 4;

/// One-sided p that an attribute differs by more than its margin, not adjusted; `None` without a standard error.
pub(super) fn p_beyond_margin(summary: &AttributeSummary, margin_mm: f64) -> Option<f64> {
    let beyond = summary.mean.abs() - margin_mm;
    match summary.se? {
        se if se > 0.0 => t_upper(beyond / se, summary.n_assessors as f64 - 1.0),
        // Nothing scatters: it counts by what is seen.
        _ => Some(if beyond > 0.0 { 0.0 } else { 1.0 }),
    }
}

/// What is known of a candidate before it is judged.
pub(super) struct Evidence<'a> {
    pub differences: &'a Differences,
    pub summaries: &'a [AttributeSummary],
    /// One an attribute; `None` where there are fewer than two differences.
    pub off: Vec<Option<OffFigure>>,
    /// Adjusted p of lying beyond the margin, one an attribute.
    pub p_beyond: Vec<Option<f64>>,
    pub test: OffTest,
}

/// Applies the rule to one candidate.
pub(super) fn apply(evidence: &Evidence, options: &VerdictOptions) -> CalibratedVerdict {
    let attributes: Vec<AttributeVerdict> =
        (0..evidence.summaries.len()).map(|attribute| attribute_verdict(evidence, attribute, options)).collect();
    let is_settled = options.verdicts_alone && attributes.iter().any(|attribute| attribute.verdict == Verdict::Off);
    let (typical, typical_of_margins) = if is_settled { not_sought() } else { typical(evidence, options.alpha) };
    let alike_within_mm = widest(&attributes, |_, figures| figures.reach_mm);
    let alike_multiple = widest(&attributes, |attribute, figures| figures.reach_mm / attribute.margin_mm);
    let bars = bars(&attributes, &typical_of_margins, options);
    let (verdict, rule) = whole(&attributes, &bars);
    CalibratedVerdict {
        verdict,
        rule,
        not_shown_because: if verdict == Verdict::NotShown { bars } else { Vec::new() },
        alike_within_mm,
        alike_multiple,
        typical,
        typical_of_margins,
        cautions: cautions(&attributes, evidence),
        attributes,
        test: evidence.test.clone(),
    }
}

/// The typical difference, in mm and in margins.
fn typical(evidence: &Evidence, alpha: f64) -> (Defined<TypicalDifference>, Defined<TypicalDifference>) {
    let typical = typical_from(evidence.differences, evidence.summaries, alpha);
    let of_margins = match evidence.differences.common_margin_mm() {
        Some(margin) => typical.clone().map(|typical| typical.times(1.0 / margin)),
        None => {
            let in_margins = evidence.differences.in_margins();
            typical_from(&in_margins, &in_margins.summaries(), alpha)
        }
    };
    (typical, of_margins)
}

fn not_sought() -> (Defined<TypicalDifference>, Defined<TypicalDifference>) {
    let none = || Err(NotDefined::because("nothing but verdicts was asked for"));
    (none(), none())
}

fn attribute_verdict(evidence: &Evidence, attribute: usize, options: &VerdictOptions) -> AttributeVerdict {
    let (summary, margin_mm) = (&evidence.summaries[attribute], evidence.differences.margins_mm()[attribute]);
    let figures = figures(evidence, attribute, options.alpha);
    let holds = |of: &dyn Fn(&AttributeFigures) -> bool| figures.as_ref().is_ok_and(of);
    let verdict = if holds(&|figures| figures.reach_mm < margin_mm) {
        Verdict::Match
    } else if holds(&|figures| figures.p_off <= options.alpha) {
        Verdict::Off
    } else {
        Verdict::NotShown
    };
    AttributeVerdict {
        n_assessors: summary.n_assessors,
        mean_mm: summary.mean,
        margin_mm,
        verdict,
        beyond: verdict == Verdict::Off && holds(&|figures| figures.p_beyond <= options.alpha),
        figures,
    }
}

fn figures(evidence: &Evidence, attribute: usize, alpha: f64) -> Defined<AttributeFigures> {
    let summary = &evidence.summaries[attribute];
    let found = || {
        let (se, off) = (summary.se?, evidence.off[attribute]?);
        let df = summary.n_assessors as f64 - 1.0;
        Some(AttributeFigures {
            se_mm: se,
            df,
            reach_mm: summary.mean.abs() + t_quantile_upper(alpha, df)? * se,
            statistic: off.statistic,
            p_off: off.p,
            p_beyond: evidence.p_beyond[attribute]?,
            no_scatter: summary.has_no_scatter(),
        })
    };
    found().ok_or_else(|| why_no_figures(summary))
}

fn why_no_figures(summary: &AttributeSummary) -> NotDefined {
    NotDefined::because(match summary.se {
        None => "fewer than two assessors scored both samples, so nothing tells the noise",
        Some(_) => "fewer than two assessors scored the candidate and both cups of the target",
    })
}

/// The attribute that could lie farthest out, by some measure of it.
fn widest(
    attributes: &[AttributeVerdict],
    measure: impl Fn(&AttributeVerdict, &AttributeFigures) -> f64,
) -> Defined<Widest> {
    let each = attributes.iter().enumerate();
    each.filter_map(|(index, attribute)| {
        let figures = attribute.figures.as_ref().ok()?;
        Some(Widest { within: measure(attribute, figures), attribute: index })
    })
    .reduce(|widest, next| if next.within > widest.within { next } else { widest })
    .ok_or_else(|| NotDefined::because("no attribute was scored on both samples by two assessors"))
}

/// What stands in the way of a match, first by each attribute and then by profile.
fn bars(
    attributes: &[AttributeVerdict],
    typical: &Defined<TypicalDifference>,
    options: &VerdictOptions,
) -> Vec<NotShownBecause> {
    let mut bars = Vec::new();
    let which = |wanted: &dyn Fn(&AttributeVerdict, &AttributeFigures) -> bool| -> Vec<usize> {
        let wanted = |attribute: &AttributeVerdict| attribute.figures.as_ref().is_ok_and(|f| wanted(attribute, f));
        (0..attributes.len()).filter(|index| wanted(&attributes[*index])).collect()
    };
    let without = (0..attributes.len()).filter(|index| attributes[*index].figures.is_err()).collect::<Vec<_>>();
    if !without.is_empty() {
        bars.push(NotShownBecause::TooFewDifferences { attributes: without });
    }
    let outside = which(&|attribute, _| attribute.verdict != Verdict::Match);
    if !outside.is_empty() {
        bars.push(NotShownBecause::OutsideMargin { attributes: outside });
    }
    bars.extend(typical_bar(typical, options.profile_share));
    let far = which(&|attribute, figures| figures.reach_mm > options.guard * attribute.margin_mm);
    if !far.is_empty() {
        bars.push(NotShownBecause::BeyondGuard { attributes: far, guard: options.guard });
    }
    bars
}

fn typical_bar(typical: &Defined<TypicalDifference>, allowed: f64) -> Option<NotShownBecause> {
    match typical {
        Err(reason) => Some(NotShownBecause::TypicalNotDefined { because: reason.because.clone() }),
        Ok(typical) if typical.bound > allowed => Some(NotShownBecause::TypicalTooLarge {
            bound: typical.bound,
            allowed,
            out_of_reach: typical.least_bound > allowed,
        }),
        Ok(_) => None,
    }
}

fn whole(attributes: &[AttributeVerdict], bars: &[NotShownBecause]) -> (Verdict, Option<MatchRule>) {
    if attributes.iter().any(|attribute| attribute.verdict == Verdict::Off) {
        (Verdict::Off, None)
    } else if attributes.iter().all(|attribute| attribute.verdict == Verdict::Match) {
        (Verdict::Match, Some(MatchRule::EachAttribute))
    } else if !bars.iter().any(NotShownBecause::bars_a_profile_match) {
        (Verdict::Match, Some(MatchRule::Profile))
    } else {
        (Verdict::NotShown, None)
    }
}

fn cautions(attributes: &[AttributeVerdict], evidence: &Evidence) -> Vec<Caution> {
    let mut cautions = Vec::new();
    let n_assessors = evidence.differences.n_assessors();
    if n_assessors < CALIBRATED_FROM {
        cautions.push(Caution::FewAssessors { n_assessors });
    }
    let which = |wanted: &dyn Fn(&AttributeVerdict) -> bool| -> Vec<usize> {
        (0..attributes.len()).filter(|index| wanted(&attributes[*index])).collect()
    };
    let few = which(&|attribute| attribute.n_assessors < CALIBRATED_FROM_ON_ONE);
    if !few.is_empty() {
        cautions.push(Caution::FewDifferences { attributes: few });
    }
    let still = which(&|attribute| attribute.figures.as_ref().is_ok_and(|figures| figures.no_scatter));
    if !still.is_empty() {
        cautions.push(Caution::NoScatter { attributes: still });
    }
    if evidence.test.rests_on_normal_scatter() {
        cautions.push(Caution::RestsOnNormalScatter { smallest_possible_p: evidence.test.smallest_possible_p });
    }
    cautions
}
