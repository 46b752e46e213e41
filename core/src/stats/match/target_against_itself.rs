//! The target against itself: its odd replicates against its even ones, two blind cups of the same thing.
//!
//! What this panel makes of no difference, where no second code of the target was served. Both cups are the target, so
//! assessors' own differences between samples are not in it: only scatter within assessors and what changes from one
//! replicate to the next.

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

/// Means over assessors of (odd replicates - even replicates) of the target, squared and summed over the analytic
/// attributes.
///
/// For an assessor with n_o odd and n_e even replicates the difference scatters by 1/n_o + 1/n_e times the variance
/// within assessors; that between two samples of n_o + n_e replicates by 2/(n_o + n_e) times. With two replicates the
/// second distance is the first over the root of two.
///
/// Errors: no such target, or no assessor scored it twice on any analytic attribute.
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
        return Err(NotDefined::because("no assessor scored the target more than once"));
    }
    floor.distance = floor.distance.sqrt();
    floor.distance_of_means = floor.distance_of_means.sqrt();
    Ok(floor)
}

/// `None` where no assessor scored the sample in both halves.
fn halves_of(scores: &AttributeScores, sample: usize) -> Option<Halves> {
    // `[assessor][odd, even]`: sum less the first score of the sample, and count.
    let mut cells = vec![[(0.0_f64, 0_usize); 2]; scores.assessors.len()];
    let of_sample = || scores.observations.iter().filter(|one| one.sample as usize == sample);
    let shift = of_sample().next()?.score;
    for one in of_sample() {
        let (sum, count) = &mut cells[one.assessor as usize][usize::from(one.replicate % 2 == 0)];
        *sum += one.score - shift;
        *count += 1;
    }
    let (mut differences, mut of_halves, mut of_means, mut most_replicates) = (Vec::new(), 0.0, 0.0, 0);
    for [(odd, n_odd), (even, n_even)] in cells {
        if n_odd == 0 || n_even == 0 {
            continue;
        }
        let (a, b) = (n_odd as f64, n_even as f64);
        differences.push(odd / a - even / b);
        of_halves += 1.0 / a + 1.0 / b;
        of_means += 2.0 / (a + b);
        most_replicates = most_replicates.max(n_odd + n_even);
    }
    let difference = crate::numeric::describe::mean(&differences)?;
    Some(Halves { difference, variance_ratio: of_means / of_halves, most_replicates })
}
