//! What is true of the candidates that are simulated: differences in mm, attribute by attribute.

use super::marks::Attributes;
use likeness_core::numeric::random::Random;

/// What a candidate is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Truth {
    Duplicate,
    AllOffBy3,
    OneOffBy15,
    FiveOffBy15,
    Typical8,
}

pub const TRUTHS: [Truth; 5] =
    [Truth::Duplicate, Truth::AllOffBy3, Truth::OneOffBy15, Truth::FiveOffBy15, Truth::Typical8];

impl Truth {
    pub fn name(self) -> &'static str {
        match self {
            Truth::Duplicate => "duplicate",
            Truth::AllOffBy3 => "all ±3 mm",
            Truth::OneOffBy15 => "one off by 15",
            Truth::FiveOffBy15 => "five off by 15",
            Truth::Typical8 => "typical 8",
        }
    }

    /// True differences. Up or down by chance, but up where there is no room downwards.
    pub fn differences_mm(self, attributes: &Attributes, random: &mut Random) -> Vec<f64> {
        let count = attributes.count();
        let signs: Vec<f64> = (0..count).map(|at| sign(attributes, at, random)).collect();
        match self {
            Truth::Duplicate => vec![0.0; count],
            Truth::AllOffBy3 => signs.iter().map(|sign| 3.0 * sign).collect(),
            Truth::OneOffBy15 => some_off(&signs, 1, random),
            Truth::FiveOffBy15 => some_off(&signs, 5, random),
            Truth::Typical8 => {
                let raw: Vec<f64> = signs.iter().map(|sign| sign * random.normal().abs()).collect();
                of_typical_size(&raw, 8.0)
            }
        }
    }
}

fn sign(attributes: &Attributes, attribute: usize, random: &mut Random) -> f64 {
    if random.coin() || attributes.is_weak(attribute) { 1.0 } else { -1.0 }
}

fn some_off(signs: &[f64], how_many: usize, random: &mut Random) -> Vec<f64> {
    let mut which: Vec<usize> = (0..signs.len()).collect();
    random.shuffle(&mut which);
    let off = &which[..how_many.min(signs.len())];
    (0..signs.len()).map(|at| if off.contains(&at) { 15.0 * signs[at] } else { 0.0 }).collect()
}

/// A direction stretched to a root mean square of so many mm.
fn of_typical_size(direction: &[f64], size_mm: f64) -> Vec<f64> {
    let squares: f64 = direction.iter().map(|part| part * part).sum();
    let factor = size_mm * (direction.len() as f64 / squares).sqrt();
    direction.iter().map(|part| factor * part).collect()
}

/// In which direction a candidate differs by a typical difference.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Alignment {
    AllEqual,
    OneAttribute,
    FirstNoise,
    Random,
    HalfOfThem,
}

pub const ALIGNMENTS: [Alignment; 5] =
    [Alignment::AllEqual, Alignment::OneAttribute, Alignment::FirstNoise, Alignment::Random, Alignment::HalfOfThem];

impl Alignment {
    pub fn name(self) -> &'static str {
        match self {
            Alignment::AllEqual => "all equal",
            Alignment::OneAttribute => "one attribute",
            Alignment::FirstNoise => "first noise direction",
            Alignment::Random => "random",
            Alignment::HalfOfThem => "half of them equal",
        }
    }

    /// How many studies of it are simulated: more where claims are not rare.
    pub fn studies(self, at_least: u64) -> u64 {
        if matches!(self, Alignment::AllEqual | Alignment::FirstNoise) { 4 * at_least } else { at_least }
    }

    /// True differences with a root mean square of so many mm.
    pub fn differences_mm(self, size_mm: f64, attributes: &Attributes, random: &mut Random) -> Vec<f64> {
        let count = attributes.count();
        let one = random.below(count);
        let direction: Vec<f64> = match self {
            Alignment::AllEqual => vec![1.0; count],
            Alignment::OneAttribute => {
                (0..count).map(|at| if at == one { attributes.sign_with_room(at) } else { 0.0 }).collect()
            }
            Alignment::FirstNoise => attributes.first_noise_direction(random),
            Alignment::Random => (0..count).map(|at| sign(attributes, at, random) * random.normal().abs()).collect(),
            Alignment::HalfOfThem => (0..count).map(|at| f64::from(u8::from(at % 2 == 0))).collect(),
        };
        of_typical_size(&direction, size_mm)
    }
}
