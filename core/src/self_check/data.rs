//! The scores that the checks stand on. It computes nothing.

use crate::read::{ReadOptions, read_text};
use crate::study::{AttributeScores, Observation, Scale, ScoreAddress, Study, StudyBuilder};

/// Additional hours of sleep of ten patients under two drugs: Student (1908), The probable error of a mean,
/// Biometrika 6, 1-25, table of section IX.
const STUDENT_FIRST_HOURS: [f64; 10] = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
const STUDENT_SECOND_HOURS: [f64; 10] = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];

/// Invented scores of this project: 9 assessors, 6 samples, 3 replicates.
const INVENTED_PANEL: &[u8] = include_bytes!("../../../tests/reference/data/boundary_wide.csv");
/// The same with six scores lost.
const INVENTED_PANEL_WITH_GAPS: &[u8] = include_bytes!("../../../tests/reference/data/boundary_unbal_wide.csv");

const ATOMIC_WEIGHT_OF_SILVER: &str = include_str!("../../../tests/reference/data/nist/AtmWtAg.dat");
const RESISTIVITY_OF_SILICON: &str = include_str!("../../../tests/reference/data/nist/SiRstv.dat");

/// Student's patients as assessors, his drugs as samples; the second drug is the target.
pub(super) fn student() -> Study {
    let mut builder = StudyBuilder::new(Scale { minimum: -24.0, maximum: 24.0, unit: "hours".to_owned() });
    for (sample, hours) in [("first drug", STUDENT_FIRST_HOURS), ("second drug", STUDENT_SECOND_HOURS)] {
        for (number, value) in hours.into_iter().enumerate() {
            let assessor = format!("patient {}", number + 1);
            let address = ScoreAddress { assessor: &assessor, sample, replicate: 1, ..ScoreAddress::default() };
            // Each cell is added once, so nothing can be refused; a lost score would fail the check.
            _ = builder.add(address, "sleep gained", value);
        }
    }
    let mut study = builder.finish("Student 1908");
    study.settings.target = Some("second drug".to_owned());
    study
}

/// The invented panel, target A and margin 8; through the reader, like any file.
pub(super) fn invented_panel() -> Option<Study> {
    of_text("boundary.csv", INVENTED_PANEL)
}

pub(super) fn invented_panel_with_gaps() -> Option<Study> {
    of_text("boundary-with-gaps.csv", INVENTED_PANEL_WITH_GAPS)
}

fn of_text(name: &str, bytes: &[u8]) -> Option<Study> {
    let mut study = read_text(name, bytes, &ReadOptions::default()).study?;
    study.settings.target = Some("A".to_owned());
    study.settings.margin.width_mm = 8.0;
    Some(study)
}

pub(super) fn atomic_weight_of_silver() -> AttributeScores {
    of_nist("atomic weight of silver", ATOMIC_WEIGHT_OF_SILVER)
}

pub(super) fn resistivity_of_silicon() -> AttributeScores {
    of_nist("resistivity of silicon", RESISTIVITY_OF_SILICON)
}

/// A file of NIST's as scores: one treatment is one sample, one assessor holds them all.
pub fn of_nist(name: &str, file: &str) -> AttributeScores {
    let mut observations: Vec<Observation> = Vec::new();
    for line in file.lines().skip_while(|line| !line.starts_with("Data:")).skip(1) {
        let mut fields = line.split_whitespace();
        let treatment: Option<u32> = fields.next().and_then(|field| field.parse().ok());
        let score: Option<f64> = fields.next().and_then(|field| field.parse().ok());
        let (Some(treatment), Some(score)) = (treatment, score) else { continue };
        let sample = treatment - 1;
        let before = observations.iter().filter(|other| other.sample == sample).count();
        observations.push(Observation {
            assessor: 0,
            sample,
            replicate: before as u32 + 1,
            session: None,
            position: None,
            score,
            serving: observations.len() as u32,
        });
    }
    let treatments = observations.iter().map(|observation| observation.sample + 1).max().unwrap_or(0);
    AttributeScores {
        attribute: name.to_owned(),
        assessors: vec!["all".to_owned()],
        samples: (1..=treatments).map(|number| number.to_string()).collect(),
        observations,
        dropped: 0,
    }
}
