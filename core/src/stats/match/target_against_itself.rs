//! The target against itself: its odd replicates against its even ones, two blind cups of the same thing.
//!
//! What this panel makes of no difference, where no second code of the target was served. Both cups are the target, so
//! assessors' own differences between samples are not in it: only scatter within assessors and what changes from one
//! replicate to the next. What changes for all samples of an assessor alike, such as the level of a round, is taken off: a
//! candidate is held against the target within the same rounds, so it lies in no distance to a candidate either.

use crate::numeric::describe::mean;
use crate::stats::results::{Defined, NotDefined};
use crate::study::{AttributeKind, AttributeScores, Study};
use serde::Serialize;

/// Distance between the two halves of the target's replicates, in units of the scale.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ReplicateFloor {
    /// Root of the summed squared mean differences, as it comes.
    pub distance: f64,
    /// The same as it would be between two samples with all replicates each, as candidates and target are.
    pub distance_of_means: f64,
    /// Analytic attributes that went in.
    pub n_attributes: usize,
    /// Most replicates of the target that one assessor scored.
    pub n_replicates: usize,
}

/// One attribute: the mean difference between the halves, and how much less whole means would scatter.
struct Halves {
    difference: f64,
    /// Variance of a difference between two whole means over that of the difference between the halves.
    variance_ratio: f64,
    most_replicates: usize,
}

/// Means over assessors of (odd replicates - even replicates) of the target, less the same of all samples, squared and
/// summed over the analytic attributes.
///
/// For an assessor with n_o odd and n_e even replicates the difference scatters by 1/n_o + 1/n_e times the variance
/// within assessors; that between two samples of n_o + n_e replicates by 2/(n_o + n_e) times. With two replicates the
/// second distance is the first over the root of two. Taking off the mean over J samples, the target among them, leaves
/// (J - 1)/J of the variance, which is put back.
///
/// Errors: no such target, or no assessor scored it and another sample twice on any analytic attribute.
pub fn replicate_floor(study: &Study, target: &str) -> Defined<ReplicateFloor> {
    let mut floor = ReplicateFloor { distance: 0.0, distance_of_means: 0.0, n_attributes: 0, n_replicates: 0 };
    for index in study.active_attributes() {
        if study.attributes[index].kind != AttributeKind::Analytic {
            continue;
        }
        let scores = study.attribute_scores(index);
        let sample = scores
            .sample_index(target)
            .ok_or_else(|| NotDefined::because(format!("there is no sample called “{target}” to be the target")))?;
        let Some(halves) = halves_of(&scores, sample) else { continue };
        floor.n_attributes += 1;
        floor.n_replicates = floor.n_replicates.max(halves.most_replicates);
        let squared = halves.difference * halves.difference;
        floor.distance += squared;
        floor.distance_of_means += squared * halves.variance_ratio;
    }
    if floor.n_attributes == 0 {
        return Err(NotDefined::because("no assessor scored the target and another sample more than once"));
    }
    floor.distance = floor.distance.sqrt();
    floor.distance_of_means = floor.distance_of_means.sqrt();
    Ok(floor)
}

/// Sum less a first score, and count, of one half of the replicates.
type Half = (f64, usize);

/// `None` where no assessor scored the sample, and another one beside it, in both halves.
fn halves_of(scores: &AttributeScores, sample: usize) -> Option<Halves> {
    let width = scores.samples.len();
    let shift = scores.observations.first()?.score;
    let mut cells: Vec<[Half; 2]> = vec![[(0.0, 0); 2]; scores.assessors.len() * width];
    for one in &scores.observations {
        let cell = &mut cells[one.assessor as usize * width + one.sample as usize];
        let (sum, count) = &mut cell[usize::from(one.replicate % 2 == 0)];
        *sum += one.score - shift;
        *count += 1;
    }
    let (mut differences, mut of_halves, mut of_means, mut most_replicates) = (Vec::new(), 0.0, 0.0, 0);
    for row in cells.chunks_exact(width) {
        let all: Vec<f64> = row.iter().filter_map(between_halves).collect();
        let (Some(own), Some(round)) = (between_halves(&row[sample]), mean(&all).filter(|_| all.len() > 1)) else {
            continue;
        };
        let samples = all.len() as f64;
        differences.push((own - round) * (samples / (samples - 1.0)).sqrt());
        let [(_, odd), (_, even)] = row[sample];
        let (a, b) = (odd as f64, even as f64);
        of_halves += 1.0 / a + 1.0 / b;
        of_means += 2.0 / (a + b);
        most_replicates = most_replicates.max(odd + even);
    }
    let difference = mean(&differences)?;
    Some(Halves { difference, variance_ratio: of_means / of_halves, most_replicates })
}

/// Mean of the odd replicates less that of the even ones; `None` without both.
fn between_halves([(odd, n_odd), (even, n_even)]: &[Half; 2]) -> Option<f64> {
    (*n_odd > 0 && *n_even > 0).then(|| odd / *n_odd as f64 - even / *n_even as f64)
}
