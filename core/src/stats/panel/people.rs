//! Each person beside the others, all attributes together: repeats, tells samples apart, agrees; and who is unlike them.
//!
//! Three figures a person: the scatter between replicates in units of the scale (root of the mean over attributes of the
//! variance), the F over samples of all attributes pooled, and the correlation over samples with the mean of the others,
//! pooled over attributes. The last two take only attributes on which the panel finds differences. Each is put on a scale
//! on which equal people scatter nearly evenly (logarithm, logarithm, Fisher's z) and the worst is held against the rest by
//! Student's t with one value taken out (Grubbs 1950, Technometrics 1969; several at once by Rosner's generalised form,
//! Technometrics 1983, a quarter of the panel at most, so that two do not hide each other). The people themselves are the
//! yardstick, so that attributes that go together, marks piled up at the end of the line and moods of a page do no harm;
//! it is never taken shorter than sampling alone makes it.
//!
//! *Unlike* is meant to be claimed in 5 of 100 panels of equal people at most, over all people and all three figures, and only
//! where it matters: as if somebody scattered half as much again as the others. *Too few cups* is said where one who scatters twice as widely, or
//! sees nothing at all, would not be named; else *like*.
//!
//! Simulated with `cargo run --release -p likeness-core --example panel_rates -- --only people`, seed 20261128, result
//! beside it: see [`FALSE_NAMES`].

use super::assessor::{Cells, Squares};
use crate::numeric::describe::{mean, squares_about_mean};
use crate::numeric::tails::t_quantile_upper;
use crate::stats::results::{Defined, Interval, NotDefined};
use crate::stats::samples::profiles::{everyone_but, panel_means};
use serde::Serialize;

/// Level at which somebody is named, over the whole panel. Simulated, 300 panels of equal people a cell, seed 20261128, 6 to 12
/// people, 3 to 6 samples, 1 or 2 replicates, 8 or 34 attributes, marks piled up at 0 or not: in 1 of 100 panels at most anybody
/// is named; in 2 to 6 of 100 where whole pages move with a mood (10 mm) wider than the scatter (8 mm).
pub const FALSE_NAMES: f64 = 0.05;
/// What the chance is divided by for the three figures of each person: two is enough, since they go together and what is
/// named must matter besides. With three, no panel of equal people named anybody and poor people were missed more often;
/// with one, panels of moody pages came up to 5 in 100 (60 panels a cell).
const FIGURES: f64 = 2.0;
/// Scattering so many times as widely as the others matters.
const MATTERS: f64 = 1.5;
/// Scattering so many times as widely as the others must be seen; where it would not, there are too few cups.
const MUST_BE_SEEN: f64 = 2.0;
/// Below so many people nobody can be held against the rest.
const FEWEST_PEOPLE: usize = 4;

/// One person beside the others.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Person {
    pub assessor: String,
    /// Scatter between replicates in units of the scale.
    pub repeats: Compared,
    /// F over samples, all attributes pooled.
    pub tells_apart: Compared,
    /// Correlation with the mean of the others over samples, all attributes pooled.
    pub agrees: Compared,
    /// All three together.
    pub standing: Standing,
}

/// One figure of one person.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Compared {
    pub value: Defined<f64>,
    /// From the lowest to the highest of the others, without those who are unlike; `None` where there are none.
    pub others: Option<Interval>,
    pub standing: Standing,
}

/// What can be said of a person.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Standing {
    LikeTheOthers,
    UnlikeTheOthers,
    TooFewCups,
}

/// What one attribute adds to the figures of one person; squares in squared units of the scale.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::stats) struct Parts {
    within: Squares,
    between: Squares,
    /// Squares of own means, of the others' means and their products, about their means over shared samples.
    own: f64,
    others: f64,
    cross: f64,
    /// Shared samples less one.
    df: f64,
    /// Whether the panel finds differences on it.
    counts: bool,
}

impl Parts {
    pub fn of(cells: &Cells, assessor: usize, counts: bool) -> Self {
        let others = panel_means(&cells.means, &everyone_but(cells.means.len(), Some(assessor)));
        let pairs = others.iter().zip(&cells.means[assessor]).filter_map(|(x, y)| Some(((*x)?, (*y)?)));
        let (x, y): (Vec<f64>, Vec<f64>) = pairs.unzip();
        let (mean_x, mean_y) = (mean(&x).unwrap_or(0.0), mean(&y).unwrap_or(0.0));
        Parts {
            within: cells.within(assessor),
            between: between(&cells.scores[assessor]),
            own: squares_about_mean(&y),
            others: squares_about_mean(&x),
            cross: x.iter().zip(&y).map(|(x, y)| (x - mean_x) * (y - mean_y)).sum(),
            df: (x.len() as f64 - 1.0).max(0.0),
            counts,
        }
    }
}

fn between(cells: &[Vec<f64>]) -> Squares {
    let all: Vec<f64> = cells.iter().flatten().copied().collect();
    let grand = mean(&all).unwrap_or(0.0);
    let filled: Vec<&Vec<f64>> = cells.iter().filter(|cell| !cell.is_empty()).collect();
    let gap = |cell: &&Vec<f64>| mean(cell).map_or(0.0, |own| cell.len() as f64 * (own - grand).powi(2));
    Squares { ss: filled.iter().map(gap).sum(), df: (filled.len() as f64 - 1.0).max(0.0) }
}

/// Everybody beside the others. `parts[assessor]` holds one entry an attribute.
pub(in crate::stats) fn people(names: &[String], parts: &[Vec<Parts>]) -> Vec<Person> {
    let figures = [compare(parts, repeats), compare(parts, tells_apart), compare(parts, agrees)];
    let [repeats, tells_apart, agrees] = figures;
    let three = repeats.into_iter().zip(tells_apart).zip(agrees);
    let person = |(name, ((repeats, tells_apart), agrees)): (&String, ((Compared, Compared), Compared))| {
        let all = [repeats.standing, tells_apart.standing, agrees.standing];
        Person { assessor: name.clone(), standing: together(all), repeats, tells_apart, agrees }
    };
    names.iter().zip(three).map(person).collect()
}

/// One unlike makes the person unlike; to be like the others takes all three.
fn together(all: [Standing; 3]) -> Standing {
    match all {
        all if all.contains(&Standing::UnlikeTheOthers) => Standing::UnlikeTheOthers,
        all if all.contains(&Standing::TooFewCups) => Standing::TooFewCups,
        _ => Standing::LikeTheOthers,
    }
}

/// One figure of one person, and how bad it is.
struct Figure {
    shown: f64,
    /// Larger is worse; equal people scatter evenly here.
    badness: f64,
    /// What sampling alone makes `badness` scatter by, at least.
    least_sd: f64,
    /// How bad the worst is that must be seen; added to the others' mean where `is_relative`.
    worst: f64,
    is_relative: bool,
    /// Whether a badness matters beside the others' mean.
    matters: fn(f64, f64) -> bool,
}

fn repeats(parts: &[Parts]) -> Defined<Figure> {
    let squares: Vec<Squares> = parts.iter().map(|part| part.within).filter(|within| within.df > 0.0).collect();
    let variances: Vec<f64> = squares.iter().map(|within| within.ss / within.df).collect();
    let variance = mean(&variances).ok_or_else(|| NotDefined::because("this assessor has no replicates"))?;
    Ok(Figure {
        shown: variance.sqrt(),
        badness: variance.ln(),
        least_sd: (2.0 / squares.iter().map(|within| within.df).sum::<f64>()).sqrt(),
        worst: 2.0 * MUST_BE_SEEN.ln(),
        is_relative: true,
        matters: variance_matters,
    })
}

fn tells_apart(parts: &[Parts]) -> Defined<Figure> {
    let add = |pick: fn(&Parts) -> Squares| {
        parts
            .iter()
            .filter(|part| part.counts)
            .map(pick)
            .fold(Squares::default(), |sum, own| Squares { ss: sum.ss + own.ss, df: sum.df + own.df })
    };
    let (within, between) = (add(|part| part.within), add(|part| part.between));
    if within.df < 1.0 || between.df < 1.0 {
        return Err(NotDefined::because("it takes replicates, and attributes on which the panel finds differences"));
    }
    // Who marks everything alike tells nothing apart, however well that repeats.
    let f = if between.ss > 0.0 { between.ss / between.df * within.df / within.ss } else { 0.0 };
    Ok(Figure {
        shown: f,
        badness: -f.max(1e-6).ln(),
        least_sd: (2.0 / within.df + 2.0 / between.df).sqrt(),
        worst: 0.0,
        is_relative: false,
        matters: variance_matters,
    })
}

fn agrees(parts: &[Parts]) -> Defined<Figure> {
    let add = |pick: fn(&Parts) -> f64| parts.iter().filter(|part| part.counts).map(pick).sum::<f64>();
    let (own, others, df) = (add(|part| part.own), add(|part| part.others), add(|part| part.df));
    if df < 3.0 || others <= 0.0 {
        return Err(NotDefined::because("it takes samples scored by others too, and attributes on which they differ"));
    }
    let r = if own > 0.0 { add(|part| part.cross) / (own * others).sqrt() } else { 0.0 };
    Ok(Figure {
        shown: r,
        badness: -r.clamp(-0.9999, 0.9999).atanh(),
        least_sd: 1.0 / (df - 2.0).max(1.0).sqrt(),
        worst: 0.0,
        is_relative: false,
        matters: agreement_matters,
    })
}

fn variance_matters(badness: f64, others: f64) -> bool {
    badness - others >= 2.0 * MATTERS.ln()
}

/// r is a signal with noise in the ratio sinh(z): it matters where the noise is that much larger.
fn agreement_matters(badness: f64, others: f64) -> bool {
    badness >= 0.0 || (-others).sinh() >= MATTERS * (-badness).sinh()
}

fn compare(parts: &[Vec<Parts>], figure: fn(&[Parts]) -> Defined<Figure>) -> Vec<Compared> {
    let figures: Vec<Defined<Figure>> = parts.iter().map(|own| figure(own)).collect();
    let known: Vec<usize> = (0..figures.len()).filter(|at| figures[*at].is_ok()).collect();
    let of = |at: &usize| figures[*at].as_ref().ok();
    let badness = without_too_good(&known.iter().filter_map(of).map(|one| one.badness).collect::<Vec<_>>());
    let least_sd = known.iter().filter_map(of).map(|one| one.least_sd).fold(0.0, f64::max);
    let unlike = badness.as_ref().map_or_else(Vec::new, |badness| {
        let matters = figures.iter().flatten().next().map(|one| one.matters);
        outlying(badness, least_sd, matters.unwrap_or(variance_matters))
    });
    let standing = |at: usize| {
        let (Some(place), Some(badness)) = (known.iter().position(|one| *one == at), &badness) else {
            return Standing::TooFewCups;
        };
        match figures[at].as_ref() {
            _ if unlike.contains(&place) => Standing::UnlikeTheOthers,
            Ok(own) if would_be_seen(own, badness, &unlike, place, least_sd) => Standing::LikeTheOthers,
            _ => Standing::TooFewCups,
        }
    };
    let range = |at: usize| {
        let others = known.iter().enumerate().filter(|(place, other)| **other != at && !unlike.contains(place));
        span(others.filter_map(|(_, other)| figures[*other].as_ref().ok()).map(|one| one.shown))
    };
    let one = |at: usize| Compared {
        value: figures[at].as_ref().map(|one| one.shown).map_err(Clone::clone),
        others: range(at),
        standing: standing(at),
    };
    (0..figures.len()).map(one).collect()
}

fn span(values: impl Iterator<Item = f64>) -> Option<Interval> {
    values.fold(None, |span: Option<Interval>, value| {
        Some(span.map_or(Interval { lower: value, upper: value }, |span| Interval {
            lower: span.lower.min(value),
            upper: span.upper.max(value),
        }))
    })
}

/// Nobody is named for being too good, and one who is far better must not lengthen the yardstick: nobody counts as better
/// than a variance of a quarter of the middle one. `None` where half the panel shows no scatter at all.
fn without_too_good(badness: &[f64]) -> Option<Vec<f64>> {
    let mut sorted = badness.to_vec();
    sorted.sort_by(f64::total_cmp);
    let middle = sorted.get(sorted.len() / 2).copied().filter(|middle| middle.is_finite())?;
    Some(badness.iter().map(|one| one.max(middle - 4.0_f64.ln())).collect())
}

/// Places of those who are unlike the rest: the worst first taken out, as many as the last that reaches far enough.
fn outlying(badness: &[f64], least_sd: f64, matters: fn(f64, f64) -> bool) -> Vec<usize> {
    let mut order: Vec<usize> = (0..badness.len()).collect();
    order.sort_by(|a, b| badness[*b].total_cmp(&badness[*a]));
    let at_most = if badness.len() < FEWEST_PEOPLE { 0 } else { (badness.len() / 4).max(1) };
    let reaches = |taken: usize| {
        let rest: Vec<f64> = order[taken + 1..].iter().map(|at| badness[*at]).collect();
        let own = badness[order[taken]];
        reach(&rest, least_sd).is_some_and(|(others, reach)| own > others + reach && matters(own, others))
    };
    let named = (0..at_most).rev().find(|taken| reaches(*taken)).map_or(0, |last| last + 1);
    order[..named].to_vec()
}

/// Mean of the rest, and how far beyond it somebody is named.
fn reach(rest: &[f64], least_sd: f64) -> Option<(f64, f64)> {
    let (n, others) = (rest.len() as f64, mean(rest)?);
    let df = n - 1.0;
    let sd = (squares_about_mean(rest) / df).sqrt().max(least_sd);
    let t = t_quantile_upper(FALSE_NAMES / FIGURES / (n + 1.0), df)?;
    Some((others, t * sd * (1.0 + 1.0 / n).sqrt()))
}

/// Whether the worst that must be seen would be named in this place, in five cases of six.
fn would_be_seen(own: &Figure, badness: &[f64], unlike: &[usize], place: usize, least_sd: f64) -> bool {
    let is_rest = |at: &usize| *at != place && !unlike.contains(at);
    let rest: Vec<f64> = (0..badness.len()).filter(is_rest).map(|at| badness[at]).collect();
    if rest.len() + 1 < FEWEST_PEOPLE {
        return false;
    }
    reach(&rest, least_sd).is_some_and(|(others, reach)| {
        let worst = if own.is_relative { others + own.worst } else { own.worst };
        worst - least_sd >= others + reach
    })
}
