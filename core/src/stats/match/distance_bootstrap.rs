//! How sure a distance is: whole assessors are drawn again and again, with all their scores, and the distance is taken
//! anew each time. The same draws serve all candidates, so that "A is closer than B" can be counted.
//!
//! Runs in slices: `start`, `advance` as often as wanted, `finish`. Any slicing gives the same result. It knows no
//! clock and no page.

pub use super::distance_found::{CandidateDistance, Closer, DistanceResampling, NoiseFloor, Ranked, WithinNoise};
pub use super::distance_options::ResamplingOptions;

use super::drawn_distance::{Squared, WeighedProfile};
use super::paired::{PairedAttribute, Pairing};
use super::sign_flip::{SignFlip, of_profiles};
use super::target_against_itself::{ReplicateFloor, replicate_floor};
use crate::numeric::bootstrap::{NoInterval, bca_interval};
use crate::numeric::portable::{normal_quantile, normal_upper};
use crate::numeric::random::Random;
use crate::run::{Reached, Run};
use crate::stats::results::{Defined, Interval, NotDefined};
use crate::study::{AttributeKind, Study};

/// A run that is under way.
#[derive(Clone, Debug)]
pub struct DistanceRun {
    options: ResamplingOptions,
    target: String,
    candidates: Vec<Candidate>,
    target_replicates: Defined<ReplicateFloor>,
    n_assessors: usize,
    random: Random,
    done: usize,
    redrawn: usize,
    /// One a candidate, in their order, found after the last draw.
    flips: Vec<Defined<SignFlip>>,
}

#[derive(Clone, Debug)]
struct Candidate {
    sample: String,
    /// Names of the attributes that went in.
    attributes: Vec<String>,
    /// `[attribute][assessor]`, candidate minus target.
    differences: Vec<Vec<Option<f64>>>,
    weighed: WeighedProfile,
    squared: Squared,
    /// One an accepted draw: squared distance with noise taken off, centred on the estimate.
    replicates: Vec<f64>,
}

/// Draws of panels between two looks at a clock.
const DRAWS_A_STEP: usize = 20;

impl Run for DistanceRun {
    type Found = DistanceResampling;

    fn step(&mut self) {
        self.advance(DRAWS_A_STEP);
    }

    fn reached(&self) -> Reached {
        Reached { done: self.done, wanted: self.options.draws }
    }

    /// After the draws each candidate takes a step of its own.
    fn is_done(&self) -> bool {
        DistanceRun::is_done(self)
    }

    fn finish(self) -> Defined<DistanceResampling> {
        Ok(DistanceRun::finish(self))
    }
}

impl DistanceRun {
    /// Prepares the run: distances over all analytic attributes scored on both samples, equal weights.
    ///
    /// Errors: no such target, no candidate with a distance, or fewer than three assessors.
    pub fn start(study: &Study, target: &str, options: ResamplingOptions) -> Defined<Self> {
        let pairing = Pairing::with(study, target, options.blind_duplicate.as_deref())
            .ok_or_else(|| NotDefined::because(format!("there is no sample called “{target}” to be the target")))?;
        if pairing.assessors.len() < 3 {
            return Err(NotDefined::because("it takes three assessors at least to draw assessors again"));
        }
        let analytic = study.active_attributes().into_iter();
        let analytic = analytic.filter(|index| study.attributes[*index].kind == AttributeKind::Analytic);
        let attributes: Vec<PairedAttribute> =
            analytic.map(|index| pairing.attribute(study, &study.attribute_scores(index))).collect();
        let candidates: Vec<Candidate> =
            (0..pairing.candidates.len()).filter_map(|at| Candidate::of(&pairing, &attributes, at)).collect();
        if candidates.is_empty() {
            return Err(NotDefined::because("no candidate was scored beside the target by two assessors or more"));
        }
        Ok(DistanceRun {
            random: Random::seeded_for(options.seed, "assessors"),
            target: target.to_owned(),
            target_replicates: replicate_floor(study, target),
            n_assessors: pairing.assessors.len(),
            options,
            candidates,
            done: 0,
            redrawn: 0,
            flips: Vec::new(),
        })
    }

    pub fn draws_done(&self) -> usize {
        self.done
    }

    pub fn draws_wanted(&self) -> usize {
        self.options.draws
    }

    pub fn is_done(&self) -> bool {
        self.is_drawn() && self.flips.len() == self.candidates.len()
    }

    fn is_drawn(&self) -> bool {
        // Data with many holes may refuse draw after draw; then the run ends with what it has.
        self.done >= self.options.draws || self.redrawn > 20 * self.options.draws
    }

    /// Makes up to `draws` more draws; after the last one, flips the signs of one more candidate.
    pub fn advance(&mut self, draws: usize) {
        if self.is_drawn() {
            if let Some(candidate) = self.candidates.get(self.flips.len()) {
                self.flips.push(of_profiles(&candidate.differences, self.options.seed));
            }
            return;
        }
        for _ in 0..draws {
            if self.is_drawn() {
                break;
            }
            self.draw_once();
        }
    }

    /// Runs to the end and sums up.
    pub fn finish(mut self) -> DistanceResampling {
        while !self.is_done() {
            self.advance(usize::MAX);
        }
        let sorted: Vec<Vec<f64>> = self
            .candidates
            .iter()
            .map(|candidate| {
                let mut replicates = candidate.replicates.clone();
                replicates.sort_by(f64::total_cmp);
                replicates
            })
            .collect();
        let results: Vec<CandidateDistance> =
            (0..self.candidates.len()).map(|index| self.sum_up(index, &sorted[index])).collect();
        DistanceResampling {
            closer: self.all_closer(),
            ranking: self.ranking(),
            noise_floor: self.options.blind_duplicate.as_ref().map(|name| self.noise_floor(name, &results)),
            candidates: results,
            target_replicates: self.target_replicates,
            target: self.target,
            draws: self.done,
            redrawn: self.redrawn,
            seed: self.options.seed,
            level: self.options.level,
            n_assessors: self.n_assessors,
            model: model_in_words(),
        }
    }

    /// One draw of as many assessors as there are, with replacement.
    fn draw_once(&mut self) {
        let mut weights = vec![0.0; self.n_assessors];
        for _ in 0..self.n_assessors {
            weights[self.random.below(self.n_assessors)] += 1.0;
        }
        let drawn: Option<Vec<Squared>> =
            self.candidates.iter().map(|candidate| candidate.weighed.squared(&weights)).collect();
        match drawn {
            None => self.redrawn += 1,
            Some(all) => {
                self.done += 1;
                for (candidate, drawn) in self.candidates.iter_mut().zip(all) {
                    // The draws scatter about the distance as it came, noise included: shift them back.
                    candidate.replicates.push(drawn.raw - drawn.noise - candidate.squared.noise);
                }
            }
        }
    }

    fn sum_up(&self, index: usize, sorted: &[f64]) -> CandidateDistance {
        let candidate = &self.candidates[index];
        let leave_one_out: Vec<f64> = (0..self.n_assessors)
            .filter_map(|out| {
                let mut weights = vec![1.0; self.n_assessors];
                weights[out] = 0.0;
                candidate.weighed.squared(&weights).map(Squared::adjusted)
            })
            .collect();
        let interval = bca_interval(candidate.squared.adjusted(), sorted, &leave_one_out, self.options.level)
            .map(|squares| Interval { lower: root(squares.lower), upper: root(squares.upper) })
            .map_err(no_interval);
        CandidateDistance {
            sample: candidate.sample.clone(),
            n_attributes: candidate.attributes.len(),
            distance: candidate.squared.raw.sqrt(),
            distance_adjusted: root(candidate.squared.adjusted()),
            interval,
            sign_flip: self.flips[index].clone(),
        }
    }

    fn all_closer(&self) -> Vec<Closer> {
        let pairs = self.candidates.iter().flat_map(|one| self.candidates.iter().map(move |other| (one, other)));
        pairs
            .filter(|(one, other)| one.sample != other.sample)
            .map(|(one, other)| {
                let share = share_closer(one, other);
                let another_panel = share.clone().and_then(|share| share_of_other_panels(share, self.done));
                Closer { sample: one.sample.clone(), than: other.sample.clone(), share, another_panel }
            })
            .collect()
    }

    fn ranking(&self) -> Vec<Ranked> {
        let closest = self.shares_closest();
        let mut order: Vec<usize> = (0..self.candidates.len()).collect();
        let key = |index: &usize| self.candidates[*index].squared.adjusted();
        order.sort_by(|a, b| key(a).total_cmp(&key(b)).then(a.cmp(b)));
        order
            .into_iter()
            .enumerate()
            .map(|(place, index)| Ranked {
                sample: self.candidates[index].sample.clone(),
                rank: place + 1,
                distance_adjusted: root(self.candidates[index].squared.adjusted()),
                share_closest: closest.clone().map(|shares| shares[index]),
            })
            .collect()
    }

    fn shares_closest(&self) -> Defined<Vec<f64>> {
        if self.candidates.iter().any(|candidate| candidate.attributes != self.candidates[0].attributes) {
            return Err(other_attributes());
        }
        if self.done == 0 {
            return Err(no_draws());
        }
        let mut counts = vec![0.0; self.candidates.len()];
        for draw in 0..self.done {
            let values: Vec<f64> = self.candidates.iter().map(|candidate| candidate.replicates[draw]).collect();
            let least = values.iter().copied().fold(f64::INFINITY, f64::min);
            let winners: Vec<usize> = (0..values.len()).filter(|index| values[*index] <= least).collect();
            winners.iter().for_each(|index| counts[*index] += 1.0 / winners.len() as f64);
        }
        Ok(counts.iter().map(|count| count / self.done as f64).collect())
    }

    fn noise_floor(&self, name: &str, results: &[CandidateDistance]) -> Defined<NoiseFloor> {
        let place = self.candidates.iter().position(|candidate| candidate.sample == name).ok_or_else(|| {
            NotDefined::because(format!("the blind duplicate “{name}” has no scores beside the target"))
        })?;
        let floor = &self.candidates[place];
        let within_noise = self
            .candidates
            .iter()
            .filter(|candidate| candidate.sample != name)
            .map(|candidate| WithinNoise { sample: candidate.sample.clone(), share: share_closer(candidate, floor) })
            .collect();
        Ok(NoiseFloor { duplicate: results[place].clone(), within_noise })
    }
}

impl Candidate {
    /// `None` where no attribute was scored on both samples by two assessors, or one of them by a single assessor.
    fn of(pairing: &Pairing, paired: &[PairedAttribute], at: usize) -> Option<Self> {
        let (mut attributes, mut differences) = (Vec::new(), Vec::new());
        for attribute in paired {
            let cups = pairing.cups_for(at);
            let row: Vec<Option<f64>> = attribute.means[at].iter().map(|own| own.difference(cups)).collect();
            if row.iter().any(Option::is_some) {
                attributes.push(attribute.name.clone());
                differences.push(row);
            }
        }
        let weighed = WeighedProfile::of(&differences, pairing.assessors.len());
        let squared = weighed.squared(&vec![1.0; pairing.assessors.len()])?;
        let sample = pairing.candidates[at].sample.clone();
        let one = Candidate { sample, attributes, differences, weighed, squared, replicates: Vec::new() };
        (!one.attributes.is_empty()).then_some(one)
    }
}

fn share_closer(one: &Candidate, other: &Candidate) -> Defined<f64> {
    if one.attributes != other.attributes {
        return Err(other_attributes());
    }
    if one.replicates.is_empty() {
        return Err(no_draws());
    }
    let wins: f64 = one
        .replicates
        .iter()
        .zip(&other.replicates)
        .map(|(one, other)| if one < other { 1.0 } else { f64::from(u8::from(one <= other)) * 0.5 })
        .sum();
    Ok(wins / one.replicates.len() as f64)
}

/// How often another panel would find the same order. A share of none or all of the draws counts as half a draw from it.
fn share_of_other_panels(share: f64, draws: usize) -> Defined<f64> {
    let least = 0.5 / draws as f64;
    let z = normal_quantile(share.clamp(least, 1.0 - least));
    z.map(|z| normal_upper(-z / std::f64::consts::SQRT_2))
        .ok_or_else(|| NotDefined::because("the share of draws is out of range"))
}

fn root(squared: f64) -> f64 {
    squared.max(0.0).sqrt()
}

fn other_attributes() -> NotDefined {
    NotDefined::because("the candidates were not scored on the same attributes")
}

fn no_draws() -> NotDefined {
    NotDefined::because("too few assessors scored both samples to draw them again")
}

fn no_interval(reason: NoInterval) -> NotDefined {
    match reason {
        NoInterval::TooFew => no_draws(),
        NoInterval::OneSided => {
            NotDefined::because("all draws lie on one side of the distance, so its bias can't be told")
        }
        NoInterval::Constant => NotDefined::because("every draw gave the same distance"),
    }
}

fn model_in_words() -> String {
    "Whole assessors drawn with replacement, the same draws for all candidates. Squared distance over the attributes \
     of one character with the squared standard errors taken off; draws centred on the estimate."
        .to_owned()
}
