//! A test that is no profile, as it is typed, laid out and answered: request as typed, plan, answers so far. It knows
//! nothing of the page and tests nothing itself.

pub use super::test_designs::is_rated;

use super::test_designs::{TestCup, TestKind, TestPlan, TestRequest, TestRow, plan_test};
use super::test_results::{TestAnswer, TestTally};
use crate::plan::PlanError;
use crate::plan::sheet_table::SheetTable;
use serde::{Deserialize, Serialize};

/// What was typed, what was made of it, what came back.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct ShortTest {
    pub kind: TestKind,
    /// Names, one a line.
    pub samples_typed: String,
    pub labels_typed: [String; 2],
    /// Names, one a line; or one whole number, for that many people known by number only.
    pub assessors_typed: String,
    pub sets: usize,
    /// The character that is compared in a paired test.
    pub character: String,
    /// In a paired test: the sample that was expected to be stronger before anybody tasted, by index.
    pub expected_stronger: Option<usize>,
    /// How many people of 100 may be able to tell and the samples still count as alike, 1 to 99.
    pub allowed_in_100: u32,
    pub seed: u64,
    pub plan: Option<TestPlan>,
    /// The people of the plan, fixed when it was made.
    pub assessors: Vec<String>,
    pub made_at: String,
    pub answers: Vec<TestAnswer>,
}

impl Default for ShortTest {
    fn default() -> Self {
        ShortTest {
            kind: TestKind::Triangle,
            samples_typed: String::new(),
            labels_typed: Default::default(),
            assessors_typed: String::new(),
            sets: 1,
            character: String::new(),
            expected_stronger: None,
            allowed_in_100: 30,
            seed: 0,
            plan: None,
            assessors: Vec::new(),
            made_at: String::new(),
            answers: Vec::new(),
        }
    }
}

impl ShortTest {
    /// The names of the samples as typed, without blank lines.
    pub fn samples(&self) -> Vec<String> {
        lines(&self.samples_typed)
    }

    /// Names as typed, or numbers from 1 where a single whole number stands there.
    pub fn people(&self) -> Vec<String> {
        let names = lines(&self.assessors_typed);
        match names.as_slice() {
            [only] => match only.parse::<usize>() {
                Ok(count) => (1..=count.min(MOST_PEOPLE)).map(|number| number.to_string()).collect(),
                Err(_) => names,
            },
            _ => names,
        }
    }

    /// Lays the test out; answers of an earlier plan are gone.
    ///
    /// # Errors
    /// What `plan_test` refuses, and names that are there twice.
    pub fn make(&mut self, made_at: &str) -> Result<(), PlanError> {
        let (samples, people) = (self.samples(), self.people());
        check_apart("sample", &samples)?;
        check_apart("assessor", &people)?;
        let labels = self.labels_typed.iter().map(|label| label.trim().to_owned());
        let plan = plan_test(&TestRequest {
            kind: self.kind,
            samples,
            labels: if self.kind == TestKind::LabelStudy { labels.collect() } else { Vec::new() },
            assessors: people.len(),
            sets: self.sets,
            used_codes: Vec::new(),
            seed: self.seed,
        })?;
        self.plan = Some(plan);
        self.assessors = people;
        self.made_at = made_at.to_owned();
        self.answers.clear();
        Ok(())
    }

    /// Whether what was laid out is for another kind of test than the one chosen now: its sheets and answers mean
    /// nothing for this one. They stay until it is laid out anew, so that choosing the kind again brings them back.
    pub fn layout_is_void(&self) -> bool {
        self.kind_of_plan().is_some_and(|kind| kind != self.kind)
    }

    /// The answer that stands; `code` is the cup that was asked about with a nose clip and anything else elsewhere.
    pub fn answer(&self, row: &TestRow, code: &str) -> Option<&TestAnswer> {
        self.answers.iter().find(|answer| self.is_of(answer, row.assessor, row.set, code))
    }

    /// Puts an answer in place of the one before, or takes it away. Cups that were not served are not taken.
    pub fn set_answer(&mut self, assessor: usize, set: u32, code: &str, said: Option<usize>, is_given: bool) {
        let kept: Vec<TestAnswer> =
            self.answers.iter().filter(|answer| !self.is_of(answer, assessor, set, code)).cloned().collect();
        self.answers = kept;
        let is_of_set = |row: &&TestRow| (row.assessor, row.set) == (assessor, set);
        let is_served = self.plan.as_ref().is_some_and(|plan| {
            let kind = plan.request.kind;
            plan.rows.iter().filter(is_of_set).any(|row| row.choices(kind).iter().any(|choice| choice == code))
        });
        if is_given && is_served {
            self.answers.push(TestAnswer { assessor, set, code: code.to_owned(), said });
        }
    }

    /// How many people gave the answers so far.
    pub fn people_who_answered(&self) -> usize {
        self.plan.as_ref().map_or(0, |plan| plan.people_in(&self.answers))
    }

    /// The answers counted for the right test.
    ///
    /// # Errors
    /// Nothing laid out yet, and what `TestPlan::tally` refuses.
    pub fn tally(&self) -> Result<TestTally, PlanError> {
        match &self.plan {
            Some(plan) => plan.tally(&self.answers),
            None => Err(PlanError::Incomplete {
                what: "No test has been laid out.".to_owned(),
                hint: "Lay it out first.".to_owned(),
            }),
        }
    }

    /// An empty score sheet for the tests with ratings: one line a cup, to be filled in and opened as scores. The label
    /// or condition is a column of its own.
    pub fn score_sheet(&self, attributes: &[String]) -> Option<SheetTable> {
        let plan = self.plan.as_ref().filter(|plan| is_rated(plan.request.kind))?;
        let line = |(row, cup): (&TestRow, &TestCup)| {
            let assessor = self.assessors.get(row.assessor).cloned().unwrap_or_default();
            let sample = plan.request.samples.get(cup.sample).cloned().unwrap_or_default();
            let named = [assessor, sample, row.set.to_string(), cup.position.to_string(), cup.label()];
            named.into_iter().chain(attributes.iter().map(|_| String::new())).collect()
        };
        let fixed = ["assessor", "sample", "replicate", "position", "label"].map(str::to_owned);
        Some(SheetTable {
            title: "Score sheet".to_owned(),
            confidential: true,
            notes: vec![plan.analysis.clone()],
            columns: fixed.into_iter().chain(attributes.iter().cloned()).collect(),
            rows: plan.cups().map(line).collect(),
        })
    }

    fn is_of(&self, answer: &TestAnswer, assessor: usize, set: u32, code: &str) -> bool {
        let is_same_cup = self.kind_of_plan() != Some(TestKind::NoseClip) || answer.code == code;
        (answer.assessor, answer.set) == (assessor, set) && is_same_cup
    }

    fn kind_of_plan(&self) -> Option<TestKind> {
        self.plan.as_ref().map(|plan| plan.request.kind)
    }
}

fn check_apart(of: &'static str, names: &[String]) -> Result<(), PlanError> {
    match names.iter().enumerate().find(|(index, name)| names[..*index].contains(name)) {
        Some((_, twice)) => Err(PlanError::NameTwice { of, name: twice.clone() }),
        None => Ok(()),
    }
}

const MOST_PEOPLE: usize = 400;

fn lines(text: &str) -> Vec<String> {
    text.lines().map(str::trim).filter(|line| !line.is_empty()).map(str::to_owned).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn triangle() -> ShortTest {
        let mut test = ShortTest {
            samples_typed: "Fresh mango\nCandidate A".to_owned(),
            assessors_typed: "12".to_owned(),
            seed: 5,
            ..ShortTest::default()
        };
        test.make("2026-03-14 09:26").expect("a sound request");
        test
    }

    #[test]
    fn one_number_stands_for_so_many_people() {
        let test = triangle();
        assert_eq!(test.assessors.len(), 12);
        assert_eq!(test.assessors[11], "12");
        let named = ShortTest { assessors_typed: "Ada\nBen".to_owned(), ..ShortTest::default() };
        assert_eq!(named.people(), ["Ada", "Ben"]);
    }

    #[test]
    fn an_answer_replaces_the_one_before_and_can_be_taken_away() {
        let mut test = triangle();
        let row = test.plan.as_ref().expect("laid out").rows[0].clone();
        let odd = row.odd_code.clone().expect("a triangle has an odd cup");
        let other = row.cups.iter().find(|cup| cup.code != odd).expect("three cups").code.clone();
        test.set_answer(row.assessor, row.set, &other, None, true);
        assert_eq!(test.tally(), Ok(TestTally::RightCup { right: 0, answers: 1 }));
        test.set_answer(row.assessor, row.set, &odd, None, true);
        assert_eq!(test.tally(), Ok(TestTally::RightCup { right: 1, answers: 1 }));
        assert_eq!(test.answer(&row, "").map(|answer| answer.code.as_str()), Some(odd.as_str()));
        test.set_answer(row.assessor, row.set, &odd, None, false);
        assert_eq!(test.tally(), Ok(TestTally::RightCup { right: 0, answers: 0 }));
    }

    #[test]
    fn with_a_nose_clip_each_cup_has_its_answer() {
        let mut test = triangle();
        test.kind = TestKind::NoseClip;
        test.make("later").expect("a sound request");
        let row = test.plan.as_ref().expect("laid out").rows[0].clone();
        for cup in &row.cups {
            test.set_answer(row.assessor, row.set, &cup.code, Some(cup.sample), true);
        }
        assert_eq!(test.answers.len(), 4);
        let tally = test.tally().expect("answers to count");
        assert!(matches!(tally, TestTally::NoseClip { right_with_clip: 2, right_without: 2, .. }), "{tally:?}");
    }

    #[test]
    fn ratings_get_a_sheet_with_the_label() {
        let mut test = triangle();
        assert_eq!(test.score_sheet(&["sweet".to_owned()]), None);
        test.kind = TestKind::LabelStudy;
        test.labels_typed = ["natural".to_owned(), "flavouring".to_owned()];
        test.make("later").expect("a sound request");
        let sheet = test.score_sheet(&["sweet".to_owned()]).expect("ratings");
        assert_eq!(sheet.columns, ["assessor", "sample", "replicate", "position", "label", "sweet"]);
        // 12 people, 2 samples, each under both labels.
        assert_eq!(sheet.rows.len(), 48);
        assert!(sheet.rows.iter().all(|row| ["natural", "flavouring"].contains(&row[4].as_str())));
    }
}
