//! Scale use: how far each assessor stretches or squeezes the line, and whether that explains their disagreement.
//!
//! Each assessor's sample means are regressed on the panel's; the part of the interaction that is stretching is taken
//! out of the error of the sample test (Brockhoff, Schlich & Skovgaard 2015, Food Quality and Preference 39, 156-166).
//! It helps only where samples differ strongly and assessors really stretch; this file says where it does not.

use super::assessor::{Cells, Squares, f_test};
use crate::numeric::describe::mean;
use crate::stats::results::{AnovaLine, Defined, FTest, NotDefined};
use crate::study::{AttributeScores, Study};
use serde::Serialize;

/// The panel means must be this reliable (1 - 1 / F of samples) before anything is regressed on them: our convention.
const LEAST_RELIABILITY: f64 = 0.75;

/// Stretching and the rest of the interaction on one attribute.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ScaleUse {
    pub attribute: String,
    /// In the order of the study; their mean is 1.
    pub slopes: Vec<AssessorSlope>,
    pub scaling: AnovaLine,
    pub disagreement: AnovaLine,
    /// Scaling against disagreement.
    pub scaling_test: FTest,
    /// Samples against the whole interaction: the usual test.
    pub plain: FTest,
    /// Samples against disagreement alone.
    pub corrected: FTest,
    /// Whether the corrected test is worth offering here.
    pub helps: bool,
    /// Why, or why not.
    pub advice: String,
    pub model: String,
}

/// Above 1 an assessor stretches the line, below 1 squeezes it, below 0 turns it round.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AssessorSlope {
    pub assessor: String,
    pub slope: f64,
}

/// Splits the interaction of one attribute, by its index, by the settings of the study.
///
/// # Errors
/// As `scale_use`.
pub fn scale_use_on(study: &Study, index: usize) -> Defined<ScaleUse> {
    scale_use(&study.attribute_scores(index), study.settings.alpha)
}

/// Splits the interaction of one attribute.
///
/// Errors: cells not filled equally, fewer than two assessors or three samples, or nothing that varies.
pub fn scale_use(scores: &AttributeScores, alpha: f64) -> Defined<ScaleUse> {
    let table = Table::of(scores)?;
    let (assessors, samples) = (table.deviations.len() as f64, table.panel.len() as f64);
    let panel_squares: f64 = table.panel.iter().map(|x| x * x).sum();
    let slopes: Vec<f64> = table.deviations.iter().map(|row| product(row, &table.panel) / panel_squares).collect();
    let interaction = Squares {
        ss: table.replicates
            * table
                .deviations
                .iter()
                .flat_map(|row| row.iter().zip(&table.panel))
                .map(|(y, x)| (y - x) * (y - x))
                .sum::<f64>(),
        df: (assessors - 1.0) * (samples - 1.0),
    };
    let scaling = Squares {
        ss: table.replicates * panel_squares * slopes.iter().map(|slope| (slope - 1.0) * (slope - 1.0)).sum::<f64>(),
        df: assessors - 1.0,
    };
    let disagreement = Squares { ss: (interaction.ss - scaling.ss).max(0.0), df: (assessors - 1.0) * (samples - 2.0) };
    if disagreement.ss <= crate::numeric::tolerance::ROUNDING * interaction.ss.max(panel_squares) {
        return Err(NotDefined::because("nothing of the interaction is left when stretching is taken out"));
    }
    let ms_sample = table.replicates * assessors * panel_squares / (samples - 1.0);
    let scaling_test = f_test(line_of(scaling).ms, scaling.df, line_of(disagreement).ms, disagreement.df)?;
    let plain = f_test(ms_sample, samples - 1.0, line_of(interaction).ms, interaction.df)?;
    let corrected = f_test(ms_sample, samples - 1.0, line_of(disagreement).ms, disagreement.df)?;
    let (helps, advice) = advise(plain, scaling_test, corrected, alpha);
    Ok(ScaleUse {
        attribute: scores.attribute.clone(),
        slopes: table
            .names
            .into_iter()
            .zip(slopes)
            .map(|(assessor, slope)| AssessorSlope { assessor, slope })
            .collect(),
        scaling: line_of(scaling),
        disagreement: line_of(disagreement),
        scaling_test,
        plain,
        corrected,
        helps,
        advice,
        model: "Each assessor's sample means, own level taken off, on the panel's (own scores included); scaling on \
                assessors - 1, disagreement on (assessors - 1)(samples - 2) degrees of freedom; samples tested against \
                disagreement."
            .to_owned(),
    })
}

fn advise(plain: FTest, scaling: FTest, corrected: FTest, alpha: f64) -> (bool, String) {
    if plain.p >= alpha || 1.0 - 1.0 / plain.f < LEAST_RELIABILITY {
        return (
            false,
            "The samples differ too little here for a slope on the panel's means to tell anything.".to_owned(),
        );
    }
    if scaling.p >= alpha {
        return (false, "The assessors do not stretch the line differently beyond chance: no gain here.".to_owned());
    }
    if corrected.f <= plain.f {
        return (false, "Taking the stretching out does not sharpen the test of the samples: no gain here.".to_owned());
    }
    (
        true,
        format!(
            "Assessors stretch the line differently; without that F rises from {:.2} to {:.2}.",
            plain.f, corrected.f
        ),
    )
}

struct Table {
    names: Vec<String>,
    replicates: f64,
    /// `[assessor][sample]`, own level taken off.
    deviations: Vec<Vec<f64>>,
    /// `[sample]`, level taken off.
    panel: Vec<f64>,
}

impl Table {
    fn of(scores: &AttributeScores) -> Defined<Self> {
        let cells = Cells::of(scores);
        let present: Vec<usize> =
            (0..cells.means.len()).filter(|a| cells.means[*a].iter().any(Option::is_some)).collect();
        let samples: Vec<usize> =
            (0..scores.samples.len()).filter(|s| present.iter().any(|a| cells.means[*a][*s].is_some())).collect();
        if present.len() < 2 || samples.len() < 3 {
            return Err(NotDefined::because("it takes two assessors and three samples"));
        }
        let counts: Vec<usize> =
            present.iter().flat_map(|a| samples.iter().map(|s| cells.scores[*a][*s].len())).collect();
        if counts.iter().any(|count| *count != counts[0]) {
            return Err(NotDefined::because("the assessors did not score every sample equally often"));
        }
        let deviations: Vec<Vec<f64>> = present
            .iter()
            .map(|a| {
                let own: Vec<f64> = samples.iter().filter_map(|s| cells.means[*a][*s]).collect();
                let level = mean(&own).unwrap_or(0.0);
                own.iter().map(|value| value - level).collect()
            })
            .collect();
        let panel: Vec<f64> = (0..samples.len())
            .map(|s| deviations.iter().map(|row| row[s]).sum::<f64>() / present.len() as f64)
            .collect();
        let largest = deviations.iter().flatten().fold(0.0_f64, |largest, value| largest.max(value.abs()));
        if panel.iter().map(|x| x * x).sum::<f64>() <= crate::numeric::tolerance::FLAT_SQUARES * largest * largest
            || largest <= 0.0
        {
            return Err(NotDefined::because("all samples have the same mean"));
        }
        Ok(Table {
            names: present.iter().map(|a| scores.assessors[*a].clone()).collect(),
            replicates: counts[0] as f64,
            deviations,
            panel,
        })
    }
}

fn product(x: &[f64], y: &[f64]) -> f64 {
    x.iter().zip(y).map(|(x, y)| x * y).sum()
}

fn line_of(squares: Squares) -> AnovaLine {
    AnovaLine { df: squares.df, ss: squares.ss, ms: squares.ss / squares.df }
}
