//! Planning arithmetic: what a panel of this size and steadiness can show, before the tasting and after it.
//!
//! The tests are those of `differences`: per-assessor differences on assessors - 1 degrees of freedom. Power is exact:
//! the estimate is normal, its standard error follows a chi law, and one integral over that law is taken by quadrature.

use crate::numeric::portable::normal_upper;
use crate::numeric::quadrature::GaussLegendre;
use crate::numeric::tails::t_quantile_upper;
use crate::stats::results::{AttributeAnalysis, Defined, NotDefined};
use serde::Serialize;
use statrs::function::gamma::ln_gamma;

/// The most assessors that a search goes up to.
const MOST_ASSESSORS: usize = 400;

/// A panel as planning sees it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PanelPlan {
    pub assessors: usize,
    pub replicates: usize,
    /// Standard deviation of the assessor x sample interaction, in units of the scale: how much assessors disagree.
    pub sd_interaction: f64,
    /// Standard deviation between replicates of one assessor, in units of the scale.
    pub sd_error: f64,
}

/// What is tested.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PlannedTest {
    /// Half-width of the margin, in units of the scale.
    pub margin: f64,
    pub alpha: f64,
}

/// Chances of the three verdicts on one attribute where the true difference is known.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct VerdictPower {
    /// Candidate minus target, in units of the scale.
    pub true_difference: f64,
    /// Standard error of a difference that this panel will have on average of squares.
    pub standard_error: f64,
    pub df: f64,
    pub p_match: f64,
    pub p_off: f64,
    pub p_not_shown: f64,
    /// Half-width of the interval that must fit into the margin, at the standard error above.
    pub expected_half_width: f64,
    pub model: String,
}

/// What this panel can do at a given power.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PanelReach {
    pub power: f64,
    /// Smallest margin at which a true match (no difference at all) would be shown with that power.
    pub smallest_margin: Defined<f64>,
    /// Smallest difference that would be shown as a difference with that power.
    pub smallest_difference: Defined<f64>,
    /// Assessors needed, all else as it is, to show a true match at the margin asked for.
    pub assessors_needed: Defined<usize>,
}

/// What a panel could show on one attribute, told after the tasting from its own scatter.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PowerReached {
    pub attribute: String,
    pub deciding: bool,
    /// Half-width of the margin, in units of the scale.
    pub margin: f64,
    pub plan: PanelPlan,
    /// Standard deviation of one assessor's difference between two samples, in units of the scale.
    pub sd_of_difference: f64,
    /// Half-width of the interval that must fit into the margin, in units of the scale.
    pub half_width: f64,
    /// Chance that a candidate without any difference is shown to match.
    pub p_match: f64,
    /// The power that `assessors_needed` reaches.
    pub power: f64,
    /// Assessors with which a true match would be shown with that power, all else as it is.
    pub assessors_needed: Defined<usize>,
}

impl PanelPlan {
    /// The panel of a study on one attribute, with the variances of its own mixed model.
    ///
    /// Errors: no model, or nothing that varies.
    pub fn of_attribute(attribute: &AttributeAnalysis, assessors: usize, replicates: usize) -> Defined<Self> {
        let model = attribute.model.as_ref().map_err(Clone::clone)?;
        // Without replicates the interaction is part of the error, and one replicate is what was tasted.
        let interaction = model.var_interaction.as_ref().copied().unwrap_or(0.0);
        let replicates = if model.var_interaction.is_ok() { replicates } else { 1 };
        let plan = PanelPlan {
            assessors,
            replicates,
            sd_interaction: interaction.max(0.0).sqrt(),
            sd_error: model.var_error.max(0.0).sqrt(),
        };
        plan.check()?;
        Ok(plan)
    }

    /// Standard deviation of one assessor's difference between two samples: sqrt(2 (s_ap^2 + s_e^2 / R)).
    pub fn sd_of_difference(&self) -> f64 {
        let error = self.sd_error * self.sd_error / self.replicates.max(1) as f64;
        (2.0 * (self.sd_interaction * self.sd_interaction + error)).sqrt()
    }

    /// Standard error of the panel's difference between two samples.
    pub fn standard_error(&self) -> f64 {
        self.sd_of_difference() / (self.assessors as f64).sqrt()
    }

    fn df(&self) -> f64 {
        self.assessors as f64 - 1.0
    }

    fn check(&self) -> Defined<()> {
        let fine = |sd: f64| sd.is_finite() && sd >= 0.0;
        if self.assessors < 2 || self.replicates < 1 {
            return Err(NotDefined::because("it takes two assessors and one tasting of each sample at least"));
        }
        if !(fine(self.sd_interaction) && fine(self.sd_error)) {
            return Err(NotDefined::because("standard deviations must be numbers of zero or more"));
        }
        if self.standard_error() <= 0.0 {
            return Err(NotDefined::because("without any scatter there is nothing to plan"));
        }
        Ok(())
    }
}

impl PlannedTest {
    fn check(&self) -> Defined<()> {
        if !(self.margin.is_finite() && self.margin > 0.0) {
            return Err(NotDefined::because("the margin must be above zero"));
        }
        if !(self.alpha > 0.0 && self.alpha < 0.5) {
            return Err(NotDefined::because("alpha must lie between 0 and 0.5"));
        }
        Ok(())
    }
}

/// Chances of match, off and not shown for one attribute.
///
/// Errors: no panel, no scatter, a margin or alpha out of range.
pub fn verdict_power(plan: PanelPlan, test: PlannedTest, true_difference: f64) -> Defined<VerdictPower> {
    plan.check()?;
    test.check()?;
    if !true_difference.is_finite() {
        return Err(NotDefined::because("the true difference must be a number"));
    }
    let law = Law::of(&plan, test.alpha)?;
    let p_match = law.p_match(test.margin, true_difference);
    let p_off = law.p_off(test.margin, true_difference);
    Ok(VerdictPower {
        true_difference,
        standard_error: law.se,
        df: law.df,
        p_match,
        p_off,
        p_not_shown: (1.0 - p_match - p_off).max(0.0),
        expected_half_width: law.t_match * law.se,
        model: "Exact for normal scatter: two one-sided tests and the two-sided test of per-assessor differences on \
                assessors - 1 degrees of freedom, integrated over the law of the standard error; standard error \
                sqrt(2 (s_ap^2 + s_e^2 / R) / I)."
            .to_owned(),
    })
}

/// Chance that a difference is shown (two-sided, at `alpha`), whatever the margin.
///
/// Errors: as `verdict_power`.
pub fn difference_power(plan: PanelPlan, alpha: f64, true_difference: f64) -> Defined<f64> {
    plan.check()?;
    PlannedTest { margin: 1.0, alpha }.check()?;
    Ok(Law::of(&plan, alpha)?.p_difference(true_difference))
}

/// What the panel of a study could show on one attribute: its own assessors, replicates and scatter. Replicates are
/// the scores by assessors and samples, rounded.
///
/// Errors: no target, no model, nothing that varies, or as `verdict_power`.
pub fn power_reached(attribute: &AttributeAnalysis, alpha: f64, power: f64) -> Defined<PowerReached> {
    let compared = attribute.versus_target.iter().max_by_key(|difference| difference.n_assessors);
    let compared = compared.ok_or_else(|| NotDefined::because("no target is named"))?;
    let cells = (compared.n_assessors * attribute.means.len()).max(1);
    let replicates = ((attribute.n_used as f64 / cells as f64).round() as usize).max(1);
    let plan = PanelPlan::of_attribute(attribute, compared.n_assessors, replicates)?;
    let test = PlannedTest { margin: compared.margin, alpha };
    let expected = verdict_power(plan, test, 0.0)?;
    Ok(PowerReached {
        attribute: attribute.attribute.clone(),
        deciding: attribute.deciding,
        margin: compared.margin,
        plan,
        sd_of_difference: plan.sd_of_difference(),
        half_width: expected.expected_half_width,
        p_match: expected.p_match,
        power,
        assessors_needed: assessors_needed(plan, test, power),
    })
}

/// What this panel reaches at a power such as 0.8.
///
/// Errors: as `verdict_power`, or a power outside alpha to 1.
pub fn reach(plan: PanelPlan, test: PlannedTest, power: f64) -> Defined<PanelReach> {
    plan.check()?;
    test.check()?;
    if !(power > test.alpha && power < 1.0) {
        return Err(NotDefined::because("the power must lie between alpha and 1"));
    }
    let law = Law::of(&plan, test.alpha)?;
    Ok(PanelReach {
        power,
        smallest_margin: smallest_reaching(law.se, power, |margin| law.p_match(margin, 0.0)),
        smallest_difference: smallest_reaching(law.se, power, |difference| law.p_difference(difference)),
        assessors_needed: assessors_needed(plan, test, power),
    })
}

/// Smallest number of assessors with which a true match would be shown with this power.
fn assessors_needed(plan: PanelPlan, test: PlannedTest, power: f64) -> Defined<usize> {
    let enough = |assessors: usize| {
        let law = Law::of(&PanelPlan { assessors, ..plan }, test.alpha);
        law.is_ok_and(|law| law.p_match(test.margin, 0.0) >= power)
    };
    // Power rises with every assessor, so halving finds the first.
    let (mut low, mut high) = (2, MOST_ASSESSORS + 1);
    while low < high {
        let middle = (low + high) / 2;
        if enough(middle) {
            high = middle;
        } else {
            low = middle + 1;
        }
    }
    if low > MOST_ASSESSORS {
        return Err(NotDefined::because(format!("it would take more than {MOST_ASSESSORS} assessors")));
    }
    Ok(low)
}

fn smallest_reaching(step: f64, power: f64, chance: impl Fn(f64) -> f64) -> Defined<f64> {
    let mut high = step;
    while chance(high) < power {
        high *= 2.0;
        if high > step * 1e6 {
            return Err(NotDefined::because("no size reaches that power"));
        }
    }
    let mut low = 0.0;
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if chance(middle) < power {
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok(high)
}

/// The sampling law of an estimated difference and its standard error.
struct Law {
    se: f64,
    df: f64,
    /// t that the match interval reaches to, at 1 - 2 alpha.
    t_match: f64,
    /// t that the difference interval reaches to, at 1 - alpha.
    t_difference: f64,
}

impl Law {
    fn of(plan: &PanelPlan, alpha: f64) -> Defined<Self> {
        let out = || NotDefined::because("alpha is too small");
        let df = plan.df();
        Ok(Law {
            se: plan.standard_error(),
            df,
            t_match: t_quantile_upper(alpha, df).ok_or_else(out)?,
            t_difference: t_quantile_upper(0.5 * alpha, df).ok_or_else(out)?,
        })
    }

    /// The estimate must lie within margin - t s of zero.
    fn p_match(&self, margin: f64, truth: f64) -> f64 {
        let widest = margin / (self.t_match * self.se);
        self.over_scatter(&[widest], widest, |scatter| {
            let room = margin - self.t_match * self.se * scatter;
            self.between(-room, room, truth)
        })
    }

    /// The estimate must lie beyond t s and not within the room for a match.
    fn p_off(&self, margin: f64, truth: f64) -> f64 {
        let cross = margin / ((self.t_match + self.t_difference) * self.se);
        self.over_scatter(&[cross], f64::INFINITY, |scatter| {
            let room = margin - self.t_match * self.se * scatter;
            self.outside(room.max(self.t_difference * self.se * scatter), truth)
        })
    }

    fn p_difference(&self, truth: f64) -> f64 {
        self.over_scatter(&[], f64::INFINITY, |scatter| self.outside(self.t_difference * self.se * scatter, truth))
    }

    fn between(&self, low: f64, high: f64, truth: f64) -> f64 {
        (normal_upper((low - truth) / self.se) - normal_upper((high - truth) / self.se)).max(0.0)
    }

    fn outside(&self, reach: f64, truth: f64) -> f64 {
        normal_upper((reach - truth) / self.se) + normal_upper((reach + truth) / self.se)
    }

    /// Mean of `chance` over the law of the estimated over the true standard error, up to `highest`. Cut where the
    /// integrand has a corner, and finely about 1 where the law is.
    fn over_scatter(&self, corners: &[f64], highest: f64, chance: impl Fn(f64) -> f64) -> f64 {
        let spread = 1.0 / (2.0 * self.df).sqrt();
        let end = highest.min(1.0 + 14.0 * spread);
        let mut edges: Vec<f64> = (0..=12).map(|step| 1.0 + (2.0 * f64::from(step) - 12.0) * spread).collect();
        edges.extend_from_slice(corners);
        edges.extend([0.0, end]);
        edges.retain(|edge| *edge >= 0.0 && *edge <= end);
        edges.sort_by(f64::total_cmp);
        // ln of 2 (df / 2)^(df / 2) / Gamma(df / 2), so that large df do not overflow.
        let half = 0.5 * self.df;
        let constant = 2.0_f64.ln() + half * half.ln() - ln_gamma(half);
        let density = |s: f64| if s > 0.0 { (constant + (self.df - 1.0) * s.ln() - half * s * s).exp() } else { 0.0 };
        let rule = GaussLegendre::of_64();
        edges.windows(2).map(|two| rule.integrate(two[0], two[1], |s| density(s) * chance(s))).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::{ModelMethod, ModelVariances, SampleMean, TargetDifference, Verdict};
    use crate::study::AttributeKind;

    /// Ten assessors, two samples, `n_used` scores, with the variances of the model given.
    fn attribute(n_used: usize, sd_interaction: f64, sd_error: f64) -> AttributeAnalysis {
        let none = || NotDefined::because("power does not need it");
        let mean = |sample: &str| SampleMean { sample: sample.to_owned(), n: 20, mean: 50.0, spread: Err(none()) };
        AttributeAnalysis {
            attribute: "green".to_owned(),
            kind: AttributeKind::Analytic,
            deciding: true,
            n_used,
            n_dropped: 0,
            share_at_end: 0.0,
            anova: Err(none()),
            model: Ok(ModelVariances {
                method: ModelMethod::ClosedForm,
                var_assessor: 100.0,
                var_interaction: Ok(sd_interaction * sd_interaction),
                var_error: sd_error * sd_error,
            }),
            means: vec![mean("target"), mean("A")],
            versus_target: vec![TargetDifference {
                sample: "A".to_owned(),
                difference: 3.0,
                n_assessors: 10,
                margin: 10.0,
                test: Err(none()),
                verdict: Verdict::NotShown,
                p_off: Err(none()),
                beyond: false,
            }],
        }
    }

    #[test]
    fn the_power_reached_is_that_of_a_plan_with_the_same_scatter() {
        // Simulated with 200,000 studies in R 4.2.2 for 10 assessors, margin 10, alpha .05: .63 and .19; two decimals.
        for (sd_interaction, sd_error, expected) in [(5.0, 9.0, 0.63), (8.0, 12.0, 0.19)] {
            let reached = power_reached(&attribute(40, sd_interaction, sd_error), 0.05, 0.8).expect("it is defined");
            assert_eq!((reached.plan.assessors, reached.plan.replicates), (10, 2));
            assert!((reached.p_match - expected).abs() < 0.0151, "{}", reached.p_match);
            let enough = reached.assessors_needed.expect("some number is enough");
            let power_of = |assessors: usize| {
                let plan = PanelPlan { assessors, ..reached.plan };
                verdict_power(plan, PlannedTest { margin: 10.0, alpha: 0.05 }, 0.0).expect("a sound plan").p_match
            };
            assert!(power_of(enough) >= 0.8 && power_of(enough - 1) < 0.8, "{enough}");
        }
    }

    #[test]
    fn lost_servings_round_to_the_nearest_number_of_replicates() {
        assert_eq!(power_reached(&attribute(37, 5.0, 9.0), 0.05, 0.8).map(|reached| reached.plan.replicates), Ok(2));
        assert_eq!(power_reached(&attribute(21, 5.0, 9.0), 0.05, 0.8).map(|reached| reached.plan.replicates), Ok(1));
    }

    #[test]
    fn without_a_target_or_scatter_there_is_no_power() {
        let no_target = AttributeAnalysis { versus_target: Vec::new(), ..attribute(40, 5.0, 9.0) };
        assert_eq!(power_reached(&no_target, 0.05, 0.8), Err(NotDefined::because("no target is named")));
        assert!(power_reached(&attribute(40, 0.0, 0.0), 0.05, 0.8).is_err());
    }
}
