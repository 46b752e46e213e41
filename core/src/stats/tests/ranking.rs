//! Ranking tests: Friedman's for complete rankings, Page's for an expected order, Durbin's for incomplete blocks, and
//! how far rank sums must lie apart. ISO 8587 names these tests; all values are computed.

use crate::numeric::describe::midranks;
use crate::numeric::portable::{normal_quantile, normal_upper};
use crate::numeric::simultaneous::studentized_range_quantile;
use crate::stats::results::{Defined, NotDefined};
use serde::Serialize;
use statrs::function::gamma::checked_gamma_ur;

/// Exact distributions are counted up to this many samples; beyond, the normal approximation is used and said.
const EXACT_PAGE_SAMPLES: usize = 8;

/// Friedman's or Durbin's test of "no difference between samples".
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RankTest {
    pub rank_sums: Vec<f64>,
    pub n_assessors: usize,
    /// Statistic with ties taken into account.
    pub statistic: f64,
    /// Statistic by the formula that knows no ties; the same where there are none. Friedman only.
    pub statistic_without_tie_correction: Option<f64>,
    pub df: f64,
    /// By the chi-squared approximation.
    pub p: f64,
    pub differences: Defined<RankSumDifferences>,
    pub model: String,
}

/// How far two rank sums must lie apart.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct RankSumDifferences {
    pub alpha: f64,
    /// All pairs together: chance `alpha` of any wrong claim (studentized range).
    pub all_pairs: f64,
    /// The smallest whole difference that reaches `all_pairs`.
    pub all_pairs_whole: u64,
    /// One pair chosen beforehand: chance `alpha` for that pair alone.
    pub one_pair: f64,
    pub one_pair_whole: u64,
}

/// Page's test against the order expected beforehand.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PageTest {
    /// Sum of expected place times rank sum.
    pub l: f64,
    pub rank_sums: Vec<f64>,
    pub n_assessors: usize,
    /// One-sided: small where the ranks follow the expected order.
    pub p: f64,
    /// Whether `p` was counted out; else it is the normal approximation.
    pub exact: bool,
    pub model: String,
}

/// Friedman's test. `scores[assessor][sample]`, ranks or scores; ties within an assessor share ranks.
///
/// Errors: fewer than two assessors or samples, rows of unequal length, or everybody ties everything.
pub fn friedman(scores: &[Vec<f64>], alpha: f64) -> Defined<RankTest> {
    let ranks = ranked(scores)?;
    let (n, k) = (ranks.len() as f64, ranks[0].len() as f64);
    let rank_sums = sums(&ranks);
    let middle = n * (k + 1.0) / 2.0;
    let apart: f64 = rank_sums.iter().map(|sum| (sum - middle) * (sum - middle)).sum();
    let spread: f64 = ranks.iter().flatten().map(|rank| (rank - (k + 1.0) / 2.0).powi(2)).sum();
    if spread <= 0.0 {
        return Err(NotDefined::because("every assessor ranked all samples equal"));
    }
    let statistic = (k - 1.0) * apart / spread;
    let p = chi_squared_upper(statistic, k - 1.0)?;
    Ok(RankTest {
        differences: rank_sum_differences(ranks.len(), ranks[0].len(), alpha),
        rank_sums,
        n_assessors: ranks.len(),
        statistic,
        statistic_without_tie_correction: Some(12.0 * apart / (n * k * (k + 1.0))),
        df: k - 1.0,
        p,
        model: "Friedman's test, ties corrected, chi-squared approximation on samples - 1 degrees of freedom."
            .to_owned(),
    })
}

/// Durbin's test for balanced incomplete blocks. `scores[assessor][sample]`, `None` where it was not tasted.
///
/// Errors: blocks of unequal size, samples or pairs of samples tasted unequally often, or everybody ties everything.
pub fn durbin(scores: &[Vec<Option<f64>>]) -> Defined<RankTest> {
    let (block, repeats) = incomplete_balance(scores)?;
    let samples = scores[0].len();
    let (mut rank_sums, mut spread) = (vec![0.0; samples], 0.0);
    for row in scores {
        let tasted: Vec<usize> = (0..samples).filter(|sample| row[*sample].is_some()).collect();
        let ranks = midranks(&tasted.iter().filter_map(|sample| row[*sample]).collect::<Vec<_>>());
        for (sample, rank) in tasted.iter().zip(&ranks) {
            rank_sums[*sample] += rank;
            spread += (rank - (block + 1.0) / 2.0).powi(2);
        }
    }
    if spread <= 0.0 {
        return Err(NotDefined::because("every assessor ranked all samples equal"));
    }
    let middle = repeats * (block + 1.0) / 2.0;
    let df = samples as f64 - 1.0;
    let statistic = df * rank_sums.iter().map(|sum| (sum - middle) * (sum - middle)).sum::<f64>() / spread;
    Ok(RankTest {
        rank_sums,
        n_assessors: scores.len(),
        statistic,
        statistic_without_tie_correction: None,
        df,
        p: chi_squared_upper(statistic, df)?,
        differences: Err(NotDefined::because("rank sums of incomplete blocks are compared by the test only")),
        model:
            "Durbin's test for balanced incomplete blocks, ties corrected, chi-squared approximation on samples - 1 \
                degrees of freedom."
                .to_owned(),
    })
}

/// Page's test; columns stand in the order expected from low to high.
///
/// Errors: fewer than two assessors or three samples, or rows of unequal length.
pub fn page(scores: &[Vec<f64>]) -> Defined<PageTest> {
    let ranks = ranked(scores)?;
    let (n, k) = (ranks.len(), ranks[0].len());
    if k < 3 {
        return Err(NotDefined::because("an order takes three samples at least"));
    }
    let rank_sums = sums(&ranks);
    let l: f64 = (1..).zip(&rank_sums).map(|(place, sum)| f64::from(place) * sum).sum();
    let ties = ranks.iter().any(|row| row.iter().any(|rank| rank.fract() > 0.25 || repeated(row, *rank)));
    let exact = !ties && k <= EXACT_PAGE_SAMPLES && n <= 200;
    let p = if exact { exact_page(n, k, l) } else { normal_page(&ranks, l) };
    let how = if exact { "exact, all orders counted" } else { "normal approximation, ties corrected" };
    Ok(PageTest { l, rank_sums, n_assessors: n, p, exact, model: format!("Page's test for an expected order; {how}.") })
}

/// Least differences of rank sums for `n` assessors and `k` samples, complete rankings.
///
/// Errors: fewer than two assessors or samples, or alpha outside 0 to 1.
pub fn rank_sum_differences(n: usize, k: usize, alpha: f64) -> Defined<RankSumDifferences> {
    if n < 2 || k < 2 || !(alpha > 0.0 && alpha < 1.0) {
        return Err(NotDefined::because("it takes two assessors, two samples, and alpha between 0 and 1"));
    }
    let variance = n as f64 * k as f64 * (k as f64 + 1.0) / 12.0;
    let z = normal_quantile(1.0 - 0.5 * alpha).ok_or_else(|| NotDefined::because("alpha is too small"))?;
    let range = studentized_range_quantile(alpha, k, f64::INFINITY);
    let all_pairs = range.ok_or_else(|| NotDefined::because("alpha is too small"))? * variance.sqrt();
    let one_pair = z * (2.0 * variance).sqrt();
    let whole = |difference: f64| (difference - crate::numeric::tolerance::SAME_NUMBER).ceil() as u64;
    Ok(RankSumDifferences {
        alpha,
        all_pairs,
        all_pairs_whole: whole(all_pairs),
        one_pair,
        one_pair_whole: whole(one_pair),
    })
}

fn ranked(scores: &[Vec<f64>]) -> Defined<Vec<Vec<f64>>> {
    let k = scores.first().map_or(0, Vec::len);
    if scores.len() < 2 || k < 2 || scores.iter().any(|row| row.len() != k) {
        return Err(NotDefined::because("it takes two assessors who ranked the same two samples or more"));
    }
    if scores.iter().flatten().any(|score| !score.is_finite()) {
        return Err(NotDefined::because("some ranks are no numbers"));
    }
    Ok(scores.iter().map(|row| midranks(row)).collect())
}

fn sums(ranks: &[Vec<f64>]) -> Vec<f64> {
    (0..ranks[0].len()).map(|sample| ranks.iter().map(|row| row[sample]).sum()).collect()
}

fn repeated(row: &[f64], rank: f64) -> bool {
    row.iter().filter(|other| (**other - rank).abs() < 0.25).count() > 1
}

/// Block size and how often each sample was tasted.
fn incomplete_balance(scores: &[Vec<Option<f64>>]) -> Defined<(f64, f64)> {
    let samples = scores.first().map_or(0, Vec::len);
    if scores.len() < 2 || samples < 2 || scores.iter().any(|row| row.len() != samples) {
        return Err(NotDefined::because("it takes two assessors and two samples"));
    }
    let block = scores[0].iter().flatten().count();
    let times = |one: usize, two: usize| scores.iter().filter(|row| row[one].is_some() && row[two].is_some()).count();
    let (repeats, together) = (times(0, 0), times(0, 1));
    let even = scores.iter().all(|row| row.iter().flatten().count() == block)
        && (0..samples).all(|one| times(one, one) == repeats)
        && (0..samples).all(|one| (0..one).all(|two| times(one, two) == together));
    if !even || block < 2 {
        return Err(NotDefined::because(
            "the blocks are not balanced: each assessor must taste equally many samples, each sample must be tasted \
             equally often, and each pair must meet equally often",
        ));
    }
    Ok((block as f64, repeats as f64))
}

/// P(chi-squared on `df` degrees of freedom > `value`).
fn chi_squared_upper(value: f64, df: f64) -> Defined<f64> {
    if value <= 0.0 {
        return Ok(1.0);
    }
    checked_gamma_ur(0.5 * df, 0.5 * value).map_err(|_| NotDefined::because("the statistic is out of range"))
}

/// P(L >= `l`) over all (k!)^n equally likely rankings, by convolution.
fn exact_page(n: usize, k: usize, l: f64) -> f64 {
    let single = page_counts(k);
    let total: f64 = single.iter().sum();
    let mut mass = vec![1.0];
    for _ in 0..n {
        let mut next = vec![0.0; mass.len() + single.len() - 1];
        for (low, share) in mass.iter().enumerate() {
            for (high, count) in single.iter().enumerate() {
                next[low + high] += share * count / total;
            }
        }
        mass = next;
    }
    let reached = (l - 0.25).ceil().max(0.0) as usize;
    mass.iter().skip(reached).rev().sum::<f64>().min(1.0)
}

/// How many orders of 1..k give each value of the sum of place times rank.
fn page_counts(k: usize) -> Vec<f64> {
    let most = k * (k + 1) * (2 * k + 1) / 6;
    // States are sets of ranks used up; the number of places filled is the size of the set.
    let mut ways = vec![vec![0.0; most + 1]; 1 << k];
    ways[0][0] = 1.0;
    for set in 0..(1_usize << k) {
        let place = set.count_ones() as usize + 1;
        for rank in (0..k).filter(|rank| set & (1 << rank) == 0) {
            let (from, to) = (ways[set].clone(), &mut ways[set | (1 << rank)]);
            let step = place * (rank + 1);
            (0..=most - step).filter(|sum| from[*sum] > 0.0).for_each(|sum| to[sum + step] += from[sum]);
        }
    }
    ways.pop().unwrap_or_default()
}

fn normal_page(ranks: &[Vec<f64>], l: f64) -> f64 {
    let (n, k) = (ranks.len() as f64, ranks[0].len() as f64);
    let places: f64 = k * (k * k - 1.0) / 12.0;
    let spread: f64 = ranks.iter().flatten().map(|rank| (rank - (k + 1.0) / 2.0).powi(2)).sum();
    let variance = places * spread / (k - 1.0);
    if variance <= 0.0 {
        return 1.0;
    }
    normal_upper((l - n * k * (k + 1.0) * (k + 1.0) / 4.0) / variance.sqrt())
}
