//! Comparisons of sample means on one attribute: every pair with every pair, and all against the target.
//!
//! All of them stand on the mixed model, so their error is the assessor x sample interaction and never the error within
//! assessors. Where a variance is zero the model pools, and `ErrorTerm::Interaction` offers the unpooled classical error
//! beside it: TukeyHSD on cell means in R does that, so its figures differ from the model's there and only there.

use super::letters::letters;
use super::means::ContrastEstimate;
use super::multiplicity;
use crate::numeric::simultaneous::{
    dunnett_two_sided, dunnett_two_sided_quantile, studentized_range_quantile, studentized_range_upper,
};
use crate::numeric::tails;
use crate::stats::model::anova::ModelFit;
use crate::stats::results::{Defined, Interval, NotDefined};
use crate::study::Study;
use serde::Serialize;

/// What differences are judged by.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ErrorTerm {
    /// The mixed model's own standard errors and degrees of freedom; mean squares are pooled where a variance is zero.
    #[default]
    Model,
    /// MS assessor x sample as it comes, on its own degrees of freedom. Balanced data only.
    Interaction,
}

/// What can be chosen about comparisons.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ComparisonOptions {
    /// Chance of a false finding that intervals, letters and critical values stand on.
    pub alpha: f64,
    pub error: ErrorTerm,
}

/// All pairs of samples.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Pairwise {
    pub alpha: f64,
    pub error: ErrorTerm,
    /// How Tukey's method applies here, in words.
    pub tukey_method: String,
    /// Each sample with each earlier one, in the order of the study.
    pub comparisons: Vec<PairComparison>,
    /// Least significant difference of one pair, not adjusted; balanced data only.
    pub lsd: Defined<f64>,
    /// Tukey's honestly significant difference; balanced data only.
    pub hsd: Defined<f64>,
    /// Samples with a common letter are not shown to differ by Tukey's test.
    pub letters_tukey: Vec<SampleLetters>,
    /// Samples with a common letter are not shown to differ by tests that are not adjusted.
    pub letters_lsd: Vec<SampleLetters>,
}

/// One pair of samples.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PairComparison {
    pub sample: String,
    pub reference: String,
    /// Mean of the sample less mean of the reference, in units of the scale.
    pub difference: f64,
    pub se: f64,
    pub df: f64,
    pub t: f64,
    pub p_unadjusted: f64,
    /// Interval at 1 - alpha for this pair alone.
    pub interval: Interval,
    pub p_tukey: f64,
    /// Intervals at 1 - alpha that hold for all pairs together.
    pub tukey_interval: Interval,
    /// Adjusted over the pairs of this attribute.
    pub p_holm: f64,
    /// Adjusted over the pairs of this attribute.
    pub p_benjamini_hochberg: f64,
}

/// Letters of one sample.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SampleLetters {
    pub sample: String,
    pub letters: String,
}

/// How comparisons with the target are adjusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ManyToOneMethod {
    /// Dunnett's exact law: all differences equally sure and correlated 1/2, as in balanced data.
    Dunnett,
    /// Holm's adjusted p-values and Bonferroni intervals: in unbalanced data under a mixed model the correlations are
    /// not products and the degrees of freedom differ, so Dunnett's law does not hold.
    Holm,
}

/// All candidates against the target.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ManyToOne {
    pub target: String,
    pub alpha: f64,
    pub error: ErrorTerm,
    pub method: ManyToOneMethod,
    /// What |t| must exceed; only where one value serves all.
    pub critical: Defined<f64>,
    /// In the order of the study.
    pub comparisons: Vec<TargetComparison>,
}

/// One candidate against the target.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TargetComparison {
    pub sample: String,
    /// Candidate less target, in units of the scale.
    pub difference: f64,
    pub se: f64,
    pub df: f64,
    pub t: f64,
    pub p_unadjusted: f64,
    pub p_adjusted: f64,
    /// Intervals at 1 - alpha that hold for all candidates together.
    pub simultaneous_interval: Interval,
}

impl Default for ComparisonOptions {
    fn default() -> Self {
        ComparisonOptions { alpha: 0.05, error: ErrorTerm::Model }
    }
}

impl ComparisonOptions {
    /// By the settings of a study, on the mixed model's own standard errors.
    pub fn of(study: &Study) -> Self {
        ComparisonOptions { alpha: study.settings.alpha, ..ComparisonOptions::default() }
    }
}

/// Compares every pair of samples that have scores.
///
/// Tukey's p-values are exact in balanced data; in unbalanced data they are the Tukey-Kramer approximation on each
/// pair's own standard error and degrees of freedom.
pub fn pairwise(fit: &ModelFit, options: &ComparisonOptions) -> Defined<Pairwise> {
    let places = scored_samples(fit)?;
    let mut comparisons = Vec::with_capacity(places.len() * (places.len() - 1) / 2);
    let quantiles = QuantileMemory::new(places.len(), options.alpha);
    for (position, reference) in places.iter().enumerate() {
        for sample in &places[position + 1..] {
            comparisons.push(compare_pair(fit, *sample, *reference, options, &quantiles)?);
        }
    }
    adjust_within(&mut comparisons);
    let width = |quantile: &dyn Fn(f64) -> Option<f64>| one_width(fit, &comparisons, quantile);
    Ok(Pairwise {
        alpha: options.alpha,
        error: options.error,
        tukey_method: tukey_in_words(fit).to_owned(),
        lsd: width(&|df| tails::t_quantile_upper(0.5 * options.alpha, df)),
        hsd: width(&|df| quantiles.of(df).map(|q| q * std::f64::consts::FRAC_1_SQRT_2)),
        letters_tukey: sample_letters(fit, &comparisons, |pair| pair.p_tukey < options.alpha),
        letters_lsd: sample_letters(fit, &comparisons, |pair| pair.p_unadjusted < options.alpha),
        comparisons,
    })
}

/// Compares every candidate with the target, a sample numbered as in `AttributeScores::samples`.
pub fn many_to_one(fit: &ModelFit, target: usize, options: &ComparisonOptions) -> Defined<ManyToOne> {
    let candidates = scored_samples(fit)?.into_iter().filter(|sample| *sample != target).collect::<Vec<_>>();
    let mut comparisons = Vec::with_capacity(candidates.len());
    for sample in &candidates {
        comparisons.push(plain_comparison(fit, *sample, target, options)?);
    }
    let method = if fit.is_balanced() { ManyToOneMethod::Dunnett } else { ManyToOneMethod::Holm };
    let critical = match method {
        ManyToOneMethod::Dunnett => adjust_by_dunnett(&mut comparisons, options.alpha),
        ManyToOneMethod::Holm => adjust_by_holm(&mut comparisons, options.alpha),
    };
    let target = fit.sample_name(target).to_owned();
    Ok(ManyToOne { target, alpha: options.alpha, error: options.error, method, critical, comparisons })
}

/// Samples with scores, numbered as in `AttributeScores::samples`; at least two.
fn scored_samples(fit: &ModelFit) -> Defined<Vec<usize>> {
    let places = fit.scored_samples();
    if places.len() < 2 { Err(NotDefined::because("fewer than two samples have scores")) } else { Ok(places) }
}

fn estimate(fit: &ModelFit, sample: usize, reference: usize, error: ErrorTerm) -> Defined<ContrastEstimate> {
    match error {
        ErrorTerm::Model => fit.difference(sample, reference),
        ErrorTerm::Interaction => fit.difference_on_interaction(sample, reference),
    }
}

/// Remembers Tukey's quantile of the latest degrees of freedom: in balanced data all pairs have the same.
struct QuantileMemory {
    groups: usize,
    alpha: f64,
    latest: std::cell::Cell<Option<(f64, f64)>>,
}

impl QuantileMemory {
    fn new(groups: usize, alpha: f64) -> Self {
        QuantileMemory { groups, alpha, latest: std::cell::Cell::new(None) }
    }

    fn of(&self, df: f64) -> Option<f64> {
        if let Some((known, quantile)) = self.latest.get()
            && (known - df).abs() <= crate::numeric::tolerance::TIE * df
        {
            return Some(quantile);
        }
        let quantile = studentized_range_quantile(self.alpha, self.groups, df)?;
        self.latest.set(Some((df, quantile)));
        Some(quantile)
    }
}

fn compare_pair(
    fit: &ModelFit,
    sample: usize,
    reference: usize,
    options: &ComparisonOptions,
    quantiles: &QuantileMemory,
) -> Defined<PairComparison> {
    let found = estimate(fit, sample, reference, options.error)?;
    let no_law = || NotDefined::because(format!("the studentised range is not defined on {} df", found.df));
    let range = std::f64::consts::SQRT_2 * found.t().abs();
    let p_tukey = studentized_range_upper(range, quantiles.groups, found.df).ok_or_else(no_law)?;
    let tukey_half = quantiles.of(found.df).ok_or_else(no_law)? * std::f64::consts::FRAC_1_SQRT_2 * found.se;
    let p_unadjusted = found.p_two_sided()?;
    Ok(PairComparison {
        sample: fit.sample_name(sample).to_owned(),
        reference: fit.sample_name(reference).to_owned(),
        difference: found.estimate,
        se: found.se,
        df: found.df,
        t: found.t(),
        p_unadjusted,
        interval: around(found.estimate, found.half_width(1.0 - options.alpha)?),
        p_tukey,
        tukey_interval: around(found.estimate, tukey_half),
        p_holm: p_unadjusted,
        p_benjamini_hochberg: p_unadjusted,
    })
}

fn adjust_within(comparisons: &mut [PairComparison]) {
    let plain = comparisons.iter().map(|pair| pair.p_unadjusted).collect::<Vec<_>>();
    for (pair, adjusted) in comparisons.iter_mut().zip(multiplicity::adjust(&plain)) {
        pair.p_holm = adjusted.holm;
        pair.p_benjamini_hochberg = adjusted.benjamini_hochberg;
    }
}

/// A difference that counts as shown for every pair alike.
fn one_width(fit: &ModelFit, comparisons: &[PairComparison], quantile: &dyn Fn(f64) -> Option<f64>) -> Defined<f64> {
    let uneven = || NotDefined::because("the data are unbalanced, so each pair has a least difference of its own");
    let first = comparisons.first().filter(|_| fit.is_balanced()).ok_or_else(uneven)?;
    quantile(first.df).map(|q| q * first.se).ok_or_else(uneven)
}

fn tukey_in_words(fit: &ModelFit) -> &'static str {
    if fit.is_balanced() {
        "Tukey's test: exact, all pairs have one standard error"
    } else {
        "Tukey-Kramer: approximate, each pair on its own standard error and Satterthwaite degrees of freedom"
    }
}

fn sample_letters(
    fit: &ModelFit,
    comparisons: &[PairComparison],
    differs: impl Fn(&PairComparison) -> bool,
) -> Vec<SampleLetters> {
    let count = fit.means.len();
    let mut shown = vec![false; count * count];
    let mut pairs = comparisons.iter();
    for reference in 0..count {
        for sample in reference + 1..count {
            let differ = pairs.next().is_some_and(&differs);
            shown[reference * count + sample] = differ;
            shown[sample * count + reference] = differ;
        }
    }
    let means = fit.means.iter().map(|mean| mean.mean).collect::<Vec<_>>();
    let found = letters(&means, |a, b| shown[a * count + b]);
    fit.means.iter().zip(found).map(|(mean, letters)| SampleLetters { sample: mean.sample.clone(), letters }).collect()
}

fn plain_comparison(
    fit: &ModelFit,
    sample: usize,
    target: usize,
    options: &ComparisonOptions,
) -> Defined<TargetComparison> {
    let found = estimate(fit, sample, target, options.error)?;
    let p_unadjusted = found.p_two_sided()?;
    Ok(TargetComparison {
        sample: fit.sample_name(sample).to_owned(),
        difference: found.estimate,
        se: found.se,
        df: found.df,
        t: found.t(),
        p_unadjusted,
        p_adjusted: p_unadjusted,
        simultaneous_interval: around(found.estimate, found.half_width(1.0 - options.alpha)?),
    })
}

fn adjust_by_dunnett(comparisons: &mut [TargetComparison], alpha: f64) -> Defined<f64> {
    let none = || NotDefined::because("no candidate has scores");
    let df = comparisons.first().ok_or_else(none)?.df;
    let loadings = vec![std::f64::consts::FRAC_1_SQRT_2; comparisons.len()];
    let no_law = || NotDefined::because(format!("Dunnett's law is not defined on {df} df"));
    let critical = dunnett_two_sided_quantile(alpha, &loadings, df).ok_or_else(no_law)?;
    for candidate in comparisons {
        candidate.p_adjusted = dunnett_two_sided(candidate.t.abs(), &loadings, df).ok_or_else(no_law)?;
        candidate.simultaneous_interval = around(candidate.difference, critical * candidate.se);
    }
    Ok(critical)
}

fn adjust_by_holm(comparisons: &mut [TargetComparison], alpha: f64) -> Defined<f64> {
    let plain = comparisons.iter().map(|candidate| candidate.p_unadjusted).collect::<Vec<_>>();
    let tests = comparisons.len() as f64;
    for (candidate, p_adjusted) in comparisons.iter_mut().zip(multiplicity::holm(&plain)) {
        candidate.p_adjusted = p_adjusted;
        if let Some(quantile) = tails::t_quantile_upper(0.5 * alpha / tests, candidate.df) {
            candidate.simultaneous_interval = around(candidate.difference, quantile * candidate.se);
        }
    }
    Err(NotDefined::because("the data are unbalanced, so each candidate has a critical value of its own"))
}

fn around(centre: f64, half: f64) -> Interval {
    Interval { lower: centre - half, upper: centre + half }
}
