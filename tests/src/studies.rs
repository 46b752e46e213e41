//! Studies for tests: reference files read by a reader too small to be wrong, and seeded random studies.

pub use crate::reference::expected;
use likeness_core::numeric::random::Random;
use likeness_core::read::{ReadOptions, read_text};
use likeness_core::study::{AttributeKind, Scale, ScoreAddress, Study, StudyBuilder};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// Three assessors, two samples, two replicates, two attributes.
pub const PANEL: &str = "\
assessor,sample,replicate,green,ripe
Anna,A,1,45,62
Anna,A,2,47,60
Anna,B,1,21,80
Anna,B,2,25,78
Ben,A,1,51,58
Ben,A,2,55,57
Ben,B,1,30,71
Ben,B,2,33,74
Eva,A,1,40,66
Eva,A,2,44,61
Eva,B,1,18,83
Eva,B,2,22,88
";

/// The invented study that ships, its target named, settled as the page settles it.
///
/// # Panics
/// When the shipped file can't be read, which is a failed test.
#[must_use]
pub fn invented_nectar() -> Study {
    let bytes = include_bytes!("../../public/demo/invented-mango-nectar.csv");
    let reading = read_text("invented-mango-nectar.csv", bytes, &ReadOptions::default());
    let mut study = reading.study.expect("the demo is sound");
    study.settings.target = Some("Fresh mango".to_owned());
    study.decided_at = Some("2026-03-14 09:00".to_owned());
    study
}

/// Sizes and standard deviations of a random study; all effects are normal, nothing is rounded or cut off.
#[derive(Clone, Copy, Debug)]
pub struct RandomStudy {
    pub assessors: usize,
    pub samples: usize,
    pub attributes: usize,
    pub replicates: u32,
    pub sd_assessor: f64,
    pub sd_sample: f64,
    pub sd_interaction: f64,
    pub sd_error: f64,
    /// Chance that a score is missing.
    pub missing: f64,
}

impl Default for RandomStudy {
    fn default() -> Self {
        RandomStudy {
            assessors: 8,
            samples: 5,
            attributes: 6,
            replicates: 2,
            sd_assessor: 8.0,
            sd_sample: 10.0,
            sd_interaction: 5.0,
            sd_error: 9.0,
            missing: 0.0,
        }
    }
}

impl RandomStudy {
    /// The study of this seed. Assessors are J1.., samples S1.., attributes k1...
    pub fn draw(self, seed: u64) -> Study {
        let mut random = Random::seeded_for(seed, "random study");
        let mut builder = StudyBuilder::new(Scale::default());
        for attribute in 1..=self.attributes {
            let samples: Vec<f64> = (0..self.samples).map(|_| self.sd_sample * random.normal()).collect();
            for assessor in 1..=self.assessors {
                let level = 50.0 + self.sd_assessor * random.normal();
                for (sample, effect) in samples.iter().enumerate() {
                    let cell = level + effect + self.sd_interaction * random.normal();
                    for replicate in 1..=self.replicates {
                        let score = cell + self.sd_error * random.normal();
                        if random.unit() >= self.missing {
                            let (assessor, sample) = (format!("J{assessor}"), format!("S{}", sample + 1));
                            let address = ScoreAddress {
                                assessor: &assessor,
                                sample: &sample,
                                replicate,
                                ..ScoreAddress::default()
                            };
                            builder.add(address, &format!("k{attribute}"), score).expect("every cell is new");
                        }
                    }
                }
            }
        }
        builder.finish("random")
    }
}

/// A wide file of marks that nobody made: each follows from its place by Knuth's MMIX generator.
#[must_use]
pub fn uniform_marks(assessors: usize, samples: usize, replicates: usize, attributes: usize) -> String {
    let mut state: u64 = 12_000;
    let mut text = "assessor,sample,replicate".to_owned();
    (1..=attributes).for_each(|attribute| text.push_str(&format!(",k{attribute}")));
    for assessor in 1..=assessors {
        for sample in 1..=samples {
            for replicate in 1..=replicates {
                text.push_str(&format!("\nA{assessor},S{sample},{replicate}"));
                for attribute in 0..attributes {
                    state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
                    let level = 20 + (sample * 7 + attribute * 13) % 40;
                    text.push_str(&format!(",{}", level as u64 + (state >> 33) % 30));
                }
            }
        }
    }
    text
}

/// What names a score: assessor, sample, replicate, session, position, attribute.
pub type ScoreName = (String, String, u32, Option<String>, Option<u32>, String);

/// Every mark of every serving by what names it, missing ones too.
#[must_use]
pub fn named_scores(study: &Study) -> BTreeMap<ScoreName, Option<f64>> {
    let mut found = BTreeMap::new();
    for (index, serving) in study.servings.iter().enumerate() {
        for (place, attribute) in study.attributes.iter().enumerate() {
            let name = (
                study.assessors[serving.assessor as usize].name.clone(),
                study.samples[serving.sample as usize].name.clone(),
                serving.replicate,
                serving.session.map(|session| study.sessions[session as usize].clone()),
                serving.position,
                attribute.name.clone(),
            );
            found.insert(name, study.score(index, place));
        }
    }
    found
}

/// A wide reference file: columns assessor, sample, replicate (each optional but sample), then one an attribute.
pub fn wide(name: &str) -> Study {
    let text = fs::read_to_string(folder().join("data").join(name)).expect("the reference file is there");
    wide_from_text(&text)
}

/// The same from text. Fields hold no quotes in reference files.
pub fn wide_from_text(text: &str) -> Study {
    let mut lines = text.lines().filter(|line| !line.trim().is_empty());
    let header: Vec<&str> = lines.next().expect("there is a header").split(',').collect();
    let column = |name: &str| header.iter().position(|title| *title == name);
    let places = [column("assessor"), column("sample"), column("replicate")];
    let mut builder = StudyBuilder::new(Scale::default());
    for line in lines {
        let fields: Vec<&str> = line.split(',').collect();
        let field = |place: usize| places[place].map(|index| fields[index]);
        let address = ScoreAddress {
            assessor: field(0).unwrap_or("all"),
            sample: field(1).expect("there is a sample"),
            replicate: field(2).map_or(1, |text| text.parse().expect("replicates are numbers")),
            ..ScoreAddress::default()
        };
        for (index, value) in fields.iter().enumerate().filter(|(index, _)| !places.contains(&Some(*index))) {
            if let Ok(score) = value.parse::<f64>() {
                builder.add(address, header[index], score).expect("every cell is new");
            }
        }
    }
    builder.finish("reference")
}

/// A settled study in which every method has something to say: sessions, positions, labels, a word for the whole, and the
/// target served twice. Marks that nobody made.
#[must_use]
pub fn study_for_every_method() -> Study {
    let (assessors, samples) = (8, ["Target", "One", "Two", "Again"]);
    let mut random = Random::seeded_for(11, "every method");
    let mut builder = StudyBuilder::new(Scale::default());
    for assessor in 0..assessors {
        for (sample, name) in samples.iter().enumerate() {
            for replicate in 1..=2_u32 {
                let (assessor_name, session) = (format!("J{assessor}"), format!("day {replicate}"));
                let address = ScoreAddress {
                    assessor: &assessor_name,
                    sample: name,
                    replicate,
                    session: Some(&session),
                    position: Some(((sample + assessor + replicate as usize) % samples.len()) as u32 + 1),
                    label: Some(if (assessor + replicate as usize).is_multiple_of(2) { "plain" } else { "named" }),
                };
                for attribute in 0..7 {
                    let level = 35.0 + 4.0 * attribute as f64 + 6.0 * (sample % 3) as f64 + assessor as f64;
                    let score = (level + 5.0 * random.normal()).clamp(0.0, 100.0);
                    builder.add(address, &format!("k{attribute}"), score).expect("every cell is new");
                }
            }
        }
    }
    let mut study = builder.finish("every method");
    study.attributes[6].kind = AttributeKind::Integrated;
    study.settings.target = Some("Target".to_owned());
    study.settings.blind_duplicate = Some("Again".to_owned());
    study.decided_at = Some("2026-03-14 09:00".to_owned());
    study
}

/// Fails unless `got` is within `relative` of `expected`, or within that of 1 where it is smaller.
pub fn close(got: f64, expected: f64, relative: f64, what: &str) {
    let allowed = relative * expected.abs().max(1.0);
    assert!((got - expected).abs() <= allowed, "{what}: got {got}, expected {expected}");
}

fn folder() -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("reference")
}
