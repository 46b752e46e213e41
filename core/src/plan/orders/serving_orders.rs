//! Serving orders for a whole study: who tastes what, in which session, in which order and under which code. It knows
//! nothing of names, attributes or ballots: assessors and samples are indices from 0.
//!
//! Where a session bears all samples the orders are rows of a Williams design; where it does not, samples are spread
//! over sessions by balanced incomplete blocks. Sessions and replicates count from 1.

use super::balance::BalanceCounts;
use super::block_orders::order_blocks;
use super::blocks::{BlockBalance, Blocks, all_samples_over_sessions, one_block_each};
use super::codes::{CodeSet, draw_codes};
use super::in_words::in_words;
use super::row_choice::{Tally, assign_rows, choose_rows};
use super::williams::{relabelled, williams_rows};
use crate::numeric::random::Random;
use crate::plan::PlanError;
use crate::plan::session::late_changes::LateChange;
use serde::{Deserialize, Serialize};

/// What each assessor tastes in a replicate where a session doesn't bear all samples.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Coverage {
    /// One session a replicate with a part of the samples: balanced incomplete blocks.
    #[default]
    OneSession,
    /// All samples, spread over several sessions.
    AllSamples,
}

/// What is to be laid out.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct OrderRequest {
    pub samples: usize,
    pub assessors: usize,
    pub replicates: usize,
    /// How many samples a session bears; `None` for all.
    pub samples_per_session: Option<usize>,
    pub coverage: Coverage,
    /// Index of a sample that is served in each session where sessions don't hold all samples: the target.
    pub target_in_each_session: Option<usize>,
    /// Whether each session begins with a warm-up cup under a code of its own. It has no position and no score.
    pub warm_up: bool,
    /// Codes that the study used before and that can't come back.
    pub used_codes: Vec<String>,
    pub seed: u64,
}

/// One assessor in one session.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct OrderRow {
    pub assessor: usize,
    pub replicate: u32,
    pub session: u32,
    /// Sample indices in serving order; the first has position 1.
    pub order: Vec<usize>,
    /// The codes of these samples in this session, in the same order.
    pub codes: Vec<String>,
    /// How many of these cups were served already; a row with one or more can't change any more.
    #[serde(default)]
    pub served: usize,
}

/// The codes of one session.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct SessionKey {
    pub session: u32,
    pub replicate: u32,
    /// One code a sample, by sample index.
    pub codes: Vec<String>,
    pub warm_up_code: Option<String>,
}

/// Orders and codes of a study, with the counts that tell how well they are balanced.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct OrderPlan {
    pub request: OrderRequest,
    /// By session, then assessor.
    pub rows: Vec<OrderRow>,
    pub keys: Vec<SessionKey>,
    pub codes_check_themselves: bool,
    /// What is lost where codes don't check themselves.
    pub codes_lost: Option<String>,
    /// Over all rows.
    pub balance: BalanceCounts,
    /// One entry a replicate.
    pub balance_by_replicate: Vec<BalanceCounts>,
    /// How even the incomplete blocks are; `None` where each session holds all samples. Where the target is in each
    /// session it is left out of the counts, and index i stands for the i-th sample that is not the target.
    pub blocks: Option<BlockBalance>,
    /// What kind of design this is, one sentence a line.
    pub in_words: Vec<String>,
    #[serde(default)]
    pub late_changes: Vec<LateChange>,
}

/// One assessor in one session, before there is an order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::plan) struct Slot {
    pub(in crate::plan) assessor: usize,
    pub(in crate::plan) replicate: u32,
    pub(in crate::plan) session: u32,
}

/// Lays out orders and codes.
///
/// # Errors
/// Counts that can't be laid out; more codes wanted than three digits carry.
pub fn plan_orders(request: &OrderRequest) -> Result<OrderPlan, PlanError> {
    request.check()?;
    let (keys, codes_check_themselves, codes_lost) = draw_keys(request)?;
    let sessions = request.sessions_per_replicate() as u32;
    let mut slots = Vec::new();
    for replicate in 1..=request.replicates as u32 {
        for assessor in 0..request.assessors {
            for within in 1..=sessions {
                slots.push(Slot { assessor, replicate, session: (replicate - 1) * sessions + within });
            }
        }
    }
    let mut random = Random::seeded_for(request.seed, "orders");
    let rows = lay_out(request, &slots, &[], &mut random);
    let plan = OrderPlan {
        request: request.clone(),
        rows,
        keys,
        codes_check_themselves,
        codes_lost,
        balance: BalanceCounts::empty(0, 0),
        balance_by_replicate: Vec::new(),
        blocks: None,
        in_words: Vec::new(),
        late_changes: Vec::new(),
    };
    Ok(plan.finished())
}

impl OrderRequest {
    /// Whether a session bears all samples.
    pub fn is_complete(&self) -> bool {
        self.samples_per_session.is_none_or(|most| most >= self.samples)
    }

    /// How many sessions an assessor sits in for one replicate.
    pub fn sessions_per_replicate(&self) -> usize {
        match (self.samples_per_session, self.coverage) {
            (Some(_), Coverage::AllSamples) if !self.is_complete() => {
                self.spread_samples().len().div_ceil(self.spread_per_session())
            }
            _ => 1,
        }
    }

    /// Samples that are spread over sessions: all but a target that is in each.
    fn spread_samples(&self) -> Vec<usize> {
        (0..self.samples).filter(|sample| Some(*sample) != self.target_in_each_session).collect()
    }

    fn spread_per_session(&self) -> usize {
        let most = self.samples_per_session.unwrap_or(self.samples);
        most - usize::from(self.target_in_each_session.is_some())
    }

    /// Whether this can be laid out.
    ///
    /// # Errors
    /// The first count that is out of range.
    pub fn check(&self) -> Result<(), PlanError> {
        if !(2..=MOST_SAMPLES).contains(&self.samples) {
            return Err(PlanError::SampleCount { got: self.samples, lowest: 2, highest: MOST_SAMPLES });
        }
        if !(1..=MOST_ASSESSORS).contains(&self.assessors) {
            return Err(PlanError::AssessorCount { got: self.assessors, highest: MOST_ASSESSORS });
        }
        if !(1..=MOST_REPLICATES).contains(&self.replicates) {
            return Err(PlanError::ReplicateCount { got: self.replicates, highest: MOST_REPLICATES });
        }
        if let Some(got) = self.samples_per_session.filter(|size| *size < 2) {
            return Err(PlanError::SessionSize { got, lowest: 2 });
        }
        match self.target_in_each_session {
            Some(target) if target >= self.samples => {
                Err(PlanError::NoSuchSample { number: target + 1, samples: self.samples })
            }
            _ => Ok(()),
        }
    }
}

const MOST_SAMPLES: usize = 40;
const MOST_ASSESSORS: usize = 400;
const MOST_REPLICATES: usize = 20;

impl OrderPlan {
    /// The row of an assessor in a session.
    pub fn row(&self, assessor: usize, session: u32) -> Option<&OrderRow> {
        self.rows.iter().find(|row| row.assessor == assessor && row.session == session)
    }

    pub fn key(&self, session: u32) -> Option<&SessionKey> {
        self.keys.iter().find(|key| key.session == session)
    }

    /// All codes of the study, warm-up cups included, for checking a code as it is typed.
    pub fn code_set(&self) -> CodeSet {
        CodeSet {
            codes: self.keys.iter().flat_map(|key| key.codes.iter().chain(&key.warm_up_code)).cloned().collect(),
            self_checking: self.codes_check_themselves,
            lost: self.codes_lost.clone(),
        }
    }

    /// Whether any cup was served already.
    pub fn is_begun(&self) -> bool {
        self.rows.iter().any(|row| row.served > 0)
    }

    /// The same plan with rows sorted, codes filled in and all counts made anew.
    pub(in crate::plan) fn finished(mut self) -> Self {
        self.rows.sort_by_key(|row| (row.session, row.assessor));
        for row in &mut self.rows {
            if let Some(key) = self.keys.iter().find(|key| key.session == row.session) {
                row.codes = row.order.iter().filter_map(|sample| key.codes.get(*sample).cloned()).collect();
            }
        }
        let samples = self.request.samples;
        let positions = self.rows.iter().map(|row| row.order.len()).max().unwrap_or(0);
        let count = |replicate: Option<u32>| {
            let counted = self.rows.iter().filter(|row| replicate.is_none_or(|number| row.replicate == number));
            BalanceCounts::of(counted.map(|row| row.order.as_slice()), samples, positions)
        };
        self.balance = count(None);
        self.balance_by_replicate = (1..=self.request.replicates as u32).map(|number| count(Some(number))).collect();
        self.blocks = (!self.request.is_complete()).then(|| block_balance(&self.request, &self.rows));
        self.in_words = in_words(&self);
        self
    }
}

/// Orders for open slots beside rows that stand. Slots of one assessor and replicate follow each other. Codes are left
/// empty.
pub(in crate::plan) fn lay_out(
    request: &OrderRequest,
    slots: &[Slot],
    standing: &[OrderRow],
    random: &mut Random,
) -> Vec<OrderRow> {
    let orders = if request.is_complete() {
        complete_orders(request, slots, standing, random)
    } else {
        incomplete_orders(request, slots, standing, random)
    };
    let row = |(slot, order): (&Slot, Vec<usize>)| OrderRow {
        assessor: slot.assessor,
        replicate: slot.replicate,
        session: slot.session,
        order,
        codes: Vec::new(),
        served: 0,
    };
    slots.iter().zip(orders).map(row).collect()
}

fn complete_orders(
    request: &OrderRequest,
    slots: &[Slot],
    standing: &[OrderRow],
    random: &mut Random,
) -> Vec<Vec<usize>> {
    // Labels come from the seed alone, so that rows laid out later belong to the same design.
    let mut labels: Vec<usize> = (0..request.samples).collect();
    Random::seeded_for(request.seed, "labels of the Williams design").shuffle(&mut labels);
    let pool = relabelled(&williams_rows(request.samples), &labels);
    let mut overall = Tally::new(request.samples);
    standing.iter().for_each(|row| overall.change(&row.order, 1));
    let mut orders: Vec<Vec<usize>> = vec![Vec::new(); slots.len()];
    for replicate in 1..=request.replicates as u32 {
        let open: Vec<usize> = (0..slots.len()).filter(|index| slots[*index].replicate == replicate).collect();
        let mut own = Tally::new(request.samples);
        standing.iter().filter(|row| row.replicate == replicate).for_each(|row| own.change(&row.order, 1));
        let chosen = choose_rows(&pool, open.len(), &own, &overall, random);
        let rows: Vec<Vec<usize>> = chosen.into_iter().map(|index| pool[index].clone()).collect();
        rows.iter().for_each(|row| overall.change(row, 1));
        let assigned = {
            let earlier: Vec<Vec<&[usize]>> =
                open.iter().map(|index| orders_of(slots[*index].assessor, slots, &orders, standing)).collect();
            assign_rows(rows, &earlier, random)
        };
        open.into_iter().zip(assigned).for_each(|(index, order)| orders[index] = order);
    }
    orders
}

/// Orders that an assessor has elsewhere.
fn orders_of<'a>(
    assessor: usize,
    slots: &[Slot],
    orders: &'a [Vec<usize>],
    standing: &'a [OrderRow],
) -> Vec<&'a [usize]> {
    let laid_out = slots.iter().zip(orders).filter(|(slot, order)| slot.assessor == assessor && !order.is_empty());
    let stood = standing.iter().filter(|row| row.assessor == assessor);
    stood.map(|row| row.order.as_slice()).chain(laid_out.map(|(_, order)| order.as_slice())).collect()
}

fn incomplete_orders(
    request: &OrderRequest,
    slots: &[Slot],
    standing: &[OrderRow],
    random: &mut Random,
) -> Vec<Vec<usize>> {
    let spread = request.spread_samples();
    let fixed = spread_blocks(request, standing);
    let sessions = request.sessions_per_replicate();
    let blocks = match request.coverage {
        Coverage::AllSamples => {
            all_samples_over_sessions(spread.len(), sessions, slots.len() / sessions.max(1), &fixed, random)
        }
        Coverage::OneSession => one_block_each(spread.len(), request.spread_per_session(), slots.len(), &fixed, random),
    };
    let full = blocks.blocks.into_iter().map(|block| {
        let mut samples: Vec<usize> = block.into_iter().map(|index| spread[index]).collect();
        samples.extend(request.target_in_each_session);
        samples
    });
    let stood: Vec<Vec<usize>> = standing.iter().map(|row| row.order.clone()).collect();
    let mut blocks: Vec<Vec<usize>> = full.collect();
    if request.coverage == Coverage::OneSession {
        blocks = meet_new_samples(blocks, slots, standing);
    }
    order_blocks(blocks, request.samples, &stood, random)
}

/// Exchanges whole blocks between assessors so that nobody gets in one replicate what they had in another.
fn meet_new_samples(mut blocks: Vec<Vec<usize>>, slots: &[Slot], standing: &[OrderRow]) -> Vec<Vec<usize>> {
    let shared = |blocks: &[Vec<usize>], index: usize, block: &[usize]| -> usize {
        let mine = |other: &usize| *other != index && slots[*other].assessor == slots[index].assessor;
        let open = (0..slots.len()).filter(mine).map(|other| blocks[other].as_slice());
        let stood = standing.iter().filter(|row| row.assessor == slots[index].assessor).map(|row| row.order.as_slice());
        open.chain(stood).map(|other| other.iter().filter(|sample| block.contains(sample)).count().pow(2)).sum()
    };
    let mut improved = true;
    while improved {
        improved = false;
        for left in 0..blocks.len() {
            for right in left + 1..blocks.len() {
                if slots[left].assessor == slots[right].assessor {
                    continue;
                }
                let now = shared(&blocks, left, &blocks[left]) + shared(&blocks, right, &blocks[right]);
                if shared(&blocks, left, &blocks[right]) + shared(&blocks, right, &blocks[left]) < now {
                    blocks.swap(left, right);
                    improved = true;
                }
            }
        }
    }
    blocks
}

/// The blocks of some rows with a target that is in each left out, as indices into the samples that are spread.
fn spread_blocks(request: &OrderRequest, rows: &[OrderRow]) -> Vec<Vec<usize>> {
    let spread = request.spread_samples();
    let index_of = |sample: &usize| spread.iter().position(|candidate| candidate == sample);
    rows.iter().map(|row| row.order.iter().filter_map(index_of).collect()).collect()
}

fn block_balance(request: &OrderRequest, rows: &[OrderRow]) -> BlockBalance {
    let blocks = spread_blocks(request, rows);
    Blocks { blocks }.balance(request.spread_samples().len(), &[])
}

fn draw_keys(request: &OrderRequest) -> Result<(Vec<SessionKey>, bool, Option<String>), PlanError> {
    let sessions = request.sessions_per_replicate();
    // A sample has one code a replicate; only a target that comes back in each session needs a new one there.
    let repeated = request.target_in_each_session.filter(|_| sessions > 1);
    let warm_ups = if request.warm_up { sessions } else { 0 };
    let in_replicate = request.samples + repeated.map_or(0, |_| sessions - 1) + warm_ups;
    let set = draw_codes(in_replicate * request.replicates, &request.used_codes, request.seed)?;
    let mut keys = Vec::new();
    for (replicate, codes) in set.codes.chunks(in_replicate).enumerate() {
        let (own, extra) = codes.split_at(request.samples);
        let mut extra = extra.iter().cloned();
        for within in 0..sessions {
            let mut codes = own.to_vec();
            if let (Some(target), true) = (repeated, within > 0) {
                codes[target] = extra.next().unwrap_or_default();
            }
            let warm_up_code = if request.warm_up { extra.next() } else { None };
            let session = (replicate * sessions + within + 1) as u32;
            keys.push(SessionKey { session, replicate: replicate as u32 + 1, codes, warm_up_code });
        }
    }
    Ok((keys, set.self_checking, set.lost))
}
