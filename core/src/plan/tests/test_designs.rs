//! Plans of tests that are no profile: label studies, blind and named, nose clip, paired comparison, triangle. Who gets
//! which cups, in which order, under which code and which words. It knows nothing of results.

use crate::numeric::random::Random;
use crate::plan::PlanError;
use crate::plan::orders::codes::draw_codes;
use crate::plan::orders::order_plan::OrderRequest;
use crate::plan::orders::serving_orders::plan_orders;
use crate::plan::sheet_table::SheetTable;
use serde::{Deserialize, Serialize};

/// What kind of test.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TestKind {
    /// The same cup under two labels: what the label does.
    LabelStudy,
    /// Every sample blind, then every sample named.
    BlindThenNamed,
    /// Identify each sample with the nose clip on, then with it off.
    NoseClip,
    /// Which of two is stronger in a named character.
    PairedStronger,
    /// Which of two is preferred; asked of consumers, not of the trained panel.
    PairedPreference,
    /// Which of three is the odd one.
    Triangle,
}

/// What is to be laid out.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct TestRequest {
    pub kind: TestKind,
    /// Names; two for pairs and triangles, one or more for label studies, two or more for the others.
    pub samples: Vec<String>,
    /// The two labels of a label study; empty for all others.
    pub labels: Vec<String>,
    pub assessors: usize,
    /// How often each assessor does the whole test.
    pub sets: usize,
    pub used_codes: Vec<String>,
    pub seed: u64,
}

/// One cup as it reaches one assessor.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct TestCup {
    /// From 1, within the set.
    pub position: u32,
    /// Index into the samples of the request.
    pub sample: usize,
    pub code: String,
    /// What the assessor is told that the cup holds; `None` where it is blind.
    pub shown_label: Option<String>,
    /// How the cup is tasted, such as "nose clip on"; empty where nothing is special.
    pub condition: String,
}

/// One assessor doing the test once.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct TestRow {
    pub assessor: usize,
    /// From 1.
    pub set: u32,
    pub cups: Vec<TestCup>,
    /// The code of the odd cup of a triangle.
    pub odd_code: Option<String>,
}

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
    let kinds_of_cup = request.kind.kinds_of_cup(request);
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

/// The cups of each set and assessor, sets first.
fn patterns_of(request: &TestRequest, random: &mut Random) -> Result<Vec<Pattern>, PlanError> {
    Ok(match request.kind {
        TestKind::LabelStudy => label_patterns(request, random),
        TestKind::BlindThenNamed | TestKind::NoseClip => two_phase_patterns(request)?,
        TestKind::PairedStronger | TestKind::PairedPreference => dealt(request, &["AB", "BA"], random),
        TestKind::Triangle => dealt(request, &["AAB", "ABA", "BAA", "ABB", "BAB", "BBA"], random),
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

impl TestCup {
    /// What tells two cups of one sample apart: the condition, or else the label that was shown.
    pub(in crate::plan) fn label(&self) -> String {
        if self.condition.is_empty() { self.shown_label.clone().unwrap_or_default() } else { self.condition.clone() }
    }
}

impl TestKind {
    /// What the assessor is asked.
    pub fn task(self) -> &'static str {
        match self {
            TestKind::LabelStudy => "Rate each cup on the ballot, in the order of the tray. The label is on the cup.",
            TestKind::BlindThenNamed => "Rate each cup on the ballot: first by code alone, then with the names given.",
            TestKind::NoseClip => {
                "Say which of the samples on the list each cup is: first with the nose clip on, then with it off."
            }
            TestKind::PairedStronger => {
                "Taste from left to right and say which cup is stronger in the named character."
            }
            TestKind::PairedPreference => "Taste from left to right and say which cup you prefer.",
            TestKind::Triangle => {
                "Two cups are the same and one is odd. Taste from left to right and name the odd one."
            }
        }
    }

    /// The test that the results open with.
    pub fn analysis(self) -> &'static str {
        match self {
            TestKind::LabelStudy => "Paired differences between labels within assessors, exact sign-flip test.",
            TestKind::BlindThenNamed => {
                "Paired differences named less blind within assessors, exact sign-flip test. Named always comes second, so \
                 the difference holds the effect of tasting again."
            }
            TestKind::NoseClip => {
                "Shares identified with and without the clip with exact binomial intervals, and the exact test on the cups \
                 that changed (McNemar)."
            }
            TestKind::PairedStronger => {
                "Exact binomial test against 1/2, one-sided where the direction was named before."
            }
            TestKind::PairedPreference => "Exact binomial test against 1/2, two-sided.",
            TestKind::Triangle => "Exact binomial test against 1/3, one-sided.",
        }
    }

    fn kinds_of_cup(self, request: &TestRequest) -> usize {
        match self {
            TestKind::Triangle => 4,
            TestKind::PairedStronger | TestKind::PairedPreference => 2,
            TestKind::LabelStudy | TestKind::BlindThenNamed | TestKind::NoseClip => 2 * request.samples.len(),
        }
    }
}

/// Whether cups are rated on a ballot rather than chosen or named.
pub fn is_rated(kind: TestKind) -> bool {
    matches!(kind, TestKind::LabelStudy | TestKind::BlindThenNamed)
}

/// A cup before it has a code: `twin` tells two cups of one sample apart.
#[derive(Clone, Copy, Debug)]
struct PatternCup {
    sample: usize,
    twin: usize,
}

struct Pattern {
    cups: Vec<PatternCup>,
    in_letters: String,
}

impl Pattern {
    /// `set` from 0; `codes` are those of the set.
    fn row(&self, set: usize, assessor: usize, codes: &[String], request: &TestRequest) -> TestRow {
        let cups: Vec<TestCup> =
            self.cups.iter().zip(1..).map(|(cup, position)| cup.with_code(position, codes, request)).collect();
        let odd_code = odd_cup(request.kind, &cups).map(|cup| cup.code.clone());
        TestRow { assessor, set: set as u32 + 1, cups, odd_code }
    }
}

impl PatternCup {
    fn with_code(self, position: u32, codes: &[String], request: &TestRequest) -> TestCup {
        let (shown_label, condition) = match request.kind {
            TestKind::LabelStudy => (request.labels.get(self.twin).cloned(), ""),
            TestKind::BlindThenNamed if self.twin == 0 => (None, "blind"),
            TestKind::BlindThenNamed => (Some(request.samples[self.sample].clone()), "named"),
            TestKind::NoseClip => (None, if self.twin == 0 { "nose clip on" } else { "nose clip off" }),
            _ => (None, ""),
        };
        let twins = codes.len() / request.samples.len();
        let code = codes[self.sample * twins + self.twin].clone();
        TestCup { position, sample: self.sample, code, shown_label, condition: condition.to_owned() }
    }
}

/// Patterns dealt so that in each set and over all sets each is used as often as any other or once more; nobody gets
/// one twice while there are others.
fn dealt(request: &TestRequest, orders: &[&str], random: &mut Random) -> Vec<Pattern> {
    let mut labels: Vec<usize> = (0..orders.len()).collect();
    random.shuffle(&mut labels);
    let mut had = vec![vec![0_usize; orders.len()]; request.assessors];
    let mut patterns = Vec::new();
    for set in 0..request.sets {
        // Going on where the last set stopped keeps the counts over all sets even.
        let first = set * request.assessors;
        let mut hand: Vec<usize> = (first..first + request.assessors).map(|deal| labels[deal % orders.len()]).collect();
        random.shuffle(&mut hand);
        swap_repeats_away(&mut hand, &had);
        for (assessor, order) in hand.into_iter().enumerate() {
            had[assessor][order] += 1;
            patterns.push(letters(orders[order]));
        }
    }
    patterns
}

fn swap_repeats_away(hand: &mut [usize], had: &[Vec<usize>]) {
    let mut improved = true;
    while improved {
        improved = false;
        for left in 0..hand.len() {
            for right in left + 1..hand.len() {
                let cost = |a: usize, b: usize| had[left][a].pow(2) + had[right][b].pow(2);
                if cost(hand[right], hand[left]) < cost(hand[left], hand[right]) {
                    hand.swap(left, right);
                    improved = true;
                }
            }
        }
    }
}

fn letters(order: &str) -> Pattern {
    let mut seen = [0; 2];
    let cup = |letter: u8| {
        let sample = usize::from(letter - b'A').min(1);
        seen[sample] += 1;
        PatternCup { sample, twin: seen[sample] - 1 }
    };
    Pattern { cups: order.bytes().map(cup).collect(), in_letters: order.to_owned() }
}

/// Every sample under both labels; half of the assessors meet a sample under the first label first. All samples under
/// one label come before the first sample returns, so that the twin is not recognised.
fn label_patterns(request: &TestRequest, random: &mut Random) -> Vec<Pattern> {
    let mut patterns = Vec::new();
    let mut first_label: Vec<usize> = (0..request.assessors).map(|assessor| assessor % 2).collect();
    random.shuffle(&mut first_label);
    for set in 0..request.sets {
        for first in &first_label {
            let mut order: Vec<usize> = (0..request.samples.len()).collect();
            random.shuffle(&mut order);
            patterns.push(label_pattern(&order, first + set));
        }
    }
    patterns
}

/// All samples in this order, then once more under the other label. Labels alternate along the tray, so that no half of
/// it has one label only; an even `first` begins with the first label.
fn label_pattern(order: &[usize], first: usize) -> Pattern {
    let label = |place: usize| (first + place) % 2;
    let begin = order.iter().enumerate().map(|(place, sample)| PatternCup { sample: *sample, twin: label(place) });
    let again = order.iter().enumerate().map(|(place, sample)| PatternCup { sample: *sample, twin: 1 - label(place) });
    let in_letters = if label(0) == 0 { "12" } else { "21" }.to_owned();
    Pattern { cups: begin.chain(again).collect(), in_letters }
}

/// Every sample in a balanced order under the first condition, then in another order under the second.
fn two_phase_patterns(request: &TestRequest) -> Result<Vec<Pattern>, PlanError> {
    let orders = plan_orders(&OrderRequest {
        samples: request.samples.len(),
        assessors: request.assessors,
        replicates: 2 * request.sets,
        seed: request.seed,
        ..OrderRequest::default()
    })?;
    let phase = |assessor: usize, replicate: usize, twin: usize| {
        let row = orders.row(assessor, replicate as u32);
        let order = row.map(|row| row.order.clone()).unwrap_or_default();
        order.into_iter().map(move |sample| PatternCup { sample, twin })
    };
    let mut patterns = Vec::new();
    for set in 0..request.sets {
        for assessor in 0..request.assessors {
            let cups: Vec<PatternCup> =
                phase(assessor, 2 * set + 1, 0).chain(phase(assessor, 2 * set + 2, 1)).collect();
            let in_letters = cups.iter().map(|cup| letter_of(cup.sample)).collect();
            patterns.push(Pattern { cups, in_letters });
        }
    }
    Ok(patterns)
}

fn letter_of(sample: usize) -> char {
    char::from(b'A' + (sample % 26) as u8)
}

fn odd_cup(kind: TestKind, cups: &[TestCup]) -> Option<&TestCup> {
    let alone = |cup: &&TestCup| cups.iter().filter(|other| other.sample == cup.sample).count() == 1;
    if kind == TestKind::Triangle { cups.iter().find(alone) } else { None }
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

fn check(request: &TestRequest) -> Result<(), PlanError> {
    let samples = request.samples.len();
    let (lowest, highest) = match request.kind {
        TestKind::PairedStronger | TestKind::PairedPreference | TestKind::Triangle => (2, 2),
        TestKind::LabelStudy => (1, 12),
        TestKind::BlindThenNamed | TestKind::NoseClip => (2, 12),
    };
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
