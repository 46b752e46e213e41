//! Plans of tests that are no profile: label studies, blind and named, nose clip, paired comparison, triangle, tetrad,
//! 3-AFC, two out of five. Who gets which cups, in which order, under which code and which words. It knows nothing of
//! results.

pub use super::test_kind::{TestKind, is_rated};
pub use super::test_request::{TestCup, TestRequest, TestRow};

use super::test_patterns::{Pattern, patterns_of};
use crate::numeric::random::Random;
use crate::plan::PlanError;
use crate::plan::orders::codes::draw_codes;
use crate::plan::sheet_table::SheetTable;
use serde::{Deserialize, Serialize};

/// How often one order of cups is used.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct OrderCount {
    /// Samples as letters, such as "AAB"; labels as numbers, such as "12".
    pub order: String,
    pub count: usize,
}

/// The plan of such a test.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct TestPlan {
    pub request: TestRequest,
    pub rows: Vec<TestRow>,
    pub order_counts: Vec<OrderCount>,
    /// What the assessor is asked.
    pub task: String,
    /// Which test the results open with, in words.
    pub analysis: String,
    /// What assessors are told afterwards where they were told something untrue; else empty.
    pub debrief: String,
    pub codes_lost: Option<String>,
}

/// Lays out the test.
///
/// # Errors
/// A number of samples, labels, assessors or sets that doesn't fit the kind; more codes wanted than there are.
pub fn plan_test(request: &TestRequest) -> Result<TestPlan, PlanError> {
    check(request)?;
    let mut random = Random::seeded_for(request.seed, "orders of a test");
    let patterns = patterns_of(request, &mut random)?;
    let kinds_of_cup = request.kind.twins() * request.samples.len();
    let set = draw_codes(kinds_of_cup * request.sets, &request.used_codes, request.seed)?;
    let codes_of = |set_number: usize| &set.codes[set_number * kinds_of_cup..(set_number + 1) * kinds_of_cup];
    let row = |(index, pattern): (usize, &Pattern)| {
        pattern.row(index / request.assessors, index % request.assessors, codes_of(index / request.assessors), request)
    };
    Ok(TestPlan {
        request: request.clone(),
        order_counts: order_counts(&patterns),
        rows: patterns.iter().enumerate().map(row).collect(),
        task: request.kind.task().to_owned(),
        analysis: request.kind.analysis().to_owned(),
        debrief: debrief(request),
        codes_lost: set.lost,
    })
}

impl TestPlan {
    /// What the kitchen serves. Without the samples it can be handed to a server who must stay blind.
    pub fn serving_sheet(&self, assessors: &[String], with_samples: bool) -> SheetTable {
        let cups = || self.rows.iter().flat_map(|row| &row.cups);
        let has_labels = cups().any(|cup| cup.shown_label.is_some());
        let has_conditions = cups().any(|cup| !cup.condition.is_empty());
        let mut columns: Vec<String> = ["set", "assessor", "position", "code"].map(str::to_owned).to_vec();
        columns.extend(has_labels.then(|| "label shown".to_owned()));
        columns.extend(has_conditions.then(|| "condition".to_owned()));
        columns.extend(with_samples.then(|| "sample".to_owned()));
        let line = |(row, cup): (&TestRow, &TestCup)| {
            let assessor = assessors.get(row.assessor).cloned().unwrap_or_else(|| (row.assessor + 1).to_string());
            let mut cells = vec![row.set.to_string(), assessor, cup.position.to_string(), cup.code.clone()];
            cells.extend(has_labels.then(|| cup.shown_label.clone().unwrap_or_default()));
            cells.extend(has_conditions.then(|| cup.condition.clone()));
            cells.extend(with_samples.then(|| self.request.samples[cup.sample].clone()));
            cells
        };
        let (title, notes) = ("Serving sheet".to_owned(), vec![self.task.clone()]);
        let rows = self.cups().map(line).collect();
        SheetTable { title, confidential: with_samples, notes, columns, rows }
    }

    /// All cups with their rows, in the order of rows and cups.
    pub(in crate::plan) fn cups(&self) -> impl Iterator<Item = (&TestRow, &TestCup)> {
        self.rows.iter().flat_map(|row| row.cups.iter().map(move |cup| (row, cup)))
    }
}

fn order_counts(patterns: &[Pattern]) -> Vec<OrderCount> {
    let mut counts = std::collections::BTreeMap::new();
    for pattern in patterns {
        *counts.entry(pattern.in_letters.clone()).or_insert(0) += 1;
    }
    counts.into_iter().map(|(order, count)| OrderCount { order, count }).collect()
}

fn debrief(request: &TestRequest) -> String {
    match (request.kind, &request.labels[..]) {
        (TestKind::LabelStudy, [first, second]) => format!(
            "Thank you. Some cups that were labelled “{first}” and “{second}” held the same sample: the study asks what a \
             label does to what we taste, in everybody. If you would rather not have your scores used, say so now and they \
             will be deleted. Please don't tell those who have still to taste."
        ),
        _ => String::new(),
    }
}

/// Whether a request can be laid out at all.
fn check(request: &TestRequest) -> Result<(), PlanError> {
    let samples = request.samples.len();
    let (lowest, highest) = request.kind.sample_range();
    if !(lowest..=highest).contains(&samples) {
        return Err(PlanError::SampleCount { got: samples, lowest, highest });
    }
    if !(1..=MOST_ASSESSORS).contains(&request.assessors) {
        return Err(PlanError::AssessorCount { got: request.assessors, highest: MOST_ASSESSORS });
    }
    if !(1..=MOST_SETS).contains(&request.sets) {
        return Err(PlanError::ReplicateCount { got: request.sets, highest: MOST_SETS });
    }
    check_labels(request)
}

fn check_labels(request: &TestRequest) -> Result<(), PlanError> {
    let fit = match (request.kind, &request.labels[..]) {
        (TestKind::LabelStudy, [first, second]) => first != second,
        (TestKind::LabelStudy, _) => false,
        (_, labels) => labels.is_empty(),
    };
    if fit {
        return Ok(());
    }
    Err(PlanError::Incomplete {
        what: "A label study needs two different labels, and no other test has labels.".to_owned(),
        hint: "Give the two labels, or choose another kind of test.".to_owned(),
    })
}

const MOST_ASSESSORS: usize = 400;
const MOST_SETS: usize = 10;
