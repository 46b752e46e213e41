//! Whether the order of serving left its mark: position, the sample before, drift along the session, and labels.
//!
//! Nothing is guessed: a file without positions has no order effects to look at. Estimates are least squares on block
//! (assessor, session, replicate), sample and the effect in question together; how sure they are comes from leaving
//! each assessor out in turn (jackknife), since assessors are the people and servings are not.

use super::serving_order_model::{Design, JackknifeEstimate, Serving};
use crate::numeric::describe::mean;
use crate::numeric::tails::{t_quantile_upper, t_two_sided};
use crate::stats::r#match::sign_flip::{SignFlip, of_differences};
use crate::stats::results::{Defined, Interval, NotDefined};
use crate::stats::samples::multiplicity::holm;
use crate::study::Study;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// Order effects on one attribute.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OrderEffects {
    pub attribute: String,
    /// Each position against the mean of all positions.
    pub position: Defined<EffectGroup>,
    /// Each sample as the one tasted before, against the mean of all such samples; positions taken into account.
    pub carry_over: Defined<EffectGroup>,
    /// Change per position along the session, in units of the scale.
    pub drift: Defined<Effect>,
    /// The p of any position, of any sample before, and of drift, after Holm's correction over all attributes; each of the
    /// three by itself. Nothing where there is no such effect to look at.
    pub position_p_adjusted: Option<f64>,
    pub carry_over_p_adjusted: Option<f64>,
    pub drift_p_adjusted: Option<f64>,
}

/// Effects of one kind.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct EffectGroup {
    pub effects: Vec<Effect>,
    /// Smallest p after Holm's correction over the group: whether there is any such effect at all.
    pub p_any: f64,
    pub model: String,
}

/// One effect, in units of the scale.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Effect {
    /// "position 2", "after sample B", "per position".
    pub what: String,
    pub estimate: f64,
    pub se: f64,
    /// Assessors - 1.
    pub df: f64,
    pub interval95: Interval,
    pub p: f64,
    /// After Holm's correction over its group.
    pub p_holm: f64,
}

/// What a label did to the scores of one attribute: the same sample, the same assessor, two labels.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LabelEffect {
    pub attribute: String,
    pub label: String,
    pub against: String,
    /// Mean over assessors of their own mean difference over samples that they had under both labels.
    pub difference: f64,
    pub n_assessors: usize,
    pub test: Defined<SignFlip>,
}

/// Order effects of every attribute that counts, in the order of the score sheet.
///
/// Errors: the file has no serving positions, or not for every serving that counts.
pub fn order_effects(study: &Study) -> Defined<Vec<OrderEffects>> {
    positions_known(study)?;
    let mut found: Vec<OrderEffects> =
        study.active_attributes().into_iter().map(|index| order_effects_on(study, index)).collect();
    adjust_over_attributes(&mut found);
    Ok(found)
}

/// Counts all attributes together, by Holm.
pub fn adjust_over_attributes(found: &mut [OrderEffects]) {
    let over = |p: &dyn Fn(&OrderEffects) -> Option<f64>| holm_where_known(&found.iter().map(p).collect::<Vec<_>>());
    let positions = over(&|one| one.position.as_ref().ok().map(|group| group.p_any));
    let before = over(&|one| one.carry_over.as_ref().ok().map(|group| group.p_any));
    let drifts = over(&|one| one.drift.as_ref().ok().map(|effect| effect.p));
    for (index, one) in found.iter_mut().enumerate() {
        one.position_p_adjusted = positions[index];
        one.carry_over_p_adjusted = before[index];
        one.drift_p_adjusted = drifts[index];
    }
}

/// Holm's correction over what is known, each in its place.
pub(in crate::stats) fn holm_where_known(p_values: &[Option<f64>]) -> Vec<Option<f64>> {
    let mut adjusted = holm(&p_values.iter().flatten().copied().collect::<Vec<_>>()).into_iter();
    p_values.iter().map(|p| p.and_then(|_| adjusted.next())).collect()
}

/// Whether order effects can be looked at.
///
/// Errors: the file has no serving positions, or not for every serving that counts.
pub fn positions_known(study: &Study) -> Defined<()> {
    if study.servings.iter().all(|serving| serving.position.is_none()) {
        return Err(NotDefined::because("the file has no serving positions; the check is off"));
    }
    if study.servings.iter().any(|serving| serving.position.is_none()) {
        return Err(NotDefined::because("some servings have no position; the check is off until all have one"));
    }
    Ok(())
}

/// Label effects of every attribute that counts, every pair of labels.
///
/// Errors: the file has fewer than two labels.
pub fn label_effects(study: &Study) -> Defined<Vec<LabelEffect>> {
    let labels: BTreeSet<&str> = study.servings.iter().filter_map(|serving| serving.label.as_deref()).collect();
    if labels.len() < 2 {
        return Err(NotDefined::because("the file does not name two labels or more"));
    }
    let labels: Vec<&str> = labels.into_iter().collect();
    let mut effects = Vec::new();
    for index in study.active_attributes() {
        for (place, against) in labels.iter().enumerate() {
            effects.extend(labels[place + 1..].iter().filter_map(|label| label_effect(study, index, label, against)));
        }
    }
    Ok(effects)
}

/// Order effects on one attribute, by its index; for a study of which `positions_known` holds.
pub fn order_effects_on(study: &Study, index: usize) -> OrderEffects {
    let scores = study.attribute_scores(index);
    // What was tasted before is a fact of the serving order, also where that mark is missing or left out.
    let mut sample_at = BTreeMap::new();
    for serving in &study.servings {
        if let Some(position) = serving.position {
            sample_at.insert((serving.assessor, serving.session, serving.replicate, position), serving.sample);
        }
    }
    let servings: Vec<Serving> = scores
        .observations
        .iter()
        .map(|observation| {
            let serving = &study.servings[observation.serving as usize];
            let position = serving.position.unwrap_or(1);
            let before = (serving.assessor, serving.session, serving.replicate, position.wrapping_sub(1));
            Serving {
                assessor: observation.assessor,
                block: (serving.session, serving.replicate),
                sample: observation.sample,
                position,
                before: sample_at.get(&before).copied(),
                score: observation.score,
            }
        })
        .collect();
    OrderEffects {
        attribute: scores.attribute,
        position: position_effects(&servings),
        carry_over: carry_over(&servings, study),
        drift: drift(&servings),
        position_p_adjusted: None,
        carry_over_p_adjusted: None,
        drift_p_adjusted: None,
    }
}

fn position_effects(servings: &[Serving]) -> Defined<EffectGroup> {
    let positions: BTreeSet<u32> = servings.iter().map(|serving| serving.position).collect();
    let positions: Vec<u32> = positions.into_iter().collect();
    if positions.len() < 2 {
        return Err(NotDefined::because("there is one position only"));
    }
    let mut design = Design::with_samples(servings);
    let columns = design.add_levels(servings, &positions, |serving| Some(serving.position));
    let estimates =
        design.estimate_levels(columns, positions.len(), "position and sample go together in these orders")?;
    group(
        positions.iter().map(|position| format!("position {position}")).collect(),
        &estimates,
        "Least squares on block (assessor, session, replicate), sample and position; each position against the mean of \
         all; standard errors by leaving out each assessor in turn, t with assessors - 1 degrees of freedom.",
    )
}

fn carry_over(servings: &[Serving], study: &Study) -> Defined<EffectGroup> {
    // A sample in the first place of its block has none before it; in a later place the file must say which.
    let first = servings.iter().map(|serving| serving.position).min().unwrap_or(1);
    let known: Vec<Serving> =
        servings.iter().filter(|serving| serving.position == first || serving.before.is_some()).copied().collect();
    let before: BTreeSet<u32> = known.iter().filter_map(|serving| serving.before).collect();
    let before: Vec<u32> = before.into_iter().collect();
    if before.len() < 2 {
        return Err(NotDefined::because("fewer than two samples came before another"));
    }
    let positions: BTreeSet<u32> = known.iter().map(|serving| serving.position).collect();
    let mut design = Design::with_samples(&known);
    design.add_levels(&known, &positions.into_iter().collect::<Vec<_>>(), |serving| Some(serving.position));
    let columns = design.add_levels(&known, &before, |serving| serving.before);
    let estimates = design.estimate_levels(
        columns,
        before.len(),
        "the sample before goes together with the sample or the position in these orders",
    )?;
    group(
        before.iter().map(|sample| format!("after sample {}", study.samples[*sample as usize].name)).collect(),
        &estimates,
        "Least squares on block (assessor, session, replicate), sample, position and the sample before; each sample \
         before against the mean of all; standard errors by leaving out each assessor in turn.",
    )
}

fn drift(servings: &[Serving]) -> Defined<Effect> {
    let mut design = Design::with_samples(servings);
    let column = design.add_number(servings, |serving| f64::from(serving.position));
    let estimate = design.estimate_number(column, "position and sample go together in these orders")?;
    effect("per position".to_owned(), &estimate)
}

fn group(names: Vec<String>, estimates: &[JackknifeEstimate], model: &str) -> Defined<EffectGroup> {
    let effects: Defined<Vec<Effect>> =
        names.into_iter().zip(estimates).map(|(name, estimate)| effect(name, estimate)).collect();
    let mut effects = effects?;
    let mut order: Vec<usize> = (0..effects.len()).collect();
    order.sort_by(|a, b| effects[*a].p.total_cmp(&effects[*b].p));
    let mut reached = 0.0_f64;
    for (place, index) in order.iter().enumerate() {
        reached = reached.max((effects[*index].p * (order.len() - place) as f64).min(1.0));
        effects[*index].p_holm = reached;
    }
    let p_any = order.first().map_or(1.0, |index| effects[*index].p_holm);
    Ok(EffectGroup { effects, p_any, model: model.to_owned() })
}

fn effect(what: String, estimate: &JackknifeEstimate) -> Defined<Effect> {
    let out = || NotDefined::because("every assessor shows the very same effect, so nothing tells the noise");
    if estimate.se <= crate::numeric::tolerance::ROUNDING * estimate.estimate.abs().max(1e-6) {
        return Err(out());
    }
    let reach = t_quantile_upper(0.025, estimate.df).ok_or_else(out)? * estimate.se;
    let p = t_two_sided(estimate.estimate / estimate.se, estimate.df).ok_or_else(out)?;
    Ok(Effect {
        what,
        estimate: estimate.estimate,
        se: estimate.se,
        df: estimate.df,
        interval95: Interval { lower: estimate.estimate - reach, upper: estimate.estimate + reach },
        p,
        p_holm: p,
    })
}

/// `None` where no assessor had any sample under both labels.
fn label_effect(study: &Study, index: usize, label: &str, against: &str) -> Option<LabelEffect> {
    let scores = study.attribute_scores(index);
    let mut cells: BTreeMap<(u32, u32), (Vec<f64>, Vec<f64>)> = BTreeMap::new();
    for observation in &scores.observations {
        let cell = cells.entry((observation.assessor, observation.sample)).or_default();
        match study.servings[observation.serving as usize].label.as_deref() {
            Some(name) if name == label => cell.0.push(observation.score),
            Some(name) if name == against => cell.1.push(observation.score),
            _ => {}
        }
    }
    let mut by_assessor: BTreeMap<u32, Vec<f64>> = BTreeMap::new();
    for ((assessor, _), (one, other)) in &cells {
        if let (Some(one), Some(other)) = (mean(one), mean(other)) {
            by_assessor.entry(*assessor).or_default().push(one - other);
        }
    }
    let differences: Vec<f64> = by_assessor.values().filter_map(|list| mean(list)).collect();
    Some(LabelEffect {
        attribute: scores.attribute.clone(),
        label: label.to_owned(),
        against: against.to_owned(),
        difference: mean(&differences)?,
        n_assessors: differences.len(),
        test: of_differences(&differences, study.settings.seed),
    })
}
