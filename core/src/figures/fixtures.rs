//! Analyses for the tests of figures: made up from a seed, and one written by hand. Invented throughout.

use crate::stats::{
    Analysis, AttributeAnalysis, CandidateAnalysis, Defined, DifferenceTest, Interval, MeanSpread, NotDefined,
    SampleMean, TargetDifference, Verdict,
};
use crate::study::{AttributeKind, Scale, ScoreAddress, Study, StudyBuilder};

/// What a made-up analysis is like.
#[derive(Clone, Copy, Debug)]
pub struct Invented {
    pub seed: u64,
    pub attributes: usize,
    pub samples: usize,
    pub flavour: Flavour,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Flavour {
    Usual,
    /// Every score the same.
    Constant,
    /// No interval on anything.
    NothingDefined,
    /// Some means and differences missing, margins of their own, very long and very odd names.
    Ragged,
    NoTarget,
}

const NAMES: [&str; 40] = [
    "fresh mango",
    "ripe",
    "green",
    "cooked fruit",
    "peach",
    "pine resin",
    "sweet",
    "sour",
    "astringent",
    "pulpy",
    "floral",
    "citrus peel",
    "fermented",
    "caramel",
    "coconut",
    "grassy",
    "sulphury",
    "apricot",
    "honey",
    "vanilla",
    "metallic",
    "bitter",
    "woody",
    "dried fruit",
    "passion fruit",
    "creamy",
    "watery",
    "thick",
    "fibrous",
    "cardboard",
    "banana",
    "pineapple",
    "melon",
    "tomato leaf",
    "almond",
    "soapy",
    "warm spice",
    "lactic",
    "aftertaste length",
    "true to fruit in its whole character",
];

/// Numbers that look random, the same for the same seed (Steele, Lea & Flood 2014, SplitMix64).
pub struct Chance(pub u64);

impl Chance {
    pub fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((mixed ^ (mixed >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }

    pub fn between(&mut self, lower: f64, upper: f64) -> f64 {
        lower + self.share() * (upper - lower)
    }

    pub fn below(&mut self, count: usize) -> usize {
        ((self.share() * count as f64) as usize).min(count.saturating_sub(1))
    }
}

pub fn invented(wish: Invented) -> Analysis {
    let mut chance = Chance(wish.seed);
    let samples: Vec<String> = (0..wish.samples).map(|place| sample_name(place, wish.flavour)).collect();
    let has_target = wish.flavour != Flavour::NoTarget && !samples.is_empty();
    let target = has_target.then(|| samples[0].clone());
    let attributes: Vec<AttributeAnalysis> =
        (0..wish.attributes).map(|place| attribute(&mut chance, wish, place, &samples, target.is_some())).collect();
    let candidates =
        if has_target { samples[1..].iter().map(|name| candidate(name, &attributes)).collect() } else { vec![] };
    Analysis {
        target_again: None,
        cups: crate::stats::r#match::target_cups::TargetCups::Named,
        profile_share: 0.7,
        unit: "mm".to_owned(),
        scale_maximum: 100.0,
        alpha: 0.05,
        target,
        margin: 10.0,
        samples,
        assessors: (1..=10).map(|number| format!("A{number}")).collect(),
        attributes,
        candidates,
        notices: Vec::new(),
        late: None,
    }
}

fn sample_name(place: usize, flavour: Flavour) -> String {
    match (flavour, place) {
        (Flavour::Ragged, 2) => "A candidate whose name goes on and on, lot 2024-11 <b>&amp;".to_owned(),
        (_, 0) => "Fresh mango nectar".to_owned(),
        _ => format!("Candidate {}", char::from(b'A' + (place as u8 - 1) % 26)),
    }
}

fn attribute(
    chance: &mut Chance,
    wish: Invented,
    place: usize,
    samples: &[String],
    with_target: bool,
) -> AttributeAnalysis {
    let is_ragged = wish.flavour == Flavour::Ragged;
    let level = chance.between(8.0, 62.0);
    let true_means: Vec<f64> = samples
        .iter()
        .enumerate()
        .map(|(sample, _)| match wish.flavour {
            Flavour::Constant => 50.0,
            _ if sample == 0 => level,
            _ => (level + chance.between(-1.0, 1.0) * if chance.share() < 0.3 { 26.0 } else { 7.0 }).clamp(0.0, 100.0),
        })
        .collect();
    let se = if wish.flavour == Flavour::Constant { 0.0 } else { chance.between(1.5, 4.0) };
    let kept: Vec<bool> = samples.iter().map(|_| !is_ragged || chance.share() > 0.15).collect();
    let means = (0..samples.len()).filter(|&s| kept[s]).map(|s| mean(&samples[s], true_means[s], se, wish.flavour));
    let margin = if is_ragged { chance.between(3.0, 20.0) } else { 10.0 };
    let compared = (1..samples.len()).filter(|&s| with_target && kept[0] && kept[s]);
    let versus = compared.map(|s| {
        let no_test = wish.flavour == Flavour::NothingDefined || is_ragged && chance.share() < 0.2;
        difference(&samples[s], true_means[s] - true_means[0], se, margin, no_test)
    });
    AttributeAnalysis {
        attribute: attribute_name(chance_free_name(place), place, is_ragged),
        kind: AttributeKind::Analytic,
        deciding: !is_ragged || place % 3 != 1,
        n_used: 20,
        n_dropped: 0,
        share_at_end: 0.0,
        anova: Err(NotDefined::because("figures do not need it")),
        model: Err(NotDefined::because("figures do not need it")),
        means: means.collect(),
        versus_target: versus.collect(),
    }
}

fn chance_free_name(place: usize) -> String {
    NAMES[place % NAMES.len()].to_owned()
}

fn attribute_name(usual: String, place: usize, is_ragged: bool) -> String {
    match place {
        1 if is_ragged => {
            "intensity of everything that could be smelt in the first ten seconds after opening".to_owned()
        }
        2 if is_ragged => "Donaudampfschifffahrtsgesellschaftskapitänsgeruch".to_owned(),
        4 if is_ragged => "<i> & \"quotes\" 熟した".to_owned(),
        _ => usual,
    }
}

fn mean(sample: &str, mean: f64, se: f64, flavour: Flavour) -> SampleMean {
    let spread = if flavour == Flavour::NothingDefined {
        Err(NotDefined::because("only one assessor scored"))
    } else {
        let half = 2.26 * se * 1.4;
        Ok(MeanSpread { se: se * 1.4, df: 9.0, lower: mean - half, upper: mean + half })
    };
    SampleMean { sample: sample.to_owned(), n: 20, mean, spread }
}

fn difference(sample: &str, difference: f64, se: f64, margin: f64, no_test: bool) -> TargetDifference {
    let around = |half: f64| Interval { lower: difference - half, upper: difference + half };
    // t quantiles on 9 df, .975 and .95: 2.262 and 1.833 (Student's table); only their order matters here.
    let (interval95, interval90) = (around(2.262 * se), around(1.833 * se));
    let test: Defined<DifferenceTest> = if no_test {
        Err(NotDefined::because("fewer than two assessors scored both"))
    } else {
        Ok(DifferenceTest {
            se,
            df: 9.0,
            interval95,
            interval90,
            difference_interval: interval95,
            match_interval: interval90,
            p_lower: 0.5,
            p_upper: 0.5,
            p_difference: 0.5,
        })
    };
    let verdict = match &test {
        Ok(_) if interval90.is_inside(margin) => Verdict::Match,
        Ok(_) if interval95.excludes_zero() => Verdict::Off,
        _ => Verdict::NotShown,
    };
    // Figures draw the verdict as they are handed it.
    let p_off = Err(NotDefined::because("figures do not need it"));
    TargetDifference {
        sample: sample.to_owned(),
        difference,
        n_assessors: 10,
        margin,
        test,
        verdict,
        p_off,
        beyond: false,
    }
}

fn candidate(sample: &str, attributes: &[AttributeAnalysis]) -> CandidateAnalysis {
    let of = |verdict: Verdict| {
        let all = attributes.iter().filter(|entry| entry.deciding).flat_map(|entry| &entry.versus_target);
        all.filter(|entry| entry.sample == sample && entry.verdict == verdict).count()
    };
    let (n_match, n_off, n_not_shown) = (of(Verdict::Match), of(Verdict::Off), of(Verdict::NotShown));
    let verdict = match (n_off, n_not_shown) {
        (0, 0) => Verdict::Match,
        (0, _) => Verdict::NotShown,
        _ => Verdict::Off,
    };
    let distance = Err(NotDefined::because("figures do not need it"));
    let judged = Err(NotDefined::because("figures do not need it"));
    CandidateAnalysis { sample: sample.to_owned(), verdict, n_match, n_off, n_not_shown, distance, judged }
}

/// A study with its scores, for figures that need more than the analysis; some servings are lost where `is_ragged`.
pub fn invented_study(seed: u64, attributes: usize, samples: usize, assessors: usize, is_ragged: bool) -> Study {
    let mut chance = Chance(seed);
    let mut builder = StudyBuilder::new(Scale::default());
    let effects: Vec<f64> = (0..attributes * samples).map(|_| chance.between(-15.0, 15.0)).collect();
    for assessor in 0..assessors {
        for sample in 0..samples {
            for replicate in 1..=2 {
                for attribute in 0..attributes {
                    if is_ragged && chance.share() < 0.1 {
                        continue;
                    }
                    let score = 45.0 + effects[attribute * samples + sample] + chance.between(-20.0, 20.0);
                    let assessor_name = assessor_name(assessor, is_ragged);
                    let sample_name = sample_name(sample, Flavour::Usual);
                    let address = ScoreAddress {
                        assessor: &assessor_name,
                        sample: &sample_name,
                        replicate,
                        ..ScoreAddress::default()
                    };
                    let name = attribute_name(chance_free_name(attribute), attribute, is_ragged);
                    builder.add(address, &name, score.round()).expect("every cell is filled once");
                }
            }
        }
    }
    let mut study = builder.finish("invented");
    study.settings.target = Some(sample_name(0, Flavour::Usual));
    study
}

fn assessor_name(assessor: usize, is_ragged: bool) -> String {
    if is_ragged { format!("Assessor with a long name {assessor}") } else { format!("A{assessor}") }
}
