//! Small made-up scores for the unit tests of this room. Knows no file format.

use crate::study::{AttributeScores, Observation};

/// Scores given as (assessor, sample, score); replicates are numbered as they come.
pub fn scores_of(rows: &[(&str, &str, f64)]) -> AttributeScores {
    let mut scores = AttributeScores {
        attribute: "made up".to_owned(),
        assessors: Vec::new(),
        samples: Vec::new(),
        observations: Vec::new(),
        dropped: 0,
    };
    for (assessor, sample, score) in rows {
        let assessor = index_in(&mut scores.assessors, assessor);
        let sample = index_in(&mut scores.samples, sample);
        let earlier = scores.observations.iter().filter(|seen| (seen.assessor, seen.sample) == (assessor, sample));
        scores.observations.push(Observation {
            replicate: earlier.count() as u32 + 1,
            assessor,
            sample,
            session: None,
            position: None,
            score: *score,
            serving: scores.observations.len() as u32,
        });
    }
    scores
}

/// A full table: one row an assessor, one column a sample, `replicates` scores a cell from `score`.
pub fn full_table(
    assessors: usize,
    samples: usize,
    replicates: usize,
    score: impl Fn(usize, usize, usize) -> f64,
) -> AttributeScores {
    let mut observations = Vec::new();
    for assessor in 0..assessors {
        for sample in 0..samples {
            for replicate in 0..replicates {
                observations.push(Observation {
                    assessor: assessor as u32,
                    sample: sample as u32,
                    replicate: replicate as u32 + 1,
                    session: None,
                    position: None,
                    score: score(assessor, sample, replicate),
                    serving: observations.len() as u32,
                });
            }
        }
    }
    AttributeScores {
        attribute: "made up".to_owned(),
        assessors: (0..assessors).map(|index| format!("assessor {index}")).collect(),
        samples: (0..samples).map(|index| format!("sample {index}")).collect(),
        observations,
        dropped: 0,
    }
}

fn index_in(names: &mut Vec<String>, name: &str) -> u32 {
    let found = names.iter().position(|known| known == name);
    found.unwrap_or_else(|| {
        names.push(name.to_owned());
        names.len() - 1
    }) as u32
}
