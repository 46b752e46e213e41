//! Serving orders for a whole study: who tastes what, in which session, in which order and under which code. It knows
//! nothing of names, attributes or ballots: assessors and samples are indices from 0.
//!
//! Where a session bears all samples the orders are rows of a Williams design; where it does not, samples are spread
//! over sessions by balanced incomplete blocks. Sessions and replicates count from 1.

pub use super::order_plan::{Coverage, OrderPlan, OrderRequest, OrderRow, SessionKey};

use super::balance::BalanceCounts;
use super::codes::{CodeSet, draw_codes};
use super::in_words::in_words;
use super::lay_out::{block_balance, lay_out};
use super::order_plan::Slot;
use crate::numeric::random::Random;
use crate::plan::PlanError;

/// Lays out orders and codes.
///
/// # Errors
/// Counts that can't be laid out; more codes wanted than three digits carry.
pub fn plan_orders(request: &OrderRequest) -> Result<OrderPlan, PlanError> {
    request.check()?;
    let (set, keys) = draw_keys(request)?;
    let mut random = Random::seeded_for(request.seed, "orders");
    let rows = lay_out(request, &slots_of(request), &[], &mut random);
    let plan = OrderPlan {
        request: request.clone(),
        rows,
        keys,
        codes_check_themselves: set.self_checking,
        codes_lost: set.lost,
        balance: BalanceCounts::default(),
        balance_by_replicate: Vec::new(),
        blocks: None,
        in_words: Vec::new(),
        late_changes: Vec::new(),
    };
    Ok(plan.with_counts())
}

/// All slots, those of one assessor and replicate one after the other.
fn slots_of(request: &OrderRequest) -> Vec<Slot> {
    let sessions = request.sessions_per_replicate() as u32;
    let mut slots = Vec::new();
    for replicate in 1..=request.replicates as u32 {
        for assessor in 0..request.assessors {
            for within in 1..=sessions {
                slots.push(Slot { assessor, replicate, session: (replicate - 1) * sessions + within });
            }
        }
    }
    slots
}

impl OrderPlan {
    /// The same plan with rows sorted, codes filled in, and all counts and sentences made anew.
    pub(in crate::plan) fn with_counts(mut self) -> Self {
        self.rows.sort_by_key(|row| (row.session, row.assessor));
        let codes: Vec<Option<Vec<String>>> = self.rows.iter().map(|row| self.codes_of(row)).collect();
        self.rows.iter_mut().zip(codes).for_each(|(row, codes)| row.codes = codes.unwrap_or_default());
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

/// All codes, and which of them each session has.
fn draw_keys(request: &OrderRequest) -> Result<(CodeSet, Vec<SessionKey>), PlanError> {
    let sessions = request.sessions_per_replicate();
    // A sample has one code a replicate; only a target that comes back in each session needs a new one there.
    let repeated = request.target_in_each_session.filter(|_| sessions > 1);
    let warm_ups = if request.warm_up { sessions } else { 0 };
    let in_replicate = request.samples + repeated.map_or(0, |_| sessions - 1) + warm_ups;
    let set = draw_codes(in_replicate * request.replicates, &request.used_codes, request.seed)?;
    let mut keys = Vec::new();
    for (replicate, codes) in set.codes.chunks(in_replicate).enumerate() {
        keys.extend(keys_of_replicate(request, replicate, codes, repeated));
    }
    Ok((set, keys))
}

/// The keys of the sessions of one replicate, counted from 0; `repeated` is the target that needs a code in each.
fn keys_of_replicate(
    request: &OrderRequest,
    replicate: usize,
    codes: &[String],
    repeated: Option<usize>,
) -> Vec<SessionKey> {
    let sessions = request.sessions_per_replicate();
    let (own, extra) = codes.split_at(request.samples);
    let mut extra = extra.iter().cloned();
    let key = |within: usize| {
        let mut codes = own.to_vec();
        if let (Some(target), true) = (repeated, within > 0) {
            codes[target] = extra.next().unwrap_or_default();
        }
        let warm_up_code = if request.warm_up { extra.next() } else { None };
        let session = (replicate * sessions + within + 1) as u32;
        SessionKey { session, replicate: replicate as u32 + 1, codes, warm_up_code }
    };
    (0..sessions).map(key).collect()
}
