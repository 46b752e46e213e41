//! Made-up marks on a line of 100 mm: how assessors, samples and chance make them. It knows no verdict.
//!
//! mark = level + assessor's offset + halo + assessor x sample + error of the replicate, cut off at 0 and 100. The two
//! servings of an assessor follow one law, so that without a true difference they are exchangeable even where marks pile
//! up at 0.

use likeness_core::numeric::eigen;
use likeness_core::numeric::random::Random;
use std::cell::OnceCell;

const LINE_MM: f64 = 100.0;
/// Standard deviation of the assessors' offsets: their own use of the line.
const OFFSET_SD_MM: f64 = 8.0;
/// Share of the scatter that a second, bipolar halo takes where there is one: it moves some attributes up, others down.
const BIPOLAR_SHARE: f64 = 0.15;
/// Share of the scatter of an assessor's difference that is assessor x sample; the rest is error of the replicates.
const INTERACTION_SHARE: f64 = 0.4;
/// Draws for the mean of a mark at some level.
const LEVEL_DRAWS: usize = 3000;

/// What the marks of one kind of study share.
#[derive(Clone, Copy, Debug)]
pub struct Law {
    pub name: &'static str,
    /// Share of attributes with a level of 2 to 10 mm, where marks pile up at 0; the others lie at 25 to 70 mm.
    pub weak_share: f64,
    /// Correlation of an assessor's differences between attributes.
    pub halo: f64,
    /// Whether a second halo moves attributes against each other.
    pub bipolar: bool,
    pub replicates: u32,
    /// Scatter as Student's t on 3 degrees of freedom has it.
    pub heavy_tails: bool,
    /// Chance that a mark is put anywhere on the line.
    pub slips: f64,
    /// Chance that a difference is missing.
    pub missing: f64,
}

/// Marks far from both ends of the line.
pub const NORMAL: Law = Law {
    name: "normal",
    weak_share: 0.0,
    halo: 0.3,
    bipolar: false,
    replicates: 2,
    heavy_tails: false,
    slips: 0.0,
    missing: 0.0,
};
/// The laws of the table.
pub const LAWS: [Law; 4] = [
    NORMAL,
    Law { name: "clamped at 0", weak_share: 0.3, ..NORMAL },
    Law { name: "heavy tails", weak_share: 0.3, heavy_tails: true, slips: 0.01, ..NORMAL },
    Law { name: "missing", weak_share: 0.3, missing: 0.05, ..NORMAL },
];
/// The four laws that the specification's own table of power is a mean over.
pub const SPECIFIED: [Law; 4] = [
    Law { name: "A", weak_share: 0.3, ..NORMAL },
    Law { name: "B", weak_share: 0.3, heavy_tails: true, slips: 0.01, missing: 0.03, ..NORMAL },
    Law { name: "C", weak_share: 0.6, halo: 0.0, replicates: 1, ..NORMAL },
    Law { name: "D", weak_share: 0.3, halo: 0.5, bipolar: true, ..NORMAL },
];

/// A list of attributes: where they lie on the line, and how much an assessor's difference on each scatters.
#[derive(Clone, Debug)]
pub struct Attributes {
    law: Law,
    level_mm: Vec<f64>,
    /// Standard deviation of one serving about the assessor's level: that of a difference is sqrt(2) times as large.
    sd_mm: Vec<f64>,
    /// Which way a bipolar halo moves each attribute.
    poles: Vec<f64>,
    /// Marks without a difference, sorted, one list an attribute that was asked for: for the mean of a mark when the
    /// level is moved.
    marks: Vec<OnceCell<SortedMarks>>,
    marks_seed: u64,
}

/// What moves one serving's marks on all attributes together.
struct Common {
    halo: f64,
    bipolar: f64,
}

/// Marks before they are cut off, sorted, with their running sums.
#[derive(Clone, Debug)]
struct SortedMarks {
    sorted: Vec<f64>,
    sums: Vec<f64>,
}

impl Law {
    /// A deviate with standard deviation 1.
    fn deviate(&self, random: &mut Random) -> f64 {
        let z = random.normal();
        if !self.heavy_tails {
            return z;
        }
        // Student's t on 3 degrees of freedom over its standard deviation, sqrt(3).
        let squares: f64 = (0..3).map(|_| random.normal().powi(2)).sum();
        z / squares.sqrt()
    }
}

impl Attributes {
    /// Draws a list: scatter of a difference even on 9 to 16 mm.
    pub fn draw(law: Law, count: usize, random: &mut Random) -> Self {
        let between = |low: f64, high: f64, random: &mut Random| low + (high - low) * random.unit();
        let mut weak: Vec<bool> = (0..count).map(|at| at < (law.weak_share * count as f64).round() as usize).collect();
        random.shuffle(&mut weak);
        let level = |weak: &bool| if *weak { between(2.0, 10.0, random) } else { between(25.0, 70.0, random) };
        let level_mm: Vec<f64> = weak.iter().map(level).collect();
        let sd_mm: Vec<f64> = (0..count).map(|_| between(9.0, 16.0, random) / 2.0_f64.sqrt()).collect();
        let poles = (0..count).map(|_| if random.coin() { 1.0 } else { -1.0 }).collect();
        let marks = vec![OnceCell::new(); count];
        Attributes { law, level_mm, sd_mm, poles, marks, marks_seed: random.bits() }
    }

    /// One attribute at this level, whose differences scatter by so much.
    pub fn single(law: Law, level_mm: f64, sd_of_difference_mm: f64, random: &mut Random) -> Self {
        Attributes {
            law,
            level_mm: vec![level_mm],
            sd_mm: vec![sd_of_difference_mm / 2.0_f64.sqrt()],
            poles: vec![1.0],
            marks: vec![OnceCell::new()],
            marks_seed: random.bits(),
        }
    }

    /// Share of the marks of the first attribute at 0, without a difference, from 4,000 assessors.
    pub fn share_at_zero(&self, random: &mut Random) -> f64 {
        let one_mark = Attributes { law: Law { replicates: 1, ..self.law }, ..self.clone() };
        let still = vec![0.0; self.count()];
        let at_zero = (0..4000).filter(|_| one_mark.assessor(&[&still], random)[0][0] <= 0.0).count();
        at_zero as f64 / 4000.0
    }

    pub fn count(&self) -> usize {
        self.level_mm.len()
    }

    /// The direction in which a difference has room on the line: away from the nearer end.
    pub fn sign_with_room(&self, attribute: usize) -> f64 {
        if self.level_mm[attribute] < 0.5 * LINE_MM { 1.0 } else { -1.0 }
    }

    /// Whether marks pile up at 0, so that there is no room downwards.
    pub fn is_weak(&self, attribute: usize) -> bool {
        self.level_mm[attribute] < 20.0
    }

    /// Share of the scatter that is each attribute's own.
    fn own_share(&self) -> f64 {
        1.0 - self.law.halo - if self.law.bipolar { BIPOLAR_SHARE } else { 0.0 }
    }

    fn common(&self, random: &mut Random) -> Common {
        let halo = self.law.halo.sqrt() * random.normal();
        Common { halo, bipolar: if self.law.bipolar { BIPOLAR_SHARE.sqrt() * random.normal() } else { 0.0 } }
    }

    /// Where the replicates of one serving scatter about.
    fn middle_mm(&self, attribute: usize, base_mm: f64, common: &Common, random: &mut Random) -> f64 {
        let interaction = (INTERACTION_SHARE * self.own_share()).sqrt() * self.law.deviate(random);
        base_mm + self.sd_mm[attribute] * (common.halo + self.poles[attribute] * common.bipolar + interaction)
    }

    /// Error of one replicate: as much as leaves a serving the same scatter whatever the number of replicates.
    fn error_mm(&self, attribute: usize, random: &mut Random) -> f64 {
        let share = (1.0 - INTERACTION_SHARE) * self.own_share() * f64::from(self.law.replicates);
        self.sd_mm[attribute] * share.sqrt() * self.law.deviate(random)
    }

    fn marks_of(&self, attribute: usize) -> &SortedMarks {
        self.marks[attribute].get_or_init(|| {
            let mut random = Random::seeded(self.marks_seed.wrapping_add(attribute as u64));
            let mark = |_| {
                let base_mm = self.level_mm[attribute] + OFFSET_SD_MM * random.normal();
                let common = self.common(&mut random);
                self.middle_mm(attribute, base_mm, &common, &mut random) + self.error_mm(attribute, &mut random)
            };
            SortedMarks::new((0..LEVEL_DRAWS).map(mark).collect())
        })
    }

    /// How far each level must be moved for the wanted mean differences; as far as the line goes where that is too far.
    pub fn moved_for(&self, differences_mm: &[f64]) -> Vec<f64> {
        let one = |(attribute, wanted): (usize, &f64)| {
            if wanted.abs() <= 0.0 {
                return 0.0;
            }
            let marks = self.marks_of(attribute);
            let (mut low, mut high) = (-LINE_MM, LINE_MM);
            let start = marks.mean_when_moved(0.0);
            for _ in 0..50 {
                let middle = 0.5 * (low + high);
                let reached = (1.0 - self.law.slips) * (marks.mean_when_moved(middle) - start);
                if reached < *wanted { low = middle } else { high = middle }
            }
            0.5 * (low + high)
        };
        differences_mm.iter().enumerate().map(one).collect()
    }

    /// Marks of one assessor, means over replicates: `[serving][attribute]`, each serving's levels moved by so much.
    pub fn assessor(&self, moved_mm: &[&[f64]], random: &mut Random) -> Vec<Vec<f64>> {
        let base: Vec<f64> = self.level_mm.iter().map(|level| level + OFFSET_SD_MM * random.normal()).collect();
        moved_mm.iter().map(|moved| self.serving(&base, moved, random)).collect()
    }

    fn serving(&self, base_mm: &[f64], moved_mm: &[f64], random: &mut Random) -> Vec<f64> {
        let common = self.common(random);
        let mark = |at: usize| {
            let middle = self.middle_mm(at, base_mm[at] + moved_mm[at], &common, random);
            let mut sum = 0.0;
            for _ in 0..self.law.replicates {
                let mark = middle + self.error_mm(at, random);
                let slipped = self.law.slips > 0.0 && random.unit() < self.law.slips;
                sum += if slipped { LINE_MM * random.unit() } else { mark.clamp(0.0, LINE_MM) };
            }
            sum / f64::from(self.law.replicates)
        };
        (0..self.count()).map(mark).collect()
    }

    /// Differences of a panel to the target, `[assessor][attribute]`, some of them missing where the law says so.
    pub fn differences(&self, assessors: usize, moved_mm: &[f64], random: &mut Random) -> Vec<Vec<Option<f64>>> {
        let still = vec![0.0; self.count()];
        let row = |_| {
            let servings = self.assessor(&[&still, moved_mm], random);
            let difference = |at: usize| (!self.is_lost(random)).then(|| servings[1][at] - servings[0][at]);
            (0..self.count()).map(difference).collect()
        };
        (0..assessors).map(row).collect()
    }

    /// Whether the next value is missing.
    pub fn is_lost(&self, random: &mut Random) -> bool {
        self.law.missing > 0.0 && random.unit() < self.law.missing
    }

    /// Direction in which the differences of assessors scatter most, unit length, from 1,000 assessors.
    pub fn first_noise_direction(&self, random: &mut Random) -> Vec<f64> {
        let still = vec![0.0; self.count()];
        let servings: Vec<Vec<Vec<f64>>> = (0..1000).map(|_| self.assessor(&[&still, &still], random)).collect();
        let difference = |pair: &Vec<Vec<f64>>, at: usize| pair[1][at] - pair[0][at];
        let covariance =
            |a: usize, b: usize| servings.iter().map(|pair| difference(pair, a) * difference(pair, b)).sum();
        let matrix: Vec<Vec<f64>> =
            (0..self.count()).map(|a| (0..self.count()).map(|b| covariance(a, b)).collect()).collect();
        let direction = eigen::symmetric(&matrix).expect("a covariance is symmetric").vectors.swap_remove(0);
        let sign = if direction.iter().sum::<f64>() < 0.0 { -1.0 } else { 1.0 };
        direction.iter().map(|part| sign * part).collect()
    }
}

impl SortedMarks {
    fn new(mut marks: Vec<f64>) -> Self {
        marks.sort_by(f64::total_cmp);
        let sums = std::iter::once(0.0).chain(marks.iter().scan(0.0, |sum, mark| {
            *sum += mark;
            Some(*sum)
        }));
        SortedMarks { sums: sums.collect(), sorted: marks }
    }

    /// Mean of all marks, moved and then cut off at the ends of the line.
    fn mean_when_moved(&self, by_mm: f64) -> f64 {
        let at_bottom = self.sorted.partition_point(|mark| mark + by_mm <= 0.0);
        let below_top = self.sorted.partition_point(|mark| mark + by_mm < LINE_MM);
        let inside = self.sums[below_top] - self.sums[at_bottom] + by_mm * (below_top - at_bottom) as f64;
        (inside + LINE_MM * (self.sorted.len() - below_top) as f64) / self.sorted.len() as f64
    }
}
