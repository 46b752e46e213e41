//! What panels drawn again say of distances to the target. Plain values; nothing here computes.

use super::sign_flip::SignFlip;
use super::target_against_itself::ReplicateFloor;
use crate::stats::results::{Defined, Interval};
use serde::Serialize;

/// What came out.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DistanceResampling {
    pub target: String,
    pub draws: usize,
    /// Draws thrown away because a sample was left with fewer than two assessors; none in complete data.
    pub redrawn: usize,
    pub seed: u64,
    pub level: f64,
    pub n_assessors: usize,
    /// In the order of the study.
    pub candidates: Vec<CandidateDistance>,
    /// Every ordered pair of candidates.
    pub closer: Vec<Closer>,
    /// From close to far.
    pub ranking: Vec<Ranked>,
    pub noise_floor: Option<Defined<NoiseFloor>>,
    /// The target's own replicates against each other.
    pub target_replicates: Defined<ReplicateFloor>,
    pub model: String,
}

/// Distance of one candidate to the target, in units of the scale.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CandidateDistance {
    pub sample: String,
    pub n_attributes: usize,
    /// As it comes, noise included.
    pub distance: f64,
    /// After taking off what noise alone would add.
    pub distance_adjusted: f64,
    /// Interval of `distance_adjusted`, bias-corrected and accelerated.
    pub interval: Defined<Interval>,
    /// Exact or random sign-flip test of the whole profile against "same as the target".
    pub sign_flip: Defined<SignFlip>,
}

/// How often one candidate came out closer to the target than another.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Closer {
    pub sample: String,
    pub than: String,
    /// Share of draws, ties counted half; 1 means in every draw.
    pub share: Defined<f64>,
    /// How often another panel of this kind would find the same order, about: Phi(z / root of 2) where Phi(z) is `share`,
    /// because the other panel has scatter of its own.
    pub another_panel: Defined<f64>,
}

/// A place in the ranking.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Ranked {
    pub sample: String,
    /// From 1, the closest.
    pub rank: usize,
    pub distance_adjusted: f64,
    /// Share of draws in which this one was the closest, ties shared out.
    pub share_closest: Defined<f64>,
}

/// What this panel makes of the target tasted twice.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct NoiseFloor {
    pub duplicate: CandidateDistance,
    /// For every other candidate: share of draws in which it was no farther from the target than the duplicate.
    pub within_noise: Vec<WithinNoise>,
}

/// How often a candidate was no farther than the blind duplicate.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WithinNoise {
    pub sample: String,
    pub share: Defined<f64>,
}
