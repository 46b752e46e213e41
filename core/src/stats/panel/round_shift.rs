//! Whether a candidate's difference from the target is the same in every round: where it shifts, pots may differ.
//!
//! Where everybody is served from one pot a round, what differs between pots is inside the difference between samples and
//! in no interval. Each assessor's own difference is taken in each round; rounds are tested against assessor x round, and
//! all attributes are counted together by Holm. With one pot of each sample for the whole study nothing can be told.
//!
//! Simulated with `cargo run --release -p likeness-core --example panel_rates -- --only rounds`, result beside it.

use super::replicate_effect::{ReplicateAnalysis, ReplicateOptions, Round};
use super::serving_order::holm_where_known;
use crate::numeric::describe::mean;
use crate::stats::results::{Defined, FTest, NotDefined};
use crate::study::{AttributeScores, Study};
use serde::Serialize;
use std::collections::BTreeMap;

/// One attribute.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RoundShift {
    pub attribute: String,
    pub candidate: String,
    pub target: String,
    pub found: Defined<FoundShift>,
}

/// How the difference of candidate less target moves between rounds, in units of the scale.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FoundShift {
    /// Mean over assessors in each round, in the order of the rounds.
    pub differences: Vec<f64>,
    /// Largest less smallest of them.
    pub size: f64,
    /// Rounds against assessor x round.
    pub test: FTest,
    /// After Holm's correction over all attributes.
    pub p_adjusted: f64,
    /// Whether that is below alpha.
    pub is_shown: bool,
    /// What is shown, in words; empty where nothing is.
    pub sentence: String,
}

/// Every attribute that counts, in the order of the score sheet.
pub fn difference_between_rounds(study: &Study, candidate: &str, target: &str) -> Vec<RoundShift> {
    let round = ReplicateOptions::of(study).round;
    let mut shifts: Vec<RoundShift> = study
        .active_attributes()
        .into_iter()
        .map(|index| {
            let scores = study.attribute_scores(index);
            let found = shift(&scores, candidate, target, round);
            let named = |name: &str| name.to_owned();
            RoundShift { attribute: scores.attribute, candidate: named(candidate), target: named(target), found }
        })
        .collect();
    let adjusted =
        holm_where_known(&shifts.iter().map(|one| Some(one.found.as_ref().ok()?.test.p)).collect::<Vec<_>>());
    for (one, adjusted) in shifts.iter_mut().zip(adjusted) {
        let (Ok(found), Some(adjusted)) = (&mut one.found, adjusted) else { continue };
        found.p_adjusted = adjusted;
        found.is_shown = adjusted < study.settings.alpha;
        if found.is_shown {
            let rounds = if found.differences.len() == 2 { "both" } else { "all" };
            found.sentence = format!(
                "The difference between {candidate} and {target} on {} is not the same in {rounds} rounds, it moves by {:.1} {}: \
                 pots may differ.",
                one.attribute, found.size, study.scale.unit
            );
        }
    }
    shifts
}

/// Counts the tests of sample x round on all attributes together, by Holm.
pub fn adjust_over_attributes(found: &mut [Defined<ReplicateAnalysis>]) {
    let p = |one: &Defined<ReplicateAnalysis>| one.as_ref().ok().map(|one| one.sample_by_round.p);
    let adjusted = holm_where_known(&found.iter().map(p).collect::<Vec<_>>());
    for (one, adjusted) in found.iter_mut().zip(adjusted) {
        if let Ok(one) = one {
            one.sample_by_round_p_adjusted = adjusted;
        }
    }
}

fn shift(scores: &AttributeScores, candidate: &str, target: &str, round: Round) -> Defined<FoundShift> {
    let rows = differences(scores, candidate, target, round)?;
    let rounds = rows[0].len();
    let by_round: Vec<f64> =
        (0..rounds).map(|r| rows.iter().map(|row| row[r]).sum::<f64>() / rows.len() as f64).collect();
    let grand = by_round.iter().sum::<f64>() / rounds as f64;
    let (n, df) = (rows.len() as f64, rounds as f64 - 1.0);
    let between: f64 = by_round.iter().map(|mean| n * (mean - grand) * (mean - grand)).sum();
    let rest: f64 = rows
        .iter()
        .map(|row| {
            let own = row.iter().sum::<f64>() / rounds as f64;
            row.iter().zip(&by_round).map(|(value, mean)| (value - own - mean + grand).powi(2)).sum::<f64>()
        })
        .sum();
    if rest <= 0.0 {
        return Err(NotDefined::because("every assessor's difference moves alike, so nothing tells the noise"));
    }
    let test = FTest::of(between / df / (rest / (df * (n - 1.0))), df, df * (n - 1.0))?;
    let largest = by_round.iter().copied().fold(f64::MIN, f64::max);
    let smallest = by_round.iter().copied().fold(f64::MAX, f64::min);
    Ok(FoundShift {
        differences: by_round,
        size: largest - smallest,
        p_adjusted: test.p,
        test,
        is_shown: false,
        sentence: String::new(),
    })
}

/// `[assessor][round]`, only assessors with both samples in every round.
fn differences(scores: &AttributeScores, candidate: &str, target: &str, round: Round) -> Defined<Vec<Vec<f64>>> {
    let place = |name: &str| scores.samples.iter().position(|sample| sample == name);
    let (Some(candidate), Some(target)) = (place(candidate), place(target)) else {
        return Err(NotDefined::because("one of the two samples has no scores here"));
    };
    let mut cells: BTreeMap<u32, BTreeMap<u32, [Vec<f64>; 2]>> = BTreeMap::new();
    for observation in &scores.observations {
        let label = match round {
            Round::Replicate => Some(observation.replicate),
            Round::Session => observation.session,
        };
        let side = [candidate, target].iter().position(|sample| *sample == observation.sample as usize);
        let (Some(label), Some(side)) = (label, side) else { continue };
        cells.entry(label).or_default().entry(observation.assessor).or_default()[side].push(observation.score);
    }
    let own = |assessor: u32| -> Option<Vec<f64>> {
        let one = |by: &BTreeMap<u32, [Vec<f64>; 2]>| {
            let [candidate, target] = by.get(&assessor)?;
            Some(mean(candidate)? - mean(target)?)
        };
        cells.values().map(one).collect()
    };
    let rows: Vec<Vec<f64>> = (0..scores.assessors.len() as u32).filter_map(own).collect();
    if cells.len() < 2 {
        return Err(NotDefined::because("there is one round only"));
    }
    if rows.len() < 3 {
        return Err(NotDefined::because("it takes three assessors who scored both samples in every round"));
    }
    Ok(rows)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::{Scale, ScoreAddress, StudyBuilder};

    /// The target is 10 everywhere; X lies above it by these, an assessor a row, a round a column.
    fn study(above: &[[f64; 2]]) -> Study {
        let mut builder = StudyBuilder::new(Scale::default());
        for (assessor, rounds) in above.iter().enumerate() {
            let assessor = format!("J{assessor}");
            for (replicate, above) in (1..).zip(rounds) {
                for (sample, score) in [("T", 10.0), ("X", 10.0 + above)] {
                    let address = ScoreAddress { assessor: &assessor, sample, replicate, ..ScoreAddress::default() };
                    builder.add(address, "sweet", score).expect("every cell is new");
                }
            }
        }
        builder.finish("by hand")
    }

    #[test]
    fn two_rounds_are_a_paired_test() {
        // scipy 1.17.1: stats.ttest_rel([3, 5, 4, 8], [1, 2, 3, 6]) gives t 4.898979485566356, p .016276603459428555; t squared is 24.
        let found = difference_between_rounds(&study(&[[1.0, 3.0], [2.0, 5.0], [3.0, 4.0], [6.0, 8.0]]), "X", "T");
        let shift = found[0].found.as_ref().unwrap();
        assert!(
            (shift.test.f - 24.0).abs() < 1e-9 && (shift.test.p - 0.016_276_603_459_428_555).abs() < 1e-9,
            "{shift:?}"
        );
        assert_eq!((shift.size, shift.differences.as_slice()), (2.0, [3.0, 5.0].as_slice()));
        assert!(shift.is_shown && shift.sentence.contains("moves by 2.0 mm: pots may differ"), "{}", shift.sentence);
        // Turned round, the same with the signs turned.
        let found = difference_between_rounds(&study(&[[1.0, 3.0], [2.0, 5.0], [3.0, 4.0], [6.0, 8.0]]), "T", "X");
        assert_eq!(found[0].found.as_ref().unwrap().differences, [-3.0, -5.0]);
    }

    #[test]
    fn too_little_says_why() {
        let why = |found: &[RoundShift]| found[0].found.as_ref().unwrap_err().because.clone();
        let few = difference_between_rounds(&study(&[[1.0, 3.0], [2.0, 5.0]]), "X", "T");
        assert!(why(&few).contains("three assessors"));
        let unknown = difference_between_rounds(&study(&[[1.0, 3.0]]), "Y", "T");
        assert!(why(&unknown).contains("no scores here"));
    }
}
