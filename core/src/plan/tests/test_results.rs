//! From a planned test to its results: the study that ratings under labels land in, and the count of answers that a
//! difference test opens with. It tests nothing itself.

use super::test_designs::{TestCup, TestKind, TestPlan, TestRow, is_rated};
use crate::plan::PlanError;
use crate::plan::brief::attributes::AttributeList;
use crate::study::{LogKind, Scale, ScoreAddress, Study, StudyBuilder};
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};

/// What an assessor answered.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct TestAnswer {
    pub assessor: usize,
    /// From 1.
    pub set: u32,
    /// The cup that was chosen, or both with a space between where two are named; with a nose clip the cup that was named.
    pub code: String,
    /// Which sample the assessor said it was, with a nose clip; `None` in all other tests.
    pub said: Option<usize>,
}

/// The count that the right test opens with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TestTally {
    /// Exact binomial against guessing, where one answer is right: triangle, tetrad, 3-AFC, two out of five.
    RightCup { right: usize, answers: usize },
    /// Exact binomial against 1/2.
    Pair { chose_first_sample: usize, answers: usize },
    /// Cups named rightly in each condition; of samples named in both, how many were right in one only (McNemar).
    NoseClip {
        right_with_clip: usize,
        answers_with_clip: usize,
        right_without: usize,
        answers_without: usize,
        only_with_clip: usize,
        only_without: usize,
    },
}

fn no_ratings() -> PlanError {
    PlanError::Incomplete {
        what: "Only label studies and blind-and-named studies with all their assessors named have ratings.".to_owned(),
        hint: "Count the answers of this test instead, or complete the list of assessors.".to_owned(),
    }
}

impl TestPlan {
    /// The study that ratings land in: one serving a cup, in the order of rows and cups, with the label that was shown.
    /// Where cups are blind first and named later the two labels are "blind" and "named".
    ///
    /// # Errors
    /// `Incomplete` for tests without ratings, and where a row has no assessor in the list.
    pub fn study_skeleton(
        &self,
        title: &str,
        assessors: &[String],
        attributes: &AttributeList,
        scale: &Scale,
        when: &str,
    ) -> Result<Study, PlanError> {
        if !is_rated(self.request.kind) || assessors.len() < self.request.assessors {
            return Err(no_ratings());
        }
        let mut builder = StudyBuilder::new(scale.clone());
        attributes.attributes.iter().for_each(|attribute| _ = builder.attribute(&attribute.name));
        self.cups().for_each(|(row, cup)| self.add_serving(&mut builder, &assessors[row.assessor], row, cup));
        let mut study = builder.finish(title);
        study.attributes = attributes.study_attributes();
        study.settings.seed = self.request.seed;
        study.note_in_log(when, LogKind::Opened, format!("Opened from a plan. {}", self.analysis));
        Ok(study)
    }

    /// The same sample comes twice in a set, so the label is part of what tells two servings apart.
    fn add_serving(&self, builder: &mut StudyBuilder, assessor: &str, row: &TestRow, cup: &TestCup) {
        let label = cup.label();
        builder.serving(ScoreAddress {
            assessor,
            sample: &self.request.samples[cup.sample],
            replicate: row.set,
            session: Some(&format!("Set {}, {label}", row.set)),
            position: Some(cup.position),
            label: Some(&label),
        });
    }

    /// Counts answers for the right test.
    ///
    /// # Errors
    /// An answer to a cup that the assessor did not get, a second answer, a test that has no answers to count.
    pub fn tally(&self, answers: &[TestAnswer]) -> Result<TestTally, PlanError> {
        let mut seen = BTreeSet::new();
        for answer in answers {
            let row = self.row_of(answer)?;
            let once = if self.request.kind == TestKind::NoseClip { answer.code.as_str() } else { "" };
            if !seen.insert((answer.assessor, answer.set, once)) {
                let of = format!("Assessor {} answered twice in set {}.", row.assessor + 1, row.set);
                return Err(PlanError::Incomplete { what: of, hint: "Keep one answer.".to_owned() });
            }
        }
        match self.request.kind {
            kind if kind.has_right_cup() => Ok(self.right_cups(answers)),
            TestKind::PairedStronger | TestKind::PairedPreference => Ok(self.pair(answers)),
            TestKind::NoseClip => Ok(self.nose_clip(answers)),
            _ => Err(PlanError::Incomplete {
                what: "This study has ratings and no answers to count.".to_owned(),
                hint: "Type the ratings and open them as a study.".to_owned(),
            }),
        }
    }

    fn row_of(&self, answer: &TestAnswer) -> Result<&TestRow, PlanError> {
        let row = self.rows.iter().find(|row| (row.assessor, row.set) == (answer.assessor, answer.set));
        row.filter(|row| row.choices(self.request.kind).contains(&answer.code)).ok_or_else(|| PlanError::Incomplete {
            what: format!("Assessor {} got no cup {} in set {}.", answer.assessor + 1, answer.code, answer.set),
            hint: "Check the code against the serving sheet.".to_owned(),
        })
    }

    fn sample_of(&self, answer: &TestAnswer) -> Option<usize> {
        let row = self.row_of(answer).ok()?;
        row.cups.iter().find(|cup| cup.code == answer.code).map(|cup| cup.sample)
    }

    /// How many people gave these answers.
    pub fn people_in(&self, answers: &[TestAnswer]) -> usize {
        answers.iter().map(|answer| answer.assessor).collect::<BTreeSet<_>>().len()
    }

    fn right_cups(&self, answers: &[TestAnswer]) -> TestTally {
        let is_right =
            |answer: &&TestAnswer| self.row_of(answer).is_ok_and(|row| row.odd_code.as_ref() == Some(&answer.code));
        TestTally::RightCup { right: answers.iter().filter(is_right).count(), answers: answers.len() }
    }

    fn pair(&self, answers: &[TestAnswer]) -> TestTally {
        let first = answers.iter().filter(|answer| self.sample_of(answer) == Some(0)).count();
        TestTally::Pair { chose_first_sample: first, answers: answers.len() }
    }

    fn nose_clip(&self, answers: &[TestAnswer]) -> TestTally {
        let (mut right, mut given) = ([0, 0], [0, 0]);
        let mut by_sample: BTreeMap<(usize, u32, usize), [Option<bool>; 2]> = BTreeMap::new();
        for answer in answers {
            let Ok(row) = self.row_of(answer) else { continue };
            let Some(cup) = row.cups.iter().find(|cup| cup.code == answer.code) else { continue };
            let without = usize::from(cup.condition != "nose clip on");
            let is_right = answer.said == Some(cup.sample);
            given[without] += 1;
            right[without] += usize::from(is_right);
            by_sample.entry((row.assessor, row.set, cup.sample)).or_default()[without] = Some(is_right);
        }
        let count = |pattern: [Option<bool>; 2]| by_sample.values().filter(|pair| **pair == pattern).count();
        TestTally::NoseClip {
            right_with_clip: right[0],
            answers_with_clip: given[0],
            right_without: right[1],
            answers_without: given[1],
            only_with_clip: count([Some(true), Some(false)]),
            only_without: count([Some(false), Some(true)]),
        }
    }
}
