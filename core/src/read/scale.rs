//! The scale of a study from its scores, and the scores that lie outside it.

use super::ReadOptions;
use super::notes::Notes;
use super::sentences as say;
use crate::notice::Place;
use crate::study::{Scale, Study};

/// High ends of scales in use besides the 100 mm line (common practice).
const LINES: [f64; 3] = [10.0, 15.0, 20.0];
const CATEGORIES: [f64; 6] = [5.0, 7.0, 9.0, 10.0, 15.0, 20.0];

/// Codes for "no score" that must not pass for the top of a scale.
const CODES: [f64; 2] = [99.0, 999.0];

/// What a scale was found to be, with the highest score that speaks for it.
pub(super) struct FoundScale {
    pub scale: Scale,
    pub highest: f64,
}

/// The stated scale, or the one that the scores speak for: 100 where more than a few exceed 20.
pub(super) fn find(study: &Study, options: &ReadOptions) -> FoundScale {
    let scores = all_scores(study);
    let highest = scores.iter().copied().filter(|score| !CODES.contains(score)).fold(0.0, f64::max);
    let mut scale = Scale::up_to(options.scale_maximum.filter(|top| *top > 0.0).unwrap_or_else(|| guess(&scores)));
    let from_one = options.scale_maximum.is_none() && starts_at_one(&scores, scale.maximum);
    scale.minimum = options.scale_minimum.unwrap_or(if from_one { 1.0 } else { 0.0 });
    FoundScale { scale, highest }
}

/// The smallest usual maximum with no score between it and its double: what lies beyond that is a slip of the pen,
/// and slips are few (one, or one in a hundred).
fn guess(scores: &[f64]) -> f64 {
    let counted: Vec<f64> = scores.iter().copied().filter(|score| !CODES.contains(score)).collect();
    let slips = (counted.len() / 100).max(usize::from(counted.len() >= 30));
    let whole = counted.iter().all(|score| score.fract().abs() < 1e-9);
    let candidates: &[f64] = if whole { &CATEGORIES } else { &LINES };
    let fits = |maximum: &&f64| {
        let above = counted.iter().filter(|score| *score > *maximum).count();
        let near = counted.iter().any(|score| *score > **maximum && *score <= 2.0 * **maximum);
        above <= slips && !near
    };
    candidates.iter().find(fits).copied().unwrap_or(100.0)
}

/// Whole numbers from 1 up to an odd maximum are categories counted from 1.
fn starts_at_one(scores: &[f64], maximum: f64) -> bool {
    let whole =
        scores.iter().filter(|score| **score <= maximum).all(|score| score.fract().abs() < 1e-9 && *score >= 1.0);
    whole && [5.0, 7.0, 9.0].iter().any(|odd| (odd - maximum).abs() < 1e-9)
}

/// Scores outside the scale become missing, each of them told.
pub(super) fn leave_out(study: &mut Study, notes: &mut Notes) {
    let mut outside = Vec::new();
    for attribute in 0..study.attributes.len() {
        for serving in 0..study.servings.len() {
            match study.score(serving, attribute) {
                Some(score) if !study.scale.contains(score) => {
                    let origin = study.origin(serving, attribute).unwrap_or_default();
                    outside.push((origin.row, origin.column, serving, attribute, score));
                }
                _ => {}
            }
        }
    }
    outside.sort_by_key(|found| (found.0, found.1));
    let file = study.files.first().map_or(String::new(), |file| file.name.clone());
    for (row, column, serving, attribute, score) in outside {
        study.set_score(serving, attribute, None);
        let place = Place::file(&file).row(row).column(u32::from(column), &study.attributes[attribute].name);
        notes.at(place, say::out_of_scale(score, study.scale.minimum, study.scale.maximum));
    }
}

fn all_scores(study: &Study) -> Vec<f64> {
    let attributes = 0..study.attributes.len();
    attributes
        .flat_map(|attribute| (0..study.servings.len()).filter_map(move |serving| study.score(serving, attribute)))
        .collect()
}
