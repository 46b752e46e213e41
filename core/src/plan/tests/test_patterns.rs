//! The orders in which cups of a short test come: dealt from the orders of its kind, or made for labels and phases. It
//! knows nothing of codes' drawing or of results.

use super::test_kind::TestKind;
use super::test_request::{TestCup, TestRequest, TestRow};
use crate::numeric::random::Random;
use crate::plan::PlanError;
use crate::plan::orders::order_plan::OrderRequest;
use crate::plan::orders::serving_orders::plan_orders;

/// A cup before it has a code: `twin` tells two cups of one sample apart.
#[derive(Clone, Copy, Debug)]
struct PatternCup {
    sample: usize,
    twin: usize,
}

/// The cups of one assessor and set, before they have codes.
pub(super) struct Pattern {
    cups: Vec<PatternCup>,
    /// Samples as letters, or labels as numbers.
    pub in_letters: String,
}

impl Pattern {
    /// `set` from 0; `codes` are those of the set.
    pub fn row(&self, set: usize, assessor: usize, codes: &[String], request: &TestRequest) -> TestRow {
        let cups: Vec<TestCup> =
            self.cups.iter().zip(1..).map(|(cup, position)| cup.with_code(position, codes, request)).collect();
        let odd_code = right_answer(request.kind, &cups);
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

/// The cups of each set and assessor, sets first.
pub(super) fn patterns_of(request: &TestRequest, random: &mut Random) -> Result<Vec<Pattern>, PlanError> {
    Ok(match request.kind {
        TestKind::LabelStudy => label_patterns(request, random),
        TestKind::BlindThenNamed | TestKind::NoseClip => two_phase_patterns(request)?,
        _ => dealt(request, random),
    })
}

/// Patterns dealt so that in each set and over all sets each is used as often as any other or once more; nobody gets
/// one twice while there are others.
fn dealt(request: &TestRequest, random: &mut Random) -> Vec<Pattern> {
    let orders = request.kind.orders();
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

/// The code or codes that are the right answer.
fn right_answer(kind: TestKind, cups: &[TestCup]) -> Option<String> {
    let of_sample = |sample: usize| cups.iter().filter(move |cup| cup.sample == sample);
    let fewer = usize::from(of_sample(1).count() < of_sample(0).count());
    let named: Vec<&str> = match kind {
        TestKind::Triangle | TestKind::ThreeAfc | TestKind::TwoOfFive => {
            of_sample(fewer).map(|cup| cup.code.as_str()).collect()
        }
        TestKind::Tetrad => of_sample(cups.first()?.sample).skip(1).map(|cup| cup.code.as_str()).collect(),
        _ => return None,
    };
    Some(named.join(" "))
}
