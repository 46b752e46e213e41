//! Made-up panels whose truth is known. It knows no method.
//!
//! mark = typical level of the attribute + sample + assessor's level + assessor x sample + mood of the page + scatter,
//! kept on the line of 100 mm; attributes that few samples have lie near 0, where marks pile up.

use likeness_core::numeric::random::Random;
use likeness_core::numeric::tails::normal_upper;
use likeness_core::study::{Scale, ScoreAddress, Study, StudyBuilder};

const LINE_MM: f64 = 100.0;

/// Sizes, and standard deviations in mm.
#[derive(Clone, Copy, Debug)]
pub struct Panel {
    pub assessors: usize,
    pub samples: usize,
    pub attributes: usize,
    pub replicates: u32,
    pub sd_sample: f64,
    pub sd_level: f64,
    pub sd_interaction: f64,
    /// One for all attributes of a page.
    pub sd_mood: f64,
    pub sd_error: f64,
    /// Share of attributes that lie at 1 to 8 mm, where marks pile up at 0.
    pub weak_share: f64,
    /// How many times as widely as the others the first assessor scatters.
    pub first_scatters: f64,
    /// On how many lines, from the first on.
    pub first_scatters_on: usize,
    /// Assessors' scatter is even on 1 - uneven to 1 + uneven times the usual.
    pub uneven: f64,
    /// Marks are kept on the line and rounded to mm.
    pub on_the_line: bool,
    /// Every sample is served from one pot a replicate; pots scatter so much, each on each attribute.
    pub sd_pot: f64,
}

/// A usual panel.
pub const USUAL: Panel = Panel {
    assessors: 10,
    samples: 5,
    attributes: 12,
    replicates: 2,
    sd_sample: 12.0,
    sd_level: 8.0,
    sd_interaction: 5.0,
    sd_mood: 4.0,
    sd_error: 8.0,
    weak_share: 0.0,
    first_scatters: 1.0,
    first_scatters_on: usize::MAX,
    uneven: 0.0,
    on_the_line: true,
    sd_pot: 0.0,
};

/// A study and what is true of it.
pub struct MadeUp {
    pub study: Study,
    /// `[attribute][sample]`: mean mark over all assessors and cups there might be.
    pub true_means: Vec<Vec<f64>>,
}

impl Panel {
    /// The study of this seed: assessors J1.., samples S1.., attributes line 1...
    pub fn draw(&self, seed: u64) -> MadeUp {
        let mut random = Random::seeded_for(seed, "made-up panel");
        let n_weak = (self.weak_share * self.attributes as f64).round() as usize;
        let typical: Vec<f64> = (0..self.attributes)
            .map(|at| if at < n_weak { 1.0 + 7.0 * random.unit() } else { 45.0 + 14.0 * random.normal() })
            .collect();
        let normals = |n: usize, sd: f64, random: &mut Random| (0..n).map(|_| sd * random.normal()).collect::<Vec<_>>();
        let profiles: Vec<Vec<f64>> =
            (0..self.samples).map(|_| normals(self.attributes, self.sd_sample, &mut random)).collect();
        let mut others = Random::seeded_for(seed, "pots and orders");
        let mut pots = || normals(self.attributes, self.sd_pot, &mut others);
        let pots: Vec<Vec<Vec<f64>>> =
            (0..self.samples).map(|_| (0..self.replicates).map(|_| pots()).collect()).collect();
        let mut builder = StudyBuilder::new(Scale::default());
        for assessor in 0..self.assessors {
            let levels = normals(self.attributes, self.sd_level, &mut random);
            let orders: Vec<Vec<u32>> = (0..self.replicates).map(|_| self.order(&mut others)).collect();
            let scatter = self.scatter_of(assessor, &mut random);
            for (sample, profile) in profiles.iter().enumerate() {
                let own = normals(self.attributes, self.sd_interaction, &mut random);
                for replicate in 1..=self.replicates {
                    let round = replicate as usize - 1;
                    let mood = self.sd_mood * random.normal();
                    for at in 0..self.attributes {
                        let scatter = if at < self.first_scatters_on { scatter } else { 1.0 };
                        let error = scatter * self.sd_error * random.normal();
                        let mark = typical[at] + profile[at] + levels[at] + scatter * own[at] + mood + error;
                        let place = (assessor, sample, replicate, orders[round][sample]);
                        self.put(&mut builder, place, at, mark + pots[sample][round][at]);
                    }
                }
            }
        }
        let of = |at: usize| profiles.iter().map(|profile| self.true_mean(typical[at] + profile[at])).collect();
        MadeUp { study: builder.finish("made up"), true_means: (0..self.attributes).map(of).collect() }
    }

    fn scatter_of(&self, assessor: usize, random: &mut Random) -> f64 {
        let usual = 1.0 + self.uneven * (2.0 * random.unit() - 1.0);
        if assessor == 0 { self.first_scatters * usual } else { usual }
    }

    /// Serving positions of the samples, from 1, every order equally likely.
    fn order(&self, random: &mut Random) -> Vec<u32> {
        let mut order: Vec<u32> = (1..=self.samples as u32).collect();
        random.shuffle(&mut order);
        order
    }

    fn put(&self, builder: &mut StudyBuilder, place: (usize, usize, u32, u32), at: usize, mark: f64) {
        let (assessor, sample, replicate, position) = place;
        let position = Some(position);
        let (assessor, sample) = (format!("J{}", assessor + 1), format!("S{}", sample + 1));
        let address =
            ScoreAddress { assessor: &assessor, sample: &sample, replicate, position, ..ScoreAddress::default() };
        let score = if self.on_the_line { mark.clamp(0.0, LINE_MM).round() } else { mark };
        builder.add(address, &format!("line {}", at + 1), score).expect("every cell is new");
    }

    /// Mean of marks about `middle`, kept on the line; rounding leaves it where it is but for the very ends.
    fn true_mean(&self, middle: f64) -> f64 {
        if !self.on_the_line {
            return middle;
        }
        let parts = [self.sd_level, self.sd_interaction, self.sd_mood, self.sd_error];
        let sd = parts.iter().map(|sd| sd * sd).sum::<f64>().sqrt();
        middle + sd * (overshoot(middle / sd) - overshoot((LINE_MM - middle) / sd))
    }
}

/// Mean of what a standard normal falls short of -z by: density(z) - z (1 - distribution(z)).
fn overshoot(z: f64) -> f64 {
    (-0.5 * z * z).exp() / (2.0 * std::f64::consts::PI).sqrt() - z * normal_upper(z)
}
